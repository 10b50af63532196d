"""Laws that hold for every truss, tried on random ones; the source of each stands beside it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from solver.answers import answer
from solver.reasons.joint_rule import JointRule
from solver.redundancy import examine_redundancy
from solver.removal import remove_each
from solver.statics import _dense_with_supports, equilibrium_matrix, examine, support_matrix
from solver.stiffness import Response, Stiffness
from solver.truss import Member, Support, Truss
from tests.building import build_study, load_case
from tests.laws.random_trusses import draw_truss

SEEDS = range(60)


def unit_joint_loads(truss: Truss, seed: int, count: int = 3) -> np.ndarray:
    return np.random.default_rng(seed + 7).uniform(-1e4, 1e4, (truss.freedoms, count))


def respond(truss: Truss, loads: np.ndarray) -> Response:
    return Stiffness(truss).respond(loads)


def scale(response: Response, loads: np.ndarray) -> float:
    return max(float(np.abs(response.forces).max()), float(np.abs(loads).max()))


@pytest.mark.parametrize("seed", SEEDS)
def test_every_joint_is_in_equilibrium(seed: int) -> None:
    truss = draw_truss(seed).truss
    loads = unit_joint_loads(truss, seed)
    response = respond(truss, loads)
    pull = np.zeros_like(loads)
    x, d = truss.joint_coordinates, truss.dimension
    for force, member in zip(response.forces, truss.members, strict=True):
        along = (x[member.second] - x[member.first]) / np.linalg.norm(x[member.second] - x[member.first])
        pull[d * member.first : d * member.first + d] += np.outer(along, force)
        pull[d * member.second : d * member.second + d] -= np.outer(along, force)
    supports = support_matrix(truss) @ response.reactions
    assert np.abs(pull + loads + supports).max() <= 1e-12 * scale(response, loads)


@pytest.mark.parametrize("seed", SEEDS)
def test_answers_to_sums_are_sums_of_answers(seed: int) -> None:
    truss = draw_truss(seed).truss
    loads = unit_joint_loads(truss, seed)
    single = respond(truss, loads)
    together = respond(truss, (2 * loads[:, 0] - 3 * loads[:, 1])[:, None])
    expected = 2 * single.forces[:, 0] - 3 * single.forces[:, 1]
    assert np.abs(together.forces[:, 0] - expected).max() <= 1e-10 * scale(single, loads)


@pytest.mark.parametrize("seed", SEEDS)
def test_work_of_one_load_on_the_movement_of_another_is_mutual(seed: int) -> None:
    """Reciprocal theorem (Maxwell 1864, Betti 1872)."""
    truss = draw_truss(seed).truss
    loads = unit_joint_loads(truss, seed)
    work = loads.T @ respond(truss, loads).movements
    assert np.abs(work - work.T).max() <= 1e-9 * np.abs(work).max()


def turned(truss: Truss) -> tuple[Truss, np.ndarray]:
    """The truss turned by a rotation of whole-number ratios, so that coordinates stay exact."""
    c, s = Fraction(3, 5), Fraction(4, 5)
    d = truss.dimension

    def turn(vector: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
        x, *middle, y = vector
        return (c * x - s * y, *middle, s * x + c * y)

    matrix = np.array(
        [[float(part) for part in turn(tuple(Fraction(int(i == j)) for i in range(d)))] for j in range(d)]
    )
    supports = tuple(Support(s.joint, tuple(turn(v) for v in s.directions), s.labels) for s in truss.supports)
    points = tuple(turn(point) for point in truss.coordinates)
    return replace(truss, coordinates=points, supports=supports), matrix.T


@pytest.mark.parametrize("seed", SEEDS)
def test_a_turned_truss_under_turned_loads_has_the_same_forces(seed: int) -> None:
    truss = draw_truss(seed).truss
    other, matrix = turned(truss)
    loads = unit_joint_loads(truss, seed, 1)
    moved = (loads.reshape(-1, truss.dimension) @ matrix.T).reshape(-1, 1)
    first, second = respond(truss, loads), respond(other, moved)
    assert np.abs(first.forces - second.forces).max() <= 1e-10 * scale(first, loads)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_truss_far_from_the_origin_has_the_same_forces(seed: int) -> None:
    truss = draw_truss(seed).truss
    far = tuple(tuple(c + 10**6 for c in point) for point in truss.coordinates)
    loads = unit_joint_loads(truss, seed, 1)
    first, second = respond(truss, loads), respond(replace(truss, coordinates=far), loads)
    assert np.abs(first.forces - second.forces).max() <= 1e-13 * scale(first, loads)


@pytest.mark.parametrize("seed", SEEDS)
def test_shares_sum_to_the_static_indeterminacy_and_vanish_with_mechanisms(seed: int) -> None:
    """Trace of a projection; P2 and P6 follow from von Scheven, Ramm & Bischoff 2021."""
    drawn = draw_truss(seed)
    truss = drawn.truss
    statics = examine(truss)
    redundancy = examine_redundancy(Stiffness(truss), statics)
    removals = remove_each(statics)
    assert statics.static_indeterminacy == drawn.extra
    assert redundancy.shares.sum() == pytest.approx(drawn.extra, abs=1e-8)
    whole = _dense_with_supports(truss)
    for index in range(len(truss.members)):
        without = np.delete(whole, index, axis=1)
        values = np.linalg.svd(without, compute_uv=True)
        lost = values[1][-1] < 1e-10 if without.shape[1] >= truss.freedoms else True
        assert removals.mechanism[index] == lost
        assert (redundancy.shares[index] == 0) == lost
        if lost:
            movement = np.abs(values[0][:, -1].reshape(-1, truss.dimension)).max(axis=1)
            moving = tuple(int(j) for j in np.flatnonzero(movement > 1e-9))
            assert removals.moves[index] == moving


@pytest.mark.parametrize("seed", SEEDS)
def test_every_member_is_woken_by_some_joint_load_and_by_none_more_than_told(seed: int) -> None:
    truss = draw_truss(seed).truss
    redundancy = examine_redundancy(Stiffness(truss), examine(truss))
    free = Stiffness(truss).free.toarray()
    forces = respond(truss, free @ free.T).forces.reshape(len(truss.members), -1, truss.dimension)
    sizes = np.linalg.norm(forces, axis=2)
    reached = np.flatnonzero(redundancy.waking_joints >= 0)
    assert len(reached) >= len(truss.members) - 1
    assert redundancy.waking_forces == pytest.approx(sizes.max(axis=1), rel=1e-9, abs=1e-15)
    for member in reached:
        direction = redundancy.waking_directions[member]
        told = forces[member, redundancy.waking_joints[member]] @ direction
        assert told == pytest.approx(redundancy.waking_forces[member], rel=1e-9)
        assert (sizes[member, : redundancy.waking_joints[member]] < told).all()


def joint_loads(truss: Truss, seed: int) -> np.ndarray:
    """One loaded joint: much of the truss sleeps."""
    loads = np.zeros((len(truss.joint_names), truss.dimension))
    loads[seed % len(loads)] = np.random.default_rng(seed).integers(-9, 10, truss.dimension)
    return loads


def closure_in_any_order(truss: Truss, loads: np.ndarray, seed: int) -> set[int]:
    """The contract's rule by ranks, one member at a time, joints in random order, until nothing changes."""
    random = np.random.default_rng(seed)
    held = {support.joint: support.directions for support in truss.supports}
    zero: set[int] = set()
    while True:
        before = len(zero)
        for joint in random.permutation(len(truss.joint_names)):
            for member in random.permutation(truss.members_at[joint]):
                others = [truss.directions[m] for m in truss.members_at[joint] if m not in zero | {member}]
                others += [np.array([float(c) for c in v]) for v in held.get(int(joint), ())]
                others += [loads[joint]] if loads[joint].any() else []
                stack = np.array(others).reshape(-1, truss.dimension)
                with_it = np.vstack([stack, truss.directions[member]])
                if np.linalg.matrix_rank(with_it, tol=1e-7) > np.linalg.matrix_rank(stack, tol=1e-7):
                    zero.add(int(member))
        if len(zero) == before:
            return zero


