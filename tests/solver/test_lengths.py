"""Unbraced lengths by hand: between joints in the plane, between lateral props out of it, never guessed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.lengths import Unbraced, find_unbraced, holders_at
from solver.truss import Piece, Truss
from tests.building import build_truss

# A bottom chord of bars 3, 3, 4 and 2 m long, with posts and diagonals above its inner joints.
JOINTS = {
    "L0": (0, 0),
    "L1": (3, 0),
    "L2": (6, 0),
    "L3": (10, 0),
    "L4": (12, 0),
    "U1": (3, 4),
    "U2": (6, 4),
    "U3": (10, 4),
}
MEMBERS = [
    *("L0-L1", "L1-L2", "L3-L2", "L3-L4"),
    *("L0-U1", "U1-U2", "U2-U3", "U3-L4"),
    *("L1-U1", "L2-U2", "L3-U3", "U1-L2", "U3-L2"),
]
TRUSS = build_truss(JOINTS, MEMBERS, {"L0": "xy", "L4": "y"})
BOTTOM = ("L0", "L1", "L2", "L3", "L4")


def pieced(*pieces: tuple[tuple[str, ...], tuple[str, ...] | None]) -> Truss:
    """The truss with pieces through joints, each with its lateral props."""
    index = TRUSS.joint_index
    made = [
        Piece(
            f"piece {i}",
            tuple(index(name) for name in joints),
            None if props is None else tuple(index(name) for name in props),
        )
        for i, (joints, props) in enumerate(pieces)
    ]
    return replace(TRUSS, pieces=tuple(made))


def of(truss: Truss, name: str) -> Unbraced:
    return find_unbraced(truss)[truss.member_index(name)]


def across(truss: Truss, *names: str) -> list[float | None]:
    return [of(truss, name).across for name in names]


def test_in_the_plane_a_member_buckles_between_its_joints_in_a_piece_or_not() -> None:
    truss = pieced((BOTTOM, ("L0", "L4")))
    # the sides of 3-4-5 triangles, and of one of 4 and 4
    wanted = {"L1-L2": 3.0, "L2-L3": 4.0, "L0-U1": 5.0, "L1-U1": 4.0, "U3-L2": 32**0.5}
    for name, length in wanted.items():
        for each in (TRUSS, truss):
            assert of(each, name).in_plane == pytest.approx(length, rel=1e-12)


def test_without_pieces_nothing_is_known_out_of_plane() -> None:
    assert {unbraced.across for unbraced in find_unbraced(TRUSS)} == {None}


def test_a_piece_without_lateral_props_is_not_known_out_of_plane() -> None:
    for props in (None, ()):
        assert across(pieced((BOTTOM, props)), "L0-L1", "L3-L4", "L1-U1") == [None] * 3


def test_a_bar_of_a_piece_buckles_between_the_props_on_both_its_sides() -> None:
    truss = pieced((BOTTOM, ("L4", "L2", "L0")))
    # 3 + 3 m before L2, 4 + 2 m behind it; the way the props and the bar are written does not matter
    assert across(truss, "L0-L1", "L1-L2", "L3-L2", "L3-L4") == pytest.approx([6.0, 6.0, 6.0, 6.0], rel=1e-12)
    uneven = pieced((BOTTOM, ("L0", "L3", "L4")))
    lengths = across(uneven, "L0-L1", "L1-L2", "L3-L2", "L3-L4")
    assert lengths == pytest.approx([10.0, 10.0, 10.0, 2.0], rel=1e-12)


def test_beyond_the_last_prop_nothing_is_known() -> None:
    truss = pieced((BOTTOM, ("L1", "L3")))
    assert across(truss, "L0-L1", "L3-L4") == [None, None]
    assert across(truss, "L1-L2", "L3-L2") == pytest.approx([7.0, 7.0], rel=1e-12)


def test_a_member_of_no_piece_is_known_where_both_its_joints_are_held_in_pieces() -> None:
    truss = pieced((BOTTOM, ("L0", "L1", "L4")), (("U1", "U2", "U3"), ("U1", "U3")))
    assert across(truss, "L1-U1", "L0-U1") == pytest.approx([4.0, 5.0], rel=1e-12)
    # L2 and U2 are held by nothing
    assert across(truss, "U1-L2", "L2-U2", "U3-L2") == [None] * 3
    # U2 lies between props 3 + 4 m apart
    assert across(truss, "U1-U2", "U2-U3") == pytest.approx([7.0, 7.0], rel=1e-12)


def test_props_of_another_piece_do_not_hold_a_bar_of_this_one() -> None:
    # U3-L4 is a piece of its own, and says nothing of L4 for the bottom chord
    truss = pieced((BOTTOM, ("L0", "L3")), (("U3", "L4"), ("U3", "L4")))
    assert across(truss, "L3-L4", "U3-L4") == [None, pytest.approx(20**0.5, rel=1e-12)]


def test_a_member_knows_its_piece_and_others_have_none() -> None:
    truss = pieced((BOTTOM, None), (("U1", "U2", "U3"), None))
    found = {member.name: of(truss, member.name).piece for member in truss.members}
    assert [name for name, piece in found.items() if piece == truss.pieces[0]] == MEMBERS[:4]
    assert [name for name, piece in found.items() if piece == truss.pieces[1]] == ["U1-U2", "U2-U3"]
    assert [name for name, piece in found.items() if piece is None] == [
        *("L0-U1", "U3-L4"),
        *MEMBERS[8:],
    ]


def named(truss: Truss, members: tuple[int, ...]) -> list[str]:
    return [truss.members[member].name for member in members]


def test_holders_are_the_members_that_are_not_in_line() -> None:
    first, second = of(TRUSS, "L1-L2").holders
    assert named(TRUSS, first) == ["L1-U1"]
    assert named(TRUSS, second) == ["L2-U2", "U1-L2", "U3-L2"]
    # at the support L4 the diagonal alone; at L0 of the diagonal the chord
    assert named(TRUSS, of(TRUSS, "L3-L4").holders[1]) == ["U3-L4"]
    assert named(TRUSS, of(TRUSS, "L0-U1").holders[0]) == ["L0-L1"]
    at = holders_at(TRUSS, TRUSS.joint_index("U2"), TRUSS.member_index("L2-U2"))
    assert named(TRUSS, at) == ["U1-U2", "U2-U3"]


def test_in_space_every_joint_holds() -> None:
    # a tripod of legs 3-4-5 and a bar along the ground
    joints = {"A": (3, 0, 0), "B": (-3, 0, 0), "C": (0, 3, 0), "T": (0, 0, 4)}
    truss = build_truss(joints, ["A-T", "B-T", "C-T", "A-B"], {"A": "xyz", "B": "xyz", "C": "xyz"})
    for unbraced, length in zip(find_unbraced(truss), (5, 5, 5, 6), strict=True):
        assert (unbraced.in_plane, unbraced.across) == pytest.approx((length, length), rel=1e-12)
    assert named(truss, find_unbraced(truss)[0].holders[1]) == ["B-T", "C-T"]
