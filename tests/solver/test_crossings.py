"""Where axles stand, against the lever rule by pencil."""

from __future__ import annotations

import numpy as np
import pytest

from solver.chords import lever_shares, make_chord
from solver.crossings import Crossing, Direction
from solver.trains import Axle, Train
from solver.travel import Travel, travel
from tests.building import build_truss, standing_loads

TRUSS = build_truss(
    {"A": (0, 0), "B": (4, 0), "C": (10, 0), "D": (4, 3)},
    ["A-B", "B-C", "A-D", "D-C", "B-D"],
    {"A": "xy", "C": "y"},
)
CHORD = make_chord("deck", (0, 1, 2), TRUSS)


def crossing(*axles: tuple[float, float], factor: float = 1.0, impact: float = 0.0) -> Crossing:
    train = Train("train", tuple(Axle(distance, load) for distance, load in axles))
    return Crossing("train", (train,), "deck", ("forward", "backward"), factor, impact)


def loads(laid: Travel, position: float) -> np.ndarray:
    piece = int(np.searchsorted(laid.breaks, position)) - 1
    return laid.weights[0, :, piece] + (position - laid.breaks[piece]) * laid.weights[1, :, piece]


def test_positions_along_a_chord_are_plan_distances() -> None:
    truss = build_truss({"A": (0, 0), "B": (3, 4), "C": (6, 0)}, ["A-B", "B-C", "A-C"], {"A": "xy", "C": "y"})
    assert make_chord("c", (0, 1, 2), truss).positions.tolist() == [0.0, 3.0, 6.0]


def test_positions_along_a_chord_in_space_leave_heights_out() -> None:
    truss = build_truss({"A": (0, 0, 0), "B": (3, 4, 9), "C": (6, 8, 0)}, ["A-B", "B-C", "A-C"], {"A": "xyz"})
    assert make_chord("c", (0, 1, 2), truss).positions.tolist() == [0.0, 5.0, 10.0]


def test_a_load_on_a_stretch_reaches_joints_by_the_lever_rule() -> None:
    # 1 per length on 3..7: 1 m on panel A-B at 3.5 of 4, 3 m on panel B-C at 1.5 of 6 past B
    shares = lever_shares(CHORD, 3.0, 7.0)
    assert shares == pytest.approx([0.125, 0.875 + 3 * 0.75, 3 * 0.25], abs=1e-15)


def test_a_load_on_a_stretch_of_many_panels_loads_each_of_them() -> None:
    joints = {f"L{i}": (2 * i, 0) for i in range(5)} | {"U": (4, 3)}
    bars = [f"L{i}-L{i + 1}" for i in range(4)] + [f"L{i}-U" for i in range(5)]
    long = make_chord("deck", (0, 1, 2, 3, 4), build_truss(joints, bars, {"L0": "xy", "L4": "y"}))
    assert lever_shares(long, 0.0, 8.0) == pytest.approx([1, 2, 2, 2, 1], abs=1e-15)
    assert lever_shares(long, 3.0, 6.0) == pytest.approx([0, 0.25, 1.75, 1, 0], abs=1e-15)
    assert lever_shares(long, 3.0, 5.0) == pytest.approx([0, 0.25, 1.5, 0.25, 0], abs=1e-15)


def test_an_axle_between_two_joints_reaches_them_by_the_lever_rule() -> None:
    laid = travel(crossing((0.0, 8.0)), CHORD, "forward")
    assert laid.breaks.tolist() == [0.0, 4.0, 10.0]
    assert loads(laid, 1.0) == pytest.approx([6.0, 2.0, 0.0], abs=1e-14)
    assert loads(laid, 7.0) == pytest.approx([0.0, 4.0, 4.0], abs=1e-14)


def test_factor_and_impact_multiply_each_axle() -> None:
    laid = travel(crossing((0.0, 8.0), factor=0.5, impact=0.25), CHORD, "forward")
    assert loads(laid, 1.0).sum() == pytest.approx(5.0, abs=1e-14)


def test_axles_follow_behind_the_front_in_either_direction() -> None:
    train = crossing((0.0, 1.0), (2.0, 10.0))
    forward = travel(train, CHORD, "forward")
    assert forward.breaks.tolist() == [0.0, 2.0, 4.0, 6.0, 10.0, 12.0]
    assert loads(forward, 5.0) == pytest.approx([2.5, 7.5 + 5 / 6, 1 / 6], abs=1e-14)
    backward = travel(train, CHORD, "backward")
    assert backward.breaks.tolist() == [-2.0, 0.0, 2.0, 4.0, 8.0, 10.0]
    assert loads(backward, 5.0) == pytest.approx([0.0, 5 / 6 + 5.0, 1 / 6 + 5.0], abs=1e-14)


def test_an_axle_exactly_over_an_end_joint_counts_and_one_off_the_chord_does_not() -> None:
    train = crossing((0.0, 1.0), (10.0, 10.0))
    forward: Direction = "forward"
    laid = travel(train, CHORD, forward)
    assert laid.jumps.tolist() == [0.0, 10.0, 20.0]
    # front over the far end, rear over the near end: both count
    assert laid.at[:, 1] == pytest.approx([10.0, 0.0, 1.0], abs=1e-14)
    assert laid.weights[0][:, 2] == pytest.approx([10.0, 0.0, 0.0], abs=1e-14)
    assert standing_loads(train, CHORD, forward, 10.0) == pytest.approx([10.0, 0.0, 1.0], abs=1e-14)
    assert standing_loads(train, CHORD, forward, 10.001)[2] == 0.0
    assert standing_loads(train, CHORD, forward, 9.999)[0] == 0.0


def test_the_way_without_any_axle_on_the_chord_is_not_loaded() -> None:
    laid = travel(crossing((0.0, 1.0), (15.0, 1.0)), CHORD, "forward")
    assert laid.breaks.tolist() == [0.0, 4.0, 10.0, 15.0, 19.0, 25.0]
    assert laid.loaded.tolist() == [True, True, False, True, True]
    assert np.abs(laid.weights[0][:, 2]).max() == 0.0


def test_the_travel_starts_with_the_first_axle_though_it_is_not_at_the_front() -> None:
    laid = travel(crossing((3.0, 1.0)), CHORD, "forward")
    assert (laid.breaks[0], laid.breaks[-1]) == (3.0, 13.0)


def test_positions_that_are_one_on_paper_are_one() -> None:
    truss = build_truss(
        {"A": (0, 0), "B": ("1.1", 0), "C": ("3.3", 0), "D": (1, 1)},
        ["A-B", "B-C", "A-D", "D-C", "B-D"],
        {"A": "xy", "C": "y"},
    )
    chord = make_chord("deck", (0, 1, 2), truss)
    laid = travel(crossing((0.0, 1.0), (2.2, 1.0), (3.3, 1.0)), chord, "forward")
    # 3.3 + 0, 1.1 + 2.2 and 0 + 3.3 meet; 1.1 + 3.3 stands alone, as does 3.3 + 2.2
    assert laid.breaks == pytest.approx([0.0, 1.1, 2.2, 3.3, 4.4, 5.5, 6.6], abs=1e-12)
    met = laid.at[:, np.argmin(abs(laid.jumps - 3.3))]
    assert met == pytest.approx([1.0, 1.0, 1.0], abs=1e-12)
