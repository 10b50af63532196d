"""Losses that leave a mechanism in random studies: pushed by a load, carried away, or neither.

The movement is the null vector of the members left, by a dense decomposition; forces are those of the force
method of tests/plain; trains stand with an axle over every joint, a hair before it and a hair after.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
import scipy.linalg

from solver.answers import answer
from solver.cases import work_out
from solver.combining import Combination
from solver.study import Study
from tests.laws.generator import pulls
from tests.laws.studies import draw_study
from tests.losses.losing import bundled
from tests.plain.plain import case_columns, influence, placed, sampled_positions, solve

CAMPAIGN = range(40_000, 40_500)
NONE, SOME = 1e-11, 1e-7
"""Shares of the sum of absolute terms that are rounding, and that are no rounding; the rule is 1e-9."""


def movement_without(study: Study, lost: int) -> np.ndarray:
    """Joint movements, (joints x dimension,), that everything but one member allows."""
    rest = np.delete(pulls(study.truss), lost, axis=1)
    vectors = scipy.linalg.null_space(rest.T, rcond=1e-10)
    assert vectors.shape[1] == 1
    movement = vectors[:, 0]
    movement = movement / np.abs(movement).max()
    return np.where(np.abs(movement) <= 1e-9, 0.0, movement)


class Plainly:
    """Loads on joints and forces in members of a study, column by column."""

    def __init__(self, study: Study) -> None:
        self.study = study
        cases = [work_out(case, study.truss, study.chords) for case in study.cases.values()]
        self.loads = np.stack([action.joint_loads.ravel() for action in cases], axis=1)
        self.forces = case_columns(study).forces
        self.weights = np.array([case.self_weight for case in study.cases.values()])
        self.over = {name: influence(study, name).forces for name in study.chords}

    def without(self, lost: int) -> tuple[np.ndarray, np.ndarray]:
        """Loads that stay, and forces of the whole truss under them, by case."""
        truss = self.study.truss
        own = np.zeros((truss.freedoms, 1))
        if self.weights.any():
            for joint in truss.ends[lost]:
                own[joint * truss.dimension + truss.dimension - 1] -= truss.weights[lost] / 2
        nothing = np.zeros((len(truss.members), 1))
        forces = solve(self.study, own, nothing, np.zeros_like(own)).forces
        left = self.loads - own * self.weights
        # What is left where all of a joint's load has gone is a rounding.
        left[np.abs(left) <= 1e-12 * np.abs(self.loads).max(axis=0)] = 0.0
        return left, self.forces - forces * self.weights

    def states(self, lost: int) -> Iterator[tuple[np.ndarray, np.ndarray]]:
        """Joint loads and forces in every state that counts, (freedoms, states) and (members, states)."""
        loads, forces = self.without(lost)
        for combination in self.study.alone + self.study.combinations:
            factors = np.array([combination.cases.get(name, 0.0) for name in self.study.cases])
            still = (loads @ factors)[:, None], (forces @ factors)[:, None]
            yield still
            for moved, pushed in self._trains(combination):
                yield still[0] + moved, still[1] + pushed

    def _trains(self, combination: Combination) -> Iterator[tuple[np.ndarray, np.ndarray]]:
        if combination.crossing is None:
            return
        truss, crossing = self.study.truss, self.study.crossings[combination.crossing]
        joints = np.array(self.study.chords[crossing.chord].joints)
        for direction in crossing.directions:
            _, over = sampled_positions(self.study, crossing.name, direction)
            on = placed(self.study, crossing.name, direction, over) * combination.crossing_factor
            loads = np.zeros((truss.freedoms, on.shape[1]))
            np.add.at(loads, joints * truss.dimension + truss.dimension - 1, -on)
            yield loads, self.over[crossing.chord] @ on


def shares(values: np.ndarray, sizes: np.ndarray) -> np.ndarray:
    return np.divide(values, sizes, out=np.zeros_like(values), where=sizes > 0)


def told_plainly(plainly: Plainly, lost: int) -> tuple[float, float]:
    """The most work of a state's loads, and its most negative geometric stiffness, as shares, at least 0."""
    truss = plainly.study.truss
    movement = movement_without(plainly.study, lost)
    ends = movement.reshape(-1, truss.dimension)[truss.ends]
    across = ((ends[:, 1] - ends[:, 0]) ** 2).sum(axis=1) / truss.lengths
    across[lost] = 0.0
    across[across <= 1e-20 * across.max()] = 0.0
    work, away = 0.0, 0.0
    for loads, forces in plainly.states(lost):
        scale = max(np.abs(loads).max(), np.abs(forces).max())
        forces = np.where(np.abs(forces) <= 1e-10 * scale, 0.0, forces)
        work = max(work, shares(np.abs(movement @ loads), np.abs(movement) @ np.abs(loads)).max())
        away = max(away, shares(-across @ forces, across @ np.abs(forces)).max())
    return work, away


def hold(study: Study) -> int:
    """Hold every loss that leaves a mechanism against what is told plainly; how many were clear."""
    found, plainly, clear = answer(study).losses, Plainly(study), 0
    for loss in found.each:
        if loss.mechanism is None:
            continue
        work, away = told_plainly(plainly, loss.member)
        if NONE < work < SOME or NONE < away < SOME:
            continue
        expected = "falls" if work >= SOME else "tips" if away >= SOME else "loose"
        assert loss.outcome == expected, (loss.member, loss.outcome, work, away)
        clear += 1
    return clear


@pytest.mark.parametrize("seed", range(16))
def test_a_mechanism_is_pushed_carried_away_or_neither_as_the_plain_way_tells(seed: int) -> None:
    hold(draw_study(seed).study)


@pytest.mark.parametrize(
    "name",
    ["avocet_bridge", "bittern_roof", "curlew_mast", "dunlin_cascade", "egret_span", "fulmar_gantry"],
)
def test_mechanisms_of_bundled_trusses_without_their_pieces_are_as_the_plain_way_tells(name: str) -> None:
    assert hold(bundled(name, pieces=False)) > 0


def test_all_three_outcomes_of_mechanisms_occur_in_random_studies() -> None:
    met = {loss.outcome for seed in range(16) for loss in answer(draw_study(seed).study).losses.each}
    assert {"falls", "tips", "loose"} <= met


@pytest.mark.campaign
def test_every_mechanism_of_five_hundred_trusses_is_as_the_plain_way_tells() -> None:
    clear = 0
    for seed in CAMPAIGN:
        try:
            clear += hold(draw_study(seed).study)
        except AssertionError as error:
            raise AssertionError(f"seed {seed}") from error
    print(f"{clear} mechanisms")
    assert clear > len(CAMPAIGN)
