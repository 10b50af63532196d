"""A demand: the extreme of a row over everything that a combination allows.

A combination asks for the sum of its cases, which stands still, and of its crossing, which adds
factor x N(s) at each position s of the train, N a piecewise polynomial. Extremes and lengths of the sum
follow from those of N, so each N is made once and serves every combination.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.combining import Combination
from solver.crossings import Direction, Travel
from solver.polynomials import PiecewisePolynomials

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Motion:
    """Some rows answering one direction of one crossing: their polynomials, and where the train is on."""

    crossing: str
    travel: Travel
    polynomials: PiecewisePolynomials

    @property
    def direction(self) -> Direction:
        """The way the train goes."""
        return self.travel.direction


def set_in_motion(crossing: str, travel: Travel, influence: Array) -> Motion:
    """Let a train travel over rows with ordinates `influence` (rows, joints of the chord) [per N]."""
    coefficients = np.stack([influence @ travel.starts, influence @ travel.slopes])
    return Motion(crossing, travel, PiecewisePolynomials(travel.breaks, coefficients, influence @ travel.at))


def extremes(motion: Motion, factors: Array) -> tuple[Array, Array]:
    """Return (smallest, largest) of factor x N(s) over all positions, each (rows, factors).

    Positions with no load on the chord count, where the train adds nothing.
    """
    low = np.minimum(motion.polynomials.smallest, 0.0)[:, None] * factors
    high = np.maximum(motion.polynomials.largest, 0.0)[:, None] * factors
    return np.minimum(low, high), np.maximum(low, high)


def first_position(motion: Motion, standing: Array, factors: Array, floor: Array) -> Array:
    """Return the least position [m] at which standing + factor x N(s) reaches `floor`, (rows,).

    standing, factors, floor (rows,); infinite where it stays below, as for rows whose floor is infinite.
    Before its first load is on the chord the train adds nothing; that state stands at the least
    position of the travel.
    """
    divisor = np.where(factors == 0, 1.0, factors)
    # The division must not lose the very extreme that set the floor, so a few roundings are given.
    slack = 8 * np.finfo(float).eps * np.where(np.isfinite(floor), np.abs(floor), 0.0)
    level = (floor - slack - standing) / divisor
    upward = motion.polynomials.first_at_least(np.where(factors > 0, level, np.inf))
    downward = motion.polynomials.first_at_most(np.where(factors < 0, level, -np.inf))
    return np.where(standing >= floor, motion.travel.breaks[0], np.minimum(upward, downward))


def share_within(motion: Motion, standing: Array, factor: float, band: float) -> Array:
    """Return the share of the loaded way on which |standing + factor x N(s)| <= band, (rows,)."""
    if factor == 0:
        return (np.abs(standing) <= band).astype(float)
    smallest, largest = (part[:, 0] for part in extremes(motion, np.array([factor])))
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
    polynomials, counted = motion.polynomials, motion.travel.loaded
    widest = float((2 * bands[moving] / np.abs(factors[moving])).max())
    rows, pieces = polynomials.flat_pieces(widest, counted)
    low, high = polynomials.low[rows, pieces], polynomials.high[rows, pieces]
    part = polynomials.widths[pieces] / polynomials.widths[counted].sum()
    for c in moving:
        one, other = standing[rows, c] + factors[c] * low, standing[rows, c] + factors[c] * high
        zero = (np.abs(one) <= bands[c]) & (np.abs(other) <= bands[c])
        shares[:, c] = np.bincount(rows[zero], part[zero], minlength=len(shares))
    return np.minimum(shares, 1.0)


def standing_part(cases: Array, names: tuple[str, ...], combinations: tuple[Combination, ...]) -> Array:
    """Return what the cases of each combination add up to, (rows, combinations); cases (rows, cases)."""
    factors = np.zeros((len(names), len(combinations)))
    for column, combination in enumerate(combinations):
        for name, factor in combination.cases.items():
            factors[names.index(name), column] = factor
    return cases @ factors
