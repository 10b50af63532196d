"""Faults of sections, materials, families and of what a group says of its connections.

Each is the fact, the edit that makes it, the key path it is told at, and words of its message.
"""

from __future__ import annotations

NUMBERS = "area = 1500\nI = 2.2e6\nr = 38.3"
BOTTOM = 'section = "tube"\nmaterial = "steel"\ntension'
PIECE = "[pieces.bottom]"


def sized(size: str, beside: str = "") -> tuple[str, str]:
    """The section of the example as a size."""
    return NUMBERS, f'size = "{size}"\n{beside}'


def bottom(section: str, material: str = "steel", beside: str = "") -> tuple[str, str]:
    """The first group of the example with another section, material and more keys."""
    return BOTTOM, f'section = "{section}"\nmaterial = "{material}"\n{beside}\ntension'


def family(keys: str) -> tuple[str, str]:
    """A family before the pieces of the example."""
    return PIECE, f"[families.light]\n{keys}\n{PIECE}"


def _listing(count: int) -> str:
    """Names that are not looked up: their number is told first."""
    return ", ".join(f'"CHS {i}x3"' for i in range(count))


SECTION_FAULTS = [
    (
        "a size beside an area",
        ("area = 1500\n", 'size = "SHS 100x100x5"\narea = 1500\n'),
        "sections.tube.size",
        "a size beside area, I, r",
    ),
    (
        "a size beside a radius",
        (NUMBERS, 'size = "SHS 100x100x5"\nr = 38.3'),
        "sections.tube.size",
        "a size beside r",
    ),
    ("an unknown size", sized("SHS 100x100x55"), "sections.tube.size", "did you mean SHS 100x100x5"),
    ("a size like no other", sized("elephant"), "sections.tube.size", "the tables are ASTM A500"),
    ("a size of no text", (NUMBERS, "size = 100"), "sections.tube.size", "where a text belongs"),
    ("a pair of what is no angle", sized("2SHS 100x100x5"), "sections.tube.size", "is no angle"),
    ("a gap in words", sized("2L 80x80x8 gap wide"), "sections.tube.size", "the gap of"),
    ("a gap wider than a plate", sized("2L 80x80x8 gap 500"), "sections.tube.size", "up to 100"),
    ("a section with neither area nor size", ("area = 1500\n", ""), "sections.tube.area", "is missing"),
    (
        "turned without a size",
        ("area = 1500", "area = 1500\nturned = true"),
        "sections.tube.turned",
        "there is no size",
    ),
    (
        "turned in words",
        sized("RHS 100x50x5", 'turned = "yes"'),
        "sections.tube.turned",
        "where true or false belongs",
    ),
    (
        "a pair of angles turned",
        sized("2L 80x80x8 gap 10", "turned = true"),
        "sections.tube.turned",
        "cannot be turned",
    ),
    (
        "an unknown section with a bundled one near",
        bottom("SHS 100x100x55"),
        "groups.bottom.section",
        "there is no section 'SHS 100x100x55'; did you mean SHS 100x100x5",
    ),
    (
        "an unknown section with the study's own near",
        bottom("tubes"),
        "groups.bottom.section",
        "did you mean tube?",
    ),
    (
        "an unknown steel",
        bottom("tube", "S3555"),
        "groups.bottom.material",
        "there is no material 'S3555'; did you mean S355?",
    ),
    (
        "a steel thicker than its standard goes",
        bottom("ROD 30", "A500 Gr B round"),
        "groups.bottom.material",
        "is given up to 25.4 mm, not for 30 mm",
    ),
    (
        "tables beside a text that has no folder",
        ("zero_limit = 0", 'zero_limit = 0\nsection_tables = ["mine.csv"]'),
        "section_tables",
        "open it from its folder: stillbar open STUDY",
    ),
    (
        "tables in no list",
        ("zero_limit = 0", 'zero_limit = 0\nsection_tables = "mine.csv"'),
        "section_tables",
        "where a list belongs",
    ),
    ("a net area of 0", bottom("tube", beside="net_area = 0"), "groups.bottom.net_area", "is 0"),
    (
        "a net area larger than the area",
        bottom("tube", beside="net_area = 1501"),
        "groups.bottom.net_area",
        "at most 1500 mm²",
    ),
    (
        "a negative shear lag factor",
        bottom("tube", beside="shear_lag = -0.8"),
        "groups.bottom.shear_lag",
        "negative",
    ),
    (
        "a shear lag factor above 1",
        bottom("tube", beside="shear_lag = 1.01"),
        "groups.bottom.shear_lag",
        "more than 1",
    ),
    (
        "a connection in unknown words",
        bottom("L 80x80x8", beside='connected = "one leg"'),
        "groups.bottom.connected",
        "there are both legs, long leg, short leg",
    ),
    (
        "one leg of a hollow section",
        bottom("SHS 100x100x5", beside='connected = "long leg"'),
        "groups.bottom.connected",
        "shape rectangular hollow",
    ),
    (
        "one leg of a pair of angles",
        bottom("2L 80x80x8", beside='connected = "short leg"'),
        "groups.bottom.connected",
        "shape paired angles",
    ),
    (
        "one leg of a section without a size",
        bottom("tube", beside='connected = "long leg"'),
        "groups.bottom.connected",
        "has no size",
    ),
    (
        "one effective factor for two",
        bottom("tube", beside="effective = [0.9]"),
        "groups.bottom.effective",
        "where two factors belong",
    ),
    (
        "an effective factor that is no list",
        bottom("tube", beside="effective = 0.9"),
        "groups.bottom.effective",
        "where two factors belong",
    ),
    (
        "an effective factor of 0",
        bottom("tube", beside="effective = [1, 0]"),
        "groups.bottom.effective[1]",
        "is 0",
    ),
    (
        "an unknown family",
        bottom("tube", beside='family = "light"'),
        "groups.bottom.family",
        "there is no family 'light'",
    ),
    ("a family of nothing", family(""), "families.light", "a family with nothing in it"),
    ("an empty family", family("sizes = []"), "families.light.sizes", "an empty family"),
    ("a family in no list", family('sizes = "tube"'), "families.light.sizes", "where a list belongs"),
    (
        "an unknown size in a family",
        family('sizes = ["SHS 100x100x5", "SHS 80x80x55"]'),
        "families.light.sizes[1]",
        "did you mean SHS 80x80x5",
    ),
    (
        "a size twice in a family, written in two ways",
        family('sizes = ["SHS 100x100x5", "tube", "shs 100 x 100 x 5.0"]'),
        "families.light.sizes[2]",
        "is there already",
    ),
    ("a section twice in a family", family('sizes = ["tube", "tube"]'), "families.light.sizes[1]", "already"),
    ("more than 400 sizes", family(f"sizes = [{_listing(401)}]"), "families.light.sizes", "401 sizes"),
    (
        "sizes beside a table",
        family('sizes = ["tube"]\ntable = "EN 10210-2 SHS"'),
        "families.light.table",
        "beside sizes",
    ),
    (
        "sizes beside a gap",
        family('sizes = ["tube"]\npairs_gap = 10'),
        "families.light.pairs_gap",
        "beside sizes",
    ),
    (
        "an unknown table",
        family('table = "EN 10210-2 SHSS"'),
        "families.light.table",
        "did you mean EN 10210-2 SHS?",
    ),
    (
        "a part from an unknown size",
        family('table = "EN 10210-2 SHS"\nfrom = "SHS 60x60x44"'),
        "families.light.from",
        "did you mean SHS 60x60x4?",
    ),
    (
        "a part to a size of another table",
        family('table = "EN 10210-2 SHS"\nto = "CHS 60.3x4"'),
        "families.light.to",
        "no size in table EN 10210-2 SHS",
    ),
    (
        "a part with its ends swapped",
        family('table = "EN 10210-2 SHS"\nfrom = "SHS 100x100x5"\nto = "SHS 60x60x4"'),
        "families.light",
        "swapped",
    ),
    (
        "a gap of what are no angles",
        family('table = "EN 10210-2 SHS"\npairs_gap = 10'),
        "families.light.pairs_gap",
        "holds no angles",
    ),
    (
        "a negative gap",
        family('table = "EN 10056-1 L equal"\npairs_gap = -1'),
        "families.light.pairs_gap",
        "negative",
    ),
    (
        "a family's gap wider than a plate",
        family('table = "EN 10056-1 L equal"\npairs_gap = 101'),
        "families.light.pairs_gap",
        "write 0 to 100 mm",
    ),
    ("an unknown key of a family", family('size = ["tube"]'), "families.light.size", "did you mean sizes?"),
]
