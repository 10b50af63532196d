"""What if a member were gone: is the truss without it a mechanism, and which joints move?

Decided by geometry alone, exactly, at the coordinates as written; no stiffness enters.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.progress import Progress, silent
from solver.statics import Statics


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
