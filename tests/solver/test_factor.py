"""Both orders of elimination solve the same system; the quick one is a true order of all unknowns."""

from __future__ import annotations

import numpy as np
import pytest
import scipy.sparse as sparse

from solver.errors import UntrustworthyError
from solver.factor import COLUMNS, Factor, forces_first
from solver.statics import equilibrium_matrix, free_directions
from tests.laws.random_trusses import draw_truss


@pytest.mark.parametrize("seed", range(6))
def test_both_orders_solve_the_system(seed: int) -> None:
    truss = draw_truss(seed).truss
    reduced = sparse.csr_array(free_directions(truss).T @ equilibrium_matrix(truss))
    flexibility = np.random.default_rng(seed).uniform(0.1, 10, len(truss.members))
    blocks = [[sparse.diags_array(-flexibility), reduced.T], [reduced, None]]
    system = sparse.csc_array(sparse.block_array(blocks, format="csc"))
    order = forces_first(reduced, flexibility)
    assert np.sort(order).tolist() == list(range(system.shape[0]))
    assert (order[: len(truss.members)] < len(truss.members)).all()
    right = np.random.default_rng(seed).standard_normal((system.shape[0], 2 * COLUMNS + 3))
    for factor in (Factor(system), Factor(system, order)):
        answer = factor.solve(right)
        assert np.abs(system @ answer - right).max() <= 1e-9 * np.abs(answer).max()


def test_a_singular_system_is_refused() -> None:
    with pytest.raises(UntrustworthyError, match="too near a mechanism"):
        Factor(sparse.csc_array(np.array([[1.0, 1.0], [1.0, 1.0]])))
