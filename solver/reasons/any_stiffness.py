"""Is a force zero whatever the stiffnesses of the members are? An exact test, and a numerical one.

The force in a member is one polynomial in the stiffnesses over another, det(A diag(k) A^T). It is zero for
all of them where the first polynomial vanishes, and so where it does at stiffnesses drawn at random modulo
a large prime, but for a probability of about (joint directions / prime) (Schwartz-Zippel; DeMillo & Lipton,
Inf. Process. Lett. 7(4), 193-195, 1978).
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from solver.exact import PRIMES, Columns, Elimination, eliminate, residues
from solver.exact_algebra import dot, square_to
from solver.state import State
from solver.stiffness import Stiffness
from solver.tolerances import ZERO
from solver.truss import ExactVector, Truss

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]
SEED = 4157
DRAWS = 2
"""Sets of stiffnesses drawn where loads are not exact; no zero by chance is to be expected in all of them."""

SPREAD = (0.5, 2.0)
LARGEST_DENOMINATOR = 10**6


class AnyStiffness:
    """One truss, ready to tell which zeros do not depend on stiffness."""

    def __init__(self, truss: Truss, order: NDArray[np.int64]) -> None:
        self.truss = truss
        self._order = order
        self._exact: Elimination | None = None
        self._drawn: tuple[Stiffness, ...] = ()

    def always_zero(self, state: State, scale: float) -> tuple[Mask, bool]:
        """Return which members are zero whatever the stiffnesses, (members,), and whether that is exact.

        Exact where nothing but joint loads act whose ratios are fractions of small numbers; otherwise the
        forces are worked out for stiffnesses drawn at random, and judged against `scale` [N].
        """
        loads = None if state.strains.any else exact_ratios(state.joint_loads)
        return (self._by_draws(state, scale), False) if loads is None else (self._exactly(loads), True)

    def _exactly(self, loads: list[ExactVector]) -> Mask:
        bases, rows = _free_bases(self.truss), _free_rows(self.truss, self._order)
        free = [Fraction(0)] * sum(len(joint) for joint in rows)
        if not free:
            return np.ones(len(self.truss.members), dtype=bool)
        for joint, load in enumerate(loads):
            for row, direction in zip(rows[joint], bases[joint], strict=True):
                free[row] = dot(direction, load)
        eliminated = self._eliminated(bases, rows)
        right = np.array([residues(free, eliminated.columns.prime)], dtype=np.int64).T
        answer = eliminated.columns.transposed_times(eliminated.solve(right))
        return np.asarray(answer[:, 0] == 0)

    def _eliminated(self, bases: list[tuple[ExactVector, ...]], rows: list[list[int]]) -> Elimination:
        """The truss with random stiffnesses, modulo a prime at which it stands as it does on paper."""
        for number, prime in enumerate(PRIMES):
            if self._exact is None or self._exact.rank < self._exact.columns.height:
                columns = _free_columns(self.truss, bases, rows, prime)
                self._exact = eliminate(columns, np.random.default_rng(SEED + number))
        assert self._exact is not None
        return self._exact

    def _by_draws(self, state: State, scale: float) -> Mask:
        if not self._drawn:
            random = np.random.default_rng(SEED)
            factors = random.uniform(*SPREAD, size=(DRAWS, len(self.truss.members)))
            self._drawn = tuple(Stiffness(_with_areas(self.truss, row)) for row in factors)
        strains = state.strains
        elongations = (strains.temperature + strains.misfit)[:, None]
        settlements = strains.settlement.reshape(-1, 1)
        loads = state.joint_loads.reshape(-1, 1)
        zero = np.ones(len(self.truss.members), dtype=bool)
        for drawn in self._drawn:
            forces = drawn.respond(loads, elongations, settlements).forces[:, 0]
            zero &= np.abs(forces) <= ZERO * max(scale, float(np.abs(forces).max(initial=0.0)))
        return zero


def exact_ratios(joint_loads: Array) -> list[ExactVector] | None:
    """Return the loads over the largest of them as fractions, or None where they are no simple ones."""
    largest = float(np.abs(joint_loads).max(initial=0.0))
    ratios = joint_loads / largest if largest else joint_loads
    found = [tuple(Fraction(float(c)).limit_denominator(LARGEST_DENOMINATOR) for c in row) for row in ratios]
    back = np.array([[float(c) for c in row] for row in found]).reshape(joint_loads.shape)
    return found if np.abs(back - ratios).max(initial=0.0) <= 4 * np.finfo(float).eps else None


def _with_areas(truss: Truss, factors: Array) -> Truss:
    """The same truss, each area times its factor."""
    members = tuple(
        replace(m, group=replace(m.group, section=replace(m.group.section, area=m.group.section.area * f)))
        for m, f in zip(truss.members, factors.tolist(), strict=True)
    )
    return replace(truss, members=members)


def _free_bases(truss: Truss) -> list[tuple[ExactVector, ...]]:
    """For each joint, exact vectors that span its free directions; not of unit length."""
    unit = [tuple(Fraction(int(a == b)) for b in range(truss.dimension)) for a in range(truss.dimension)]
    held = {support.joint: support.directions for support in truss.supports}
    return [
        square_to(held[joint], truss.dimension) if joint in held else tuple(unit)
        for joint in range(len(truss.joint_names))
    ]


def _free_rows(truss: Truss, order: NDArray[np.int64]) -> list[list[int]]:
    """Row numbers of each joint's free directions, neighbours near one another."""
    counts = [truss.dimension] * len(truss.joint_names)
    for support in truss.supports:
        counts[support.joint] -= len(support.directions)
    rows: list[list[int]] = [[] for _ in counts]
    next_row = 0
    for joint in order:
        rows[joint] = list(range(next_row, next_row + counts[joint]))
        next_row += counts[joint]
    return rows


def _free_columns(
    truss: Truss, bases: list[tuple[ExactVector, ...]], rows: list[list[int]], prime: int
) -> Columns:
    """Members as columns over the free directions, modulo `prime`; unused places hold 0."""
    width = 2 * truss.dimension
    places = np.zeros((len(truss.members), width), dtype=np.int64)
    values = np.zeros((len(truss.members), width), dtype=np.int64)
    for index, (member, vector) in enumerate(zip(truss.members, truss.exact_vectors, strict=True)):
        ends = [(member.first, -1), (member.second, 1)]
        here = [row for joint, _ in ends for row in rows[joint]]
        parts = [sign * dot(direction, vector) for joint, sign in ends for direction in bases[joint]]
        if here:
            # Unused places repeat a row of the member: elsewhere they would widen the band.
            places[index] = here[0]
            places[index, : len(here)] = here
            values[index, : len(here)] = residues(parts, prime)
    height = sum(len(joint) for joint in rows)
    return Columns(places, values, height, prime)
