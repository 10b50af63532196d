"""Joint inspection on textbook joints; the rules are those of any statics text (common practice)."""

from __future__ import annotations

import numpy as np
import pytest

from solver.reasons.joint_rule import (
    LOAD_IN_LINE,
    LOAD_IN_PLANE,
    ONLY_MEMBER,
    OTHERS_IN_LINE,
    OTHERS_IN_PLANE,
    RULES,
    SUPPORT,
    THREE_MEMBERS,
    TWO_MEMBERS,
    JointRule,
)
from solver.truss import Truss
from tests.building import build_truss


def findings(truss: Truss, **loads: tuple[float, ...]) -> list[tuple[int, str, str, str, list[str]]]:
    joint_loads = np.zeros((len(truss.joint_names), truss.dimension))
    for name, load in loads.items():
        joint_loads[truss.joint_index(name)] = load
    found = JointRule(truss).inspect(joint_loads, np.linalg.norm(joint_loads, axis=1))
    return [
        (
            finding.step,
            truss.joint_names[finding.joint],
            truss.members[finding.member].name,
            finding.rule,
            [truss.members[member].name for member in finding.because],
        )
        for finding in found
    ]


def crane(*extra: str) -> Truss:
    """A wall bracket A, B (held) with outer joint C, and an outrigger D beyond."""
    joints = {"A": (0, 0), "B": (0, 3), "C": (4, 0), "D": (8, 0), "E": (4, 3)}
    return build_truss(joints, ["A-C", "B-C", *extra], {"A": "xy", "B": "xy"})


def test_two_members_not_in_line_at_an_unloaded_joint_are_both_zero() -> None:
    truss = crane("C-D", "B-E", "E-C", "D-E")
    found = findings(truss, C=(0, -1))
    # D: two members; then E: B-E in the x direction and E-C upright remain
    assert found == [
        (1, "D", "C-D", TWO_MEMBERS, []),
        (1, "D", "D-E", TWO_MEMBERS, []),
        (2, "E", "B-E", TWO_MEMBERS, ["D-E"]),
        (2, "E", "E-C", TWO_MEMBERS, ["D-E"]),
    ]


def test_a_load_along_one_of_two_members_leaves_the_other_zero() -> None:
    truss = crane("C-D", "B-E", "E-C", "D-E")
    found = findings(truss, E=(0, -1), D=(1, 0), C=(0, -1))
    assert (1, "D", "D-E", LOAD_IN_LINE, []) in found
    assert (2, "E", "B-E", LOAD_IN_LINE, ["D-E"]) in found
    assert all(member != "C-D" for _, _, member, _, _ in found)


def test_of_three_members_two_in_line_the_third_is_zero() -> None:
    joints = {"A": (0, 0), "B": (2, 0), "C": (4, 0), "D": (2, 3)}
    truss = build_truss(joints, ["A-B", "B-C", "A-D", "D-C", "B-D"], {"A": "xy", "C": "y"})
    assert findings(truss, D=(0, -1)) == [(1, "B", "B-D", THREE_MEMBERS, [])]
    assert findings(truss, B=(0, -1)) == []


def test_a_support_with_a_known_line_stands_in_for_a_member() -> None:
    joints = {"A": (0, 0), "B": (4, 0), "C": (4, 3), "D": (0, 3)}
    truss = build_truss(joints, ["A-B", "B-C", "C-D", "D-A", "A-C"], {"A": "xy", "B": "y"})
    # B stands on rollers: nothing but A-B pushes along x there
    assert findings(truss, C=(0, -1), D=(0, -1)) == [
        (1, "B", "A-B", SUPPORT, []),
        (1, "D", "C-D", LOAD_IN_LINE, []),
        (2, "C", "A-C", LOAD_IN_LINE, ["C-D"]),
    ]


