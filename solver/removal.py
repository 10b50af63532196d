"""What if a member were gone: is the truss without it a mechanism, and which joints move?

Decided by geometry alone, exactly, at the coordinates as written; no stiffness enters.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.progress import Progress, silent
from solver.statics import Statics
from solver.stiffness import Stiffness
from solver.tolerances import TIE

CORRECTIONS = 2
"""Once is exact but for rounding, which soft bars beside stiff ones enlarge; twice takes that away."""


@dataclass(frozen=True)
class Removals:
    """For each member alone: whether the truss without it is a mechanism, (members,), and what moves."""

    mechanism: NDArray[np.bool_]
    moves: tuple[tuple[int, ...], ...]


def remove_each(statics: Statics, progress: Progress = silent) -> Removals:
    """Take out each member of a truss that stands, one at a time."""
    needed = np.flatnonzero(statics.needed)
    moves: list[tuple[int, ...]] = [()] * len(statics.needed)
    for member, joints in zip(needed, statics.moves_without(needed, progress), strict=True):
        moves[member] = joints
    return Removals(statics.needed, tuple(moves))


def movement_without(stiffness: Stiffness, member: int, moves: tuple[int, ...]) -> NDArray[np.float64]:
    """Return how the joints move in the mechanism that losing `member` leaves, (joints, dimension).

    A member that the truss needs feels no misfit of its own: made longer, it just carries the truss along
    the one movement that every other member allows. The largest joint moves by 1, downwards if it can;
    joints that stay (all but `moves`) are exactly 0.
    """
    return np.asarray(movements_without(stiffness, [(member, moves)])[0])


def movements_without(
    stiffness: Stiffness, lost: Sequence[tuple[int, tuple[int, ...]]]
) -> NDArray[np.float64]:
    """Return the movement without each of some needed members, given with what moves, in one go.

    (lost, joints, dimension), each as `movement_without` has it.
    """
    truss = stiffness.truss
    longer = np.zeros((len(truss.members), len(lost)))
    longer[[member for member, _ in lost], np.arange(len(lost))] = 1.0
    unloaded = np.zeros((truss.freedoms, len(lost)))
    movements = np.zeros_like(unloaded)
    for _ in range(CORRECTIONS):
        # The movement bears no force: whatever of it does not fit yet is a misfit to be made good.
        misfit = longer - stiffness.equilibrium.T @ movements
        movements = movements + stiffness.respond(unloaded, elongations=misfit).movements
    found = movements.T.reshape(len(lost), -1, truss.dimension)
    return np.array(
        [_scaled(movement, moves) for movement, (_, moves) in zip(found, lost, strict=True)]
    ).reshape(found.shape)


def _scaled(movement: NDArray[np.float64], moves: tuple[int, ...]) -> NDArray[np.float64]:
    """The largest joint moves by 1, downwards if it can; joints that stay are exactly 0."""
    movement = movement.copy()
    stays = np.setdiff1d(np.arange(len(movement)), np.array(moves, dtype=int))
    movement[stays] = 0.0
    sizes = np.linalg.norm(movement, axis=1)
    # Of joints that move alike the first in the file's order, not the one that rounding favours.
    most = movement[(sizes >= (1 - TIE) * sizes.max()).argmax()]
    sign = -1.0 if most[-1] > 0 else 1.0
    return np.asarray(sign * movement / sizes.max())
