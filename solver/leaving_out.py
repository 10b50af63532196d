"""The truss without its zero members: the same forces under this load, and what else it would do."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.state import State
from solver.statics import examine, mechanism_basis
from solver.stiffness import Stiffness
from solver.truss import Truss

Array = NDArray[np.float64]
LARGEST = 400
"""Members up to which the truss without some is solved anew, densely, for it may be a mechanism."""


@dataclass(frozen=True)
class LeftOut:
    """A truss without some members that bear nothing in one state.

    forces (members,) [N]: of those that stay, solved anew, 0 in the others; None for a truss too large for
    it. movements: how many independent ones nothing would resist; moves: the joints (indices) that could
    move; movement (joints, dimension): one of them, the largest joint moves by 1, none without any.
    """

    members: tuple[int, ...]
    forces: Array | None
    movements: int
    moves: tuple[int, ...]
    movement: Array | None


def leave_out(stiffness: Stiffness, state: State, members: tuple[int, ...]) -> LeftOut:
    """Leave out members (indices) that bear nothing in a state, and look at what is left."""
    truss = stiffness.truss
    kept = [index for index in range(len(truss.members)) if index not in set(members)]
    forces = _solve_anew(stiffness, state, kept) if len(truss.members) <= LARGEST else None
    left = replace(truss, members=tuple(truss.members[index] for index in kept), pieces=())
    if not kept:
        return LeftOut(
            members, forces, truss.freedoms - truss.held, tuple(range(len(truss.joint_names))), None
        )
    statics = examine(left)
    movement = None
    if statics.mechanisms and len(truss.members) <= LARGEST:
        movement = _one_movement(left)
    return LeftOut(members, forces, statics.mechanisms, statics.moving_joints, movement)


def _solve_anew(stiffness: Stiffness, state: State, kept: list[int]) -> Array:
    """Forces of the members kept, by equilibrium and member law together, where movements may be free.

    Of all answers that least squares allow it takes the one without free movements, which do not change
    forces.
    """
    truss, strains = stiffness.truss, state.strains
    reduced = stiffness.reduced.toarray()[:, kept]
    held_back = strains.temperature + strains.misfit - stiffness.equilibrium.T @ strains.settlement.ravel()
    reference = float(np.exp(np.log(truss.axial_stiffness).mean()))
    flexibility = reference / truss.axial_stiffness[kept]
    size = len(kept)
    system = np.zeros((size + len(reduced), size + len(reduced)))
    system[:size, :size] = -np.diag(flexibility)
    system[:size, size:], system[size:, :size] = reduced.T, reduced
    loads = stiffness.free.T @ state.joint_loads.ravel()
    right = np.concatenate([held_back[kept] * reference, loads])
    solution = np.linalg.lstsq(system, right, rcond=None)[0]
    solution += np.linalg.lstsq(system, right - system @ solution, rcond=None)[0]
    forces = np.zeros(len(truss.members))
    forces[kept] = solution[:size]
    return forces


def _one_movement(left: Truss) -> Array:
    """One free movement, as local as there is: what is left of a unit step at the freest joint direction."""
    basis = mechanism_basis(left)
    freest = int(np.round(np.linalg.norm(basis, axis=1), 9).argmax())
    movement = (basis @ basis[freest]).reshape(-1, left.dimension)
    sizes = np.linalg.norm(movement, axis=1)
    movement[sizes < 1e-9 * sizes.max()] = 0.0
    return np.asarray(movement / sizes.max())
