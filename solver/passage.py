"""A passage: the force in one member all along one way of a train, and the stretches on which it is zero."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.combining import Combination
from solver.crossings import Direction
from solver.demand import set_in_motion
from solver.peaks import Forces
from solver.tolerances import zero_band

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Passage:
    """One member under one combination while the train travels one way.

    The force is straight between the points (positions (p,) [m] of the front, ascending; forces (p,)
    [N], where at most 1e-9 of the scale written as 0); where it jumps a position stands more than once.
    `loaded` (p - 1,): some axle is on the chord between two points. `zeros`: stretches (from, to) [m] of
    the loaded way on which it is zero; `loaded_length` [m]; band [N]: what counts as zero; limit [N]:
    the study's own limit of zero, or 0.
    """

    direction: Direction
    positions: Array
    forces: Array
    loaded: NDArray[np.bool_]
    zeros: tuple[tuple[float, float], ...]
    loaded_length: float
    band: float
    limit: float = 0.0

    @property
    def zero_length(self) -> float:
        """Length of the way on which the force is zero [m]."""
        return sum(end - start for start, end in self.zeros)


def follow(forces: Forces, member: int, column: int) -> tuple[Passage, ...]:
    """Follow one member (index) under combination `column` of the sweep, forward first.

    Empty for a combination without a crossing.
    """
    swept = forces.sweep
    combination = swept.combinations[column]
    ways = swept.motions.ways
    scale, limit = forces.scales[column : column + 1], ways.study.zero_limit
    bands = float(zero_band(scale, 0.0)[0]), float(zero_band(scale, limit)[0])
    return tuple(
        _follow(forces, member, column, number, bands)
        for number, (name, _) in enumerate(ways.travels)
        if name == combination.crossing
    )


def _follow(forces: Forces, member: int, column: int, number: int, bands: tuple[float, float]) -> Passage:
    swept = forces.sweep
    ways = swept.motions.ways
    name, way = ways.travels[number]
    row = swept.motions.rows.influence[ways.study.crossings[name].chord][member : member + 1]
    polynomials = set_in_motion(name, way, row).polynomials
    combination: Combination = swept.combinations[column]
    standing, factor = float(swept.standing[member, column]), combination.crossing_factor
    start, slope = polynomials.coefficients[:, 0]
    first = standing + factor * start
    last = standing + factor * (start + slope * np.diff(way.breaks))
    positions = np.repeat(way.breaks, 2)[1:-1]
    values = np.column_stack([first, last]).ravel()
    at = standing + factor * polynomials.at[0]
    positions, values, loaded = _with_jumps((positions, values, np.repeat(way.loaded, 2)), way.jumps, at)
    whole = not ways.study.zero_limit
    zeros = _zero_stretches(positions, values, loaded[:-1], bands[1], whole)
    return Passage(
        way.direction,
        positions,
        np.where(np.abs(values) <= bands[0], 0.0, values),
        loaded[:-1],
        zeros,
        float(np.diff(way.breaks)[way.loaded].sum()),
        bands[1],
        ways.study.zero_limit,
    )


def _with_jumps(
    curve: tuple[Array, Array, NDArray[np.bool_]], jumps: Array, at: Array
) -> tuple[Array, Array, NDArray[np.bool_]]:
    """Add the value exactly at each jump between its two sides; drop what would change nothing."""
    positions, values, loaded = curve
    for place, value in zip(jumps, at, strict=True):
        # The new point stands between the end of the piece before the jump and the start of that after.
        index = int(np.searchsorted(positions, place, side="left")) + (place > positions[0])
        index = min(index, len(positions))
        positions = np.insert(positions, index, place)
        values = np.insert(values, index, value)
        loaded = np.insert(loaded, index, False)
    same = np.concatenate([[False], (np.diff(positions) == 0) & (np.diff(values) == 0)])
    # Of two equal neighbours the later stays, for it tells whether the piece that follows is loaded.
    keep = ~np.concatenate([same[1:], [False]])
    return positions[keep], values[keep], loaded[keep]


def _zero_stretches(
    positions: Array, values: Array, loaded: NDArray[np.bool_], band: float, whole: bool
) -> tuple[tuple[float, float], ...]:
    """Merge what is zero piece by piece; `whole`: only pieces that are zero throughout."""
    found: list[tuple[float, float]] = []
    for index in np.flatnonzero(loaded & (np.diff(positions) > 0)):
        one, other = values[index], values[index + 1]
        part = _within(one, other, band, whole)
        if part is None:
            continue
        width = positions[index + 1] - positions[index]
        start, end = positions[index] + part[0] * width, positions[index] + part[1] * width
        if found and start <= found[-1][1]:
            found[-1] = (found[-1][0], float(end))
        else:
            found.append((float(start), float(end)))
    return tuple(found)


def _within(one: float, other: float, band: float, whole: bool) -> tuple[float, float] | None:
    """The part (0 to 1) of a straight piece that lies in the band, if any."""
    if abs(one) <= band and abs(other) <= band:
        return 0.0, 1.0
    if whole or min(one, other) > band or max(one, other) < -band or one == other:
        return None
    ends = sorted([(-band - one) / (other - one), (band - one) / (other - one)])
    start, end = max(0.0, ends[0]), min(1.0, ends[1])
    return (start, end) if end > start else None


@dataclass(frozen=True)
class Spread:
    """How much of the loaded way a member bears how much, over all ways of a crossing.

    tension, compression: (n, 2) shares of the way, from 0 up, against sizes of the force [N], falling;
    zero: the share of the way on which it is zero.
    """

    tension: Array
    compression: Array
    zero: float


LEVELS = 160
"""A curve of more levels than this is thinned out: a picture shows no more."""


def spread_out(passages: tuple[Passage, ...]) -> Spread:
    """Sort the forces of some passages by size: on how much of the way is the force at least so large?

    Where the study has a limit of zero of its own, what is within it is zero and no force.
    """
    total = sum(passage.loaded_length for passage in passages)
    pieces = np.concatenate([_loaded_pieces(passage) for passage in passages])
    zero = sum(passage.zero_length for passage in passages) / total
    floor = passages[0].band if passages[0].limit else 0.0
    return Spread(_sorted(pieces, 1.0, total, floor), _sorted(pieces, -1.0, total, floor), zero)


def _loaded_pieces(passage: Passage) -> Array:
    """Length and the force at both ends of every loaded piece, (n, 3)."""
    lengths = np.diff(passage.positions)
    kept = passage.loaded & (lengths > 0)
    return np.column_stack([lengths, passage.forces[:-1], passage.forces[1:]])[kept]


def _sorted(pieces: Array, sign: float, total: float, floor: float) -> Array:
    """Levels from the largest down to `floor`, written as 0, and the share of the way above each."""
    raw = sign * pieces[:, 1:]
    levels = np.unique(raw[raw > floor])[::-1]
    if not len(levels):
        return np.zeros((0, 2))
    if len(levels) > LEVELS:
        levels = levels[np.unique(np.linspace(0, len(levels) - 1, LEVELS).round().astype(int))]
    low, high = raw.min(axis=1), raw.max(axis=1)
    shares = [_share_above(level, pieces[:, 0], low, high) / total for level in (*levels, floor)]
    return np.column_stack([shares, [*levels, 0.0]])


def _share_above(level: float, lengths: Array, low: Array, high: Array) -> float:
    """Length on which a force that is straight on each piece is above `level`; level pieces count at it."""
    spread = np.where(high > low, high - low, 1.0)
    part = np.where(high > low, np.clip((high - level) / spread, 0.0, 1.0), high >= level)
    return float((lengths * np.where(high > 0, part, 0.0)).sum())
