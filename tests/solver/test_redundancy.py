"""Waking loads, shares and removals by pencil; published values stand in tests/published."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from solver import redundancy, stiffness, sweep
from solver.answers import answer
from solver.redundancy import examine_redundancy
from solver.removal import remove_each
from solver.statics import examine
from solver.stiffness import Stiffness
from tests.building import build_study, build_truss, load_case

JOINTS = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3)}
MEMBERS = ["A-B", "B-C", "A-D", "D-C", "B-D"]
KING_POST = build_truss(JOINTS, MEMBERS, {"A": "xy", "C": "y"})


def examined(truss: Any) -> redundancy.Redundancy:
    return examine_redundancy(Stiffness(truss), examine(truss))


def test_the_waking_load_of_a_king_post_pulls_its_foot() -> None:
    found = examined(KING_POST)
    names = [KING_POST.joint_names[joint] for joint in found.waking_joints]
    post = 4
    assert (names[post], found.waking_forces[post]) == ("B", pytest.approx(1.0))
    assert found.waking_directions[post] == pytest.approx([0, -1], abs=1e-15)
    # A-B: a pull of 1 along x at B or C gives 1; at B also 2/3 down: (1, -2/3) is the strongest
    assert names[0] == "B"
    assert found.waking_forces[0] == pytest.approx(np.hypot(1, 2 / 3))
    assert found.waking_directions[0] == pytest.approx(np.array([1, -2 / 3]) / np.hypot(1, 2 / 3))
    assert found.condition == pytest.approx(found.waking_forces.max())


def test_the_first_joint_in_the_files_order_wins_a_tie() -> None:
    joints = {"A": (0, 0), "B": (1, 0), "C": (2, 0), "D": (3, 0)}
    truss = build_truss(joints, ["A-B", "B-C", "C-D"], {"A": "xy", "B": "y", "C": "y", "D": "y"})
    found = examined(truss)
    assert [truss.joint_names[joint] for joint in found.waking_joints] == ["B", "C", "D"]


def test_a_load_along_a_held_direction_wakes_nothing() -> None:
    joints = {"A": (0, 0), "B": (4, 3)}
    truss = build_truss(joints, ["A-B"], {"A": "xy", "B": [(0, 1)]})
    found = examined(truss)
    # B can only move along x: 1 along x puts 5/4 into the bar
    assert found.waking_directions[0] == pytest.approx([1, 0])
    assert found.waking_forces[0] == pytest.approx(1.25)


def test_a_member_held_at_both_ends_is_reached_by_no_joint_load() -> None:
    joints = {**JOINTS, "E": (0, 3)}
    truss = build_truss(joints, [*MEMBERS, "A-E"], {"A": "xy", "C": "y", "E": "xy"})
    found = examined(truss)
    assert found.waking_joints[5] == -1
    assert found.waking_forces[5] == 0.0
    assert found.shares[5] == 1.0
    assert not remove_each(examine(truss)).mechanism[5]


def test_shares_of_two_bars_in_a_row_between_supports_follow_their_stiffness() -> None:
    joints = {"A": (0, 0), "B": (1, 0), "C": (3, 0)}
    truss = build_truss(joints, ["A-B", "B-C"], {"A": "xy", "B": "y", "C": "xy"}, areas=[3.0, 2.0])
    # k = 3 and 1: of its own misfit each is held back by the share of the other's flexibility
    assert examined(truss).shares == pytest.approx([1 / 4, 3 / 4])


def test_blocks_of_joints_give_what_one_block_gives(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = examined(KING_POST)
    monkeypatch.setattr(redundancy, "ELEMENTS", 1)
    pieces = examined(KING_POST)
    assert pieces.waking_joints.tolist() == whole.waking_joints.tolist()
    assert pieces.shares == pytest.approx(whole.shares, abs=1e-15)
    assert pieces.condition == pytest.approx(whole.condition)


def test_blocks_of_rows_give_what_one_block_gives(monkeypatch: pytest.MonkeyPatch) -> None:
    case = load_case(KING_POST, D=(1, -2))
    study = build_study(KING_POST, [case], chord=["A", "B", "C"], axles=[(0.0, 3.0), (5.0, 1.0)])
    whole = answer(study)
    monkeypatch.setattr(sweep, "ELEMENTS", 10)
    pieces = answer(study)
    assert pieces.forces.tension.values == pytest.approx(whole.forces.tension.values)
    assert pieces.forces.tension.positions == pytest.approx(whole.forces.tension.positions, nan_ok=True)
    assert pieces.forces.zero_share == pytest.approx(whole.forces.zero_share)


def test_without_a_bar_of_a_determinate_truss_just_its_mechanism_moves() -> None:
    removals = answer(build_study(KING_POST, [load_case(KING_POST, B=(0, -1))])).removals
    assert removals.mechanism.all()
    told = [[KING_POST.joint_names[joint] for joint in joints] for joints in removals.moves]
    # the chord in two: D turns about A, C rolls, B follows both; a rafter gone: C stays where it is
    assert told == [["B", "C", "D"], ["B", "C", "D"], ["B", "D"], ["B", "D"], ["B"]]


def test_the_quick_factor_of_large_trusses_gives_what_the_careful_one_gives(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    case = load_case(KING_POST, D=(1, -2))
    study = build_study(KING_POST, [case], chord=["A", "B", "C"], axles=[(0.0, 3.0)])
    careful = answer(study)
    tried: list[object] = []
    original = stiffness.forces_first
    monkeypatch.setattr(stiffness, "LARGE", 0)
    monkeypatch.setattr(stiffness, "forces_first", lambda *given: tried.append(1) or original(*given))
    quick = answer(study)
    assert tried
    assert quick.responses.forces.cases == pytest.approx(careful.responses.forces.cases, abs=1e-14)
    assert quick.redundancy.shares == pytest.approx(careful.redundancy.shares, abs=1e-14)


def test_where_the_quick_factor_does_not_balance_the_careful_one_is_taken(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    # a flat arch so near a mechanism that its stiffness matrix has lost all digits
    joints = {"A": (0, 0), "B": (5, "1e-7"), "C": (10, 0)}
    truss = build_truss(joints, ["A-B", "B-C"], {"A": "xy", "C": "xy"})
    monkeypatch.setattr(stiffness, "LARGE", 0)
    forces = Stiffness(truss).respond(np.array([[0, 0, 0, -1.0, 0, 0]]).T).forces
    assert forces[:, 0] == pytest.approx([-2.5e7, -2.5e7], rel=1e-9)


def test_the_worst_imbalance_of_all_joint_loads_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    original = Stiffness.respond

    def lacking(self: Stiffness, *given: Any) -> stiffness.Response:
        response = original(self, *given)
        response.imbalance[3, 2] = 0.5
        return response

    monkeypatch.setattr(Stiffness, "respond", lacking)
    # the third column loads B along x: 1 in A-B at most, so the scale is the load itself
    assert examined(KING_POST).imbalance == pytest.approx(0.5)
    flat = build_truss({"A": (0, 0), "B": (5, "0.01"), "C": (10, 0)}, ["A-B", "B-C"], {"A": "xy", "C": "xy"})
    # B's load along x is column 2; along y it puts 250 into each bar, along x half of 1
    monkeypatch.setattr(Stiffness, "respond", lambda self, *given: _lack(original(self, *given), 3))
    assert examined(flat).imbalance == pytest.approx(0.5 / 250, rel=1e-4)


def _lack(response: stiffness.Response, column: int) -> stiffness.Response:
    response.imbalance[3, column] = 0.5
    return response
