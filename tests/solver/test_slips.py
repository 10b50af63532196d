"""Slips of joint inspection by hand; what bars bear follows from the joints, as noted beside each truss."""

from __future__ import annotations

import numpy as np

from solver.reasons.joint_rule import LOAD_IN_LINE, THREE_MEMBERS, TWO_MEMBERS, JointRule
from solver.reasons.slips import (
    FOLLOWED,
    FORGOTTEN_SUPPORT,
    LOADED_JOINT,
    STANDS_WITHOUT,
    SYMMETRY,
    ZERO_TAKEN_FOR_REMOVABLE,
    Marking,
    find_mirrors,
    slip_about_need,
    slip_of,
)
from solver.state import take_loads
from solver.stiffness import Stiffness
from solver.truss import Truss
from tests.building import build_truss

Named = tuple[str, str, str, str] | None


def slips(truss: Truss, zeros: list[str], marked: list[str], **loads: tuple[float, ...]) -> dict[str, Named]:
    """For each member marked the kind of its slip, the joint, the other member and the rule.

    `zeros` are those by hand; the forces must agree with them.
    """
    joint_loads = np.zeros((len(truss.joint_names), truss.dimension))
    for name, load in loads.items():
        joint_loads[truss.joint_index(name)] = load
    state = take_loads(Stiffness(truss), joint_loads)
    still = {truss.members[m].name for m in np.flatnonzero(np.abs(state.forces) < 1e-9 * state.own_scale)}
    assert still == set(zeros)
    places = [truss.member_index(name) for name in marked]
    known = frozenset(truss.member_index(name) for name in zeros)
    marking = Marking(JointRule(truss), state, known, frozenset(places))
    return {name: named(truss, marking, place) for name, place in zip(marked, places, strict=True)}


def named(truss: Truss, marking: Marking, member: int) -> Named:
    slip = slip_of(marking, member)
    if slip is None:
        return None
    assert slip.member == member
    joint = "" if slip.joint < 0 else truss.joint_names[slip.joint]
    other = "" if slip.other < 0 else truss.members[slip.other].name
    return slip.kind, joint, other, slip.rule


def kingpost() -> Truss:
    joints = {"A": (0, 0), "B": (2, 0), "C": (4, 0), "D": (2, 3)}
    return build_truss(joints, ["A-B", "B-C", "A-D", "D-C", "B-D"], {"A": "xy", "C": "y"})


def bracket() -> Truss:
    """A wall bracket A, B (held) with an outrigger D; E joins it to the wall above."""
    joints = {"A": (0, 0), "B": (0, 3), "C": (4, 0), "D": (8, 0), "E": (4, 3)}
    return build_truss(joints, ["A-C", "B-C", "C-D", "B-E", "E-C", "D-E"], {"A": "xy", "B": "xy"})


def pratt() -> Truss:
    """Six panels of 4 m, 3 m deep, diagonals falling towards the middle."""
    joints = {f"L{i}": (4 * i, 0) for i in range(7)} | {f"U{i}": (4 * i, 3) for i in range(1, 6)}
    chords = [f"L{i}-L{i + 1}" for i in range(6)] + [f"U{i}-U{i + 1}" for i in range(1, 5)]
    posts = [f"L{i}-U{i}" for i in range(1, 6)]
    diagonals = ["L0-U1", "U1-L2", "U2-L3", "U4-L3", "U5-L4", "L6-U5"]
    return build_truss(joints, chords + posts + diagonals, {"L0": "xy", "L6": "y"})


def test_three_bars_with_two_in_line_at_a_loaded_joint_are_a_load_forgotten() -> None:
    found = slips(kingpost(), [], ["B-D"], B=(0, -1))
    assert found == {"B-D": (LOADED_JOINT, "B", "", THREE_MEMBERS)}


def test_two_bars_at_a_loaded_joint_are_a_load_forgotten() -> None:
    found = slips(bracket(), [], ["C-D", "D-E"], D=(0, -1))
    assert found == dict.fromkeys(("C-D", "D-E"), (LOADED_JOINT, "D", "", TWO_MEMBERS))