@pytest.mark.parametrize("seed", SEEDS)
def test_inspection_finds_what_any_order_finds_and_nothing_that_works(seed: int) -> None:
    truss = draw_truss(seed).truss
    loads = joint_loads(truss, seed)
    found = JointRule(truss).inspect(loads, np.linalg.norm(loads, axis=1))
    members = {finding.member for finding in found}
    assert members == closure_in_any_order(truss, loads, seed)
    response = respond(truss, loads.reshape(-1, 1))
    assert np.abs(response.forces[sorted(members)]).max(initial=0.0) <= 1e-12 * scale(response, loads)
    steps = {finding.member: finding.step for finding in found}
    for finding in found:
        assert all(steps[earlier] < finding.step for earlier in finding.because)
        ends = truss.members[finding.member]
        assert finding.joint in (ends.first, ends.second)


@pytest.mark.parametrize("seed", SEEDS)
def test_erasing_what_inspection_finds_leaves_every_other_force_as_it_was(seed: int) -> None:
    truss = draw_truss(seed).truss
    loads = joint_loads(truss, seed)
    found = JointRule(truss).inspect(loads, np.linalg.norm(loads, axis=1))
    gone = {finding.member for finding in found}
    kept = [index for index in range(len(truss.members)) if index not in gone]
    if not kept or not gone:
        return
    reduced = held_where_free(replace(truss, members=tuple(truss.members[i] for i in kept)))
    before, after = respond(truss, loads.reshape(-1, 1)), respond(reduced, loads.reshape(-1, 1))
    assert np.abs(before.forces[kept] - after.forces).max() <= 1e-9 * scale(before, loads)


