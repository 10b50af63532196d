"""What a load case does to joints and members, by pencil."""

from __future__ import annotations

import numpy as np
import pytest

from solver.cases import LineLoad, LoadCase, work_out
from solver.chords import make_chord
from tests.building import build_truss

TRUSS = build_truss(
    {"A": (0, 0), "B": (3, 4), "C": (6, 0)},
    ["A-B", "B-C", "A-C"],
    {"A": "xy", "C": "y"},
    areas=[1.0, 2.0, 0.5],
    unit_weight=10.0,
    expansion=1e-5,
)
CHORDS = {"rafter": make_chord("rafter", (0, 1, 2), TRUSS)}


def joint_loads(case: LoadCase) -> np.ndarray:
    return work_out(case, TRUSS, CHORDS).joint_loads


def test_self_weight_goes_half_to_each_end() -> None:
    # weights 10 x (1 x 5, 2 x 5, 0.5 x 6) = 50, 100, 30
    loads = joint_loads(LoadCase("g", self_weight=2.0))
    assert loads.tolist() == [[0, -80.0], [0, -150.0], [0, -130.0]]


def test_a_line_load_counts_per_plan_distance_unless_told_otherwise() -> None:
    line = LineLoad("rafter", 0.0, 6.0, vector=(1.0, -2.0))
    assert joint_loads(LoadCase("s", lines=(line,))) == pytest.approx(
        np.array([[1.5, -3.0], [3.0, -6.0], [1.5, -3.0]]), abs=1e-14
    )


def test_a_line_load_per_length_counts_along_the_slope() -> None:
    line = LineLoad("rafter", 0.0, 6.0, vector=(0.0, -3.0), per="length")
    assert joint_loads(LoadCase("s", lines=(line,)))[:, 1] == pytest.approx([-7.5, -15.0, -7.5], abs=1e-14)


def test_a_normal_load_acts_to_the_left_of_the_chords_way() -> None:
    line = LineLoad("rafter", 0.0, 6.0, normal=1.0)
    # left of (3, 4) is (-4, 3) / 5, left of (3, -4) is (4, 3) / 5, each over a length of 5
    assert joint_loads(LoadCase("w", lines=(line,))) == pytest.approx(
        np.array([[-2.0, 1.5], [0.0, 3.0], [2.0, 1.5]]), abs=1e-14
    )


def test_a_line_load_on_a_stretch_stays_on_its_stretch() -> None:
    line = LineLoad("rafter", 1.5, 3.0, vector=(0.0, -4.0))
    # 6 in all on the second half of the first panel: a quarter to A, three quarters to B
    assert joint_loads(LoadCase("s", lines=(line,)))[:, 1] == pytest.approx([-1.5, -4.5, 0.0], abs=1e-14)


def test_heat_and_misfit_lengthen_members() -> None:
    case = LoadCase("h", temperature=(20.0, 0.0, -10.0), misfit={1: 0.003, 2: 0.001})
    elongations = work_out(case, TRUSS, CHORDS).free_elongations
    assert elongations == pytest.approx([20e-5 * 5, 0.003, 0.001 - 10e-5 * 6], abs=1e-18)


def test_the_largest_contribution_remembers_what_cancelled() -> None:
    line = LineLoad("rafter", 0.0, 3.0, vector=(0.0, -4.0))
    case = LoadCase("c", joints={0: (0.0, 6.0)}, lines=(line,))
    action = work_out(case, TRUSS, CHORDS)
    assert action.joint_loads[0].tolist() == [0.0, 0.0]
    assert action.largest_contribution.tolist() == [6.0, 6.0, 0.0]


def test_settlements_are_handed_on_by_joint() -> None:
    case = LoadCase("d", settlement={2: (0.0, -0.01)})
    assert work_out(case, TRUSS, CHORDS).settlements.tolist() == [[0, 0], [0, 0], [0, -0.01]]
