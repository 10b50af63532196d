"""Piecewise polynomials in a position: extremes, where they lie, and how long they stay in a band.

A family holds many rows on common breaks, of degree 0, 1 or 2. At a break a row may jump; both sides
and the value at the break itself count. Nothing here knows what the rows mean.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Indices = NDArray[np.int64]


@dataclass(frozen=True)
class PiecewisePolynomials:
    """Rows of piecewise polynomials.

    breaks (b,), ascending; coefficients (degree + 1, rows, b - 1) in ascending powers of the distance
    past a piece's left break. `jumps` (j,) are the breaks, ascending, at which the value itself may
    differ from the limits on both sides: at (rows, j).
    """

    breaks: Array
    coefficients: Array
    jumps: Array
    at: Array

    @cached_property
    def widths(self) -> Array:
        """Length of each piece, (b - 1,)."""
        return np.diff(self.breaks)

    @property
    def starts(self) -> Array:
        """Limits from the right at each piece's left break, (rows, b - 1)."""
        return np.asarray(self.coefficients[0])

    @cached_property
    def ends(self) -> Array:
        """Limits from the left at each piece's right break, (rows, b - 1)."""
        value = self.coefficients[-1] * self.widths
        for coefficient in self.coefficients[-2:0:-1]:
            value = (value + coefficient) * self.widths
        return np.asarray(value + self.starts) if len(self.coefficients) > 1 else self.starts

    @cached_property
    def low(self) -> Array:
        """The least value of each row on each piece, its two limits included, (rows, b - 1)."""
        return self._bound(np.minimum, np.inf)

    @cached_property
    def high(self) -> Array:
        """The greatest value of each row on each piece, its two limits included, (rows, b - 1)."""
        return self._bound(np.maximum, -np.inf)

    @property
    def smallest(self) -> Array:
        """The least value of each row anywhere, (rows,)."""
        return np.asarray(
            np.minimum(self.low.min(axis=1, initial=np.inf), self.at.min(axis=1, initial=np.inf))
        )

    @property
    def largest(self) -> Array:
        """The greatest value of each row anywhere, (rows,)."""
        return np.asarray(
            np.maximum(self.high.max(axis=1, initial=-np.inf), self.at.max(axis=1, initial=-np.inf))
        )

    def first_at_least(self, floor: Array) -> Array:
        """Return the least position where each row reaches its `floor`, (rows,), as far as extremes go.

        Candidates are breaks, from either side, and vertices within pieces: extremes lie nowhere else.
        Infinite where the row stays below.
        """
        return self._first(self.high >= floor[:, None], self.at >= floor[:, None], floor, 1.0)

    def first_at_most(self, ceiling: Array) -> Array:
        """Return the least position where each row comes down to its `ceiling`, (rows,), likewise."""
        return self._first(self.low <= ceiling[:, None], self.at <= ceiling[:, None], -ceiling, -1.0)

    def length_within(self, rows: Indices, bottom: Array, top: Array, counted: NDArray[np.bool_]) -> Array:
        """Return how much of the `counted` pieces each row spends in [bottom, top], (rows,).

        bottom, top (rows,), bottom <= top; a value that only passes through a bound takes no length.
        """
        pieces = np.flatnonzero(counted)
        chosen = self.coefficients[:, rows][:, :, pieces]
        below_top = _length_at_most(chosen, top[:, None], self.widths[pieces])
        below_bottom = _length_at_most(-chosen, -bottom[:, None], self.widths[pieces])
        return np.asarray((below_top + below_bottom - self.widths[pieces]).clip(0.0).sum(axis=1))

    def flat_pieces(self, spread: float, counted: NDArray[np.bool_]) -> tuple[Indices, Indices]:
        """Return rows and pieces, among those `counted`, on which a row varies by at most `spread`."""
        flat = (self.high - self.low <= spread) & counted
        rows, pieces = np.nonzero(flat)
        return rows, pieces

    @cached_property
    def _vertices(self) -> tuple[Array, Array]:
        """Value and distance past the left break of each vertex inside its piece; NaN where none is."""
        constant, slope, curve = self.coefficients
        curved = curve != 0
        place = np.where(curved, -slope / (2 * np.where(curved, curve, 1.0)), -1.0)
        inside = (place > 0) & (place < self.widths)
        value = constant + place * (slope + place * curve)
        return np.where(inside, value, np.nan), np.where(inside, place, np.nan)

    def _bound(self, choose: np.ufunc, absent: float) -> Array:
        bound = choose(self.starts, self.ends)
        if len(self.coefficients) > 2:
            vertices = self._vertices[0]
            bound = choose(bound, np.where(np.isnan(vertices), absent, vertices))
        return np.asarray(bound)

    def _first(
        self, reached: NDArray[np.bool_], reached_at: NDArray[np.bool_], floor: Array, sign: float
    ) -> Array:
        """The least candidate on the first piece, or at the first break, that reaches the level."""
        first = np.full(len(floor), np.inf)
        rows = np.flatnonzero(reached.any(axis=1))
        pieces = reached[rows].argmax(axis=1)
        place = self.breaks[pieces + 1]
        if len(self.coefficients) > 2:
            values, places = (part[rows, pieces] for part in self._vertices)
            place = np.where(sign * values >= floor[rows], self.breaks[pieces] + places, place)
        starts = sign * self.starts[rows, pieces] >= floor[rows]
        first[rows] = np.where(starts, self.breaks[pieces], place)
        rows = np.flatnonzero(reached_at.any(axis=1))
        if len(rows):
            first[rows] = np.minimum(first[rows], self.jumps[reached_at[rows].argmax(axis=1)])
        return first


def _length_at_most(coefficients: Array, level: Array, widths: Array) -> Array:
    """How much of [0, width] a polynomial stays at or below `level`; (rows, pieces), closed form."""
    constant = coefficients[0] - level
    slope = coefficients[1] if len(coefficients) > 1 else np.zeros_like(constant)
    linear = _linear_length(constant, slope, widths)
    if len(coefficients) < 3:
        return linear
    curve = coefficients[2]
    return np.where(curve == 0, linear, _quadratic_length(constant, slope, curve, widths))


def _linear_length(constant: Array, slope: Array, widths: Array) -> Array:
    root = np.clip(-constant / np.where(slope == 0, 1.0, slope), 0.0, widths)
    flat = np.where(constant <= 0, widths, 0.0)
    return np.where(slope > 0, root, np.where(slope < 0, widths - root, flat))


def _quadratic_length(constant: Array, slope: Array, curve: Array, widths: Array) -> Array:
    """Between its two roots a parabola lies below its level if it opens upward, above it otherwise."""
    curve = np.where(curve == 0, 1.0, curve)
    discriminant = slope**2 - 4 * curve * constant
    half = np.sqrt(discriminant.clip(0.0))
    stable = -(slope + np.where(slope >= 0, half, -half)) / 2
    one = stable / curve
    other = np.where(stable == 0, one, constant / np.where(stable == 0, 1.0, stable))
    between = np.clip(np.maximum(one, other), 0.0, widths) - np.clip(np.minimum(one, other), 0.0, widths)
    between = np.where(discriminant > 0, between, 0.0)
    return np.where(curve > 0, between, widths - between)
