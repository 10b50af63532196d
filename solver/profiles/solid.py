"""Solid bars: rods and flats."""

from __future__ import annotations

from math import pi

from solver.profiles.label import Label, need_positive
from solver.profiles.profile import Profile


def rod(label: Label, diameter: float) -> Profile:
    """A round bar of full diameter [m]; a thread's smaller area is for whoever designs the connection."""
    need_positive(diameter=diameter)
    area = pi * diameter**2 / 4
    second = area * diameter**2 / 16
    return Profile(
        label.size,
        label.table,
        "rod",
        label.making,
        depth=diameter,
        width=diameter,
        thickness=diameter,
        area=area,
        second_moment=second,
        across=second,
        least=second,
    )


def flat(label: Label, depth: float, thickness: float) -> Profile:
    """A flat bar [m], `depth` in the plane of the truss.

    >>> bar = flat(Label("FLAT 80x10", "flats", "rolled"), 0.080, 0.010)
    >>> round(bar.least_radius * 1e3, 3)
    2.887
    """
    need_positive(depth=depth, thickness=thickness)
    area = depth * thickness
    upright, across = area * depth**2 / 12, area * thickness**2 / 12
    return Profile(
        label.size,
        label.table,
        "flat",
        label.making,
        depth=depth,
        width=thickness,
        thickness=thickness,
        area=area,
        second_moment=upright,
        across=across,
        least=min(upright, across),
    )
