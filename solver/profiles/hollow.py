"""Hollow sections: round, and rectangular with rounded corners as their standards round them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import floor, pi
from types import MappingProxyType

from solver.profiles.label import Label, need, need_positive
from solver.profiles.moments import Moments, rectangle, spandrel
from solver.profiles.profile import Profile

THOUSANDTH_INCH = Fraction("0.0254") / 1000


@dataclass(frozen=True)
class Corners:
    """Radii of the outer and the inner rounding of a corner, in walls."""

    outer: float
    inner: float


def corners_hot_finished(wall: float) -> Corners:
    """Radii for calculation of EN 10210-2 (annex on sectional properties): 1.5 and 1.0 walls [m]."""
    return Corners(1.5, 1.0)


def corners_cold_formed(wall: float) -> Corners:
    """Radii for calculation of EN 10219-2, by wall [m]: up to 6 mm, over 6 up to 10 mm, over 10 mm.

    >>> corners_cold_formed(0.006), corners_cold_formed(0.0063)
    (Corners(outer=2.0, inner=1.0), Corners(outer=2.5, inner=1.5))
    """
    if wall <= 0.006:
        return Corners(2.0, 1.0)
    return Corners(2.5, 1.5) if wall <= 0.010 else Corners(3.0, 2.0)


def corners_of_design_wall(wall: float) -> Corners:
    """Radii with which the AISC Manual tabulates ASTM A500: 2 and 1 design walls [m]."""
    return Corners(2.0, 1.0)


def corners_sharp(wall: float) -> Corners:
    """No rounding at all."""
    return Corners(0.0, 0.0)


CORNERS: MappingProxyType[str, Callable[[float], Corners]] = MappingProxyType(
    {
        "EN 10210-2": corners_hot_finished,
        "EN 10219-2": corners_cold_formed,
        "ASTM A500": corners_of_design_wall,
        "sharp": corners_sharp,
    }
)
"""Rules of corners by the name under which a table asks for them."""


def design_wall(nominal: Fraction) -> Fraction:
    """The wall [m] with which ASTM A500 sections are designed: 0.93 of the nominal one [m], exact.

    AISC 360-22 B4.2. The Manual rounds it to a thousandth of an inch before it works out properties
    (1/4 in: 0.2325, taken as 0.233), half a thousandth upward, and so does this.

    >>> float(design_wall(Fraction("0.0254") / 4) / Fraction("0.0254"))
    0.233
    """
    thousandths = Fraction("0.93") * nominal / THOUSANDTH_INCH
    return floor(thousandths + Fraction(1, 2)) * THOUSANDTH_INCH


def round_hollow(label: Label, diameter: float, wall: float) -> Profile:
    """A round hollow section of outer diameter and wall [m]; raises InputError where the wall fills it.

    >>> tube = round_hollow(Label("CHS 48.3x3.2", "tubes", "hot finished"), 0.0483, 0.0032)
    >>> round(tube.area * 1e4, 2), round(tube.radius * 1e2, 2)
    (4.53, 1.6)
    """
    need_positive(diameter=diameter, wall=wall)
    need(2 * wall < diameter, "wall", "must be less than half the diameter")
    bore = diameter - 2 * wall
    area = pi * wall * (diameter - wall)
    second = area * (diameter**2 + bore**2) / 16
    return Profile(
        label.size,
        label.table,
        "round hollow",
        label.making,
        depth=diameter,
        width=diameter,
        thickness=wall,
        area=area,
        second_moment=second,
        across=second,
        least=second,
    )


def rectangular_hollow(label: Label, depth: float, width: float, wall: float, corners: Corners) -> Profile:
    """A square or rectangular hollow section [m], `depth` in the plane of the truss, corners rounded.

    Raises InputError where walls or roundings leave no room.
    """
    need_positive(depth=depth, width=width, wall=wall)
    least = min(depth, width)
    need(2 * wall < least, "wall", "must be less than half the smaller side")
    need(2 * corners.outer * wall <= least, "wall", "leaves no straight side between the rounded corners")
    need(2 * (1 + corners.inner) * wall <= least, "wall", "leaves no straight side inside")
    outer = _quarter(width, depth, corners.outer * wall)
    quarter = outer - _quarter(width - 2 * wall, depth - 2 * wall, corners.inner * wall)
    return Profile(
        label.size,
        label.table,
        "rectangular hollow",
        label.making,
        depth=depth,
        width=width,
        thickness=wall,
        area=4 * quarter.area,
        second_moment=4 * quarter.square_y,
        across=4 * quarter.square_x,
        least=4 * min(quarter.square_x, quarter.square_y),
    )


def _quarter(width: float, depth: float, radius: float) -> Moments:
    """One quarter of a rectangle with rounded corners, about the middle of the whole."""
    corner = spandrel(radius).turned_half().moved(width / 2, depth / 2)
    return rectangle(width / 2, depth / 2) - corner
