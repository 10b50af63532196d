"""Every fault of the study format is told: at its key, in words, and alone where it stands alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from explorer.document import FaultyStudy, read_study, read_text
from tests.document.example import GOOD, edited

TRAIN = "[trains.cart]\naxles = [[0, 10], [2.5, 15]]"
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

# fact, change, key path of the fault, words that its message holds
FAULTS = [
    (
        "a missing key",
        ('section = "tube"\nmaterial = "steel"\ntension', 'material = "steel"\ntension'),
        "groups.bottom.section",
        "is missing",
    ),
    ("a missing title", ('title = "Teal Ford footbridge"\n', ""), "title", "is missing"),
    ("a title beyond 200 characters", ("Teal Ford footbridge", "T" * 201), "title", "201 characters"),
    (
        "an unknown key, with the nearest one",
        ("area = 1500", "aera = 1\narea = 1500"),
        "sections.tube.aera",
        "did you mean area",
    ),
    ("an unknown table", ("[trains.cart]", "[wagons]\n[trains.cart]"), "wagons", "unknown key"),
    ("unknown units", ('units = "metric"', 'units = "metrical"'), "units", "did you mean metric"),
    (
        "an unknown section",
        ('section = "tube"\nmaterial = "steel"\ntension', 'section = "tub"\nmaterial = "steel"\ntension'),
        "groups.bottom.section",
        "no section 'tub'",
    ),
    (
        "an unknown material",
        ('material = "steel"\ntension', 'material = "steal"\ntension'),
        "groups.bottom.material",
        "no material 'steal'",
    ),
    (
        "an unknown joint in a chord",
        ('[chords.deck]\njoints = ["L0", "L1"', '[chords.deck]\njoints = ["L0", "L9"'),
        "chords.deck.joints[1]",
        "no joint 'L9'",
    ),
    (
        "an unknown train, with what this version lacks",
        ('train = "cart"', 'train = "lorry"'),
        "crossings.deck_cart.train",
        "not supported in this version",
    ),
    (
        "an unknown chord",
        ('chord = "deck"\ndir', 'chord = "dock"\ndir'),
        "crossings.deck_cart.chord",
        "no chord",
    ),
    (
        "an unknown direction",
        ('directions = "both"', 'directions = "up"'),
        "crossings.deck_cart.directions",
        "none of the choices",
    ),
    (
        "an unknown case in a combination",
        ("dead = 1.35", "dread = 1.35"),
        "combinations.strength.dread",
        "did you mean dead",
    ),
    (
        "an unknown group under temperature",
        ("{ bottom = -20 }", "{ top = -20 }"),
        "cases.frost.temperature.top",
        "no group 'top'",
    ),
    (
        "an unknown member under misfit",
        ('"U1-L1" = 3', '"U1-L7" = 3'),
        "cases.frost.misfit.U1-L7",
        "no member",
    ),
    (
        "text where a number belongs",
        ("area = 1500", 'area = "big"'),
        "sections.tube.area",
        "'big' where a number",
    ),
    (
        "true where a number belongs",
        ("U1 = [0, -5]", "U1 = [0, true]"),
        "cases.dead.joints.U1[1]",
        "true where",
    ),
    (
        "a number where text belongs",
        ('title = "Teal Ford footbridge"', "title = 7"),
        "title",
        "7 where a text",
    ),
    ("an infinite number", ("area = 1500", "area = inf"), "sections.tube.area", "not finite"),
    ("no number at all", ("U1 = [4, 3]", "U1 = [4, nan]"), "joints.U1[1]", "not finite"),
    (
        "a number beyond all measure",
        ("area = 1500", "area = 1e999999999999999999999"),
        "sections.tube.area",
        "not finite",
    ),
    ("a number far out of range", ("area = 1500", "area = 1e99999"), "sections.tube.area", "out of range"),
    ("an area of 0", ("area = 1500", "area = 0"), "sections.tube.area", "is 0"),
    ("a negative E", ("E = 210_000", "E = -210_000"), "materials.steel.E", "is negative"),
    ("a negative second moment", ("I = 2.2e6", "I = -2.2e6"), "sections.tube.I", "is negative"),
    ("a radius of 0", ("r = 38.3", "r = 0.0"), "sections.tube.r", "is 0"),
    ("a strength fy of 0", ("fy = 355", "fy = 0"), "materials.steel.fy", "is 0"),
    ("a negative strength fu", ("fu = 490", "fu = -1"), "materials.steel.fu", "is negative"),
    (
        "a negative resistance in tension",
        ("tension = 300", "tension = -300"),
        "groups.bottom.tension",
        "negative",
    ),
    (
        "a resistance of 0 in compression",
        ("compression = 120", "compression = 0"),
        "groups.bottom.compression",
        "is 0",
    ),
    (
        "a negative unit weight",
        ("unit_weight = 77", "unit_weight = -77"),
        "materials.steel.unit_weight",
        "negative",
    ),
    ("an axle load of 0", ("[2.5, 15]", "[2.5, 0]"), "trains.cart.axles[1][1]", "is 0"),
    ("a negative axle distance", ("[2.5, 15]", "[-2.5, 15]"), "trains.cart.axles[1][0]", "is negative"),
    ("a negative zero limit", ("zero_limit = 0", "zero_limit = -1"), "zero_limit", "is negative"),
    (
        "a negative crossing factor",
        ("factor = 0.5", "factor = -0.5"),
        "crossings.deck_cart.factor",
        "negative",
    ),
    ("a negative impact", ("impact = 0.3", "impact = -0.3"), "crossings.deck_cart.impact", "negative"),
    ("a negative count of a case", ("counts = 2", "counts = -2"), "cases.dead.counts", "negative"),
    (
        "a negative count of a crossing",
        ("counts = 1", "counts = -1"),
        "crossings.deck_cart.counts",
        "negative",
    ),
    ("coordinates of mixed dimension", ("U1 = [4, 3]", "U1 = [4, 3, 0]"), "joints.U1", "3 coordinates where"),
    ("coordinates in one dimension", ("U1 = [4, 3]", "U1 = [4]"), "joints.U1", "1 components"),
    ("two joints in one place", ("U1 = [4, 3]", "U1 = [4, 3]\nU2 = [4.0, 3.00]\n"), "joints.U2", "one place"),
    ("a joint without members", ("U1 = [4, 3]", "U1 = [4, 3]\nX = [9, 9]"), "joints.X", "without members"),
    (
        "a member from a joint to itself",
        ('"L1-U1"]', '"L1-U1", "U1-U1"]'),
        "groups.rest.members[3]",
        "to itself",
    ),
    ("a member twice in a group", ('"L1-U1"]', '"L1-U1", "U1-L1"]'), "groups.rest.members[3]", "twice"),
    ("a member in two groups", ('"L1-U1"]', '"L1-U1", "L1-L0"]'), "groups.rest.members[3]", "in two groups"),
    (
        "a member that is no pair of joints",
        ('"L1-U1"]', '"L1-U1", "L1"]'),
        "groups.rest.members[3]",
        "no member",
    ),
    (
        "a group without members",
        ('along = ["L0", "L1", "L2"]\nsection', "section"),
        "groups.bottom",
        "without members",
    ),
    ("a repeated held direction", ('L0 = "xy"', 'L0 = "xyy"'), "supports.L0", "repeated"),
    (
        "held directions that depend on one another",
        ('L0 = "xy"', "L0 = [[1, 0], [0, 1], [1, 1]]"),
        "supports.L0[2]",
        "depends",
    ),
    ("a held direction without length", ('L2 = "y"', "L2 = [[0, 0]]"), "supports.L2[0]", "without length"),
    ("a held direction along no axis", ('L2 = "y"', 'L2 = "z"'), "supports.L2", "no axis"),
    ("a support that holds nothing", ('L2 = "y"', 'L2 = ""'), "supports.L2", "no direction"),
    ("a support at no joint", ('L2 = "y"', 'L2 = "y"\nL9 = "y"'), "supports.L9", "no joint"),
    (
        "a chord with one joint",
        ('[chords.deck]\njoints = ["L0", "L1", "L2"]', '[chords.deck]\njoints = ["L0"]'),
        "chords.deck.joints",
        "fewer than two",
    ),
    (
        "a chord that stands still in plan",
        ('[chords.deck]\njoints = ["L0", "L1", "L2"]', '[chords.deck]\njoints = ["L0", "L1", "U1"]'),
        "chords.deck.joints[2]",
        "stands still",
    ),
    (
        "a chord that turns back in plan",
        ('[chords.deck]\njoints = ["L0", "L1", "L2"]', '[chords.deck]\njoints = ["L0", "L2", "L1"]'),
        "chords.deck.joints[1]",
        "right angle or more",
    ),
    (
        "a piece that is not in line",
        ('[pieces.bottom]\njoints = ["L0", "L1", "L2"]', '[pieces.bottom]\njoints = ["L0", "U1", "L2"]'),
        "pieces.bottom.joints[1]",
        "not in line",
    ),
    (
        "a piece with no member between neighbours",
        ('[pieces.bottom]\njoints = ["L0", "L1", "L2"]', '[pieces.bottom]\njoints = ["L0", "L2"]'),
        "pieces.bottom.joints[1]",
        "no member joins L0 and L2",
    ),
    (
        "a member in two pieces",
        ("[chords.deck]", '[pieces.other]\njoints = ["L1", "L2"]\n[chords.deck]'),
        "pieces.other.joints[1]",
        "in two pieces",
    ),
    (
        "a prop that is no joint of its piece",
        ('lateral_props = ["L0", "L2"]', 'lateral_props = ["U1"]'),
        "pieces.bottom.lateral_props[0]",
        "no joint of the piece",
    ),
    (
        "a stretch with its ends swapped",
        ("from = 1.0, to = 6.5", "from = 6.5, to = 1.0"),
        "cases.wind.lines[0]",
        "swapped",
    ),
    ("a stretch that ends outside its chord", ("to = 6.5", "to = 8.1"), "cases.wind.lines[0].to", "outside"),
    (
        "a stretch that starts outside its chord",
        ("from = 1.0", "from = -0.1"),
        "cases.wind.lines[0].from",
        "outside",
    ),
    ("a train with nothing in it", (TRAIN, "[trains.cart]\naxles = []"), "trains.cart", "nothing in it"),
    (
        "an axle that is no pair",
        ("[2.5, 15]", "[2.5, 15, 1]"),
        "trains.cart.axles[1]",
        "where an axle belongs",
    ),
    (
        "a line with both load and normal",
        ("normal = 1.2", "normal = 1.2, load = [0, 1]"),
        "cases.wind.lines[0]",
        "both load and normal",
    ),
    ("a line with neither load nor normal", ("normal = 1.2, ", ""), "cases.wind.lines[0]", "neither"),
    (
        "a settlement that leaves the held directions",
        ("L2 = [0, -10]", "L2 = [1, -10]"),
        "cases.frost.settlement.L2",
        "leaves the held directions",
    ),
    (
        "a settlement of a joint without support",
        ("L2 = [0, -10]", "L1 = [0, -10]"),
        "cases.frost.settlement.L1",
        "leaves the held directions",
    ),
    (
        "temperature without expansion",
        ("expansion = 12e-6\n", ""),
        "cases.frost.temperature.bottom",
        "expansion",
    ),
    ("self weight without unit weight", ("unit_weight = 77\n", ""), "cases.dead.self_weight", "unit_weight"),
    (
        "two travelling crossings in one combination",
        (
            "[combinations.strength]",
            '[crossings.two]\ntrain = "cart"\nchord = "deck"\n[combinations.strength]\ntwo = 1',
        ),
        "combinations.strength",
        "two travelling crossings",
    ),
    (
        "an empty table of combinations",
        ("[combinations.strength]\ndead = 1.35\ndeck_cart = 1.5", "[combinations]"),
        "combinations",
        "empty",
    ),
    ("an empty combination", ("dead = 1.35\ndeck_cart = 1.5", ""), "combinations.strength", "empty"),
    (
        "one name for a case and a crossing",
        ("[cases.wind]", "[cases.deck_cart]"),
        "crossings.deck_cart",
        "too",
    ),
    ("a case with a reserved name", ("[cases.wind]", "[cases.weight]"), "cases.weight", "no name of a case"),
    (
        "a joint's name with a blank",
        ("U1 = [4, 3]", 'U1 = [4, 3]\n"U 2" = [5, 5]\n'),
        'joints."U 2"',
        "no joint's name",
    ),
    ("a name that starts with a dash", ("[cases.wind]", '[cases."-wind"]'), "cases.-wind", "is no name"),
    (
        "a name with a control character",
        ("[cases.wind]", '[cases."wi\\u0001nd"]'),
        'cases."wi\\u0001nd"',
        "is no name",
    ),
    (
        "a name beyond 40 characters",
        ("[cases.wind]", f"[cases.{'w' * 41}]"),
        f"cases.{'w' * 41}",
        "is no name",
    ),
    (
        "strips of a later part",
        (TRAIN, TRAIN + "\nstrips = []"),
        "trains.cart.strips",
        "this version: strips",
    ),
    (
        "a lane of a later part",
        (TRAIN, "[trains.cart]\nlane = 3.0"),
        "trains.cart.lane",
        "this version: lane",
    ),
    (
        "lane_clear of a later part",
        (TRAIN, TRAIN + "\nlane_clear = [0, 1]"),
        "trains.cart.lane_clear",
        "this version: lane_clear",
    ),
    (
        "lane_impact of a later part",
        ("impact = 0.3", "impact = 0.3\nlane_impact = 0"),
        "crossings.deck_cart.lane_impact",
        "this version: lane_impact",
    ),
    (
        "size of a later part",
        ("area = 1500\n", 'size = "SHS 100x100x5"\n'),
        "sections.tube.size",
        "this version: size",
    ),
    ("lean of a later part", ("zero_limit = 0", "zero_limit = 0\nlean = 0.05"), "lean", "this version: lean"),
    (
        "for of a later part",
        ("dead = 1.35", 'for = "strength"\ndead = 1.35'),
        "combinations.strength.for",
        "this version: for",
    ),
]


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
