"""Every fault of the study format is told: at its key, in words, and alone where it stands alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from explorer.document import FaultyStudy, read_study, read_text
from tests.document.example import GOOD, edited
from tests.document.load_faults import LOAD_FAULTS
from tests.document.rule_faults import RULE_FAULTS
from tests.document.section_faults import SECTION_FAULTS
from tests.document.truss_faults import TRUSS_FAULTS

SPACE = (
    GOOD.replace("L0 = [0, 0]", "L0 = [0, 0, 0]")
    .replace("L1 = [4, 0]", "L1 = [4, 0, 0]")
    .replace("L2 = [8, 0]", "L2 = [8, 0, 0]")
    .replace("U1 = [4, 3]", "U1 = [4, 0, 3]")
    .replace("[0, -5]", "[0, 0, -5]")
    .replace("[0, -3]", "[0, 0, -3]")
    .replace("[0, -10]", "[0, 0, -10]")
    .replace('L2 = "y"', 'L2 = "z"')
)

FAULTS = TRUSS_FAULTS + LOAD_FAULTS + SECTION_FAULTS + RULE_FAULTS


def faults_of(text: str) -> list[tuple[str, str]]:
    with pytest.raises(FaultyStudy) as caught:
        read_text(text, "teal.toml")
    assert all(fault.file == "teal.toml" and fault.wrong for fault in caught.value.faults)
    return [(fault.key, str(fault)) for fault in caught.value.faults]


def test_the_example_itself_has_no_fault() -> None:
    assert read_text(GOOD, "teal.toml").study.title == "Teal Ford footbridge"


# Some edits take away what others refer to; those tell their consequence too.
FOLLOWED = {
    "an unknown group under temperature",
    "a joint's name with a blank",
    "one name for a case and a crossing",
    "two joints in one place",
    "a group without members",
}


@pytest.mark.parametrize(("fact", "change", "key", "words"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_a_fault_is_told_at_its_key_and_alone(
    fact: str, change: tuple[str, str], key: str, words: str
) -> None:
    found = faults_of(edited(change))
    assert key in [place for place, _ in found], found
    message = next(text for place, text in found if place == key)
    assert words in message
    assert message.startswith(f"teal.toml: {key}: ")
    if fact not in FOLLOWED:
        assert len(found) == 1, found


def test_normal_in_space_is_told() -> None:
    assert (
        read_text(SPACE.replace("normal = 1.2", "load = [0, 0, 1]"), "teal.toml").study.truss.dimension == 3
    )
    found = faults_of(SPACE)
    assert [key for key, _ in found] == ["cases.wind.lines[0].normal"]


def test_a_study_with_neither_case_nor_crossing_is_told() -> None:
    text = GOOD[: GOOD.index("[cases.dead]")]
    assert "neither a case nor a crossing" in faults_of(text)[0][1]


def test_a_study_whose_counts_are_all_0_is_told() -> None:
    changes = [
        ("counts = 2", "counts = 0"),
        ("counts = 1", "counts = 0"),
        ("to = 6.5 }]", "to = 6.5 }]\ncounts = 0"),
    ]
    text = edited(*changes, ("misfit =", "counts = 0\nmisfit ="))
    assert [key for key, _ in faults_of(text)] == ["cases"]


FIVE = [
    (
        [
            ("area = 1500", "area = -1500"),
            ('L0 = "xy"', 'L0 = "xq"'),
            ("factor = 0.5", 'factor = "half"'),
            ('"L1-U1"]', '"L1-U1", "L1-L1"]'),
            ("dead = 1.35", "dead = nan"),
        ],
        {"sections.tube.area", "supports.L0", "crossings.deck_cart.factor", "groups.rest.members[3]",
         "combinations.strength.dead"},
    ),
    (
        [
            ("units = ", "unit = 1\nunits = "),
            ("U1 = [4, 3]", "U1 = [4, 3]\nU7 = [4, 3.0]"),
            ("[2.5, 15]", "[2.5]"),
            ("{ bottom = -20 }", "{ bottom = true }"),
            ('lateral_props = ["L0", "L2"]', 'lateral_props = ["L0", "LL2"]'),
        ],
        {"unit", "joints.U7", "trains.cart.axles[1]", "cases.frost.temperature.bottom",
         "pieces.bottom.lateral_props[1]"},
    ),
]  # fmt: skip


@pytest.mark.parametrize(("changes", "keys"), FIVE, ids=["across the file", "in other places"])
def test_five_faults_are_told_all_together(changes: list[tuple[str, str]], keys: set[str]) -> None:
    found = {key for key, _ in faults_of(edited(*changes))}
    assert keys <= found
    # a joint in another's place is also one without members; nothing else follows
    assert found - keys <= {"joints.U7"}


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"title = \xff", "byte 9 is not UTF-8"),
        (b"title = ", "is not TOML"),
        (b"title = 1\ntitle = 2", "is not TOML"),
        (b"a = " + b"[" * 5000, "brackets within brackets"),
        (b"a = " + b"9" * 5000, "whole number of more than"),
        (b"\x00", "is not TOML"),
        (b"#" * 8_000_001, "larger than 8 MB"),
    ],
    ids=["not UTF-8", "cut off", "a key twice", "deep", "a number of 5,000 digits", "NUL", "too large"],
)
def test_a_file_that_is_no_toml_is_told(content: bytes, words: str) -> None:
    with pytest.raises(FaultyStudy, match=words):
        read_text(content, "teal.toml")


def test_a_byte_order_mark_and_dos_line_ends_are_no_fault() -> None:
    text = b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode()
    assert read_text(text, "teal.toml").study.title == "Teal Ford footbridge"


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(FaultyStudy, match="cannot be read"):
        read_study(tmp_path / "none.toml")
    with pytest.raises(FaultyStudy, match="cannot be read"):
        read_study(tmp_path)
    large = tmp_path / "large.toml"
    large.write_bytes(b"#" * 8_000_001)
    with pytest.raises(FaultyStudy, match="larger than 8 MB"):
        read_study(large)


def test_more_than_20000_joints_or_members_are_refused_by_name() -> None:
    joints = "\n".join(f"J{i} = [{i}, 0]" for i in range(20_001))
    with pytest.raises(FaultyStudy, match="20005 joints; at most 20000"):
        read_text(GOOD.replace("[joints]\n", f"[joints]\n{joints}\n"), "teal.toml")
    names = ", ".join(f'"L{i}-U1"' for i in range(20_010))
    with pytest.raises(FaultyStudy, match="20015 members; at most 20000"):
        read_text(GOOD.replace('"L1-U1"]', f'"L1-U1", {names}]'), "teal.toml")
