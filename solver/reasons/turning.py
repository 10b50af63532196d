"""Rigid movements of a body: by work, they are the equations of its equilibrium.

A wrench is (force, moment about a reference point over a unit of length), 3 numbers in the plane and 6 in
space; a movement is (movement of that point, turning times that unit), so that their product is the work.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.reasons.joint_rule import outside, span_basis
from solver.tolerances import DIRECTION

Array = NDArray[np.float64]
CLEAR = 1e-3
"""A movement easy to name is taken before others where the member does at least this share of the work."""


@dataclass(frozen=True)
class Turning:
    """A rigid movement that tells which equation is meant.

    "shift": along `shift`, a unit vector: forces are summed in that direction. "turn": about `point` [m], in
    space about the axis through it along `axis`, a unit vector: moments are summed. "screw": such a turning
    with a shift along the axis, `shift` [m] for a turning of 1. `axis` is empty in the plane and for a shift,
    `point` for a shift; `shift` is zero for a turn. In a shift and in space the sense is such that tension
    in the member does positive work; in the plane one turns anticlockwise.
    """

    kind: Literal["shift", "turn", "screw"]
    point: tuple[float, ...]
    axis: tuple[float, ...]
    shift: tuple[float, ...]


def wrenches(arms: Array, forces: Array) -> Array:
    """The wrenches of forces (n, dimension) with lever arms (n, dimension) in units, (n, 3 or 6)."""
    if arms.shape[1] == 2:
        moments = (arms[:, 0] * forces[:, 1] - arms[:, 1] * forces[:, 0])[:, None]
    else:
        moments = np.cross(arms, forces)
    return np.hstack([forces, moments])


def choose_movement(basis: list[Array], rest: Array, points: Array) -> Array:
    """Return a movement in which what `basis` (orthonormal wrenches) spans does no work, but the member does.

    rest: what is left of the member's wrench outside the basis; points (n, dimension): joints, as lever arms.
    Where there is a choice, a shift comes first, then a turning about a joint or a line through two, then
    any other turning, then a screw.
    """
    if len(basis) == len(rest) - 1:
        return rest
    shift = _shift(basis, rest, points.shape[1])
    if shift is not None:
        return shift
    turns = _turns(points)
    for direction in basis:
        turns = turns[np.abs(turns @ direction) < DIRECTION]
    works = np.abs(turns @ rest) / np.linalg.norm(rest)
    if works.max(initial=0.0) >= CLEAR:
        return np.asarray(turns[works.argmax()])
    return _without_pitch(basis, rest) if points.shape[1] == 3 else rest


def name_movement(movement: Array, member: Array, reference: Array, unit: float) -> Turning:
    """Put a movement into words of geometry; member: its wrench; reference [m] and unit [m] of them all."""
    movement = movement * np.sign(movement @ member) / np.linalg.norm(movement)
    dimension = len(reference)
    shift, turn = movement[:dimension] * unit, movement[dimension:]
    size = float(np.linalg.norm(turn))
    if size * unit < DIRECTION * float(np.linalg.norm(shift)):
        return Turning("shift", (), (), _clean(shift / np.linalg.norm(shift)))
    if dimension == 2:
        centre = np.array([-shift[1], shift[0]]) / turn[0]
        return Turning("turn", _clean(reference + centre), (), (0.0, 0.0))
    axis = turn / size
    point = reference + np.cross(axis, shift / size)
    pitch = float(shift @ axis) / size
    if abs(pitch) < DIRECTION * (unit + float(np.linalg.norm(shift)) / size):
        return Turning("turn", _clean(point), _clean(axis), (0.0, 0.0, 0.0))
    return Turning("screw", _clean(point), _clean(axis), _clean(pitch * axis))


def _shift(basis: list[Array], rest: Array, dimension: int) -> Array | None:
    """The shift in which the basis does no work and the member most; None where that is little."""
    forces = [direction[:dimension] for direction in basis]
    across = span_basis([force for force in forces if np.linalg.norm(force) >= DIRECTION])
    left = outside(rest[:dimension], across)
    if np.linalg.norm(left) < CLEAR * np.linalg.norm(rest):
        return None
    return np.concatenate([left, np.zeros(len(rest) - dimension)])


def _turns(points: Array) -> Array:
    """Unit movements that turn about each point, in space about each line through two of them."""
    if points.shape[1] == 2:
        turns = np.column_stack([points[:, 1], -points[:, 0], np.ones(len(points))])
    else:
        pairs = [(a, b - a) for a, b in combinations(points, 2) if np.linalg.norm(b - a) >= DIRECTION]
        starts, along = (np.array(vectors).reshape(-1, 3) for vectors in zip(*pairs, strict=True))
        turns = np.hstack([np.cross(starts, along), along])
    return np.asarray(turns / np.linalg.norm(turns, axis=1)[:, None])


def _without_pitch(basis: list[Array], rest: Array) -> Array:
    """A screw made a mere turning by adding a movement in which nothing works; the screw where none does.

    The pitch is that of movement · turning, quadratic in how much of the other movement is added.
    """
    start = rest / np.linalg.norm(rest)
    idle = span_basis([*basis, start, *np.eye(6)])[len(basis) + 1 :]
    found: list[tuple[float, Array]] = []
    for other in idle:
        mixed = start[:3] @ other[3:] + other[:3] @ start[3:]
        squares = np.array([other[:3] @ other[3:], mixed, start[:3] @ start[3:]])
        squares[np.abs(squares) < DIRECTION] = 0
        roots = np.roots(squares)
        found += [(abs(root), start + root * other) for root in roots[np.isreal(roots)].real.tolist()]
    added, turning = min(found, key=lambda pair: pair[0], default=(np.inf, rest))
    return turning if added <= 1 / CLEAR else rest


def _clean(vector: Array) -> tuple[float, ...]:
    """Plain numbers, without what rounding leaves of a zero."""
    small = 1e-15 * max(1.0, float(np.abs(vector).max()))
    return tuple(0.0 if abs(c) <= small else float(c) for c in vector)
