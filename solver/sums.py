"""Sums, mirror images and running maxima of piecewise polynomials whose rows have breaks of their own."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from solver.polynomials import PiecewisePolynomials
from solver.tolerances import SAME_POSITION

Array = NDArray[np.float64]


def mirrored(family: PiecewisePolynomials, length: float) -> PiecewisePolynomials:
    """Return the family with every position s written as length - s."""
    constant, slope, curve = _quadratic(family)
    widths = family.widths
    parts = (constant + widths * (slope + widths * curve), -(slope + 2 * curve * widths), curve)
    return PiecewisePolynomials(
        length - family.breaks[..., ::-1],
        np.stack([part[:, ::-1] for part in parts]),
        length - family.jumps[::-1],
        family.at[:, ::-1],
    )


def moved(family: PiecewisePolynomials, distance: float) -> PiecewisePolynomials:
    """Return the family with every position `distance` further on."""
    return PiecewisePolynomials(
        family.breaks + distance, family.coefficients, family.jumps + distance, family.at
    )


def extended(
    family: PiecewisePolynomials, start: float, end: float, after: Array | float = 0.0
) -> PiecewisePolynomials:
    """Return the family over [start, end]: 0 before it begins, `after` (rows,) where it has ended."""
    breaks = _own_breaks(family)
    rows = len(breaks)
    outer = [
        np.full((rows, 1), min(start, float(breaks.min()))),
        np.full((rows, 1), max(end, float(breaks.max()))),
    ]
    pieces = np.zeros((3, rows, breaks.shape[1] + 1))
    pieces[:, :, 1:-1] = _quadratic(family)
    pieces[0, :, -1] = after
    return PiecewisePolynomials(np.hstack([outer[0], breaks, outer[1]]), pieces, family.jumps, family.at)


def added(one: PiecewisePolynomials, other: PiecewisePolynomials) -> PiecewisePolynomials:
    """Return the sum of two families of as many rows that begin and end at the same positions."""
    breaks = [_own_breaks(one), _own_breaks(other)]
    both = np.hstack(breaks)
    order = np.argsort(both, axis=1, kind="stable")
    merged = np.take_along_axis(both, order, axis=1)
    first = order < breaks[0].shape[1]
    total = np.zeros((3, len(both), both.shape[1] - 1))
    for family, own, counted in ((one, breaks[0], first), (other, breaks[1], ~first)):
        pieces = _pieces_of(merged, counted, own.shape[1] - 2)
        total += _restarted(family, own, pieces, merged[:, :-1])
    jumps = np.unique(np.concatenate([one.jumps, other.jumps]))
    at = value_at(one, jumps) + value_at(other, jumps)
    return PiecewisePolynomials(merged, total, jumps, at)


def running_largest(family: PiecewisePolynomials) -> PiecewisePolynomials:
    """Return the largest value of each row up to each position, at least 0; it never falls.

    On each piece it is level, then follows the row from where the row comes back up to it, then is level
    again from a summit on.
    """
    constant, slope, curve = _quadratic(family)
    breaks = _own_breaks(family)
    widths = np.diff(breaks, axis=1)
    level = _level_before(family, breaks)
    rises, summits = _rise(constant - level, slope, curve, widths)
    top = constant + summits * (slope + summits * curve)
    parts = np.zeros((3, *constant.shape, 3))
    parts[0, :, :, 0] = level
    parts[0, :, :, 1] = constant + rises * (slope + rises * curve)
    parts[1, :, :, 1] = slope + 2 * curve * rises
    parts[2, :, :, 1] = curve
    parts[0, :, :, 2] = np.maximum(level, np.where(summits > rises, top, level))
    left = breaks[:, :-1, None]
    inner = np.concatenate([left, left + rises[:, :, None], left + summits[:, :, None]], axis=2)
    own = np.hstack([inner.reshape(len(breaks), 3 * left.shape[1]), breaks[:, -1:]])
    at = np.maximum(value_at(family, family.jumps), 0.0)
    reached = PiecewisePolynomials(
        own, parts.reshape(3, len(breaks), 3 * left.shape[1]), np.zeros(0), np.zeros((len(breaks), 0))
    )
    at = np.maximum(np.maximum.accumulate(at, axis=1), value_at(reached, family.jumps))
    return PiecewisePolynomials(own, reached.coefficients, family.jumps, at)


def value_at(family: PiecewisePolynomials, positions: Array) -> Array:
    """Return the values at positions inside the family's ends, (rows, positions): at a jump its own value,
    else from the right.
    """
    breaks = _own_breaks(family)
    constant, slope, curve = _quadratic(family)
    values = np.zeros((len(breaks), len(positions)))
    near = SAME_POSITION * max(1.0, float(np.abs(breaks).max(initial=0.0)))
    rows = np.arange(len(breaks))
    for column, position in enumerate(positions):
        jump = np.flatnonzero(np.abs(family.jumps - position) <= 4 * near)
        if len(jump):
            values[:, column] = family.at[:, jump[0]]
            continue
        piece = np.clip((breaks <= position).sum(axis=1) - 1, 0, constant.shape[1] - 1)
        past = np.clip(position - breaks[rows, piece], 0.0, np.diff(breaks, axis=1)[rows, piece])
        values[:, column] = constant[rows, piece] + past * (slope[rows, piece] + past * curve[rows, piece])
    return values


def _own_breaks(family: PiecewisePolynomials) -> Array:
    rows = family.coefficients.shape[1]
    return (
        family.breaks
        if family.breaks.ndim == 2
        else np.broadcast_to(family.breaks, (rows, len(family.breaks)))
    )


def _quadratic(family: PiecewisePolynomials) -> Array:
    """Coefficients up to the square, (3, rows, pieces)."""
    missing = 3 - len(family.coefficients)
    return np.concatenate([family.coefficients, np.zeros((missing, *family.coefficients.shape[1:]))])


def _pieces_of(merged: Array, counted: NDArray[np.bool_], last: int) -> NDArray[np.int64]:
    """Which piece of a family lies to the right of each merged break but the last, (rows, pieces).

    `counted` marks the family's own breaks; where several breaks are one position all of them count.
    """
    count = np.cumsum(counted, axis=1)
    tied = np.diff(merged, axis=1) == 0
    known = np.where(tied, np.iinfo(np.int64).max, count[:, :-1])
    known = np.hstack([known, count[:, -1:]])
    known = np.minimum.accumulate(known[:, ::-1], axis=1)[:, ::-1]
    return np.asarray(np.clip(known[:, :-1] - 1, 0, last))


def _restarted(
    family: PiecewisePolynomials, breaks: Array, pieces: NDArray[np.int64], starts: Array
) -> Array:
    """Coefficients of chosen pieces, counted from new starts within them, (3, rows, pieces)."""
    constant, slope, curve = (np.take_along_axis(part, pieces, axis=1) for part in _quadratic(family))
    past = starts - np.take_along_axis(breaks, pieces, axis=1)
    return np.stack([constant + past * (slope + past * curve), slope + 2 * past * curve, curve])


def _level_before(family: PiecewisePolynomials, breaks: Array) -> Array:
    """The largest value of each row before each piece and at its very start, at least 0, (rows, pieces)."""
    rows, pieces = np.indices(family.starts.shape)
    high = family.bounds_of(rows.ravel(), pieces.ravel())[1].reshape(rows.shape)
    before = np.maximum(np.hstack([np.zeros((len(breaks), 1)), high[:, :-1]]), family.starts)
    near = SAME_POSITION * max(1.0, float(np.abs(breaks).max(initial=0.0)))
    for jump, value in zip(family.jumps, family.at.T, strict=True):
        after = breaks[:, :-1] >= jump - 4 * near
        first = after & (np.cumsum(after, axis=1) == 1)
        before = np.where(first, np.maximum(before, value[:, None]), before)
    return np.asarray(np.maximum.accumulate(before, axis=1).clip(0.0))


def _rise(below: Array, slope: Array, curve: Array, widths: Array) -> tuple[Array, Array]:
    """Where in each piece the row comes back up to its level, and where it stops rising; both at the
    piece's end where it never comes up. `below` is the row at the start less its level, at most 0.
    """
    inner = slope**2 - 4 * curve * below
    root = np.sqrt(inner.clip(0.0))
    divisor = np.where(slope > 0, slope + root, 2 * curve)
    numerator = np.where(slope > 0, -2 * below, root - slope)
    rises = np.where(divisor != 0, numerator / np.where(divisor != 0, divisor, 1.0), np.inf)
    rises = np.where((inner >= 0) & (rises >= 0), rises, np.inf)
    summit = np.where(curve < 0, -slope / (2 * np.where(curve < 0, curve, -1.0)), np.inf)
    rises = np.minimum(rises, widths)
    return rises, np.clip(summit, rises, widths)