def held_where_free(truss: Truss) -> Truss:
    """The truss with supports added in joint directions, one by one, until it stands."""
    held: dict[int, list[tuple[Fraction, ...]]] = {s.joint: list(s.directions) for s in truss.supports}
    whole = _dense_with_supports(truss)
    rank = np.linalg.matrix_rank(whole, tol=1e-9)
    for freedom in range(truss.freedoms):
        if rank == truss.freedoms:
            break
        joint, axis = divmod(freedom, truss.dimension)
        column = np.zeros((truss.freedoms, 1))
        column[freedom] = 1.0
        tried = np.hstack([whole, column])
        if np.linalg.matrix_rank(tried, tol=1e-9) > rank:
            whole, rank = tried, rank + 1
            unit = tuple(Fraction(int(i == axis)) for i in range(truss.dimension))
            held.setdefault(joint, []).append(unit)
    supports = tuple(Support(j, tuple(v), tuple("?" * len(v))) for j, v in held.items())
    return replace(truss, supports=supports)


@pytest.mark.parametrize("seed", range(20))
def test_loads_and_units_scale_forces_alike(seed: int) -> None:
    """All in feet and pounds instead of metres and newtons: forces in pounds, whatever the unit."""
    truss = draw_truss(seed).truss
    foot = Fraction(3048, 10000)
    smaller = tuple(tuple(c * foot for c in point) for point in truss.coordinates)
    loads = unit_joint_loads(truss, seed, 1)
    first = respond(truss, loads)
    second = respond(replace(truss, coordinates=smaller), loads * 4.4482216152605)
    assert np.abs(second.forces / 4.4482216152605 - first.forces).max() <= 1e-10 * scale(first, loads)


def test_the_equilibrium_matrix_of_one_bar_is_that_of_the_pencil() -> None:
    drawn = draw_truss(0).truss
    group = drawn.members[0].group
    points = ((Fraction(0), Fraction(0)), (Fraction(3), Fraction(4)))
    truss = Truss(("A", "B"), points, (Member("A-B", 0, 1, group),), ())
    assert equilibrium_matrix(truss).toarray()[:, 0] == pytest.approx([-0.6, -0.8, 0.6, 0.8])


@pytest.mark.parametrize("seed", range(20))
def test_a_train_run_over_the_mirrored_chord_gives_the_same_peaks(seed: int) -> None:
    truss = draw_truss(seed).truss
    order = np.argsort(truss.joint_coordinates[:, 0])
    first, last = (truss.joint_names[int(order[i])] for i in (0, -1))
    case = [load_case(truss, "none")]
    axles = [(0.0, 5e3), (1.3, 2e4), (4.1, 1e4)]
    there = answer(build_study(truss, case, chord=[first, last], axles=axles, directions=("forward",)))
    back = answer(build_study(truss, case, chord=[last, first], axles=axles, directions=("backward",)))
    length = there.study.chords["deck"].length
    # the same motion: positions count from the other end
    assert back.forces.tension.values == pytest.approx(there.forces.tension.values, rel=1e-9)
    assert back.forces.zero_share == pytest.approx(there.forces.zero_share, abs=1e-9)
    one, other = there.forces.sweep.motions.ways.travels[0], back.forces.sweep.motions.ways.travels[0]
    assert np.sort(length - other.breaks) == pytest.approx(one.breaks, abs=1e-9)
