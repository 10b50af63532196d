"""What a study is answered does not depend on how it is stated: axes, origin, units, ends, order, factors.

Invariance of statics under rigid motion and change of units (any text on dimensional analysis, after
Buckingham 1914); the rest is linearity.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.cases import LoadCase
from solver.combining import Combination
from solver.study import Study
from tests.laws import restating
from tests.laws.studies import draw_study
from tests.laws.trying import Law, campaign, law

SOUND = 1e-10
"""A tenth of what the project promises of an answer's balance, relative to the scale of forces."""


def study_of(seed: int) -> Study:
    return draw_study(seed).study


def near(found: np.ndarray, expected: np.ndarray, tolerance: np.ndarray | float) -> None:
    assert found.shape == expected.shape
    assert (np.abs(found - expected) <= tolerance).all(), np.abs(found - expected).max()


def same_forces(found: Answers, expected: Answers, factor: float = 1.0) -> None:
    """Extremes in every combination, peaks, zero shares, still members; `found` is `factor` times as much."""
    scales = expected.forces.scales
    near(found.forces.sweep.largest / factor, expected.forces.sweep.largest, SOUND * scales)
    near(found.forces.sweep.smallest / factor, expected.forces.sweep.smallest, SOUND * scales)
    near(found.forces.tension.values / factor, expected.forces.tension.values, SOUND * scales.max())
    near(found.forces.compression.values / factor, expected.forces.compression.values, SOUND * scales.max())
    near(found.forces.shares, expected.forces.shares, 1e-9)
    near(found.forces.zero_share, expected.forces.zero_share, 1e-9)
    near(found.forces.zero_share_combined, expected.forces.zero_share_combined, 1e-9)
    assert (found.forces.still == expected.forces.still).all()


def same_geometry(found: Answers, expected: Answers) -> None:
    """Redundancy, waking forces, removals, and all findings of joint inspection.

    A redundancy share is 1 less forces per unit joint load, so it is as sound as the largest of these.
    """
    assert found.statics.static_indeterminacy == expected.statics.static_indeterminacy
    largest = max(1.0, expected.redundancy.condition)
    near(found.redundancy.shares, expected.redundancy.shares, SOUND * largest)
    near(found.redundancy.waking_forces, expected.redundancy.waking_forces, SOUND * largest)
    assert (found.removals.mechanism == expected.removals.mechanism).all()
    assert found.removals.moves == expected.removals.moves
    assert found.inspections == expected.inspections


@law(7)
def test_a_mirrored_study_has_the_same_answers(seed: int) -> None:
    study = study_of(seed)
    first = answer(study)
    second = answer(restating.apply(restating.mirrored(study.truss.dimension), study))
    same_forces(second, first)
    same_geometry(second, first)
    signs = np.tile([-1.0] + [1.0] * (study.truss.dimension - 1), len(study.truss.joint_names))
    moved = signs[:, None] * second.responses.deflections.cases
    stir = np.abs(first.responses.deflections.cases).max()
    near(moved, first.responses.deflections.cases, SOUND * stir)


@law(10)
def test_a_space_study_turned_about_the_upright_axis_has_the_same_answers(seed: int) -> None:
    study = study_of(seed)
    if study.truss.dimension == 2:
        return
    first, second = answer(study), answer(restating.apply(restating.turned(), study))
    same_forces(second, first)
    same_geometry(second, first)


@law(7)
def test_a_study_a_thousand_kilometres_from_the_origin_has_the_same_answers(seed: int) -> None:
    study = study_of(seed)
    first, second = answer(study), answer(restating.apply(restating.far_away(study.truss.dimension), study))
    same_forces(second, first)
    same_geometry(second, first)
    assert second.responses.forces.cases.tolist() == first.responses.forces.cases.tolist()


@law(7)
def test_a_study_in_feet_and_pounds_has_the_same_answers(seed: int) -> None:
    study = study_of(seed)
    foot, pound = Fraction(3048, 10_000), 4.4482216152605
    first = answer(study)
    second = answer(restating.in_units(study, length=1 / foot, force=1 / pound))
    same_forces(second, first, 1 / pound)
    same_geometry(second, first)
    stir = np.abs(first.responses.deflections.cases).max()
    near(second.responses.deflections.cases * float(foot), first.responses.deflections.cases, SOUND * stir)


@law(7)
def test_chords_told_from_their_other_end_have_the_same_peaks_at_mirrored_positions(seed: int) -> None:
    study = study_of(seed)
    first, second = answer(study), answer(restating.chords_reversed(study))
    same_forces(second, first)
    for name, chord in study.chords.items():
        influence = first.responses.forces.influence[name]
        tolerance = SOUND * max(1.0, np.abs(influence).max())
        near(second.responses.forces.influence[name][:, ::-1], influence, tolerance)
        assert second.study.chords[name].length == pytest.approx(chord.length, rel=1e-12)


