"""What stiffness a truss offers at a joint across a piece, and how a force there spreads over its members."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

import numpy as np
from numpy.typing import NDArray

from solver.errors import InputError
from solver.stiffness import Stiffness
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