def test_bars_truly_zero_are_crossed_out_before_the_load_is_forgotten() -> None:
    # D unloaded, so C-D and D-E are zero, and of three bars at E two are left.
    found = slips(bracket(), ["C-D", "D-E"], ["E-C"], E=(1, -1))
    assert found == {"E-C": (LOADED_JOINT, "E", "", TWO_MEMBERS)}


def test_two_bars_at_a_support_are_a_support_forgotten() -> None:
    # B-D zero by three bars at B; the tie answers the thrust of the rafters.
    found = slips(kingpost(), ["B-D"], ["A-B"], D=(0, -1))
    assert found == {"A-B": (FORGOTTEN_SUPPORT, "A", "", TWO_MEMBERS)}


def test_a_load_forgotten_is_named_before_a_support_forgotten() -> None:
    # A-D is one of two bars at A, which is held, and one of two at D, which is loaded.
    found = slips(kingpost(), ["B-D"], ["A-D"], D=(0, -1))
    assert found == {"A-D": (LOADED_JOINT, "D", "", TWO_MEMBERS)}


def test_the_load_at_a_joint_stays_when_its_support_is_forgotten() -> None:
    # At A a load down would keep the tie from being alone across the rafter; at C nothing does.
    joints = {"A": (0, 0), "C": (4, 0), "D": (2, 3)}
    truss = build_truss(joints, ["A-C", "A-D", "D-C"], {"A": "xy", "C": "y"})
    found = slips(truss, [], ["A-C"], A=(0, -1), D=(0, -1))
    assert found == {"A-C": (FORGOTTEN_SUPPORT, "C", "", TWO_MEMBERS)}


def hung() -> Truss:
    """C-D comes alone, upright, to D, which is held; at C three bars meet that lie in three lines."""
    joints = {"A": (0, 0), "B": (0, 3), "C": (4, 0), "D": (4, -3)}
    return build_truss(joints, ["A-C", "B-C", "C-D"], {"A": "xy", "B": "xy", "D": "xy"})


def test_where_only_load_and_support_forgotten_together_would_show_a_bar_no_slip_is_named() -> None:
    assert slips(hung(), [], ["C-D"], C=(0, -1), D=(0, -1)) == {"C-D": None}


def test_a_load_across_a_bar_does_not_hide_that_its_support_was_forgotten() -> None:
    found = slips(hung(), [], ["C-D"], C=(0, -1), D=(1, 0))
    assert found == {"C-D": (FORGOTTEN_SUPPORT, "D", "", LOAD_IN_LINE)}


def test_a_zero_mirror_image_is_named_where_the_load_stands_on_one_side() -> None:
    # 3 at L1 and 1 at L3 give 3 at L0 and 1 at L6: no shear in the panels L1-L2 and L2-L3, so U1-L2, U2-L3
    # and with them L2-U2 are zero, L3-U3 always; on the right U5-L4 carries the shear of 1, and L4-U4.
    zeros = ["U1-L2", "U2-L3", "L2-U2", "L3-U3", "L5-U5"]
    found = slips(pratt(), zeros, ["U5-L4", "L4-U4", "L4-L5"], L1=(0, -3), L3=(0, -1))
    assert found["U5-L4"] == (SYMMETRY, "", "U1-L2", "")
    assert found["L4-U4"] == (SYMMETRY, "", "L2-U2", "")
    assert found["L4-L5"] is None


def test_what_rests_on_a_bar_wrongly_marked_is_followed_from_it() -> None:
    # All bars work; were D-E zero, two bars at E would be.
    assert slips(bracket(), [], ["E-C", "D-E"], D=(0, -1))["E-C"] == (FOLLOWED, "E", "D-E", TWO_MEMBERS)
    assert slips(bracket(), [], ["E-C"], D=(0, -1))["E-C"] is None


