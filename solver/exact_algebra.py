"""Vectors and small systems in fractions: products, wrenches, what a few equations give."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from solver.truss import ExactVector

Rows = list[list[Fraction]]


def dot(first: ExactVector, second: ExactVector) -> Fraction:
    """The scalar product of two exact vectors."""
    return sum((a * b for a, b in zip(first, second, strict=True)), Fraction(0))


def wrench(point: ExactVector, force: ExactVector) -> ExactVector:
    """A force and its moments about the origin."""
    if len(point) == 2:
        return (*force, point[0] * force[1] - point[1] * force[0])
    return (*force, *cross(point, force))


def cross(first: ExactVector, second: ExactVector) -> ExactVector:
    """The vector product of two vectors in space."""
    (a, b, c), (x, y, z) = first, second
    return b * z - c * y, c * x - a * z, a * y - b * x


def square_to(held: tuple[ExactVector, ...], dimension: int) -> tuple[ExactVector, ...]:
    """Return exact vectors that span what is at right angles to independent vectors.

    >>> square_to(((Fraction(3), Fraction(4)),), 2)
    ((Fraction(-4, 1), Fraction(3, 1)),)
    """
    if len(held) == dimension:
        return ()
    if dimension == 2:
        return ((-held[0][1], held[0][0]),)
    if len(held) == 2:
        return (cross(held[0], held[1]),)
    least = min(range(3), key=lambda axis: abs(held[0][axis]))
    first = cross(held[0], tuple(Fraction(int(axis == least)) for axis in range(3)))
    return (first, cross(held[0], first))


def solve(columns: Sequence[ExactVector], right: ExactVector) -> list[Fraction] | None:
    """Return the factors with which so many columns as rows add up to `right`; None where they depend."""
    rows, pivots = _reduce([[*(c[i] for c in columns), right[i]] for i in range(len(right))], len(columns))
    return [row[-1] for row in rows] if len(pivots) == len(columns) else None


def determined(columns: Sequence[ExactVector]) -> tuple[int, ...]:
    """Places of the columns that are outside the span of all others: their factors are certain."""
    if not columns:
        return ()
    rows, pivots = _reduce([list(row) for row in zip(*columns, strict=True)], len(columns))
    free = [place for place in range(len(columns)) if place not in pivots]
    return tuple(p for row, p in zip(rows, pivots, strict=False) if not any(row[place] for place in free))


def leave_one(wanted: ExactVector, others: Sequence[ExactVector]) -> ExactVector | None:
    """Return a vector square to all `others`, but not to `wanted`; None where there is none."""
    size = len(wanted)
    rows, pivots = _reduce([list(other) for other in others], size)
    for free in (place for place in range(size) if place not in pivots):
        vector = [Fraction(int(place == free)) for place in range(size)]
        for row, pivot in zip(rows, pivots, strict=False):
            vector[pivot] = -row[free]
        if dot(tuple(vector), wanted):
            return tuple(vector)
    return None


def _reduce(rows: Rows, width: int) -> tuple[Rows, list[int]]:
    """Reduced rows, those with a pivot first, and the pivots' columns among the first `width`."""
    pivots: list[int] = []
    for column in range(width):
        done = len(pivots)
        found = next((i for i in range(done, len(rows)) if rows[i][column]), None)
        if found is None:
            continue
        rows[done], rows[found] = rows[found], rows[done]
        rows[done] = [value / rows[done][column] for value in rows[done]]
        for i, row in enumerate(rows):
            factor = row[column]
            if i != done and factor:
                rows[i] = [a - factor * b for a, b in zip(row, rows[done], strict=True)]
        pivots.append(column)
    return rows, pivots
