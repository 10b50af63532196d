"""Laws of statics on whole studies: equilibrium, reciprocity, joint inspection, redundancy, mechanisms."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from solver.answers import Answers, Inspection, answer
from solver.cases import LoadCase
from solver.study import Study
from solver.truss import Support, Truss
from tests.laws.generator import draw_truss, pulls
from tests.laws.inspecting import cross_out_one_by_one, cross_out_step_by_step
from tests.laws.studies import draw_study
from tests.laws.trying import Law, campaign, law
from tests.plain.direct import assemble, floats, joint_loads, zeros

SOUND = 1e-10
"""A tenth of what the project promises of an answer's balance, relative to the scale of forces."""
TRUE_ZERO = 1e-12
"""What the project promises of forces that are zero on paper."""


def loads_of(study: Study) -> np.ndarray:
    """Joint loads of every case, (freedoms, cases), worked out afresh."""
    matrices, d = assemble(study.truss), study.truss.dimension
    loads = zeros(study.truss.freedoms, len(study.cases))
    for column, case in enumerate(study.cases.values()):
        for joint, vector in joint_loads(study, case, matrices):
            loads[d * joint : d * joint + d, column] += vector
    return floats(loads)


@law(15)
def test_every_joint_is_in_equilibrium_in_every_case_and_under_every_unit_load(seed: int) -> None:
    study = draw_study(seed).study
    answers = answer(study)
    responses, pull = answers.responses, pulls(study.truss)
    given = np.vstack([responses.forces.cases, responses.reactions.cases])
    scales = answers.forces.scales[: len(study.cases)]
    assert (np.abs(pull @ given + loads_of(study)) <= TRUE_ZERO * scales).all()
    d = study.truss.dimension
    for name, chord in study.chords.items():
        given = np.vstack([responses.forces.influence[name], responses.reactions.influence[name]])
        lacking = pull @ given
        lacking[[d * joint + d - 1 for joint in chord.joints], np.arange(len(chord.joints))] -= 1.0
        assert (np.abs(lacking) <= TRUE_ZERO * np.maximum(1.0, np.abs(given).max(axis=0))).all()


def single(truss: Truss, **what: object) -> tuple[Study, Answers]:
    study = Study("one", truss, cases={"one": LoadCase("one", **what)})  # type: ignore[arg-type]
    return study, answer(study)


@law(10)
def test_the_force_that_a_joint_load_gives_a_member_is_the_movement_that_its_misfit_gives_the_joint(
    seed: int,
) -> None:
    """Land 1887 and Müller-Breslau 1886: an influence line is a deflected shape."""
    truss = draw_truss(seed).truss
    random = np.random.default_rng(seed)
    joint, member = int(random.integers(len(truss.joint_names))), int(random.integers(len(truss.members)))
    load = random.uniform(-1, 1, truss.dimension)
    forces = single(truss, joints={joint: tuple(load)})[1].responses.forces.cases[:, 0]
    moved = single(truss, misfit={member: 1.0})[1].responses.deflections.cases[:, 0]
    work = load @ moved.reshape(-1, truss.dimension)[joint]
    assert abs(forces[member] - work) <= SOUND * max(1.0, np.abs(forces).max(), np.abs(moved).max())


@law(10)
def test_two_misfits_give_one_another_the_same_force(seed: int) -> None:
    """Betti 1872 for misfits: diag(k) R is symmetric."""
    truss = draw_truss(seed).truss
    one, other = np.random.default_rng(seed).choice(len(truss.members), 2, replace=False)
    first = single(truss, misfit={int(one): 1e-3})[1].responses.forces.cases[:, 0]
    second = single(truss, misfit={int(other): 1e-3})[1].responses.forces.cases[:, 0]
    held = 1e-3 * truss.axial_stiffness[[one, other]].max()
    assert abs(first[other] - second[one]) <= SOUND * held


