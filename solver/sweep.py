"""The sweep: demands of every combination on every row, the governing ones, and zero shares."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.combining import Combination
from solver.crossings import Direction
from solver.demand import (
    Motion,
    extremes,
    first_position,
    lane_part,
    set_in_motion,
    share_within,
    shares_throughout,
    standing_part,
)
from solver.progress import Progress, blocks, silent
from solver.response import Rows
from solver.study import Study
from solver.tolerances import TIE
from solver.travel import Travel, travel

Array = NDArray[np.float64]
ELEMENTS = 4_000_000
"""Rows are worked off in blocks of about this many rows x pieces, to bound the memory."""


@dataclass(frozen=True)
class Governing:
    """Where an extreme of each row occurs, (rows,) each.

    `values`; `combinations` (indices); `positions` [m], NaN without a travelling crossing; `directions`
    (0 forward, 1 backward, -1 without one); `trains`: place among those of the crossing, -1 without one.
    """

    values: Array
    combinations: NDArray[np.int64]
    positions: Array
    directions: NDArray[np.int64]
    trains: NDArray[np.int64]


@dataclass(frozen=True)
class Ways:
    """Every direction of every train of every crossing of a study; made once for all kinds of rows.

    The trains of a set come in its order, of each forward first.
    """

    study: Study
    travels: tuple[Travel, ...]

    def of(self, crossing: str) -> list[int]:
        """The places of a crossing's ways."""
        return [place for place, way in enumerate(self.travels) if way.crossing.name == crossing]


@dataclass(frozen=True)
class Motions:
    """All rows answering each direction of each crossing that is asked for, forward first."""

    ways: Ways
    rows: Rows

    def blocks(self, what: str, progress: Progress) -> Iterator[tuple[slice, list[Motion]]]:
        """Yield blocks of rows with their motions; kept for the next time where one block holds all."""
        count = len(self.rows.cases)
        size = ELEMENTS // max(1, sum(len(way.breaks) for way in self.ways.travels))
        if count <= size:
            yield slice(0, count), self._whole
            return
        for block in blocks(count, size, what, progress):
            yield block, self._of(block)

    @cached_property
    def _whole(self) -> list[Motion]:
        return self._of(slice(0, len(self.rows.cases)))

    def _of(self, block: slice) -> list[Motion]:
        influence = self.rows.influence
        return [set_in_motion(way, influence[way.chord.name][block]) for way in self.ways.travels]


@dataclass(frozen=True)
class Sweep:
    """Extremes of one kind of rows over every combination: smallest, largest (rows, combinations).

    standing (rows, combinations) is what the cases of each combination add up to; lanes (2, rows,
    combinations) the least and the most that lanes alone add.
    """

    motions: Motions
    combinations: tuple[Combination, ...]
    standing: Array
    lanes: Array
    smallest: Array
    largest: Array

    def govern(
        self, largest: Array, sign: float = 1.0, progress: Progress = silent, noise: float = 0.0
    ) -> Governing:
        """Find where `sign` x row comes first within TIE of its largest demand, or within `noise`.

        `largest` (rows, combinations) are the demands to compare (zero where zero by the rule of the
        study, -inf for combinations that are not asked). First means: first combination, first train
        of a set, forward before backward, least position.
        """
        values = largest.max(axis=1)
        floor = values - np.maximum(TIE * np.abs(values), noise)
        combinations = (largest >= floor[:, None]).argmax(axis=1)
        rows = np.arange(len(values))
        lanes = (sign * self.lanes[:, rows, combinations]).max(axis=0)
        standing = sign * self.standing[rows, combinations] + lanes
        factors = sign * np.array([c.crossing_factor for c in self.combinations])[combinations]
        crossings = np.array([c.crossing or "" for c in self.combinations])[combinations]
        positions = np.full(len(values), np.nan)
        directions = np.full(len(values), -1)
        trains = np.full(len(values), -1)
        for block, motions in self.motions.blocks("governing positions", progress):
            for motion in motions:
                wanted = (crossings[block] == motion.crossing) & np.isnan(positions[block])
                sought = np.where(wanted, floor[block], np.inf)
                place = first_position(motion, standing[block], factors[block], sought)
                found = np.flatnonzero(np.isfinite(place)) + block.start
                positions[found] = place[found - block.start]
                directions[found] = 0 if motion.direction == "forward" else 1
                trains[found] = motion.travel.number
        return Governing(values, combinations, positions, directions, trains)


