"""The truss without its zero members: same forces, and a movement that no member left resists."""

from __future__ import annotations

import numpy as np
import pytest

from solver.leaving_out import leave_out
from solver.state import take_loads
from solver.statics import examine
from solver.stiffness import Stiffness
from tests.building import build_truss
from tests.laws.regular import draw_girder


@pytest.mark.parametrize("seed", range(12))
def test_the_movement_told_changes_no_length_that_is_left_and_gives_way_at_no_support(seed: int) -> None:
    truss, loads = draw_girder(seed)
    stiffness = Stiffness(truss)
    state = take_loads(stiffness, loads)
    zeros = tuple(np.flatnonzero(np.abs(state.forces) < 1e-9 * state.own_scale).tolist())
    left = leave_out(stiffness, state, zeros)
    assert left.forces is not None
    assert left.forces == pytest.approx(state.forces, abs=1e-8 * state.own_scale)
    assert (left.movement is None) == (left.movements == 0)
    if left.movement is None:
        return
    change = stiffness.equilibrium.T @ left.movement.ravel()
    kept = np.setdiff1d(np.arange(len(truss.members)), zeros)
    assert np.abs(change[kept]).max(initial=0.0) < 1e-9
    assert np.abs(stiffness.supports.T @ left.movement.ravel()).max() < 1e-9
    assert np.linalg.norm(left.movement, axis=1).max() == pytest.approx(1.0)
    moving = set(np.flatnonzero(left.movement.any(axis=1)).tolist())
    assert moving <= set(left.moves)


def test_a_hanger_left_out_sets_its_joint_free_in_one_way() -> None:
    joints = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3)}
    truss = build_truss(joints, ["A-B", "B-C", "A-D", "C-D", "B-D"], {"A": "xy", "C": "y"})
    stiffness = Stiffness(truss)
    state = take_loads(stiffness, np.array([[0, 0], [0, 0], [0, 0], [0, -6.0]]))
    left = leave_out(stiffness, state, (4,))
    assert (left.movements, left.moves) == (1, (truss.joint_index("B"),))
    assert left.movement is not None
    assert np.abs(left.movement[1]) == pytest.approx([0.0, 1.0], abs=1e-12)
    assert examine(truss).mechanisms == 0