@law(10)
def test_the_reaction_to_a_joint_load_is_the_movement_that_a_settlement_gives_the_joint_turned_round(
    seed: int,
) -> None:
    """Betti 1872 with a support that moves: f u + r s = 0.

    By the unit-load theorem f u is the sum of n n'/k over the members, n' the forces of the settled truss.
    Each n' may be off by TRUE_ZERO of its scale, no more; so the work may be off by what that adds up to.
    """
    truss = draw_truss(seed).truss
    random = np.random.default_rng(seed)
    place = int(random.integers(len(truss.supports)))
    support = truss.supports[place]
    unit = np.array([[float(c) for c in v] for v in support.directions])
    unit /= np.linalg.norm(unit, axis=1)[:, None]
    row = sum(len(s.directions) for s in truss.supports[:place])
    joint, load = int(random.integers(len(truss.joint_names))), random.uniform(-1, 1, truss.dimension)
    loaded = single(truss, joints={joint: tuple(load)})[1].responses
    # a movement by 1 along the first held direction and by 0 along the others
    way = np.linalg.lstsq(unit, np.eye(len(unit))[0], rcond=None)[0]
    settled = single(truss, settlement={support.joint: tuple(way)})[1]
    moved = settled.responses.deflections.cases.reshape(-1, truss.dimension)
    reactions, forces = loaded.reactions.cases[:, 0], loaded.forces.cases[:, 0]
    per_force = (np.abs(forces) / truss.axial_stiffness).sum()
    off = TRUE_ZERO * (per_force * settled.forces.scales[0] + np.abs(reactions).max() + np.abs(moved).max())
    assert off <= 1e-4 * max(1.0, np.abs(reactions).max())
    assert abs(reactions[row] + load @ moved[joint]) <= off


def inspected(answers: Answers) -> list[tuple[Inspection, np.ndarray, float]]:
    """Each inspection with its joint loads (joints, dimension), worked out afresh, and its scale."""
    study = answers.study
    loads, names = loads_of(study), list(study.cases)
    found = []
    for inspection in answers.inspections:
        column = [c.name for c in answers.combinations].index(inspection.under)
        factors = answers.combinations[column].cases
        total = loads @ np.array([factors.get(name, 0.0) for name in names])
        total[np.abs(total) <= 1e-12 * np.abs(loads).max()] = 0.0
        found.append((inspection, total.reshape(-1, study.truss.dimension), answers.forces.scales[column]))
    return found


@law(25)
def test_inspection_finds_step_by_step_what_ranks_find_and_in_any_order(seed: int) -> None:
    study = draw_study(seed).study
    for inspection, loads, _ in inspected(answer(study)):
        found = [(f.step, f.joint, f.member) for f in inspection.findings]
        assert found == cross_out_step_by_step(study.truss, loads)
        members = {f.member for f in inspection.findings}
        assert members == cross_out_one_by_one(study.truss, loads, np.random.default_rng(seed))
        for finding in inspection.findings:
            before = {f.member for f in inspection.findings if f.step < finding.step}
            here = [m for m in study.truss.members_at[finding.joint] if m in before]
            assert list(finding.because) == here


@law(25)
def test_what_inspection_finds_zero_is_computed_zero_where_nothing_but_joint_loads_acts(seed: int) -> None:
    study = draw_study(seed).study
    quiet = {
        name: replace(case, temperature=None, misfit={}, settlement={}) for name, case in study.cases.items()
    }
    answers = answer(replace(study, cases=quiet))
    for inspection, loads, _ in inspected(answers):
        column = [c.name for c in answers.combinations].index(inspection.under)
        members = [finding.member for finding in inspection.findings]
        scale = max(np.abs(loads).max(), np.abs(answers.forces.sweep.largest[:, column]).max())
        assert (np.abs(answers.forces.sweep.largest[members, column]) <= TRUE_ZERO * scale).all()


@law(15)
def test_what_inspection_finds_zero_is_zero_whatever_heat_misfit_and_settlement_do(seed: int) -> None:
    """The rule is equilibrium alone, so that it holds for any stiffness and any free elongation."""
    answers = answer(draw_study(seed).study)
    for inspection, _, scale in inspected(answers):
        column = [c.name for c in answers.combinations].index(inspection.under)
        members = [finding.member for finding in inspection.findings]
        assert (np.abs(answers.forces.sweep.largest[members, column]) <= TRUE_ZERO * scale).all()