@law(7)
def test_members_in_another_order_and_from_their_other_ends_have_the_same_forces(seed: int) -> None:
    study = study_of(seed)
    order = np.random.default_rng(seed).permutation(len(study.truss.members))
    first, second = answer(study), answer(restating.members_reordered(study, order))
    scales = first.forces.scales
    near(second.forces.sweep.largest, first.forces.sweep.largest[order], SOUND * scales)
    near(second.forces.shares, first.forces.shares[order], 1e-9)
    largest = max(1.0, first.redundancy.condition)
    near(second.redundancy.shares, first.redundancy.shares[order], SOUND * largest)
    assert (second.removals.mechanism == first.removals.mechanism[order]).all()
    assert [second.removals.moves[i] for i in range(len(order))] == [first.removals.moves[i] for i in order]
    for one, other in zip(first.inspections, second.inspections, strict=True):
        found = {(order[finding.member], finding.step, finding.joint) for finding in other.findings}
        assert found == {(finding.member, finding.step, finding.joint) for finding in one.findings}


@law(7)
def test_loads_and_limit_times_a_factor_give_peaks_times_that_factor(seed: int) -> None:
    study, factor = study_of(seed), 3.7
    more = replace(
        study,
        cases={name: restating.loaded(case, factor) for name, case in study.cases.items()},
        crossings=restating.each_train(study, lambda axle: replace(axle, load=axle.load * factor)),
        zero_limit=study.zero_limit * factor,
    )
    first, second = answer(study), answer(more)
    same_forces(second, first, factor)
    for kind in ("reactions", "deflections"):
        one, other = getattr(first, kind).largest.values, getattr(second, kind).largest.values
        size = first.forces.scales.max() if kind == "reactions" else np.abs(one).max() + 1e-12
        near(other / factor, one, SOUND * size)


@law(7)
def test_a_case_that_loads_nothing_changes_no_peak(seed: int) -> None:
    study = study_of(seed)
    idle = LoadCase("idle", joints={0: (0.0,) * study.truss.dimension}, counts=0.0)
    first, second = answer(study), answer(replace(study, cases={**study.cases, "idle": idle}))
    assert second.forces.tension.values.tolist() == first.forces.tension.values.tolist()
    assert second.forces.compression.values.tolist() == first.forces.compression.values.tolist()
    near(second.forces.zero_share, first.forces.zero_share, 1e-14)
    column = len(study.cases)
    assert (second.forces.shares[:, column] == 1).all()
    assert (second.forces.still == first.forces.still).all()


@law(8)
def test_a_combination_with_a_factor_is_the_crossing_with_that_much_more_load(seed: int) -> None:
    study = study_of(seed)
    if not study.crossings:
        return
    name, crossing = next(iter(study.crossings.items()))
    for factor in (1.6, -0.7):
        heavier = replace(crossing, factor=crossing.factor * abs(factor))
        plain = Combination("as it is", {}, name, float(np.sign(factor)))
        more = Combination("more", {}, name, factor)
        first = answer(replace(study, combinations=(plain,), crossings={**study.crossings, name: heavier}))
        second = answer(replace(study, combinations=(more,)))
        scale = second.forces.scales[-1]
        near(second.forces.tension.values, first.forces.tension.values, SOUND * scale)
        near(second.forces.sweep.smallest[:, -1], first.forces.sweep.smallest[:, -1], SOUND * scale)
        near(second.forces.zero_share_combined, first.forces.zero_share_combined, 1e-9)


@law(8)
def test_forces_of_a_combination_are_the_sum_of_its_cases(seed: int) -> None:
    """Superposition: one case that does what all cases of a study do together."""
    study = study_of(seed)
    cases = list(study.cases.values())
    merged = restating.merged(cases, study.truss)
    every = Combination("every", {case.name: 1.0 for case in cases})
    separate = answer(replace(study, combinations=(every,)))
    together = answer(replace(study, cases={"every": merged}, combinations=()))
    scale = separate.forces.scales.max()
    sums = separate.responses.forces.cases.sum(axis=1)
    near(together.responses.forces.cases[:, 0], sums, SOUND * scale)
    near(separate.forces.sweep.largest[:, -1], sums, SOUND * scale)
    movements = separate.responses.deflections.cases
    near(together.responses.deflections.cases[:, 0], movements.sum(axis=1), SOUND * np.abs(movements).max())
    near(
        together.responses.reactions.cases[:, 0],
        separate.responses.reactions.cases.sum(axis=1),
        SOUND * scale,
    )


LAWS = [value for name, value in sorted(globals().items()) if name.startswith("test_")]


@pytest.mark.campaign
@pytest.mark.parametrize("one", LAWS, ids=lambda one: one.__name__.removeprefix("test_"))
def test_no_restatement_of_a_thousand_studies_changes_an_answer(one: Law) -> None:
    campaign(one)
