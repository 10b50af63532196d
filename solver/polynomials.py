"""Piecewise polynomials in a position: extremes, where they lie, and how long they stay in a band.

A family holds many rows of degree 0, 1 or 2, on common breaks or each on its own. At a break a row may
jump; both sides and the value at the break itself count. Nothing here knows what the rows mean.
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

    breaks (b,), or (rows, b) where each row has its own, ascending, pieces of no width allowed;
    coefficients (degree + 1, rows, b - 1) in ascending powers of the distance past a piece's left break.
    `jumps` (j,), common to all rows and ascending, are positions at which the value itself may differ
    from the limits on both sides: at (rows, j).
    """

    breaks: Array
    coefficients: Array
    jumps: Array
    at: Array

    @cached_property
    def widths(self) -> Array:
        """Length of each piece, (b - 1,) or (rows, b - 1)."""
        return np.diff(self.breaks, axis=-1)

    @property
    def starts(self) -> Array:
        """Limits from the right at each piece's left break, (rows, b - 1)."""
        return np.asarray(self.coefficients[0])

    @cached_property
    def ends(self) -> Array:
        """Limits from the left at each piece's right break, (rows, b - 1)."""
        if len(self.coefficients) == 1:
            return self.starts
        value = self.coefficients[-1] * self.widths
        for coefficient in self.coefficients[-2:0:-1]:
            value += coefficient
            value *= self.widths
        value += self.starts
        return np.asarray(value)

    @cached_property
    def smallest(self) -> Array:
        """The least value of each row anywhere, (rows,)."""
        return -self._extreme(-1.0)

    @cached_property
    def largest(self) -> Array:
        """The greatest value of each row anywhere, (rows,)."""
        return self._extreme(1.0)

    def bounds_of(self, rows: Indices, pieces: Indices) -> tuple[Array, Array]:
        """Return the least and the greatest value of some rows, each on one piece, limits included."""
        start, end = self.starts[rows, pieces], self.ends[rows, pieces]
        value = self._vertices_of(rows, pieces)[0]
        return np.fmin(np.minimum(start, end), value), np.fmax(np.maximum(start, end), value)

    def first_at_least(self, floor: Array) -> Array:
        """Return the least position where each row reaches its `floor`, (rows,), as far as extremes go.

        Candidates are breaks, from either side, and vertices within pieces: extremes lie nowhere else.
        Infinite where the row stays below.
        """
        return self._first(floor, 1.0)

    def first_at_most(self, ceiling: Array) -> Array:
        """Return the least position where each row comes down to its `ceiling`, (rows,), likewise."""
        return self._first(-ceiling, -1.0)

    def length_within(self, rows: Indices, bottom: Array, top: Array, counted: NDArray[np.bool_]) -> Array:
        """Return how much of the `counted` pieces each row spends in [bottom, top], (rows,).

        For rows on common breaks; bottom, top (rows,), bottom <= top; a value that only passes through a
        bound takes no length.
        """
        pieces = np.flatnonzero(counted)
        chosen = self.coefficients[:, rows][:, :, pieces]
        below_top = _length_at_most(chosen, top[:, None], self.widths[pieces])
        below_bottom = _length_at_most(-chosen, -bottom[:, None], self.widths[pieces])
        return np.asarray((below_top + below_bottom - self.widths[pieces]).clip(0.0).sum(axis=1))

    def flat_pieces(self, spread: float, counted: NDArray[np.bool_]) -> tuple[Indices, Indices]:
        """Return rows and pieces, among those `counted`, on which a row varies by at most `spread`."""
        rows, pieces = np.nonzero((np.abs(self.ends - self.starts) <= spread) & counted)
        low, high = self.bounds_of(rows, pieces)
        flat = high - low <= spread
        return rows[flat], pieces[flat]

    def _extreme(self, sign: float) -> Array:
        """The greatest value of `sign` x each row, (rows,)."""
        choose = np.max if sign > 0 else np.min
        ends = [choose(part, axis=1, initial=-sign * np.inf) for part in (self.starts, self.ends, self.at)]
        best = np.max(sign * np.array(ends), axis=0)
        rows, pieces = self._turning
        values = sign * self._vertices_of(rows, pieces)[0]
        np.maximum.at(best, rows, np.nan_to_num(values, nan=-np.inf))
        return np.asarray(best)

    @cached_property
    def _turning(self) -> tuple[Indices, Indices]:
        """Rows and pieces with a vertex inside: the slope has not the same sign at both ends."""
        if len(self.coefficients) < 3:
            return np.zeros(0, dtype=np.int64), np.zeros(0, dtype=np.int64)
        slope = 2 * self.coefficients[2]
        slope *= self.widths
        slope += self.coefficients[1]
        slope *= self.coefficients[1]
        rows, pieces = np.nonzero(slope < 0)
        return rows, pieces

    def _vertices_of(self, rows: Indices, pieces: Indices) -> tuple[Array, Array]:
        """Value and position of the vertex of some rows, each on one piece; NaN where none is inside."""
        if len(self.coefficients) < 3:
            nothing = np.full(len(rows), np.nan)
            return nothing, nothing
        constant, slope, curve = (part[rows, pieces] for part in self.coefficients)
        curved = curve != 0
        place = np.where(curved, -slope / (2 * np.where(curved, curve, 1.0)), -1.0)
        width = self._of(self.widths, rows, pieces)
        inside = (place > 0) & (place < width)
        value = constant + place * (slope + place * curve)
        position = self._of(self.breaks, rows, pieces) + place
        return np.where(inside, value, np.nan), np.where(inside, position, np.nan)

    def _of(self, values: Array, rows: Indices, columns: Indices) -> Array:
        """Entries of something that is common to all rows or given for each."""
        return np.asarray(values[columns] if values.ndim == 1 else values[rows, columns])

    def _first(self, floor: Array, sign: float) -> Array:
        """The least candidate on the first piece, or at the first jump, at which sign x row reaches."""
        limits = np.maximum(sign * self.starts, sign * self.ends)
        reached = limits >= floor[:, None]
        rows, pieces = self._turning
        bulging = sign * self._vertices_of(rows, pieces)[0] >= floor[rows]
        reached[rows[bulging], pieces[bulging]] = True
        first = np.full(len(floor), np.inf)
        rows = np.flatnonzero(reached.any(axis=1))
        pieces = reached[rows].argmax(axis=1)
        place = self._of(self.breaks, rows, pieces + 1)
        value, vertex = self._vertices_of(rows, pieces)
        place = np.where(sign * value >= floor[rows], vertex, place)
        starts = sign * self.starts[rows, pieces] >= floor[rows]
        first[rows] = np.where(starts, self._of(self.breaks, rows, pieces), place)
        reached_at = sign * self.at >= floor[:, None]
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
