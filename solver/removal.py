"""What if a member were gone: is the truss without it a mechanism, and which joints move?

Decided by geometry alone, exactly, at the coordinates as written; no stiffness enters.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.progress import Progress, silent
from solver.statics import Statics
from solver.stiffness import Stiffness
from solver.tolerances import TIE


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
    truss = stiffness.truss
    longer = np.zeros((len(truss.members), 1))
    longer[member] = 1.0
    response = stiffness.respond(np.zeros((truss.freedoms, 1)), elongations=longer)
    movement = response.movements.reshape(-1, truss.dimension)
    stays = np.setdiff1d(np.arange(len(movement)), np.array(moves, dtype=int))
    movement[stays] = 0.0
    sizes = np.linalg.norm(movement, axis=1)
    # Of joints that move alike the first in the file's order, not the one that rounding favours.
    most = movement[(sizes >= (1 - TIE) * sizes.max()).argmax()]
    sign = -1.0 if most[-1] > 0 else 1.0
    return np.asarray(sign * movement / sizes.max())
