"""Exact extremes of moving loads against dense sampling: it never finds more, and hardly ever less.

The sampling shares nothing with the solver but the influence ordinates: lines are interpolated, areas are
sums of strips, left out axles are clipped, a second train is a running maximum of samples.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from solver.answers import answer
from solver.crossings import Crossing
from solver.trains import Axle, Strip, Train, last_load
from tests.laws.random_trains import draw_crossing
from tests.laws.trying import law

STEPS = 4001
"""Positions sampled along a way: what lies between two of them may be missed."""


@dataclass(frozen=True)
class Sampled:
    """An influence line on a fine grid: its areas from the near end, with sign and above zero."""

    positions: np.ndarray
    ordinates: np.ndarray

    @property
    def length(self) -> float:
        return float(self.positions[-1])

    def at(self, places: np.ndarray) -> np.ndarray:
        inside = (places >= -1e-9) & (places <= self.length + 1e-9)
        return np.where(inside, np.interp(places, self.positions, self.ordinates), 0.0)

    def area(self, places: np.ndarray, above: bool) -> np.ndarray:
        grid = np.linspace(0, self.length, 20 * STEPS)
        middles = np.interp((grid[1:] + grid[:-1]) / 2, self.positions, self.ordinates)
        heights = np.maximum(middles, 0.0) if above else middles
        sums = np.concatenate([[0.0], np.cumsum(heights * np.diff(grid))])
        return np.interp(np.clip(places, 0.0, self.length), grid, sums)


def sample_largest(line: Sampled, crossing: Crossing) -> float:
    """The largest that a train going forward brings to a row, at thousands of positions."""
    train = crossing.trains[0]
    ends = [line.length + train.last_load]
    if train.second:
        behind = last_load(train.second.axles, train.second.strips)
        ends.append(line.length + train.follow_distance + behind)
    fronts = np.linspace(train.first_load, max(ends), STEPS)
    total = brought(line, crossing, (train.axles, train.strips), fronts)
    if train.second:
        loads = train.second.axles, train.second.strips
        followed = brought(line, crossing, loads, fronts - train.follow_distance)
        total = total + np.maximum(np.maximum.accumulate(followed), 0.0)
    free = 0.0
    if train.lane:
        load = crossing.factor * (1 + crossing.lane_impact) * train.lane.load
        free = load * float(line.area(np.array([line.length]), True)[0])
        total = total + free
        if train.lane.clear:
            near, far = (line.area(fronts - distance, True) for distance in train.lane.clear)
            total = total - load * (near - far)
    return max(float(total.max()), free)


def brought(
    line: Sampled,
    crossing: Crossing,
    loads: tuple[tuple[Axle, ...], tuple[Strip, ...]],
    fronts: np.ndarray,
) -> np.ndarray:
    moving = crossing.factor * (1 + crossing.impact)
    total = np.zeros(len(fronts))
    for axle in loads[0]:
        ordinates = line.at(fronts - axle.distance)
        left_out = crossing.trains[0].relieving_left_out
        total += moving * axle.load * (np.maximum(ordinates, 0.0) if left_out else ordinates)
    for strip in loads[1]:
        near, far = (line.area(fronts - distance, False) for distance in (strip.start, strip.end))
        total += moving * strip.load * (near - far)
    return total


def sampled_extremes(ordinates: np.ndarray, x: np.ndarray, crossing: Crossing) -> tuple[float, float]:
    """Smallest and largest over the crossing's directions, and with nothing on the chord."""
    found = []
    for sign in (-1.0, 1.0):
        lines = {
            "forward": Sampled(x, sign * ordinates),
            "backward": Sampled(x[-1] - x[::-1], sign * ordinates[::-1]),
        }
        found.append(max(0.0, *(sample_largest(lines[way], crossing) for way in crossing.directions)))
    return -found[0], found[1]


def steepness(ordinates: np.ndarray, x: np.ndarray, crossing: Crossing) -> float:
    """How much a row can change over one step of the sampling: every load on the steepest panel."""
    train, slope = crossing.trains[0], float(np.abs(np.diff(ordinates) / np.diff(x)).max())
    axles = [*train.axles, *(train.second.axles if train.second else ())]
    uniform = [strip.load for strip in [*train.strips, *(train.second.strips if train.second else ())]]
    uniform += [train.lane.load] if train.lane else []
    way = 2 * (x[-1] + train.last_load + (train.follow_distance if train.second else 0.0))
    rate = sum(axle.load for axle in axles) * slope + 2 * sum(uniform) * float(np.abs(ordinates).max())
    return crossing.factor * (1 + max(crossing.impact, crossing.lane_impact)) * rate * 2 * way / STEPS


def check(seed: int) -> None:
    study = draw_crossing(seed)
    crossing, combination = study.crossings["train"], study.combinations[0]
    answers = answer(study)
    swept, x = answers.forces.sweep, study.chords["deck"].positions
    column = len(study.alone)
    scale = float(answers.forces.scales[column])
    for member, ordinates in enumerate(answers.responses.forces.influence["deck"]):
        ends = sorted(combination.crossing_factor * end for end in sampled_extremes(ordinates, x, crossing))
        missed = abs(combination.crossing_factor) * steepness(ordinates, x, crossing)
        beyond = swept.largest[member, column] - ends[1], ends[0] - swept.smallest[member, column]
        for more in beyond:
            # areas summed over a fine grid are right to about the square of its step
            assert -1e-6 * scale <= more <= missed + 1e-6 * scale, (seed, member, more / scale)


@law(12)
def test_sampling_never_finds_more_than_the_exact_extremes_nor_less_than_a_step_allows(seed: int) -> None:
    check(seed)


@pytest.mark.campaign
def test_two_hundred_trains_are_what_dense_sampling_finds() -> None:
    for seed in range(200):
        check(seed)


def test_the_random_trains_hold_all_kinds_of_moving_loads() -> None:
    trains: list[Train] = [draw_crossing(seed).crossings["train"].trains[0] for seed in range(60)]
    assert any(train.strips for train in trains) and any(not train.axles for train in trains)
    assert any(train.lane and train.lane.clear for train in trains)
    assert any(train.relieving_left_out for train in trains) and any(train.second for train in trains)
