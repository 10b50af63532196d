"""Joint inspection by ranks, straight from its definition, in two orders; shares nothing with the solver's.

A member is zero if, at one of its joints, its direction is not in the span of the other unknowns there
(members not yet known zero, held directions) and of the load on that joint.
"""

from __future__ import annotations

import numpy as np

from solver.truss import Truss

CLEAR = 1e-7
"""Unit directions of coordinates in tenths and hundredths are never so nearly in one span."""


def cross_out_step_by_step(truss: Truss, loads: np.ndarray) -> list[tuple[int, int, int]]:
    """(step, first joint that shows it, member); every step sees what the last one left."""
    found: list[tuple[int, int, int]] = []
    step, zero = 0, set[int]()
    while True:
        step += 1
        shown: dict[int, int] = {}
        for joint in range(len(truss.joint_names)):
            for member in members_at(truss, joint):
                if member not in zero and is_alone(truss, joint, member, zero, loads):
                    shown.setdefault(member, joint)
        if not shown:
            return found
        zero |= shown.keys()
        found += [(step, shown[member], member) for member in sorted(shown)]


def cross_out_one_by_one(truss: Truss, loads: np.ndarray, random: np.random.Generator) -> set[int]:
    """Joints and members visited in random order, each finding known at once."""
    zero: set[int] = set()
    while True:
        before = len(zero)
        for joint in random.permutation(len(truss.joint_names)):
            for member in random.permutation(members_at(truss, int(joint))):
                if int(member) not in zero and is_alone(truss, int(joint), int(member), zero, loads):
                    zero.add(int(member))
        if len(zero) == before:
            return zero


def members_at(truss: Truss, joint: int) -> list[int]:
    return [i for i, member in enumerate(truss.members) if joint in (member.first, member.second)]


def is_alone(truss: Truss, joint: int, member: int, zero: set[int], loads: np.ndarray) -> bool:
    """Whether a member's direction adds a dimension to what else may balance it at a joint."""
    others = [along(truss, m) for m in members_at(truss, joint) if m != member and m not in zero]
    for support in truss.supports:
        if support.joint == joint:
            others += [unit(np.array([float(c) for c in v])) for v in support.directions]
    if loads[joint].any():
        others.append(unit(loads[joint]))
    stack = np.array(others).reshape(-1, truss.dimension)
    return rank(np.vstack([stack, along(truss, member)])) > rank(stack)


def along(truss: Truss, member: int) -> np.ndarray:
    ends = truss.members[member]
    step = zip(truss.coordinates[ends.first], truss.coordinates[ends.second], strict=True)
    return unit(np.array([float(b - a) for a, b in step]))


def unit(vector: np.ndarray) -> np.ndarray:
    return vector / np.linalg.norm(vector)


def rank(stack: np.ndarray) -> int:
    return int(np.linalg.matrix_rank(stack, tol=CLEAR)) if len(stack) else 0
