"""Statics by geometry alone: counting, rank, mechanisms, states of self-stress; no stiffness enters.

Background: S. Pellegrino & C. R. Calladine, Matrix analysis of statically and kinematically
indeterminate frameworks, Int. J. Solids Struct. 22(4), 409-428, 1986 (volume and pages from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

import numpy as np
import scipy.linalg
import scipy.sparse as sparse
from numpy.typing import NDArray
from scipy.sparse.csgraph import reverse_cuthill_mckee

from solver.exact import PRIMES, Columns, Elimination, eliminate, residues
from solver.progress import Progress, blocks, silent
from solver.truss import Truss

SEED = 20260
"""Weights are random but the same at every run, so that every answer can be repeated."""


@dataclass(frozen=True)
class Statics:
    """What geometry alone decides about a truss.

    `rank` of the equilibrium matrix over joint directions with a column a member and a held direction.
    """

    truss: Truss
    rank: int
    eliminations: tuple[Elimination, ...]
    order: NDArray[np.int64]

    @property
    def static_indeterminacy(self) -> int:
        """Members + held directions - joint directions."""
        return len(self.truss.members) + self.truss.held - self.truss.freedoms

    @property
    def self_stress_states(self) -> int:
        """Number of independent states of self-stress."""
        return len(self.truss.members) + self.truss.held - self.rank

    @property
    def mechanisms(self) -> int:
        """Number of independent movements that no member and no support resists."""
        return self.truss.freedoms - self.rank

    @cached_property
    def moving_joints(self) -> tuple[int, ...]:
        """Indices of the joints that move in some mechanism; empty for a truss that stands."""
        if not self.mechanisms:
            return ()
        best = max(self.eliminations, key=lambda elimination: elimination.rank)
        vectors = best.null_vectors(2, np.random.default_rng(SEED))
        return self._joints_of(vectors)

    @cached_property
    def needed(self) -> NDArray[np.bool_]:
        """Which members a truss that stands cannot lose without becoming a mechanism, (members,).

        A member is needed exactly where no state of self-stress passes through it. A random state of
        self-stress is zero in a member elsewhere only with a probability of 1 in 2**31; two are tried.
        """
        members = len(self.truss.members)
        if not self.self_stress_states:
            return np.ones(members, dtype=bool)
        random = np.random.default_rng(SEED + 1)
        states = [self.eliminations[0].dependency(random)[:members] for _ in range(2)]
        return np.asarray((states[0] == 0) & (states[1] == 0))

    @cached_property
    def random_states(self) -> tuple[NDArray[np.int64], int]:
        """Random states of self-stress of a truss that stands, all there are, modulo a prime, and it.

        (members + held, states): they span every state but with a probability of 1 in 2**31.
        """
        elimination = self.eliminations[0]
        random = np.random.default_rng(SEED + 2)
        return elimination.dependencies(self.self_stress_states, random), elimination.columns.prime

    def moves_without(self, members: NDArray[np.int64], progress: Progress = silent) -> list[tuple[int, ...]]:
        """Return, for each of `members` (indices, all needed), the joints that move when it is gone.

        Without member i the truss moves along u = G^-1 c_i: every other member keeps its length in it.
        """
        elimination = self.eliminations[0]
        moves: list[tuple[int, ...]] = []
        for part in blocks(len(members), 256, "movements without each member", progress):
            chosen = np.zeros((len(elimination.weights), len(members[part])), dtype=np.int64)
            chosen[members[part], np.arange(chosen.shape[1])] = 1
            vectors = elimination.solve(elimination.columns.times(chosen))
            moves += [self._joints_of(vectors[:, [column]]) for column in range(vectors.shape[1])]
        return moves

    def _joints_of(self, vectors: NDArray[np.int64]) -> tuple[int, ...]:
        moving = vectors.reshape(-1, self.truss.dimension, vectors.shape[1]).any(axis=(1, 2))
        return tuple(sorted(int(joint) for joint in self.order[moving]))


def examine(truss: Truss) -> Statics:
    """Find the rank of a truss exactly, at the coordinates as written.

    Full rank is proved by one prime; a deficiency is confirmed by a second with other weights.
    """
    order = _joint_order(truss)
    eliminations: list[Elimination] = []
    for number, prime in enumerate(PRIMES):
        columns = _exact_columns(truss, order, prime)
        eliminations.append(eliminate(columns, np.random.default_rng(SEED + number)))
        if eliminations[-1].rank == truss.freedoms:
            break
    rank = max(elimination.rank for elimination in eliminations)
    best = tuple(elimination for elimination in eliminations if elimination.rank == rank)
    return Statics(truss, rank, best, order)


def movement_modulo(statics: Statics, member: int, prime: int) -> NDArray[np.int64] | None:
    """Return the movement without a needed member modulo a prime, (joints x dimension,), or None.

    Scaled so that the member's written vector, brought to whole numbers, changes by 1: at every prime the
    remainders are those of the same fractions. None at a prime that divides what it must not.
    """
    columns = _exact_columns(statics.truss, statics.order, prime)
    elimination = eliminate(columns, np.random.default_rng(SEED))
    if elimination.rank < statics.truss.freedoms:
        return None
    chosen = np.zeros((len(elimination.weights), 1), dtype=np.int64)
    chosen[member] = 1
    vector = elimination.solve(elimination.columns.times(chosen))
    scaled = vector[:, 0] * int(elimination.weights[member]) % prime
    back = np.empty((len(statics.order), statics.truss.dimension), dtype=np.int64)
    back[statics.order] = scaled.reshape(-1, statics.truss.dimension)
    return np.asarray(back.ravel())


def equilibrium_matrix(truss: Truss) -> sparse.csr_array:
    """Return A over all joint directions, (joints x dimension, members), sparse.

    Column i holds the joint loads that a unit tension in member i balances: minus its direction at its
    first joint, plus at its second. Its transpose takes joint movements to elongations.
    """
    members, dimension = len(truss.members), truss.dimension
    rows = truss.ends[:, :, None] * dimension + np.arange(dimension)
    values = np.stack([-truss.directions, truss.directions], axis=1)
    columns = np.repeat(np.arange(members), 2 * dimension)
    shape = (truss.freedoms, members)
    return sparse.csr_array((values.ravel(), (rows.ravel(), columns)), shape=shape)


def support_matrix(truss: Truss) -> sparse.csr_array:
    """Return the unit held directions, (joints x dimension, held), sparse: reactions to joint forces."""
    matrix = sparse.lil_array((truss.freedoms, truss.held))
    column = 0
    for support in truss.supports:
        for direction in support.directions:
            vector = np.array([float(c) for c in direction])
            start = support.joint * truss.dimension
            matrix[start : start + truss.dimension, [column]] = (vector / np.linalg.norm(vector))[:, None]
            column += 1
    return sparse.csr_array(matrix)


def free_directions(truss: Truss) -> sparse.csr_array:
    """Return an orthonormal basis of the movements that supports allow, (joints x dimension, free)."""
    held = {support.joint: support.directions for support in truss.supports}
    identity = np.eye(truss.dimension)
    parts = []
    for joint in range(len(truss.joint_names)):
        if joint not in held:
            parts.append(identity)
            continue
        vectors = np.array([[float(c) for c in direction] for direction in held[joint]])
        vectors = vectors / np.linalg.norm(vectors, axis=1)[:, None]
        axis_parallel = np.count_nonzero(vectors) == len(vectors)
        basis = identity[:, ~vectors.any(axis=0)] if axis_parallel else scipy.linalg.null_space(vectors)
        parts.append(basis)
    return sparse.csr_array(sparse.block_diag(parts))


def self_stress_basis(truss: Truss) -> NDArray[np.float64]:
    """Return orthonormal states of self-stress, (members + held, states), by a dense decomposition.

    Their number is that of the exact test, not of a threshold. Meant for drawing and teaching: the
    cost grows with the cube of the number of members.
    """
    matrix = _dense_with_supports(truss)
    states = matrix.shape[1] - examine(truss).rank
    return np.asarray(scipy.linalg.svd(matrix)[2][matrix.shape[1] - states :].T)


def mechanism_basis(truss: Truss) -> NDArray[np.float64]:
    """Return orthonormal movements that nothing resists, (joints x dimension, mechanisms), dense."""
    matrix = _dense_with_supports(truss)
    count = truss.freedoms - examine(truss).rank
    return np.asarray(scipy.linalg.svd(matrix)[0][:, truss.freedoms - count :])


def _dense_with_supports(truss: Truss) -> NDArray[np.float64]:
    return np.hstack([equilibrium_matrix(truss).toarray(), support_matrix(truss).toarray()])


def _joint_order(truss: Truss) -> NDArray[np.int64]:
    """Joints in an order that keeps neighbours near one another (Cuthill & McKee, reversed)."""
    joints = len(truss.joint_names)
    ones = np.ones(2 * len(truss.members), dtype=np.int8)
    rows, columns = np.vstack([truss.ends, truss.ends[:, ::-1]]).T
    graph = sparse.csr_array((ones, (rows, columns)), shape=(joints, joints))
    return np.asarray(reverse_cuthill_mckee(graph, symmetric_mode=True), dtype=np.int64)


def _exact_columns(truss: Truss, order: NDArray[np.int64], prime: int) -> Columns:
    """Members as differences of written coordinates, held directions as written, modulo `prime`."""
    dimension = truss.dimension
    place = np.empty_like(order)
    place[order] = np.arange(len(order))
    rows: list[list[int]] = []
    values: list[list[int]] = []
    for member, vector in zip(truss.members, truss.exact_vectors, strict=True):
        pull = residues(vector, prime)
        rows.append(_rows(int(place[member.first]), dimension) + _rows(int(place[member.second]), dimension))
        values.append([-value % prime for value in pull] + pull)
    for support in truss.supports:
        for direction in support.directions:
            rows.append(_rows(int(place[support.joint]), dimension) * 2)
            values.append(residues([Fraction(c) for c in direction], prime) + [0] * dimension)
    return Columns(np.array(rows, dtype=np.int64), np.array(values, dtype=np.int64), truss.freedoms, prime)


def _rows(place: int, dimension: int) -> list[int]:
    return list(range(place * dimension, (place + 1) * dimension))
