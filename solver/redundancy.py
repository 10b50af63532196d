"""Redundancy shares, waking loads and the condition of a truss, from its answer to every joint load.

Redundancy matrix R = I - A^T K^-1 A diag(k): M. von Scheven, E. Ramm & M. Bischoff, Quantification of
the redundancy distribution in truss and beam structures, Int. J. Solids Struct. 213, 41-49, 2021.
Only its diagonal is kept.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.progress import Progress, blocks, silent
from solver.statics import Statics
from solver.stiffness import Stiffness
from solver.tolerances import TIE
from solver.truss import Truss

Array = NDArray[np.float64]
ELEMENTS = 4_000_000


@dataclass(frozen=True)
class Redundancy:
    """What each member does for the truss and which joint load wakes it.

    shares (members,): redundancy shares, 0 to 1. waking_joints (members,), -1 for a member that no joint
    load reaches (held at both ends); waking_directions (members, dimension), unit vectors;
    waking_forces (members,) [N/N], tension per unit load. condition: largest member force per unit joint
    load; imbalance: largest joint imbalance over the scale of its state, over all these states.
    """

    shares: Array
    waking_joints: NDArray[np.int64]
    waking_directions: Array
    waking_forces: Array
    condition: float
    imbalance: float


def examine_redundancy(stiffness: Stiffness, statics: Statics, progress: Progress = silent) -> Redundancy:
    """Load every joint along each of its free directions, a block of joints at a time."""
    truss = stiffness.truss
    members = len(truss.members)
    own, best = np.zeros(members), np.zeros(members)
    joints, vectors = np.full(members, -1), np.zeros((members, truss.dimension))
    imbalance = 0.0
    for first, answer, error in _answers(stiffness, progress):
        imbalance = max(imbalance, error)
        own += _own_axis(truss, first, answer)
        _keep_strongest(answer, first, best, joints, vectors)
    return Redundancy(
        shares=np.where(statics.needed, 0.0, np.clip(1.0 - own, 0.0, 1.0)),
        waking_joints=joints,
        waking_directions=vectors / np.where(best > 0, best, 1.0)[:, None],
        waking_forces=best,
        condition=float(best.max(initial=0.0)),
        imbalance=imbalance,
    )


def condition(stiffness: Stiffness) -> float:
    """Return the largest member force per unit joint load, over all joints and directions."""
    return max(float(np.linalg.norm(a, axis=2).max(initial=0.0)) for _, a, _ in _answers(stiffness, silent))


def _answers(stiffness: Stiffness, progress: Progress) -> Iterator[tuple[int, Array, float]]:
    """Yield blocks of joints: the first joint, forces per unit load (members, joints, axes), imbalance."""
    truss = stiffness.truss
    for block in blocks(len(truss.joint_names), _joints_a_block(truss), "every joint load", progress):
        freedoms = slice(block.start * truss.dimension, block.stop * truss.dimension)
        answer, error = _answer_joints(stiffness, freedoms)
        yield block.start, answer.reshape(len(truss.members), -1, truss.dimension), error


def _own_axis(truss: Truss, first: int, answer: Array) -> Array:
    """What loads along each member's own axis, at those of its ends in the block, put into it.

    Both ends together give 1 - R_ii: load f = a_i, force n_i = k_i a_i^T K^-1 a_i.
    """
    own = np.zeros(len(truss.members))
    for end, sign in ((0, -1.0), (1, 1.0)):
        place = truss.ends[:, end] - first
        here = np.flatnonzero((place >= 0) & (place < answer.shape[1]))
        own[here] += sign * np.einsum("md,md->m", answer[here, place[here]], truss.directions[here])
    return own


def _joints_a_block(truss: Truss) -> int:
    return max(1, ELEMENTS // (truss.dimension * (len(truss.members) + truss.freedoms)))


def _answer_joints(stiffness: Stiffness, freedoms: slice) -> tuple[Array, float]:
    """Forces per unit load along each joint direction, (members, directions), held parts left out."""
    free = stiffness.free[freedoms].toarray()
    # A load along an axis of a joint held in part is what the projection on its free directions leaves.
    loads = np.zeros((stiffness.truss.freedoms, freedoms.stop - freedoms.start))
    loads[freedoms] = free @ free.T
    response = stiffness.respond(loads)
    scale = np.maximum(1.0, np.abs(response.forces).max(axis=0, initial=0.0))
    return response.forces, float((np.abs(response.imbalance) / scale).max(initial=0.0))


def _keep_strongest(
    answer: Array, first: int, best: Array, joints: NDArray[np.int64], vectors: Array
) -> None:
    """Keep, for each member, the first joint whose unit load puts clearly more tension into it.

    answer (members, joints of the block, dimension): forces per unit load along each axis; the load
    along this vector itself puts most tension in, as much as the vector is long.
    """
    sizes = np.linalg.norm(answer, axis=2)
    largest = np.maximum(sizes.max(axis=1), best)
    # Rounding must not wake a member that no joint load reaches: such an answer is exactly zero.
    first_here = (sizes >= (largest * (1 - TIE))[:, None]).argmax(axis=1)
    rows = np.arange(len(best))
    here = sizes[rows, first_here]
    better = (here > best * (1 + TIE)) & (here > 0)
    best[better] = here[better]
    joints[better] = first + first_here[better]
    vectors[better] = answer[rows[better], first_here[better]]
