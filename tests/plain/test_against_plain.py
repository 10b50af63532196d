"""Every bundled study and random ones, held against the plain computation beside this file."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from explorer.bundled import list_bundled
from explorer.document import read_text
from solver.answers import Answers, answer
from solver.combining import Combination
from solver.study import Study
from tests.laws.random_trusses import draw_study
from tests.plain import plain

BUNDLED = {item.name: item for item in list_bundled("study") if item.kind == "study"}
ALL = [*BUNDLED, *(f"random {seed}" for seed in range(60))]


@cache
def answered(name: str) -> Answers:
    if name.startswith("random"):
        return answer(draw_study(int(name.split()[1])))
    return answer(read_text(BUNDLED[name].text(), name).study)


@cache
def influence(name: str, chord: str) -> plain.Plain:
    return plain.influence(answered(name).study, chord)


@cache
def cases(name: str) -> plain.Plain:
    return plain.case_columns(answered(name).study)


def still_part(study: Study, columns: np.ndarray, combination: Combination) -> np.ndarray:
    return plain.standing(study, columns, dict(combination.cases))


def history(
    name: str, combination: Combination, kind: str
) -> tuple[np.ndarray, list[np.ndarray], list[np.ndarray]]:
    """Values at all positions tried, (rows, n); the even samples a direction; where those are loaded."""
    study = answered(name).study
    rest = still_part(study, getattr(cases(name), kind), combination)[:, None] if study.cases else None
    if combination.crossing is None:
        assert rest is not None
        return rest, [], []
    crossing = study.crossings[combination.crossing]
    rows = getattr(influence(name, crossing.chord), kind)
    rest = np.zeros((len(rows), 1)) if rest is None else rest
    values, even, loaded = [rest], [], []
    for direction in crossing.directions:
        middles, over = plain.sampled_positions(study, crossing.name, direction)
        for positions in (middles, over):
            loads = plain.placed(study, crossing.name, direction, positions)
            moving = rest + combination.crossing_factor * (rows @ loads)
            values.append(moving)
            if positions is middles:
                even.append(moving)
                loaded.append(loads.any(axis=0))
    return np.hstack(values), even, loaded


@pytest.mark.parametrize("name", ALL)
def test_peaks_and_zero_shares_of_every_combination_are_those_of_the_plain_way(name: str) -> None:
    answers = answered(name)
    swept, scales = answers.forces.sweep, answers.forces.scales
    for column, combination in enumerate(answers.combinations):
        values, even, loaded = history(name, combination, "forces")
        tolerance = 1e-9 * scales[column]
        assert np.abs(swept.largest[:, column] - values.max(axis=1)).max() <= tolerance
        assert np.abs(swept.smallest[:, column] - values.min(axis=1)).max() <= tolerance
        band = max(1e-9 * scales[column], answers.study.zero_limit)
        if not even:
            assert (answers.forces.shares[:, column] == (np.abs(values[:, 0]) <= band)).all()
            continue
        shares = [(np.abs(v[:, on]) <= band).mean(axis=1) for v, on in zip(even, loaded, strict=True)]
        # every stretch of zero is off by at most a step at either end
        slack = 4 * swept.motions.ways.travels[0].breaks.size / min(v.shape[1] for v in even)
        assert np.abs(answers.forces.shares[:, column] - np.mean(shares, axis=0)).max() <= slack


@pytest.mark.parametrize("name", ALL)
def test_governing_peaks_are_the_force_at_the_place_they_name(name: str) -> None:
    answers = answered(name)
    study, scales = answers.study, answers.forces.scales
    asked = range(len(answers.combinations) - len(study.asked), len(answers.combinations))
    for peaks, sign in ((answers.forces.tension, 1.0), (answers.forces.compression, -1.0)):
        worst = np.max(
            [(sign * history(name, answers.combinations[c], "forces")[0]).max(axis=1) for c in asked], axis=0
        )
        bands = np.maximum(1e-9 * scales[peaks.combinations], study.zero_limit)
        told = worst > bands
        assert np.abs(peaks.values - worst)[told].max(initial=0.0) <= 1e-9 * scales.max()
        for member in np.flatnonzero(peaks.values > 0):
            combination = answers.combinations[peaks.combinations[member]]
            force = still_part(study, cases(name).forces, combination)[member] if study.cases else 0.0
            if combination.crossing:
                way = ("forward", "backward")[peaks.directions[member]]
                hair = plain.HAIR * 20
                near = peaks.positions[member] + np.array([-hair, 0.0, hair])
                loads = plain.placed(study, combination.crossing, way, near)
                rows = influence(name, study.crossings[combination.crossing].chord).forces
                force = force + combination.crossing_factor * (rows[member] @ loads)
            nearest = np.abs(sign * force - peaks.values[member]).min()
            assert nearest <= 2e-9 * scales[peaks.combinations[member]]


@pytest.mark.parametrize("name", ALL)
def test_reactions_and_deflections_are_those_of_the_plain_way(name: str) -> None:
    answers = answered(name)
    for kind, extremes in (("reactions", answers.reactions), ("movements", answers.deflections)):
        found = [history(name, combination, kind)[0] for combination in answers.study.asked]
        largest = np.max([values.max(axis=1) for values in found], axis=0)
        smallest = np.min([values.min(axis=1) for values in found], axis=0)
        scale = max(np.abs(largest).max(), np.abs(smallest).max())
        assert np.abs(extremes.largest.values - largest).max() <= 1e-8 * scale
        assert np.abs(extremes.smallest.values - smallest).max() <= 1e-8 * scale


@pytest.mark.parametrize("name", ALL)
def test_scales_shares_and_still_members_follow_from_the_combinations(name: str) -> None:
    answers = answered(name)
    forces, study = answers.forces, answers.study
    alone = len(study.alone)
    counts = np.array(study.counts)
    assert forces.zero_share == pytest.approx(np.average(forces.shares[:, :alone], axis=1, weights=counts))
    rest = forces.shares[:, alone:].mean(axis=1) if study.combinations else forces.zero_share
    assert forces.zero_share_combined == pytest.approx(rest)
    largest = np.zeros(len(study.truss.members))
    for column, combination in enumerate(answers.combinations):
        values = np.abs(history(name, combination, "forces")[0])
        band = max(1e-9 * forces.scales[column], study.zero_limit)
        largest = np.maximum(largest, np.where(values.max(axis=1) > band, 1.0, 0.0))
        held = np.abs(still_part(study, cases(name).held, combination)).max() if study.cases else 0.0
        assert forces.scales[column] >= (1 - 1e-9) * max(values.max(), held)
    assert (forces.still == (largest == 0)).all()