def test_what_follows_from_what_follows_is_traced_to_the_load_forgotten() -> None:
    # A cantilever of two bays and a tip G, all bars at work: were those at G zero, those at F would be, then
    # those at D.
    joints = {"A": (0, 0), "B": (0, 3), "C": (4, 0), "E": (4, 3), "D": (8, 0), "F": (8, 3), "G": (12, 0)}
    bars = ["A-C", "C-D", "D-G", "B-E", "E-F", "F-G", "B-C", "C-E", "E-D", "D-F"]
    truss = build_truss(joints, bars, {"A": "xy", "B": "xy"})
    found = slips(truss, [], ["D-G", "F-G", "D-F", "E-D"], G=(0, -1))
    assert found["F-G"] == (LOADED_JOINT, "G", "", TWO_MEMBERS)
    assert found["D-F"] == (FOLLOWED, "F", "F-G", TWO_MEMBERS)
    assert found["E-D"] == (FOLLOWED, "D", "D-G", TWO_MEMBERS)
    assert slips(truss, [], ["D-G", "D-F", "E-D"], G=(0, -1))["E-D"] is None


def test_nothing_was_forgotten_about_a_bar_that_only_rounding_keeps_from_zero() -> None:
    # B-D is zero by the three bars at B, where neither load nor support is; here its force passes for one.
    truss, joint_loads = kingpost(), np.zeros((4, 2))
    joint_loads[3] = 0, -1
    state = take_loads(Stiffness(truss), joint_loads)
    marked = frozenset([truss.member_index("B-D")])
    assert slip_of(Marking(JointRule(truss), state, frozenset(), marked), *marked) is None


def test_two_bars_that_follow_only_from_each_other_have_no_slip() -> None:
    # L3-U3 is zero, so at U3 either chord bar would follow from the other, and nothing says why one was.
    zeros = ["U1-L2", "U2-L3", "L2-U2", "L3-U3", "L5-U5"]
    found = slips(pratt(), zeros, ["U2-U3", "U3-U4"], L1=(0, -3), L3=(0, -1))
    assert found == {"U2-U3": None, "U3-U4": None}


def images(truss: Truss, *members: str) -> list[list[str]]:
    """For each mirror the images of some members."""
    places = [truss.member_index(name) for name in members]
    return [[truss.members[mirror[place]].name for place in places] for mirror in find_mirrors(truss)]


def test_a_bar_on_the_mirror_is_its_own_image_and_a_lopsided_truss_has_no_mirror() -> None:
    assert images(pratt(), "L3-U3", "U1-L2", "L0-L1") == [["L3-U3", "U5-L4", "L5-L6"]]
    assert images(bracket(), "A-C") == []


def test_no_mirror_lies_flat() -> None:
    square = {"A": (0, 0), "B": (1, 0), "C": (1, 1), "D": (0, 1)}
    truss = build_truss(square, ["A-B", "B-C", "C-D", "D-A", "A-C"], {"A": "xy", "B": "y"})
    assert images(truss, "A-B") == []
    crossed = build_truss(square, ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D"], {"A": "xy", "B": "y"})
    assert images(crossed, "A-B", "B-C") == [["A-B", "D-A"]]


def test_decimals_are_mirrored_exactly() -> None:
    joints = {"A": ("0.1", 0), "B": ("0.7", 0), "C": ("0.3", 1), "D": ("0.5", 1)}
    truss = build_truss(joints, ["A-B", "A-C", "C-D", "D-B", "A-D", "C-B"], {"A": "xy", "B": "y"})
    assert images(truss, "A-C", "A-D") == [["D-B", "C-B"]]


def test_a_space_truss_has_a_mirror_square_to_x_and_one_square_to_y() -> None:
    base = {"A": (0, 0, 0), "B": (4, 0, 0), "C": (4, 6, 0), "D": (0, 6, 0)}
    legs = ["A-T", "B-T", "C-T", "D-T"]
    truss = build_truss(base | {"T": (2, 3, 5)}, legs, dict.fromkeys("ABCD", "xyz"))
    assert images(truss, *legs) == [["B-T", "A-T", "D-T", "C-T"], ["D-T", "C-T", "B-T", "A-T"]]


def test_the_second_round_knows_two_slips() -> None:
    kinds = {
        (needed, marked, zero): slip.kind if (slip := slip_about_need(4, needed, marked, zero)) else None
        for needed in (True, False)
        for marked in (True, False)
        for zero in (True, False)
    }
    named_kinds = {key: kind for key, kind in kinds.items() if kind}
    assert named_kinds == {
        (True, False, True): ZERO_TAKEN_FOR_REMOVABLE,
        (False, True, True): STANDS_WITHOUT,
        (False, True, False): STANDS_WITHOUT,
    }
