"""Forces of statically determinate trusses in fractions: Gauss-Jordan elimination, nothing rounded.

Unknowns are tension coefficients (force / length) of the members and factors of the held directions as
written, so that rational coordinates and loads give rational answers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from solver.truss import Truss

Row = dict[int, Fraction]


def balance(truss: Truss) -> list[Row]:
    """Joint equilibrium, one sparse row a joint direction; columns are members, then held directions."""
    dimension = truss.dimension
    rows: list[Row] = [{} for _ in range(truss.freedoms)]
    for column, member in enumerate(truss.members):
        ends = zip(truss.coordinates[member.first], truss.coordinates[member.second], strict=True)
        for axis, (start, end) in enumerate(ends):
            rows[member.first * dimension + axis][column] = end - start
            rows[member.second * dimension + axis][column] = start - end
    column = len(truss.members)
    for support in truss.supports:
        for direction in support.directions:
            for axis, component in enumerate(direction):
                rows[support.joint * dimension + axis][column] = component
            column += 1
    return [{c: value for c, value in row.items() if value} for row in rows]


def eliminate(rows: list[Row], right: list[list[Fraction]]) -> list[list[Fraction]]:
    """Solve a square system, always taking the equation with the fewest unknowns left."""
    waiting = set(range(len(rows)))
    owner: dict[int, int] = {}
    while waiting:
        best = min(waiting, key=lambda i: len([c for c in rows[i] if c not in owner]))
        waiting.discard(best)
        pivot = next(c for c in rows[best] if c not in owner)
        owner[pivot] = best
        _scale(rows, right, best, pivot)
        for other in range(len(rows)):
            if other != best and pivot in rows[other]:
                _subtract(rows, right, other, best, pivot)
    return [right[owner[column]] for column in range(len(rows))]


def _scale(rows: list[Row], right: list[list[Fraction]], place: int, pivot: int) -> None:
    factor = 1 / rows[place][pivot]
    rows[place] = {c: value * factor for c, value in rows[place].items()}
    right[place] = [value * factor for value in right[place]]


def _subtract(rows: list[Row], right: list[list[Fraction]], place: int, best: int, pivot: int) -> None:
    factor = rows[place].pop(pivot)
    for column, value in rows[best].items():
        if column == pivot:
            continue
        rest = rows[place].get(column, Fraction(0)) - factor * value
        if rest:
            rows[place][column] = rest
        else:
            rows[place].pop(column, None)
    right[place] = [mine - factor * theirs for mine, theirs in zip(right[place], right[best], strict=True)]


def exact_densities(truss: Truss, cases: Sequence[Mapping[int, Sequence[Fraction]]]) -> list[list[Fraction]]:
    """Tension coefficients of each member in each case; loads by joint index."""
    right = [[Fraction(0)] * len(cases) for _ in range(truss.freedoms)]
    for number, case in enumerate(cases):
        for joint, load in case.items():
            for axis, component in enumerate(load):
                right[joint * truss.dimension + axis][number] = -component
    return eliminate(balance(truss), right)[: len(truss.members)]


def exact_forces(truss: Truss, cases: Sequence[Mapping[int, Sequence[Fraction]]]) -> NDArray[np.float64]:
    """Forces, rounded once at the very end, (members, cases)."""
    densities = exact_densities(truss, cases)
    squares = [sum(component**2 for component in vector) for vector in truss.exact_vectors]
    return np.array(
        [[float(q) * sqrt(square) for q in row] for row, square in zip(densities, squares, strict=True)]
    )


def exact_elastic_forces(
    truss: Truss,
    cases: Sequence[Mapping[int, Sequence[Fraction]]],
    lengths: Sequence[Fraction],
    rigidities: Sequence[Fraction],
) -> list[list[Fraction]]:
    """Forces of a truss of any redundancy whose lengths and EA are rational, (members, cases), exact.

    Unknowns: tension coefficients, factors of held directions, movements; rows: joint equilibrium, member
    law vector . difference of movements = q L^3 / EA, held directions at rest.
    """
    rows = balance(truss)
    statical = len(truss.members) + truss.held
    for index, member in enumerate(truss.members):
        row = {index: -(lengths[index] ** 3) / rigidities[index]}
        for axis, component in enumerate(truss.exact_vectors[index]):
            if component:
                row[statical + member.first * truss.dimension + axis] = -component
                row[statical + member.second * truss.dimension + axis] = component
        rows.append(row)
    for support in truss.supports:
        start = statical + support.joint * truss.dimension
        for direction in support.directions:
            rows.append({start + axis: c for axis, c in enumerate(direction) if c})
    right = [[Fraction(0)] * len(cases) for _ in rows]
    for number, case in enumerate(cases):
        for joint, load in case.items():
            for axis, component in enumerate(load):
                right[joint * truss.dimension + axis][number] = -component
    densities = eliminate(rows, right)[: len(truss.members)]
    return [[q * length for q in row] for row, length in zip(densities, lengths, strict=True)]
