"""A passage: the force in one member all along one way of a train, and the stretches on which it is zero."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from solver.crossings import Direction
from solver.demand import Motion, set_in_motion
from solver.peaks import Forces
from solver.polynomials import PiecewisePolynomials
from solver.tolerances import zero_band
from solver.travel import Travel

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Curve:
    """A force drawn along a way: straight between positions (p,) [m], values (p,) [N]; jumps stand twice."""

    positions: Array
    values: Array


@dataclass(frozen=True)
class Passage:
    """One member under one combination while the train travels one way.

    The force is straight between the points (positions (p,) [m] of the front, ascending; forces (p,)
    [N], where at most 1e-9 of the scale written as 0), those of a curve so near to one another that it
    looks like one; where it jumps a position stands more than once. `loaded` (p - 1,): some axle or
    strip is on the chord between two points. `zeros`: stretches (from, to) [m] of the loaded way on which
    it is zero, exactly; `loaded_length` [m]; band [N]: what counts as zero; limit [N]: the study's own
    limit of zero, or 0. `number`: the train's place in its set.
    `forces` are of the train as it stands. Where lanes, left out axles or a second train come in, `most`
    and `least` are what they can make of it at each position.
    """

    direction: Direction
    positions: Array
    forces: Array
    loaded: NDArray[np.bool_]
    zeros: tuple[tuple[float, float], ...]
    loaded_length: float
    band: float
    limit: float = 0.0
    number: int = 0
    most: Curve | None = None
    least: Curve | None = None

    @property
    def zero_length(self) -> float:
        """Length of the way on which the force is zero [m]."""
        return sum(end - start for start, end in self.zeros)


def follow(forces: Forces, member: int, column: int) -> tuple[Passage, ...]:
    """Follow one member (index) under combination `column` of the sweep, each train of a set forward first.

    Empty for a combination without a travelling crossing.
    """
    swept = forces.sweep
    combination = swept.combinations[column]
    ways = swept.motions.ways
    if combination.crossing is None:
        return ()
    places = ways.of(combination.crossing)
    return tuple(_follow(forces, member, column, ways.travels[place]) for place in places)


def _follow(forces: Forces, member: int, column: int, way: Travel) -> Passage:
    swept = forces.sweep
    scale, limit = forces.scales[column : column + 1], swept.motions.ways.study.zero_limit
    least, band = (float(zero_band(scale, limits)[0]) for limits in (0.0, limit))
    row = swept.motions.rows.influence[way.chord.name][member : member + 1]
    motion = set_in_motion(way, row)
    family = motion.polynomials
    standing = float(swept.standing[member, column])
    factor = swept.combinations[column].crossing_factor
    curve, pieces = _draw(family, standing, factor)
    at = standing + factor * family.at[0]
    loaded = np.append(way.loaded[pieces], False)
    positions, values, loaded = _with_jumps((curve.positions, curve.values, loaded), way.jumps, at)
    most, least_curve = _bounds(motion, standing, factor, swept.lanes[:, member, column])
    return Passage(
        way.direction,
        positions,
        np.where(np.abs(values) <= least, 0.0, values),
        loaded[:-1],
        _zero_stretches(_shifted(family, standing, factor), way, band, not limit),
        float(np.diff(way.breaks)[way.loaded].sum()),
        band,
        limit,
        way.number,
        most,
        least_curve,
    )


def _bounds(
    motion: Motion, standing: float, factor: float, lanes: Array
) -> tuple[Curve, Curve] | tuple[None, None]:
    """What can be made of the force at most and at least at each position; none where it is what it is."""
    train = motion.travel.train
    if not (train.arranges or train.lane or lanes.any()):
        return None, None
    families = (motion.upper, motion.lower) if factor >= 0 else (motion.lower, motion.upper)
    own = sorted(factor * float(part[0]) for part in motion.lane)
    ends = own[1] + float(lanes[1]), own[0] + float(lanes[0])
    most, least = (
        _draw(family, standing + end, factor)[0] for family, end in zip(families, ends, strict=True)
    )
    return most, least


SMOOTH = 1 / 400
"""A curve is drawn by straight lines that leave it by at most this share of the largest force."""


def _draw(family: PiecewisePolynomials, standing: float, factor: float) -> tuple[Curve, NDArray[np.int64]]:
    """Draw the only row of a family by straight lines; also the piece that each but the last point begins."""
    breaks = family.breaks if family.breaks.ndim == 1 else family.breaks[0]
    widths = np.diff(breaks)
    constant, slope, curve = _shifted(family, standing, factor)
    size = np.abs([constant, constant + widths * (slope + widths * curve)]).max(initial=0.0)
    sag = np.abs(curve) * widths**2 / 4
    steps = np.ceil(np.sqrt(sag / max(SMOOTH * float(size), np.finfo(float).tiny))).clip(1, 200).astype(int)
    steps = np.where(widths > 0, steps, 0)
    pieces = np.repeat(np.arange(len(widths)), np.where(steps > 0, steps + 1, 0))
    first = np.cumsum(np.where(steps > 0, steps + 1, 0)) - (steps + 1)
    share = (np.arange(len(pieces)) - first[pieces]) / steps[pieces]
    past = np.where(share == 1, widths[pieces], share * widths[pieces])
    pieces, past = _with_summits(pieces, past, np.stack([constant, slope, curve]), widths)
    positions = np.where(past == widths[pieces], breaks[pieces + 1], breaks[pieces] + past)
    values = constant[pieces] + past * (slope[pieces] + past * curve[pieces])
    return Curve(positions, values), pieces[:-1]


def _with_summits(
    pieces: NDArray[np.int64], past: Array, parts: Array, widths: Array
) -> tuple[NDArray[np.int64], Array]:
    """Add the summit of every piece that has one inside to points on pieces: peaks are read from them."""
    slope, curve = parts[1], parts[2]
    summit = np.where(curve != 0, -slope / (2 * np.where(curve != 0, curve, 1.0)), -1.0)
    inside = np.flatnonzero((summit > 0) & (summit < widths))
    pieces, past = np.concatenate([pieces, inside]), np.concatenate([past, summit[inside]])
    order = np.lexsort((past, pieces))
    return pieces[order], past[order]


def _shifted(family: PiecewisePolynomials, standing: float, factor: float) -> Array:
    """Coefficients of standing + factor x the only row of a family, (3, pieces)."""
    parts = np.zeros((3, family.coefficients.shape[2]))
    parts[: len(family.coefficients)] = factor * family.coefficients[:, 0]
    parts[0] += standing
    return parts


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


def _zero_stretches(parts: Array, way: Travel, band: float, whole: bool) -> tuple[tuple[float, float], ...]:
    """Merge what is zero piece by piece of the loaded way; `whole`: only pieces that are zero throughout."""
    found: list[tuple[float, float]] = []
    for piece in np.flatnonzero(way.loaded):
        width = float(way.breaks[piece + 1] - way.breaks[piece])
        for start, end in _within(parts[:, piece], width, band, whole):
            # An end of the piece is its break, not a sum that rounds to its neighbour.
            begins = float(way.breaks[piece]) + start
            ends = float(way.breaks[piece + 1]) if end == width else float(way.breaks[piece]) + end
            if found and begins <= found[-1][1]:
                found[-1] = (found[-1][0], ends)
            else:
                found.append((begins, ends))
    return tuple(found)


def _within(part: Array, width: float, band: float, whole: bool) -> list[tuple[float, float]]:
    """Where a polynomial on [0, width] stays within the band, in order; a mere touch counts nothing."""
    constant, slope, curve = (float(c) for c in part)
    marks = {0.0, width}
    if curve and 0 < -slope / (2 * curve) < width:
        marks.add(-slope / (2 * curve))
    ends = [constant + t * (slope + t * curve) for t in marks]
    if max(abs(end) for end in ends) <= band:
        return [(0.0, width)]
    if whole:
        return []
    for level in (band, -band):
        marks |= {t for t in _roots(constant - level, slope, curve) if 0 < t < width}
    places = sorted(marks)
    found: list[tuple[float, float]] = []
    for start, end in pairwise(places):
        middle = (start + end) / 2
        if abs(constant + middle * (slope + middle * curve)) > band or end <= start:
            continue
        if found and found[-1][1] == start:
            found[-1] = (found[-1][0], end)
        else:
            found.append((start, end))
    return found


def _roots(constant: float, slope: float, curve: float) -> list[float]:
    """Real roots of a polynomial up to the square, without losing digits of the smaller one."""
    if not curve:
        return [-constant / slope] if slope else []
    inner = slope * slope - 4 * curve * constant
    if inner < 0:
        return []
    sum_of = -(slope + (sqrt(inner) if slope >= 0 else -sqrt(inner))) / 2
    return [sum_of / curve, *([constant / sum_of] if sum_of else [])]


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