def sweep(
    ways: Ways,
    rows: Rows,
    case_names: tuple[str, ...],
    combinations: tuple[Combination, ...],
    progress: Progress = silent,
) -> Sweep:
    """Find the extremes of every row under every combination, exactly, over all positions."""
    motions = Motions(ways, rows)
    standing = standing_part(rows, case_names, combinations)
    lanes = _lanes_alone(ways.study, rows, combinations)
    smallest, largest = standing + lanes[0], standing + lanes[1]
    start = smallest.copy(), largest.copy()
    for block, moving in motions.blocks("positions of every crossing", progress):
        for motion in moving:
            columns = [i for i, c in enumerate(combinations) if c.crossing == motion.crossing]
            factors = np.array([combinations[i].crossing_factor for i in columns])
            low, high = extremes(motion, factors)
            smallest[block, columns] = np.minimum(smallest[block, columns], start[0][block, columns] + low)
            largest[block, columns] = np.maximum(largest[block, columns], start[1][block, columns] + high)
    return Sweep(motions, combinations, standing, lanes, smallest, largest)


def _lanes_alone(study: Study, rows: Rows, combinations: tuple[Combination, ...]) -> Array:
    """The least and the most that the lanes alone of each combination add, (2, rows, combinations)."""
    total = np.zeros((2, len(rows.cases), len(combinations)))
    for name in {name for combination in combinations for name in combination.lanes}:
        crossing = study.crossings[name]
        part = lane_part(study.chords[crossing.chord], rows.influence[crossing.chord], crossing.lane_loads[0])
        factors = np.array([combination.lanes.get(name, 0.0) for combination in combinations])
        both = np.stack(part)[:, :, None] * factors
        total += np.sort(both, axis=0)
    return total


def zero_shares(swept: Sweep, bands: Array, progress: Progress = silent) -> Array:
    """Return the zero share of each row in each combination, (rows, combinations).

    bands (combinations,) [N] are the largest absolute values that count as zero. Where the study sets
    no zero limit of its own only stretches that are zero throughout count. Trains count as they stand,
    without their lanes; a lane alone leaves no share to a row that it can load.
    """
    shares = (np.abs(swept.standing) <= bands).astype(float)
    travelling = [i for i, combination in enumerate(swept.combinations) if combination.crossing]
    shares[:, travelling] = 0.0
    for block, motions in swept.motions.blocks("zero shares", progress):
        for motion in motions:
            columns = [i for i in travelling if swept.combinations[i].crossing == motion.crossing]
            ways = len(swept.motions.ways.of(motion.crossing))
            shares[block, columns] += _shares(swept, motion, block, columns, bands) / ways
    return np.where(np.abs(swept.lanes).max(axis=0) > bands, 0.0, shares)


def _shares(swept: Sweep, motion: Motion, block: slice, columns: list[int], bands: Array) -> Array:
    """Shares of one motion: of the band's whole width where the study has a zero limit of its own."""
    factors = np.array([swept.combinations[c].crossing_factor for c in columns])
    standing = swept.standing[block][:, columns]
    if not swept.motions.ways.study.zero_limit:
        return shares_throughout(motion, standing, factors, bands[columns])
    shares = np.zeros(standing.shape)
    for place, column in enumerate(columns):
        shares[:, place] = share_within(motion, standing[:, place], factors[place], bands[column])
    return shares


def lay_ways(study: Study) -> Ways:
    """Lay out every direction of every train that travels."""
    directions: tuple[Direction, ...] = ("forward", "backward")
    travels = [
        travel(crossing, study.chords[crossing.chord], direction, number)
        for crossing in study.crossings.values()
        for number, train in enumerate(crossing.trains)
        for direction in directions
        if direction in crossing.directions and train.travels
    ]
    return Ways(study, tuple(travels))
