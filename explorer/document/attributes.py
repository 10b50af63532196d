"""The attribute list: every key of a study, its kind, unit, default and meaning, in one place.

It drives reading, defaults, messages about unknown and missing keys, and the format page.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

Kind = Literal["text", "number", "positive", "not negative", "flag", "name", "names", "pairs", "table", "any"]
"""How a value is read: a number of any sign, more than 0, at least 0; true or false; the name of something;
names; a list of pairs of numbers; a table by name; or in a way of its own."""


@dataclass(frozen=True)
class Attribute:
    """One key of one table of a study (`table` is its path, * standing for a name)."""

    table: str
    key: str
    kind: Kind
    meaning: str
    quantity: str = "none"
    required: bool = False
    default: object = None


def _a(
    table: str,
    key: str,
    kind: Kind,
    meaning: str,
    *,
    quantity: str = "none",
    required: bool = False,
    default: object = None,
) -> Attribute:
    return Attribute(table, key, kind, meaning, quantity, required, default)


ATTRIBUTES: tuple[Attribute, ...] = (
    _a("", "title", "text", "what the study is called, at most 200 characters", required=True),
    _a("", "units", "text", "`metric` or `US`", required=True),
    _a("", "zero_limit", "not negative", "a force up to this counts as zero", quantity="force", default=0),
    _a(
        "",
        "lean",
        "not negative",
        "share of gravity loads that acts across, in any direction, where they are tried leaning",
        default=Decimal("0.05"),
    ),
    _a("", "joints", "table", "coordinates by joint name, two or three, the last one up", required=True),
    _a("", "supports", "table", "held directions by joint: letters, or a list of vectors", required=True),
    _a("", "section_tables", "names", "files of the user's own tables of sections, beside the study file"),
    _a("", "materials", "table", "materials by name, beside the bundled ones"),
    _a("", "sections", "table", "cross sections by name, beside the bundled ones"),
    _a("", "families", "table", "sections among which a lighter one is sought, by name"),
    _a("", "groups", "table", "groups of members by name; every member is in exactly one", required=True),
    _a("", "pieces", "table", "members in line that pass through their joints as one piece, by name"),
    _a("", "chords", "table", "lines of joints that loads lie on or travel along, by name"),
    _a("", "cases", "table", "load cases that stand still, by name"),
    _a("", "trains", "table", "moving loads by name"),
    _a("", "crossings", "table", "trains travelling along chords, by name"),
    _a("", "combinations", "table", "by name, factors by name of case or crossing"),
    _a("", "standards", "table", "the standard that resistances are worked out by"),
    _a("", "limits", "table", "limits of the study's own"),
    _a("materials", "E", "positive", "modulus of elasticity", quantity="stress", required=True),
    _a("materials", "fy", "positive", "yield strength, for resistances", quantity="stress"),
    _a("materials", "fu", "positive", "ultimate strength, for resistances", quantity="stress"),
    _a("materials", "unit_weight", "positive", "weight per volume, for self weight", quantity="unit_weight"),
    _a("materials", "expansion", "number", "thermal expansion per degree", quantity="expansion"),
    _a("sections", "size", "name", "a size of a table, in place of `area`, `I` and `r`"),
    _a("sections", "turned", "flag", "the width of the size lies in the plane of the truss", default=False),
    _a("sections", "area", "positive", "area; required without `size`", quantity="area"),
    _a(
        "sections",
        "I",
        "positive",
        "second moment about the axis across the plane (space: the least)",
        quantity="second_moment",
    ),
    _a("sections", "r", "positive", "radius of gyration, likewise", quantity="radius"),
    _a("sections", "depth", "positive", "depth in the plane, for `length_to_depth`", quantity="radius"),
    _a("families", "sizes", "names", "sections or sizes by name"),
    _a("families", "table", "name", "in place of `sizes`: a table of sections, whole or in part"),
    _a("families", "from", "name", "of a table: its lightest size that counts"),
    _a("families", "to", "name", "of a table: its heaviest size that counts"),
    _a(
        "families",
        "pairs_gap",
        "not negative",
        "of a table of angles: two back to back, so far apart",
        quantity="small_length",
    ),
    _a("groups", "along", "names", "joints; neighbours are joined by a member each"),
    _a("groups", "members", "names", "members as `JOINT-JOINT`"),
    _a("groups", "section", "name", "name of the section, or a size", required=True),
    _a("groups", "material", "name", "name of the material, or a bundled steel", required=True),
    _a("groups", "tension", "positive", "design resistance of each member in tension", quantity="force"),
    _a("groups", "compression", "positive", "design resistance in compression", quantity="force"),
    _a("groups", "net_area", "positive", "net area at the connections", quantity="area"),
    _a("groups", "shear_lag", "positive", "AISC 360-22: U; EN 1993-1-8, angles joined by one leg: β"),
    _a(
        "groups",
        "connected",
        "text",
        "of single angles: `both legs`, `long leg` or `short leg`",
        default="both legs",
    ),
    _a(
        "groups",
        "connectors",
        "any",
        "of paired angles: spacing and how they are fixed, `snug` or `welded`",
        quantity="length",
    ),
    _a("groups", "effective", "any", "buckling over unbraced length: [in plane, out of plane]"),
    _a("groups", "family", "name", "the family in which a lighter section is sought"),
    _a("groups", "secondary", "flag", "bracing and the like, as codes recommend slenderness", default=False),
    _a("groups", "duties", "names", "what the model cannot see, in words"),
    _a("pieces", "joints", "names", "joints in line, neighbours joined by members", required=True),
    _a("pieces", "lateral_props", "names", "joints of the piece that are held out of plane"),
    _a("chords", "joints", "names", "joints in order; positions are plan distances", required=True),
    _a("cases", "self_weight", "number", "times the members' own weight, half to each end", default=0),
    _a("cases", "joints", "any", "force vectors by joint", quantity="force"),
    _a("cases", "lines", "any", "uniform loads on chords"),
    _a("cases", "temperature", "any", "change by group, or one number for all", quantity="temperature"),
    _a("cases", "settlement", "any", "movement of supports, in held directions", quantity="small_length"),
    _a("cases", "misfit", "any", "made too long by this much, by member", quantity="small_length"),
    _a("cases", "counts", "not negative", "how often it counts in the zero share", default=1),
    _a("lines", "chord", "name", "name of the chord", required=True),
    _a("lines", "load", "any", "load vector per distance", quantity="line_load"),
    _a(
        "lines",
        "normal",
        "number",
        "per length, to the left of the chord's way (plane)",
        quantity="line_load",
    ),
    _a("lines", "per", "text", "`plan` (horizontal) or `length` (along the chord)", default="plan"),
    _a("lines", "from", "number", "start, a plan distance within the chord", quantity="length"),
    _a("lines", "to", "number", "end, a plan distance within the chord", quantity="length"),
    _a("trains", "axles", "pairs", "pairs: distance behind the front (m, ft), downward load (kN, kip)"),
    _a("trains", "strips", "any", "uniform loads that move with the train"),
    _a("trains", "lane", "positive", "a uniform load placed wherever it is adverse", quantity="line_load"),
    _a("trains", "lane_clear", "any", "stretch behind the front where it never lies", quantity="length"),
    _a("trains", "relieving", "text", "axles that do not add: `counted` or `left out`", default="counted"),
    _a("trains", "second", "any", "a second train behind this one"),
    _a("trains", "one_of", "names", "makes a set: names of trains of which the worst is taken"),
    _a("strips", "from", "not negative", "start behind the front", quantity="length", required=True),
    _a("strips", "to", "number", "end behind the front; without it endless", quantity="length"),
    _a("strips", "load", "positive", "downward load per distance", quantity="line_load", required=True),
    _a(
        "second",
        "gap",
        "not negative",
        "least clear distance behind the first",
        quantity="length",
        required=True,
    ),
    _a("second", "train", "name", "name of the train; without it the same again"),
    _a("crossings", "train", "name", "name of the train or of the set", required=True),
    _a("crossings", "chord", "name", "name of the chord", required=True),
    _a("crossings", "directions", "text", "`forward`, `backward` or `both`", default="both"),
    _a("crossings", "factor", "not negative", "how much of the train this truss carries", default=1),
    _a("crossings", "impact", "not negative", "axles and strips count times 1 + impact", default=0),
    _a("crossings", "lane_impact", "not negative", "the lane counts times 1 + lane_impact", default=0),
    _a("crossings", "counts", "not negative", "how often it counts in the zero share", default=1),
    _a("combinations", "for", "text", "`strength`, `service` or `nothing`; left out, the first two"),
    _a(
        "standards",
        "strength",
        "text",
        "`AISC 360-22 LRFD`, `AISC 360-22 ASD`, `EN 1993-1-1` or `plain`",
    ),
    _a("standards", "gamma_M0", "positive", "EN 1993-1-1: γ_M0", default=1),
    _a("standards", "gamma_M1", "positive", "EN 1993-1-1: γ_M1", default=1),
    _a("standards", "gamma_M2", "positive", "EN 1993-1-1: γ_M2", default=Decimal("1.25")),
    _a("standards", "curve", "text", "EN 1993-1-1: buckling curve of sections without a size"),
    _a("standards", "stress_share", "positive", "plain: share of `fy`, at most 1", default=1),
    _a("standards", "euler_share", "positive", "plain: share of Euler's load, at most 1", default=1),
    _a("standards", "slenderness", "names", "codes whose recommended slenderness is checked"),
    _a("limits", "deflection", "positive", "of any joint along any axis", quantity="small_length"),
    _a("limits", "deflections", "any", "of single joints along any axis", quantity="small_length"),
    _a("limits", "length_to_depth", "positive", "least length of a member over depth of its section"),
    _a("limits", "slenderness_compression", "positive", "largest length over radius in compression"),
    _a("limits", "slenderness_tension", "positive", "largest length over radius in tension"),
    _a("limits", "after_loss", "flag", "no single loss may bring a new overload", default=False),
)

LATER = {
    "": ("situations", "patterns"),
    "combinations": ("situation", "weight"),
}
"""Keys that belong to later versions: they are answered as such and not as unknown."""

NO_CASE_NAMES = ("weight", "for", "situation")
"""Names that no case or crossing may have."""


def attributes_of(table: str) -> dict[str, Attribute]:
    """Return the attributes of a table by key.

    >>> sorted(attributes_of("chords"))
    ['joints']
    """
    return {attribute.key: attribute for attribute in ATTRIBUTES if attribute.table == table}


def tables() -> Iterable[str]:
    """Return the tables of the list, in order, each once."""
    return dict.fromkeys(attribute.table for attribute in ATTRIBUTES)
