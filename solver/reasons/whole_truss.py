"""Reactions from the whole truss: with determinate supports three equations (in space six) give them.

Solved in fractions from the coordinates as written, so that a reaction that is zero on paper is zero.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from solver.exact_algebra import solve, wrench
from solver.tolerances import DIRECTION, NO_LOAD
from solver.truss import ExactVector, Truss

Array = NDArray[np.float64]
CLEAR = NO_LOAD / DIRECTION * 1e-3
"""A reaction below this share of the loads has lost the digits that tell its direction: 1e-16 of rounding
over it must stay well below DIRECTION."""


def supports_determinate(truss: Truss) -> bool:
    """Whether the whole truss as one body gives all reactions: as many as equations, and independent."""
    wanted = 3 if truss.dimension == 2 else 6
    return truss.held == wanted and solve(_support_wrenches(truss), (Fraction(0),) * wanted) is not None


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
        total = [a + b for a, b in zip(total, wrench(truss.coordinates[joint], load), strict=True)]
    factors = solve(_support_wrenches(truss), tuple(-part for part in total))
    assert factors is not None
    reactions = np.zeros_like(joint_loads)
    held = [(support.joint, direction) for support in truss.supports for direction in support.directions]
    for (joint, direction), factor in zip(held, factors, strict=True):
        reactions[joint] += [float(factor * c) for c in direction]
    sizes = np.linalg.norm(reactions, axis=1) / max(np.abs(joint_loads).max(), np.finfo(float).tiny)
    return None if ((sizes > NO_LOAD) & (sizes < CLEAR)).any() else reactions


def _support_wrenches(truss: Truss) -> list[ExactVector]:
    return [
        wrench(truss.coordinates[support.joint], direction)
        for support in truss.supports
        for direction in support.directions
    ]
