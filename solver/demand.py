"""A demand: the extreme of a row over everything that a combination allows.

A combination asks for the sum of its cases, which stands still, and of its crossing, which adds
factor x N(s) at each position s of the train, N a piecewise polynomial. Extremes and lengths of the sum
follow from those of N, so each N is made once and serves every combination.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.adverse import largest_family, smallest_family
from solver.chords import Chord
from solver.combining import Combination
from solver.crossings import Direction
from solver.influence import signed_areas, tidy_ordinates
from solver.polynomials import PiecewisePolynomials
from solver.response import Rows
from solver.tolerances import NOISE
from solver.travel import Travel

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Motion:
    """Some rows answering one direction of one train: their polynomials, and where the train is on.

    `polynomials` are of the train as it stands. Where it stands otherwise for one row than for another
    (`train.arranges`), `upper` and `lower` are the most and the least it can bring at each position.
    lane_low, lane_high (rows,) are what its lane adds to them wherever the train is.
    """

    travel: Travel
    influence: Array
    polynomials: PiecewisePolynomials

    @property
    def direction(self) -> Direction:
        """The way the train goes."""
        return self.travel.direction

    @property
    def crossing(self) -> str:
        """Name of the crossing."""
        return self.travel.crossing.name

    @cached_property
    def upper(self) -> PiecewisePolynomials:
        """The most that the train brings to each row at each position, its lane left out."""
        if not self.travel.train.arranges:
            return self.polynomials
        return largest_family(self.travel, self.influence)

    @cached_property
    def lower(self) -> PiecewisePolynomials:
        """The least that the train brings to each row at each position, its lane left out."""
        if not self.travel.train.arranges:
            return self.polynomials
        return smallest_family(self.travel, self.influence)

    @cached_property
    def lane(self) -> tuple[Array, Array]:
        """What the lane brings at least and at most to each row, (rows,) each."""
        load = self.travel.crossing.lane_loads[self.travel.number]
        return lane_part(self.travel.chord, self.influence, load)


def set_in_motion(travel: Travel, influence: Array) -> Motion:
    """Let a train travel over rows with ordinates `influence` (rows, joints of the chord) [per N]."""
    coefficients = np.matmul(influence, travel.weights)
    at = influence @ travel.at
    return Motion(travel, influence, PiecewisePolynomials(travel.breaks, coefficients, travel.jumps, at))


def lane_part(chord: Chord, influence: Array, load: float) -> tuple[Array, Array]:
    """Return what a lane of `load` [N/m] brings at least and at most to each row, (rows,) each."""
    if not load:
        return np.zeros(len(influence)), np.zeros(len(influence))
    low, high = signed_areas(chord.positions, tidy_ordinates(influence))
    return load * low, load * high


def extremes(motion: Motion, factors: Array) -> tuple[Array, Array]:
    """Return (smallest, largest) of factor x N(s) over all positions, lane included, each (rows, factors).

    Positions with no load on the chord count, where the train adds nothing and its lane is free.
    """
    lane_low, lane_high = motion.lane
    low = (np.minimum(motion.lower.smallest, 0.0) + lane_low)[:, None] * factors
    high = (np.maximum(motion.upper.largest, 0.0) + lane_high)[:, None] * factors
    return np.minimum(low, high), np.maximum(low, high)


def first_position(motion: Motion, standing: Array, factors: Array, floor: Array) -> Array:
    """Return the least position [m] at which standing + factor x N(s) reaches `floor`, (rows,).

    standing, factors, floor (rows,); infinite where it stays below, as for rows whose floor is infinite.
    Before its first load is on the chord the train adds nothing and its lane is free; that state stands
    at the least position of the travel at which nothing is on the chord.
    """
    divisor = np.where(factors == 0, 1.0, factors)
    lane = np.where(factors > 0, motion.lane[1], motion.lane[0])
    # The division must not lose the very extreme that set the floor, so a few roundings are given.
    slack = 8 * np.finfo(float).eps * np.where(np.isfinite(floor), np.abs(floor), 0.0)
    level = (floor - slack - standing) / divisor - lane
    upward = motion.upper.first_at_least(np.where(factors > 0, level, np.inf))
    downward = motion.lower.first_at_most(np.where(factors < 0, level, -np.inf))
    absent = standing + factors * lane >= floor - slack
    return np.minimum(np.where(absent, motion.travel.empty_at, np.inf), np.minimum(upward, downward))


def share_within(motion: Motion, standing: Array, factor: float, band: float) -> Array:
    """Return the share of the loaded way on which |standing + factor x N(s)| <= band, (rows,)."""
    if factor == 0:
        return (np.abs(standing) <= band).astype(float)
    ends = (
        np.array([motion.polynomials.smallest, motion.polynomials.largest, np.zeros(len(standing))]) * factor
    )
    smallest, largest = ends.min(axis=0), ends.max(axis=0)
    shares = np.zeros(len(standing))
    touched = np.flatnonzero((standing + smallest <= band) & (standing + largest >= -band))
    bounds = np.sort(np.array([-band - standing[touched], band - standing[touched]]) / factor, axis=0)
    counted = motion.travel.loaded
    lengths = motion.polynomials.length_within(touched, bounds[0], bounds[1], counted)
    shares[touched] = lengths / motion.polynomials.widths[counted].sum()
    return shares


def shares_throughout(motion: Motion, standing: Array, factors: Array, bands: Array) -> Array:
    """Return the share of the loaded way made of pieces on which the row is zero throughout.

    For several combinations at once: standing (rows, c) [N], factors (c,), bands (c,) [N]; the result
    is (rows, c). Passing through zero counts nothing.
    """
    shares = np.zeros(standing.shape)
    moving = np.flatnonzero(factors)
    shares[:, factors == 0] = np.abs(standing[:, factors == 0]) <= bands[factors == 0]
    if not len(moving):
        return shares
    flat = _flat_parts(motion, float((2 * bands[moving] / np.abs(factors[moving])).max()))
    for c in moving:
        shares[:, c] = _flat_share(flat, standing[:, c], factors[c], bands[c])
    return np.minimum(shares, 1.0)


@dataclass(frozen=True)
class _FlatParts:
    """Loaded pieces on which a row hardly varies: its row, least and greatest value, share of the way.

    lowest and highest (rows,) bound the values of each row's flat pieces; inf and -inf without any.
    """

    rows: NDArray[np.int64]
    low: Array
    high: Array
    part: Array
    lowest: Array
    highest: Array


def _flat_parts(motion: Motion, spread: float) -> _FlatParts:
    polynomials, counted = motion.polynomials, motion.travel.loaded
    rows, pieces = polynomials.flat_pieces(spread, counted)
    low, high = polynomials.bounds_of(rows, pieces)
    lowest, highest = np.full(len(polynomials.at), np.inf), np.full(len(polynomials.at), -np.inf)
    np.minimum.at(lowest, rows, low)
    np.maximum.at(highest, rows, high)
    part = polynomials.widths[pieces] / polynomials.widths[counted].sum()
    return _FlatParts(rows, low, high, part, lowest, highest)


def _flat_share(flat: _FlatParts, standing: Array, factor: float, band: float) -> Array:
    """Share of the way on which standing + factor x row stays within the band, of one combination."""
    bounds = np.sort(np.array([-band - standing, band - standing]) / factor, axis=0)
    possible = (flat.lowest <= bounds[1]) & (flat.highest >= bounds[0])
    chosen = np.flatnonzero(possible[flat.rows])
    rows = flat.rows[chosen]
    one, other = (standing[rows] + factor * side[chosen] for side in (flat.low, flat.high))
    zero = (np.abs(one) <= band) & (np.abs(other) <= band)
    shares = np.bincount(rows[zero], flat.part[chosen][zero], minlength=len(standing))
    return np.asarray(shares, dtype=float)


def standing_part(rows: Rows, names: tuple[str, ...], combinations: tuple[Combination, ...]) -> Array:
    """Return what the cases of each combination add up to, (rows, combinations).

    Cases that cancel on paper leave roundings behind: a combination of which nothing exceeds NOISE of
    the largest of its cases is 0 throughout. One that cancels in part keeps every digit it has.
    """
    factors = case_factors(names, combinations)
    sums = rows.cases @ factors
    largest = (np.abs(factors) * rows.sizes[:, None]).max(axis=0, initial=0.0)
    cancelled = np.abs(sums).max(axis=0, initial=0.0) <= NOISE * largest
    return np.where(cancelled, 0.0, sums)


def case_factors(names: tuple[str, ...], combinations: tuple[Combination, ...]) -> Array:
    """Return the factor of each case in each combination, (cases, combinations)."""
    rows = [[combination.cases.get(name, 0.0) for combination in combinations] for name in names]
    return np.array(rows).reshape(len(names), len(combinations))
