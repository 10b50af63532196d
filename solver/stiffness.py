"""Elastic response of a truss: assembled and factored once, then refined until joints balance.

Equilibrium and member law are factored together instead of the stiffness matrix made of them:

    [ -1/k   A^T ] [ n ]   [ e ]      A^T u - n / k = e    (e: free elongation)
    [   A     0  ] [ u ] = [ f ]      A n           = f    (f: joint loads)

(Strang, Introduction to Applied Mathematics, 1986, sec. 2.1-2.2, from memory). It gives what
K = A diag(k) A^T gives, but its condition grows with that of A and not with the square of it, so that
long trusses with very unequal areas and near-critical forms keep their digits.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import scipy.sparse as sparse
import scipy.sparse.linalg as sparse_linalg
from numpy.typing import NDArray

from solver.errors import UntrustworthyError
from solver.factor import Factor, forces_first
from solver.statics import equilibrium_matrix, free_directions, support_matrix
from solver.tolerances import BALANCED, ROUNDING
from solver.truss import Truss

Array = NDArray[np.float64]
ROUNDS = 12
LARGE = 6_000
"""Unknowns from which a quick order is tried first: below it free pivoting costs nothing to speak of."""


@dataclass(frozen=True)
class Response:
    """Answer to some loads, one column each.

    forces (members, c) [N], tension positive; movements (joints x dimension, c) [m]; reactions (held,
    c) [N], factors of the unit held directions; imbalance (joints x dimension, c) [N], what joint
    equilibrium lacks; fully_held (members, c) [N], the forces that free elongations and support
    movements would put into members that cannot give way.
    """

    forces: Array
    movements: Array
    reactions: Array
    imbalance: Array
    fully_held: Array


class Stiffness:
    """A truss ready to answer loads. Raises UntrustworthyError where it cannot be factored."""

    def __init__(self, truss: Truss) -> None:
        self.truss = truss
        self.equilibrium = equilibrium_matrix(truss)
        self.supports = support_matrix(truss)
        self.free = free_directions(truss)
        self.reduced = sparse.csr_array(self.free.T @ self.equilibrium)
        stiffness = truss.axial_stiffness
        self._reference = float(np.exp(np.log(stiffness).mean()))
        self._flexibility = self._reference / stiffness

    @cached_property
    def _careful(self) -> Factor:
        return Factor(self._system)

    @cached_property
    def _quick(self) -> Factor:
        return Factor(self._system, forces_first(self.reduced, self._flexibility))

    @cached_property
    def _system(self) -> sparse.csc_array:
        flexibility = sparse.diags_array(-self._flexibility)
        return sparse.csc_array(
            sparse.block_array([[flexibility, self.reduced.T], [self.reduced, None]], format="csc")
        )

    def respond(
        self, loads: Array, elongations: Array | None = None, settlements: Array | None = None
    ) -> Response:
        """Answer joint loads (joints x dimension, c) [N], free elongations (members, c) [m], settlements.

        Settlements (joints x dimension, c) [m] must lie in the held directions.
        """
        held_back = self._held_back(loads.shape[1], elongations, settlements)
        solution = self._solve(self.free.T @ loads, held_back * self._reference)
        members = len(self.truss.members)
        forces = solution[:members]
        movements = self.free @ (solution[members:] / self._reference)
        if settlements is not None:
            movements = movements + settlements
        unbalanced = self.equilibrium @ forces - loads
        reactions = self._reactions(unbalanced)
        return Response(
            forces=forces,
            movements=movements,
            reactions=reactions,
            imbalance=unbalanced - self.supports @ reactions,
            fully_held=-self.truss.axial_stiffness[:, None] * held_back,
        )

    def _held_back(self, count: int, elongations: Array | None, settlements: Array | None) -> Array:
        """Free elongations together with those that support movements ask for, (members, c) [m]."""
        total = np.zeros((len(self.truss.members), count))
        if elongations is not None:
            total += elongations
        if settlements is not None:
            total -= self.equilibrium.T @ settlements
        return total

    def _solve(self, loads: Array, elongations: Array) -> Array:
        """Solve and refine; a large truss quickly if that balances, else with free pivoting."""
        right = np.concatenate([elongations, loads])
        if not right.size:
            return np.zeros_like(right)
        scale = np.maximum(self._scale(loads, elongations), np.finfo(float).tiny)
        if len(right) > LARGE:
            try:
                solution, worst = self._refine(self._quick, right, scale)
            except UntrustworthyError:
                worst = np.inf
            if worst <= BALANCED:
                return solution
        return self._refine(self._careful, right, scale)[0]

    def _refine(self, factor: Factor, right: Array, scale: Array) -> tuple[Array, float]:
        """Refine until the worst joint imbalance over its scale stops halving; return it too."""
        members = len(self.truss.members)
        solution, residual, worst = np.zeros_like(right), right, np.inf
        for _ in range(ROUNDS):
            candidate = solution + factor.solve(residual)
            residual = right - self._system @ candidate
            now = float(np.max(np.abs(residual[members:]) / scale, initial=0.0))
            if not np.isfinite(now):
                raise UntrustworthyError("the forces of this truss cannot be computed: not finite")
            halved = now < worst / 2
            if now < worst:
                solution, worst = candidate, now
            if not halved or worst <= ROUNDING:
                break
        return solution, worst

    def _scale(self, loads: Array, elongations: Array) -> Array:
        """Of each column, the largest load or force of a fully held member [N]."""
        held = np.abs(elongations / self._flexibility[:, None]).max(axis=0, initial=0.0)
        return np.asarray(np.maximum(held, np.abs(loads).max(axis=0, initial=0.0)))

    def _reactions(self, unbalanced: Array) -> Array:
        """Factors of the held directions that come nearest to the forces joints lack, joint by joint."""
        gram = sparse.csc_array(self.supports.T @ self.supports)
        return np.asarray(sparse_linalg.splu(gram).solve(np.asarray(self.supports.T @ unbalanced)))
