"""One fault neither hides another nor is told twice by what follows from it."""

from __future__ import annotations

import pytest

from explorer.document import FaultyStudy, read_text
from tests.document.example import GOOD, edited

BOTTOM = 'joints = ["L0", "L1", "L2"]\nlateral_props = ["L0", "L2"]'
SINGLE = 'members = ["L0-U1", "U1-L2", "L1-U1"]'
REST = f'[groups.rest]\n{SINGLE}\nsection = "tube"\nmaterial = "steel"\nduties = ["carries the handrail"]'
SECOND = '[crossings.two]\ntrain = "cart"\nchord = "deck"\n[combinations.strength]\ntwo = nan'

# what is wrong, change, key paths of all faults told
TOLD = {
    "a joint of a group that is not there": (
        ('along = ["L0", "L1", "L2"]', 'along = ["L0", "L9", "L2"]'),
        ["groups.bottom.along[1]"],
    ),
    "no text among a group's joints": (
        ('along = ["L0", "L1", "L2"]', 'along = ["L0", 1, "L2"]'),
        ["groups.bottom.along[1]"],
    ),
    "a member that is not there": (('"L1-U1"]', '"L1-U9"]'), ["groups.rest.members[2]"]),
    "members in no list": ((SINGLE, "members = 3"), ["groups.rest.members"]),
    "a group that is no table": ((REST, "[groups]\nrest = 3"), ["groups.rest"]),
    "a misfit with a joint too many": (
        ('"U1-L1" = 3', '"U1-L1-U1" = 3'),
        ["cases.frost.misfit.U1-L1-U1"],
    ),
    "axles in no list": (("axles = [[0, 10], [2.5, 15]]", "axles = false"), ["trains.cart.axles"]),
    "a piece that passes a joint twice": (
        (BOTTOM, 'joints = ["L0", "L1", "L1", "L2"]'),
        ["pieces.bottom.joints[2]"],
    ),
    "a piece and its props": (
        (BOTTOM, 'joints = ["L0", "U1", "L2"]\nlateral_props = ["L1"]'),
        ["pieces.bottom.joints[1]", "pieces.bottom.lateral_props[0]"],
    ),
    "held directions, both wrong": (
        ('L0 = "xy"', 'L0 = [["a", 1], [0, 0]]'),
        ["supports.L0[0][0]", "supports.L0[1]"],
    ),
    "held directions, dependent and without length": (
        ('L0 = "xy"', "L0 = [[1, 0], [2, 0], [0, 0], [0, 1]]"),
        ["supports.L0[1]", "supports.L0[2]"],
    ),
    "a stretch swapped on an unknown chord": (
        ('"deck", normal = 1.2, from = 1.0', '"dock", normal = 1.2, from = 7.0'),
        ["cases.wind.lines[0]", "cases.wind.lines[0].chord"],
    ),
    "a second crossing with no number": (
        ("[combinations.strength]", SECOND),
        ["combinations.strength", "combinations.strength.two"],
    ),
}


def keys_of(text: str) -> list[str]:
    with pytest.raises(FaultyStudy) as caught:
        read_text(text, "teal.toml")
    return sorted(fault.key for fault in caught.value.faults)


@pytest.mark.parametrize(("change", "keys"), TOLD.values(), ids=TOLD)
def test_just_the_faults_themselves_are_told(change: tuple[str, str], keys: list[str]) -> None:
    assert keys_of(edited(change)) == sorted(keys)


def test_misfits_beside_a_member_with_a_fault_are_told_where_it_is_not_their_reason() -> None:
    misfits = ('{ "U1-L1" = 3 }', '{ "U1-L1" = 3, "L0-L2" = 1, "U1-L7" = 1 }')
    told = keys_of(edited(('"L1-U1"]', '"L1-U9"]'), misfits))
    assert told == ["cases.frost.misfit.L0-L2", "cases.frost.misfit.U1-L7", "groups.rest.members[2]"]


def test_missing_groups_are_told_once_and_empty_ones_by_their_joints() -> None:
    start, end = GOOD.index("[groups.bottom]"), GOOD.index("[pieces.bottom]")
    missing = (GOOD[:start] + GOOD[end:]).replace("temperature = { bottom = -20 }\n", "")
    assert keys_of(missing) == ["groups"]
    empty = keys_of(missing.replace("[pieces.bottom]", "[groups]\n[pieces.bottom]"))
    assert {"joints.L0", "joints.L1", "joints.L2", "joints.U1"} <= set(empty)


def test_cases_in_no_table_are_told_once() -> None:
    text = GOOD[: GOOD.index("[cases.dead]")].replace("[joints]", "cases = 3\n\n[joints]")
    assert keys_of(text) == ["cases"]


def test_a_count_with_a_fault_does_not_count_as_0() -> None:
    bare = GOOD[: GOOD.index("[cases.wind]")]
    assert keys_of(bare.replace("counts = 2", "counts = true")) == ["cases.dead.counts"]
