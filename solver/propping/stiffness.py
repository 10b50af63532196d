"""What stiffness a truss offers at a joint across a piece, and how a force there spreads over its members."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
import scipy.linalg
from numpy.typing import NDArray

from solver.errors import InputError
from solver.stiffness import Response, Stiffness
from solver.tolerances import NOISE

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Offered:
    """What a truss offers to a force across a piece at a joint.

    stiffness [N/m]: the force over the movement along it, infinite where a support takes it. shares
    (members,): the force in each member per newton, tension positive for a force along the direction asked;
    a bow may lie to either side, so that each is asked of its member both ways.
    """

    joint: int
    stiffness: float
    shares: Array

    def forces(self, force: float) -> Array:
        """Forces [N] in the members, (members,), from a force [N] along the direction asked."""
        return self.shares * force


def find_offered(
    stiffness: Stiffness, joints: Sequence[int], directions: Sequence[Sequence[float]]
) -> tuple[Offered, ...]:
    """Find what a truss offers at joints (indices), each along its direction (made unit length).

    The piece's own bars take part as pinned bars; the whole truss may give way under the force, as it does
    under any load. Raises InputError for a direction without length.
    """
    units = _unit_loads(stiffness, joints, directions)
    answer = stiffness.respond(units)
    compliance = np.einsum("ij,ij->j", units, answer.movements)
    least = _compliance_of_noise(stiffness)
    return tuple(
        Offered(joint, inf if give <= least else float(1 / give), _frozen(answer.forces[:, column]))
        for column, (joint, give) in enumerate(zip(joints, compliance, strict=True))
    )


def find_against_kink(
    stiffness: Stiffness, joints: tuple[int, int, int], direction: Sequence[float]
) -> Offered:
    """Find what a truss offers against a joint's leaving the line through its two neighbours.

    joints: neighbour, joint, neighbour, in line; the force at the joint is borne by its neighbours, so that
    what moves all three together does not count. Neither this nor
    `find_offered` is a spring to firm ground: where they lie far apart, `critical_factor` with `find_bracing`
    decides.
    """
    before, middle, after = (stiffness.truss.joint_coordinates[joint] for joint in joints)
    part = float(np.linalg.norm(middle - before) / np.linalg.norm(after - before))
    units = _unit_loads(stiffness, joints, [direction] * 3)
    load = units @ np.array([part - 1, 1.0, -part])
    answer: Response = stiffness.respond(load[:, None])
    give = float(load @ answer.movements[:, 0])
    offered = inf if give <= _compliance_of_noise(stiffness) else 1 / give
    return Offered(joints[1], offered, _frozen(answer.forces[:, 0]))


def find_bracing(stiffness: Stiffness, joints: Sequence[int], directions: Sequence[Sequence[float]]) -> Array:
    """Find the stiffness matrix [N/m] with which a truss holds joints across a piece together.

    (joints, joints), the inverse of their movements under unit forces; infinite on the diagonal where a
    support holds a joint firmly. It is what `critical_factor` takes as props.
    """
    units = _unit_loads(stiffness, joints, directions)
    compliance = units.T @ stiffness.respond(units).movements
    free = np.flatnonzero(np.diag(compliance) > _compliance_of_noise(stiffness))
    matrix = np.zeros((len(joints), len(joints)))
    firm = np.setdiff1d(np.arange(len(joints)), free)
    matrix[firm, firm] = inf
    within = (compliance + compliance.T)[np.ix_(free, free)] / 2
    try:
        lower = scipy.linalg.cho_factor(within, lower=True)
    except np.linalg.LinAlgError:
        raise InputError("these joints do not move apart from one another along these directions") from None
    matrix[np.ix_(free, free)] = scipy.linalg.cho_solve(lower, np.eye(len(free)))
    return matrix


def _unit_loads(stiffness: Stiffness, joints: Sequence[int], directions: Sequence[Sequence[float]]) -> Array:
    """Unit forces along directions, (joints x dimension, columns)."""
    dimension = stiffness.truss.dimension
    loads = np.zeros((stiffness.truss.freedoms, len(joints)))
    for column, (joint, direction) in enumerate(zip(joints, directions, strict=True)):
        vector = np.asarray(direction, dtype=float)
        length = float(np.linalg.norm(vector))
        if len(vector) != dimension or not length:
            raise InputError("a direction across a piece needs a length, and one number an axis")
        loads[dimension * joint : dimension * (joint + 1), column] = vector / length
    return loads


def _compliance_of_noise(stiffness: Stiffness) -> float:
    """A movement per newton [m/N] that is none beside that of the stiffest member."""
    return NOISE / float(stiffness.truss.axial_stiffness.max())


def _frozen(values: Array) -> Array:
    values = values.copy()
    values.setflags(write=False)
    return values
