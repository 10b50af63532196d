"""The sweep: demands of every combination on every row, the governing ones, and zero shares."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.combining import Combination
from solver.crossings import Direction, Travel, travel
from solver.demand import (
    Motion,
    extremes,
    first_position,
    set_in_motion,
    share_within,
    shares_throughout,
    standing_part,
)
from solver.progress import Progress, blocks, silent
from solver.response import Rows
from solver.study import Study
from solver.tolerances import TIE

Array = NDArray[np.float64]
ELEMENTS = 4_000_000
"""Rows are worked off in blocks of about this many rows x pieces, to bound the memory."""


@dataclass(frozen=True)
class Governing:
    """Where an extreme of each row occurs, (rows,) each.

    `values`; `combinations` (indices); `positions` [m], NaN without a travelling crossing; `directions`
    (0 forward, 1 backward, -1 without one).
    """

    values: Array
    combinations: NDArray[np.int64]
    positions: Array
    directions: NDArray[np.int64]


@dataclass(frozen=True)
class Ways:
    """Every direction of every crossing of a study, forward first; made once for all kinds of rows."""

    study: Study
    travels: tuple[tuple[str, Travel], ...]


@dataclass(frozen=True)
class Motions:
    """All rows answering each direction of each crossing that is asked for, forward first."""

    ways: Ways
    rows: Rows

    def blocks(self, what: str, progress: Progress) -> Iterator[tuple[slice, list[Motion]]]:
        """Yield blocks of rows with their motions; kept for the next time where one block holds all."""
        count = len(self.rows.cases)
        size = ELEMENTS // max(1, sum(len(way.breaks) for _, way in self.ways.travels))
        if count <= size:
            yield slice(0, count), self._whole
            return
        for block in blocks(count, size, what, progress):
            yield block, self._of(block)

    @cached_property
    def _whole(self) -> list[Motion]:
        return self._of(slice(0, len(self.rows.cases)))

    def _of(self, block: slice) -> list[Motion]:
        crossings, influence = self.ways.study.crossings, self.rows.influence
        return [
            set_in_motion(name, way, influence[crossings[name].chord][block])
            for name, way in self.ways.travels
        ]


@dataclass(frozen=True)
class Sweep:
    """Extremes of one kind of rows over every combination: smallest, largest (rows, combinations).

    standing (rows, combinations) is what the cases of each combination add up to.
    """

    motions: Motions
    combinations: tuple[Combination, ...]
    standing: Array
    smallest: Array
    largest: Array

    def govern(
        self, largest: Array, sign: float = 1.0, progress: Progress = silent, noise: float = 0.0
    ) -> Governing:
        """Find where `sign` x row comes first within TIE of its largest demand, or within `noise`.

        `largest` (rows, combinations) are the demands to compare (zero where zero by the rule of the
        study, -inf for combinations that are not asked). First means: first combination, forward before
        backward, least position.
        """
        values = largest.max(axis=1)
        floor = values - np.maximum(TIE * np.abs(values), noise)
        combinations = (largest >= floor[:, None]).argmax(axis=1)
        standing = sign * self.standing[np.arange(len(values)), combinations]
        factors = sign * np.array([c.crossing_factor for c in self.combinations])[combinations]
        crossings = np.array([c.crossing or "" for c in self.combinations])[combinations]
        positions = np.full(len(values), np.nan)
        directions = np.full(len(values), -1)
        for block, motions in self.motions.blocks("governing positions", progress):
            for motion in motions:
                wanted = (crossings[block] == motion.crossing) & np.isnan(positions[block])
                sought = np.where(wanted, floor[block], np.inf)
                place = first_position(motion, standing[block], factors[block], sought)
                found = np.flatnonzero(np.isfinite(place)) + block.start
                positions[found] = place[found - block.start]
                directions[found] = 0 if motion.direction == "forward" else 1
        return Governing(values, combinations, positions, directions)


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
    smallest, largest = standing.copy(), standing.copy()
    for block, moving in motions.blocks("positions of every crossing", progress):
        for motion in moving:
            columns = [i for i, c in enumerate(combinations) if c.crossing == motion.crossing]
            factors = np.array([combinations[i].crossing_factor for i in columns])
            low, high = extremes(motion, factors)
            smallest[block, columns] = np.minimum(smallest[block, columns], standing[block, columns] + low)
            largest[block, columns] = np.maximum(largest[block, columns], standing[block, columns] + high)
    return Sweep(motions, combinations, standing, smallest, largest)


def zero_shares(swept: Sweep, bands: Array, progress: Progress = silent) -> Array:
    """Return the zero share of each row in each combination, (rows, combinations).

    bands (combinations,) [N] are the largest absolute values that count as zero. Where the study sets
    no zero limit of its own only stretches that are zero throughout count.
    """
    shares = (np.abs(swept.standing) <= bands).astype(float)
    travelling = [i for i, combination in enumerate(swept.combinations) if combination.crossing]
    shares[:, travelling] = 0.0
    for block, motions in swept.motions.blocks("zero shares", progress):
        for motion in motions:
            columns = [i for i in travelling if swept.combinations[i].crossing == motion.crossing]
            directions = swept.motions.ways.study.crossings[motion.crossing].directions
            shares[block, columns] += _shares(swept, motion, block, columns, bands) / len(directions)
    return shares


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
    """Lay out every direction of every crossing, forward first."""
    directions: tuple[Direction, ...] = ("forward", "backward")
    travels = [
        (name, travel(crossing, study.chords[crossing.chord], direction))
        for name, crossing in study.crossings.items()
        for direction in directions
        if direction in crossing.directions
    ]
    return Ways(study, tuple(travels))
