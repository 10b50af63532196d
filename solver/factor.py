"""Sparse factors of the equilibrium and member law of a truss, careful or quick, and solving with them."""

from __future__ import annotations

import numpy as np
import scipy.sparse as sparse
import scipy.sparse.linalg as sparse_linalg
from numpy.typing import NDArray

from solver.errors import UntrustworthyError

Array = NDArray[np.float64]

COLUMNS = 8
"""Right-hand sides solved at once: more of them leave the processor's cache and take longer each."""


class Factor:
    """An LU factor of a symmetric indefinite system in a given order of its unknowns."""

    def __init__(self, system: sparse.csc_array, order: NDArray[np.int64] | None = None) -> None:
        """Factor; raises UntrustworthyError where the system is singular to working precision.

        Without an order columns are ordered for low fill and rows pivot freely. With one, unknowns are
        eliminated in it on their own diagonal wherever that is not far too small.
        """
        self._order = order
        try:
            if order is None:
                self._factor = sparse_linalg.splu(system)
            else:
                self._factor = sparse_linalg.splu(
                    sparse.csc_array(system[order][:, order]),
                    permc_spec="NATURAL",
                    diag_pivot_thresh=1e-3,
                    options={"SymmetricMode": True},
                )
        except RuntimeError as error:
            raise UntrustworthyError(
                "the truss stands at the coordinates as written, but too near a mechanism to be computed"
            ) from error

    def solve(self, right: Array) -> Array:
        """Return x with system @ x = right, (unknowns, c)."""
        answer = np.empty_like(right)
        for start in range(0, right.shape[1], COLUMNS):
            part = right[:, start : start + COLUMNS]
            if self._order is None:
                answer[:, start : start + COLUMNS] = self._factor.solve(part)
            else:
                answer[self._order, start : start + COLUMNS] = self._factor.solve(part[self._order])
        return answer


def forces_first(equilibrium: sparse.csr_array, flexibility: Array) -> NDArray[np.int64]:
    """Return an order for large trusses: member forces, then movements as the stiffness matrix likes them.

    It leaves no more fill than the stiffness matrix has, and costs the digits that it costs; the order
    of movements is that of its own factor (column minimum degree). equilibrium (free, members).
    """
    stiffness = sparse.csc_array(equilibrium @ sparse.diags_array(1 / flexibility) @ equilibrium.T)
    try:
        columns = sparse_linalg.splu(stiffness).perm_c
    except RuntimeError:
        columns = np.arange(stiffness.shape[0])
    members = equilibrium.shape[1]
    return np.concatenate([np.arange(members), members + np.argsort(columns)])