@law(15)
def test_members_erased_because_inspection_finds_them_zero_leave_every_other_force_as_it_was(
    seed: int,
) -> None:
    drawn = draw_truss(seed)
    truss, random = drawn.truss, np.random.default_rng(seed)
    joint, load = int(random.integers(len(truss.joint_names))), random.integers(-9, 10, truss.dimension)
    study, answers = single(truss, joints={joint: tuple(float(c) for c in load)})
    gone = {finding.member for finding in answers.inspections[0].findings}
    kept = [i for i in range(len(truss.members)) if i not in gone]
    if not kept:
        return
    rest = held_where_free(replace(truss, members=tuple(truss.members[i] for i in kept)))
    after = answer(replace(study, truss=rest)).responses.forces.cases
    assert np.abs(after - answers.responses.forces.cases[kept]).max() <= SOUND * answers.forces.scales[0]


def held_where_free(truss: Truss) -> Truss:
    """The truss with joint directions held, one by one, until it stands."""
    held = {s.joint: list(s.directions) for s in truss.supports}
    for freedom in range(truss.freedoms):
        joint, axis = divmod(freedom, truss.dimension)
        unit = tuple(Fraction(int(i == axis)) for i in range(truss.dimension))
        now = with_supports(truss, held)
        more = with_supports(truss, {**held, joint: [*held.get(joint, []), unit]})
        ranks = [np.linalg.matrix_rank(pulls(t), tol=1e-9) for t in (now, more)]
        if ranks[1] > ranks[0]:
            held.setdefault(joint, []).append(unit)
    return with_supports(truss, held)


def with_supports(truss: Truss, held: dict[int, list[tuple[Fraction, ...]]]) -> Truss:
    supports = tuple(Support(j, tuple(v), tuple("?" for _ in v)) for j, v in held.items())
    return replace(truss, supports=supports)


@law(25)
def test_shares_sum_to_the_indeterminacy_and_are_zero_just_where_losing_the_member_makes_a_mechanism(
    seed: int,
) -> None:
    """Trace of a projection; zero diagonal (von Scheven, Ramm & Bischoff 2021)."""
    drawn = draw_truss(seed)
    truss = drawn.truss
    answers = single(truss, self_weight=1.0)[1]
    shares, removals = answers.redundancy.shares, answers.removals
    assert answers.statics.static_indeterminacy == answers.statics.self_stress_states == drawn.indeterminacy
    # a share is 1 less forces per unit joint load: as sound as the largest of these
    largest = max(1.0, answers.redundancy.condition)
    assert abs(shares.sum() - drawn.indeterminacy) <= SOUND * largest
    whole = pulls(truss)
    for member in range(len(truss.members)):
        without = np.delete(whole, member, axis=1)
        free = movements(without)
        assert removals.mechanism[member] == (free.shape[1] > 0) == (shares[member] == 0)
        moving = np.abs(free).max(axis=1, initial=0.0).reshape(-1, truss.dimension).max(axis=1) > 1e-8
        assert removals.moves[member] == tuple(np.flatnonzero(moving))


def movements(columns: np.ndarray) -> np.ndarray:
    """Orthonormal joint movements that change no length and no held direction."""
    left, values, _ = np.linalg.svd(columns)
    return left[:, np.count_nonzero(values > 1e-9) :]


@law(25)
def test_in_a_determinate_truss_some_joint_load_wakes_every_member_and_none_can_go(seed: int) -> None:
    """Theorem: A is square and invertible, so its columns are loads that each wake one member alone."""
    drawn = draw_truss(seed)
    if drawn.indeterminacy:
        return
    truss = drawn.truss
    study, answers = single(truss, joints={0: (1.0,) * truss.dimension})
    assert answers.removals.mechanism.all()
    assert (answers.redundancy.shares == 0).all()
    assert (answers.redundancy.waking_forces >= 0.5 - 1e-9).all()
    for member in range(0, len(truss.members), 5):
        ends = truss.members[member]
        along = truss.directions[member]
        alone = replace(study.cases["one"], joints={ends.first: tuple(-along), ends.second: tuple(along)})
        forces = answer(replace(study, cases={"one": alone})).responses.forces.cases[:, 0]
        assert np.abs(forces - np.eye(len(forces))[member]).max() <= SOUND * answers.redundancy.condition


LAWS = [value for name, value in sorted(globals().items()) if name.startswith("test_")]


@pytest.mark.campaign
@pytest.mark.parametrize("one", LAWS, ids=lambda one: one.__name__.removeprefix("test_")[:60])
def test_the_law_holds_on_a_thousand_trusses(one: Law) -> None:
    campaign(one)
