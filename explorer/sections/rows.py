"""From the numbers of one row to a profile: what each shape needs, and what a row may give as printed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from types import MappingProxyType

from explorer.sections.numbers import AREAS, LENGTHS, SECOND_MOMENTS
from explorer.sections.table import Entry
from solver.errors import InputError
from solver.profiles.angle import rolled_angle, single
from solver.profiles.hollow import CORNERS, design_wall, rectangular_hollow, round_hollow
from solver.profiles.label import Label
from solver.profiles.profile import Profile, Shape
from solver.profiles.solid import flat, rod

Row = Mapping[str, Fraction]
"""Values of one row by column [SI]."""

NEEDS: Mapping[Shape, tuple[str, ...]] = MappingProxyType(
    {
        "round hollow": ("diameter", "wall"),
        "rectangular hollow": ("depth", "width", "wall"),
        "angle": ("depth", "width", "thickness", "root_radius"),
        "rod": ("diameter",),
        "flat": ("depth", "thickness"),
    }
)
"""Columns that each shape must have."""

PRINTED = ("area", "second_moment", "across", "least_radius")
CENTRES = ("centre_in_plane", "centre_across")
KINDS = MappingProxyType(
    {column: LENGTHS for needed in NEEDS.values() for column in needed}
    | {"nominal_wall": LENGTHS, "least_radius": LENGTHS}
    | dict.fromkeys(CENTRES, LENGTHS)
    | {"area": AREAS, "second_moment": SECOND_MOMENTS, "across": SECOND_MOMENTS}
)
"""Units that each column may be written in."""

FARTHEST = 0.2
"""How far a printed property may be from that of the bare dimensions, as a share: fillets and mill practice
make up to 5 %, roundings of corners up to 15 %; a wrong unit or a slip of the pen makes far more."""


@dataclass(frozen=True)
class Making:
    """What a table says of all its rows."""

    label: Label
    shape: Shape
    corners: str = ""


def needed(shape: Shape, columns: tuple[str, ...]) -> tuple[str, ...]:
    """Columns that a table of this shape must have, given those it has.

    `nominal_wall` (of ASTM A500) stands for `wall`; printed properties and centres for a root radius.
    """
    stands_for = {"wall": ("nominal_wall",), "root_radius": (*PRINTED, *CENTRES)}
    wanted: list[str] = []
    for column in NEEDS[shape]:
        instead = stands_for.get(column, ())
        if column in columns or not set(instead) & set(columns):
            wanted.append(column)
        else:
            wanted.extend(instead)
    return tuple(wanted)


def allowed(shape: Shape) -> tuple[str, ...]:
    """Columns that a table of this shape may have."""
    wall = ("nominal_wall",) if "wall" in NEEDS[shape] else ()
    centres = CENTRES if shape == "angle" else ()
    return (*NEEDS[shape], *wall, *PRINTED, *centres)


def make(making: Making, row: Row) -> Entry:
    """Return the entry of one row; raises InputError whose culprit is the column at fault."""
    if making.shape == "angle":
        return _angle(making.label, row)
    profile = SHAPES[making.shape](making, row)
    return Entry(_as_printed(profile, row))


def _wall(row: Row) -> float:
    return float(row["wall"] if "wall" in row else design_wall(row["nominal_wall"]))


def _round_hollow(making: Making, row: Row) -> Profile:
    return round_hollow(making.label, float(row["diameter"]), _wall(row))


def _rectangular_hollow(making: Making, row: Row) -> Profile:
    wall = _wall(row)
    corners = CORNERS[making.corners](wall)
    return rectangular_hollow(making.label, float(row["depth"]), float(row["width"]), wall, corners)


def _rod(making: Making, row: Row) -> Profile:
    return rod(making.label, float(row["diameter"]))


def _flat(making: Making, row: Row) -> Profile:
    return flat(making.label, float(row["depth"]), float(row["thickness"]))


SHAPES: Mapping[Shape, Callable[[Making, Row], Profile]] = MappingProxyType(
    {
        "round hollow": _round_hollow,
        "rectangular hollow": _rectangular_hollow,
        "rod": _rod,
        "flat": _flat,
    }
)


def _angle(label: Label, row: Row) -> Entry:
    depth, width, thickness = (float(row[column]) for column in ("depth", "width", "thickness"))
    bare = rolled_angle(depth, width, thickness, float(row.get("root_radius", 0)))
    profile = _as_printed(single(label, bare), row)
    for column in CENTRES:
        if column in row:
            _near(column, float(row[column]), getattr(bare, column))
    angle = replace(
        bare,
        **{name: getattr(profile, name) for name in ("area", "second_moment", "across", "least")},
        **{column: float(row[column]) for column in CENTRES if column in row},
    )
    return Entry(profile, angle)


def _as_printed(bare: Profile, row: Row) -> Profile:
    """Put printed properties in the place of those from dimensions, which they must be near."""
    given = {column: float(row[column]) for column in PRINTED if column in row}
    for column, value in given.items():
        _near(column, value, getattr(bare, column))
    radius = given.pop("least_radius", None)
    profile = replace(
        bare,
        area=given.get("area", bare.area),
        second_moment=given.get("second_moment", bare.second_moment),
        across=given.get("across", bare.across),
        stored=tuple(given),
    )
    if radius is not None:
        least = profile.area * radius**2
        return _weakest(replace(profile, least=least, stored=(*profile.stored, "least")))
    # Of doubly symmetric shapes the weakest axis is one of the two; of angles that of the dimensions stays.
    weaker = min(profile.second_moment, profile.across)
    return _weakest(profile if bare.shape == "angle" else replace(profile, least=weaker))


def _weakest(profile: Profile) -> Profile:
    # Printed numbers have three digits, so that a radius may come out a little above the true one.
    if profile.least > 1.02 * min(profile.second_moment, profile.across):
        raise InputError("makes the weakest axis stronger than the others", ["least_radius"])
    return profile


def _near(column: str, value: float, bare: float) -> None:
    if abs(value / bare - 1) > FARTHEST:
        wrong = f"is {value / bare:.3g} times what the dimensions give: check it and its unit"
        raise InputError(wrong, [column])