def test_a_roller_on_a_slope_holds_along_its_own_line_only() -> None:
    joints = {"A": (0, 0), "B": (4, 3), "C": (0, 3)}
    members = ["A-B", "A-C", "B-C"]
    truss = build_truss(joints, members, {"A": "xy", "B": [(4, 3)]})
    # the reaction at B runs along A-B: B-C has nothing to push against
    assert findings(truss, C=(0, -1))[0] == (1, "B", "B-C", SUPPORT, [])


def test_in_space_a_member_out_of_the_plane_of_all_others_is_zero() -> None:
    joints = {"A": (0, 0, 0), "B": (2, 0, 0), "C": (0, 3, 0), "D": (1, 1, 3), "P": (1, 1, 0)}
    members = ["A-P", "B-P", "C-P", "D-P"]
    truss = build_truss(joints, members, {"A": "xyz", "B": "xyz", "C": "xyz", "D": "xyz"})
    assert findings(truss)[0] == (1, "P", "D-P", OTHERS_IN_PLANE, [])
    assert (1, "P", "D-P", LOAD_IN_PLANE, []) in findings(truss, P=(1, 0.5, 0))
    assert not any(member == "D-P" for _, _, member, _, _ in findings(truss, P=(0, 0, -1)))


def test_a_single_member_at_an_unloaded_joint_is_zero() -> None:
    joints = {"A": (0, 0), "B": (2, 0)}
    truss = build_truss(joints, ["A-B"], {"A": "xy"})
    assert (1, "B", "A-B", ONLY_MEMBER, []) in findings(truss)


def test_more_than_two_others_in_one_line_leave_the_member_across_zero() -> None:
    joints = {"A": (0, 0), "B": (2, 0), "C": (4, 0), "D": (6, 0), "E": (2, 3)}
    members = ["A-B", "B-C", "B-D", "B-E"]
    truss = build_truss(joints, members, {"A": "xy", "C": "xy", "D": "xy", "E": "xy"})
    assert (1, "B", "B-E", OTHERS_IN_LINE, []) in findings(truss)


@pytest.mark.parametrize(("sine", "shown"), [("0.9e-9", False), ("1.1e-9", True)])
def test_a_direction_counts_from_a_billionth_of_a_unit_vector_up(sine: str, shown: bool) -> None:
    joints = {"A": (0, 0), "B": (1, 0), "C": (2, sine)}
    truss = build_truss(joints, ["A-B", "B-C"], {"A": "xy", "C": "xy"})
    at_b = [member for _, joint, member, _, _ in findings(truss) if joint == "B"]
    assert bool(at_b) is shown


@pytest.mark.parametrize(("left", "shown"), [(0.9e-12, True), (1.1e-12, False)])
def test_a_load_that_cancels_to_a_trillionth_is_none(left: float, shown: bool) -> None:
    joints = {"A": (0, 0), "B": (2, 0), "C": (4, 0), "D": (2, 3)}
    truss = build_truss(joints, ["A-B", "B-C", "A-D", "D-C", "B-D"], {"A": "xy", "C": "y"})
    loads, contributions = np.zeros((4, 2)), np.zeros(4)
    loads[1, 1], contributions[1] = left * 7.0, 7.0
    loads[3, 1], contributions[3] = -1.0, 1.0
    found = JointRule(truss).inspect(loads, contributions)
    assert bool(found) is shown


def test_what_is_remembered_of_one_load_does_not_leak_into_the_next() -> None:
    joints = {"A": (0, 0), "B": (2, 0), "C": (4, 0), "D": (2, 3)}
    truss = build_truss(joints, ["A-B", "B-C", "A-D", "D-C", "B-D"], {"A": "xy", "C": "y"})
    rule = JointRule(truss)
    at_d = np.zeros((4, 2))
    at_d[3, 1] = -1.0
    at_b = np.zeros((4, 2))
    at_b[1, 1] = -1.0
    sizes = np.ones(4)
    assert len(rule.inspect(at_d, sizes)) == 1
    assert len(rule.inspect(at_b, sizes)) == 0
    assert len(rule.inspect(at_d, sizes)) == 1


def test_the_words_for_rules_differ() -> None:
    assert len(set(RULES)) == len(RULES) == 8
