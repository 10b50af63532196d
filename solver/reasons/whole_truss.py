"""Reactions from the whole truss: with determinate supports three equations (in space six) give them.

Solved in fractions from the coordinates as written, so that a reaction that is zero on paper is zero.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from solver.tolerances import DIRECTION, NO_LOAD
from solver.truss import ExactVector, Truss

Array = NDArray[np.float64]
CLEAR = NO_LOAD / DIRECTION * 1e-3
"""A reaction below this share of the loads has lost the digits that tell its direction: 1e-16 of rounding
over it must stay well below DIRECTION."""


def supports_determinate(truss: Truss) -> bool:
    """Whether the whole truss as one body gives all reactions: as many as equations, and independent."""
    wanted = 3 if truss.dimension == 2 else 6
    return truss.held == wanted and _solve(_support_wrenches(truss), [Fraction(0)] * wanted) is not None


def known_reactions(truss: Truss, joint_loads: Array) -> Array | None:
    """Return the support's forces on the joints, (joints, dimension) [N], from the whole truss alone.

    joint_loads (joints, dimension) [N]. None where supports are not determinate, or where a reaction is
    so small beside the loads that its direction is not certain.
    """
    if not supports_determinate(truss):
        return None
    total = [Fraction(0)] * (3 if truss.dimension == 2 else 6)
    for joint in np.flatnonzero(joint_loads.any(axis=1)).tolist():
        load = tuple(Fraction(repr(float(c))) for c in joint_loads[joint])
        total = [a + b for a, b in zip(total, _wrench(truss.coordinates[joint], load), strict=True)]
    factors = _solve(_support_wrenches(truss), [-part for part in total])
    assert factors is not None
    reactions = np.zeros_like(joint_loads)
    held = [(support.joint, direction) for support in truss.supports for direction in support.directions]
    for (joint, direction), factor in zip(held, factors, strict=True):
        reactions[joint] += [float(factor * c) for c in direction]
    sizes = np.linalg.norm(reactions, axis=1) / max(np.abs(joint_loads).max(), np.finfo(float).tiny)
    return None if ((sizes > NO_LOAD) & (sizes < CLEAR)).any() else reactions


def _support_wrenches(truss: Truss) -> list[tuple[Fraction, ...]]:
    return [
        _wrench(truss.coordinates[support.joint], direction)
        for support in truss.supports
        for direction in support.directions
    ]


def _wrench(point: ExactVector, force: ExactVector) -> tuple[Fraction, ...]:
    """A force and its moments about the origin."""
    if len(point) == 2:
        return (*force, point[0] * force[1] - point[1] * force[0])
    (x, y, z), (fx, fy, fz) = point, force
    return (*force, y * fz - z * fy, z * fx - x * fz, x * fy - y * fx)


def _solve(columns: list[tuple[Fraction, ...]], right: list[Fraction]) -> list[Fraction] | None:
    """Solve a square system given by its columns; None where they depend on one another."""
    size = len(columns)
    rows = [[*(column[i] for column in columns), right[i]] for i in range(size)]
    for place in range(size):
        pivot = next((i for i in range(place, size) if rows[i][place]), None)
        if pivot is None:
            return None
        rows[place], rows[pivot] = rows[pivot], rows[place]
        rows[place] = [value / rows[place][place] for value in rows[place]]
        for i in range(size):
            factor = rows[i][place]
            if i != place and factor:
                rows[i] = [a - factor * b for a, b in zip(rows[i], rows[place], strict=True)]
    return [row[-1] for row in rows]
