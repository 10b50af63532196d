"""What puts a force into a member, and on what a zero hangs: by joint loads and strains, and by stiffness."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from solver.progress import Progress, blocks, silent
from solver.reasons.reason import GROWTH, Brought, Cause
from solver.state import State
from solver.stiffness import Stiffness
from solver.tolerances import TIE

Array = NDArray[np.float64]
ELEMENTS = 4_000_000
STRAINS: tuple[Cause, ...] = ("temperature", "misfit", "settlement")


def strongest_causes(
    stiffness: Stiffness, states: Sequence[State], progress: Progress = silent
) -> list[list[Brought]]:
    """Return, for each state and member, the cause that brings most of its force's sign.

    Causes are the load on each joint, the temperature, the misfits and the settlements; among equals the
    first joint in the file's order. Of a member that bears nothing no joint is told.
    """
    members = len(stiffness.truss.members)
    best = np.zeros((len(states), members))
    joints = np.full((len(states), members), -1)
    causes: list[list[Cause]] = [["load"] * members for _ in states]
    signs = [np.sign(state.forces) for state in states]
    for first, answer in _unit_answers(stiffness, states, progress):
        stretch = slice(first, first + answer.shape[1])
        for number, state in enumerate(states):
            brought = np.einsum("mjd,jd->mj", answer, state.joint_loads[stretch]) * signs[number][:, None]
            place = _first_largest(brought)
            value = brought[np.arange(members), place]
            # Rounding must not choose among equals, as symmetric loads are.
            better = value > best[number] * (1 + TIE)
            best[number][better] = value[better]
            joints[number][better] = first + place[better]
    for number, state in enumerate(states):
        for cause, forces in _by_strains(stiffness, state):
            value = forces * signs[number]
            for member in np.flatnonzero(value > best[number] * (1 + TIE)):
                best[number][member], joints[number][member] = value[member], -1
                causes[number][member] = cause
    return [
        [Brought(causes[n][m], int(joints[n][m]), float(best[n][m] * signs[n][m])) for m in range(members)]
        for n in range(len(states))
    ]


def strongest_cause(stiffness: Stiffness, state: State, member: int) -> Brought:
    """Return the cause that brings most of the sign of one member's force: the same as among all."""
    sign = float(np.sign(state.forces[member]))
    wakes = waking_loads(stiffness, member)
    brought = sign * np.einsum("jd,jd->j", wakes, state.joint_loads)
    joint = int(_first_largest(brought[None, :])[0])
    best = (
        Brought("load", joint, sign * float(brought[joint]))
        if brought[joint] > 0
        else Brought("load", -1, 0.0)
    )
    for cause, forces in _by_strains(stiffness, state):
        if sign * forces[member] > abs(best.force) * (1 + TIE):
            best = Brought(cause, -1, float(forces[member]))
    return best


def waking_loads(stiffness: Stiffness, member: int) -> Array:
    """Return the force in a member (index) per unit load at each joint along each axis, (joints, dimension).

    A row of it is the direction of the load there that puts most tension in, and as much as it is long.
    By reciprocity (Betti) it is how the joints move if the member is made longer by 1.
    """
    truss = stiffness.truss
    longer = np.zeros((len(truss.members), 1))
    longer[member] = 1.0
    moved = stiffness.respond(np.zeros((truss.freedoms, 1)), longer).movements
    return np.asarray(moved.reshape(-1, truss.dimension))


def _first_largest(values: Array) -> NDArray[np.intp]:
    """Place of the largest value in each row, (rows, n); of those that tie, the first."""
    largest = values.max(axis=1, keepdims=True)
    return np.asarray((values >= largest - TIE * np.abs(largest)).argmax(axis=1))


def _unit_answers(
    stiffness: Stiffness, states: Sequence[State], progress: Progress
) -> Iterator[tuple[int, Array]]:
    """Forces per unit load, (members, joints of the block, axes), of blocks in which any state is loaded."""
    truss = stiffness.truss
    loaded = np.any([state.joint_loads.any(axis=1) for state in states], axis=0)
    size = max(1, ELEMENTS // (truss.dimension * (len(truss.members) + truss.freedoms)))
    for block in blocks(len(loaded), size, "what loads put into members", progress):
        if not loaded[block].any():
            continue
        here = slice(block.start * truss.dimension, block.stop * truss.dimension)
        loads = np.zeros((truss.freedoms, here.stop - here.start))
        loads[here] = np.eye(here.stop - here.start)
        forces = stiffness.respond(loads).forces
        yield block.start, forces.reshape(len(truss.members), -1, truss.dimension)


def _by_strains(stiffness: Stiffness, state: State) -> list[tuple[Cause, Array]]:
    truss, strains = stiffness.truss, state.strains
    if not strains.any:
        return []
    elongations = np.zeros((len(truss.members), 3))
    elongations[:, 0], elongations[:, 1] = strains.temperature, strains.misfit
    settlements = np.zeros((truss.freedoms, 3))
    settlements[:, 2] = strains.settlement.ravel()
    forces = stiffness.respond(np.zeros((truss.freedoms, 3)), elongations, settlements).forces
    return list(zip(STRAINS, forces.T, strict=True))


def growth_effects(stiffness: Stiffness, shares: Array, forces: Array, members: Sequence[int]) -> Array:
    """Return the change of force [N] in each of `members` if the area of each member grows by GROWTH.

    (members asked, members). forces (members,) [N]; shares (members,), redundancy shares. Growing one
    stiffness k_j by D changes A diag(k) A^T by a matrix of rank one (Sherman & Morrison, Ann. Math. Stat.
    21(1), 124-127, 1950, from memory): with h_j the force in j that a unit free elongation of i puts there,
    N_i changes by -h_j / k_j * D N_j / k_j / (1 + D (1 - R_jj) / k_j), for j other than i.
    """
    truss = stiffness.truss
    if not len(members):
        return np.zeros((0, len(truss.members)))
    longer = np.zeros((len(truss.members), len(members)))
    longer[list(members), np.arange(len(members))] = 1.0
    felt = stiffness.respond(np.zeros((truss.freedoms, len(members))), longer).forces
    relaxed = GROWTH * forces / (truss.axial_stiffness * (1 + GROWTH * (1 - shares)))
    changes = -(felt * relaxed[:, None]).T
    # A member that bears nothing bears nothing when it alone grows.
    changes[np.arange(len(members)), list(members)] = 0.0
    return np.asarray(changes)
