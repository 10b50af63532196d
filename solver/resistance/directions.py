"""Ways in which a compressed member can bend sideways, each with its unbraced length and radius."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Literal

from solver.resistance.bar import Bar
from solver.truss import Material

NO_YIELD = "no yield strength"
NO_RADIUS = "no radius of gyration"
NOT_STEEL = "not structural steel: the elastic modulus is outside 180 to 220 GPa"
OUT_OF_PLANE = "out of plane not checked"
BOTH_LEGS = "taken as joined by both legs: bending from a connection by one leg is not in it"
SAME_RADIUS = "out of plane with the same radius: no profile"
STEEL = (180e9, 220e9)
"""Elastic moduli [Pa] between which a material is taken for structural steel: codes say 200 to 210 GPa, tests
of structural steels scatter by some 5 %, and aluminium, cast iron and stainless wire rope lie outside."""


@dataclass(frozen=True)
class Direction:
    """Bending in one direction: unbraced length [m] and radius of gyration [m]."""

    name: Literal["in plane", "out of plane", "weakest axis"]
    length: float
    radius: float

    @property
    def slenderness(self) -> float:
        """Length over radius."""
        return self.length / self.radius


def directions(bar: Bar) -> tuple[Direction, ...]:
    """Directions in which `bar` can bend; empty where no radius is known.

    A section without a profile has one radius, taken for every direction. Out of plane is left out where
    its length is not known. Where the weakest axis is neither of the two (angles), it is a direction of its
    own, with the longer of the known lengths: which brace holds an inclined axis is not asked.
    """
    profile = bar.profile
    if profile is None:
        radius = plain_radius(bar)
        inner = across = least = radius
    else:
        inner, across, least = profile.radius, profile.radius_across, profile.least_radius
    if inner is None or across is None or least is None:
        return ()
    found = [Direction("in plane", bar.in_plane, inner)]
    if bar.across is not None:
        found.append(Direction("out of plane", bar.across, across))
    if least < min(inner, across) * (1 - 1e-9):
        found.append(Direction("weakest axis", longest(bar), least))
    return tuple(found)


def untold(bar: Bar) -> tuple[str, ...]:
    """What is not known of bending out of plane: its length, or the radius of a section without a profile."""
    if bar.across is None:
        return (OUT_OF_PLANE,)
    return (SAME_RADIUS,) if bar.profile is None and plain_radius(bar) is not None else ()


def assumed(bar: Bar) -> tuple[str, ...]:
    """What is taken of how a single angle is joined, where it is not said to be by one leg."""
    return (BOTH_LEGS,) if bar.single_angle and not bar.one_legged else ()


def plain_radius(bar: Bar) -> float | None:
    """Radius of gyration of the section as the study gives it: r itself, or from I and A; None without."""
    section = bar.section
    if section.radius is not None:
        return section.radius
    return None if section.second_moment is None else sqrt(section.second_moment / section.area)


def longest(bar: Bar) -> float:
    """The longer of the unbraced lengths known of `bar` [m]."""
    return bar.in_plane if bar.across is None else max(bar.in_plane, bar.across)


def slenderness(bar: Bar) -> float | None:
    """The largest length over radius among the known directions; None where no radius is known."""
    return max((direction.slenderness for direction in directions(bar)), default=None)


def unfit(material: Material) -> tuple[str, ...]:
    """Why a rule for structural steel cannot be applied to `material`: empty where it can."""
    reasons = []
    if material.yield_strength is None:
        reasons.append(NO_YIELD)
    if not STEEL[0] <= material.elastic_modulus <= STEEL[1]:
        reasons.append(NOT_STEEL)
    return tuple(reasons)
