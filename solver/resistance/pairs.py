"""Two angles back to back: what is known of one of them, and whether they were told how they are joined."""

from __future__ import annotations

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.resistance.steps import Quantity, Step
from solver.resistance.twisting import least_radius_of_legs


def is_pair(bar: Bar) -> bool:
    """Whether `bar` is two angles back to back."""
    return bar.profile is not None and bar.profile.shape == "paired angles"


def radius_of_one(profile: Profile) -> float:
    """Least radius of gyration of one of two angles [m]; where only the pair is known, from plain legs."""
    return profile.radius_of_one or least_radius_of_legs(profile)


def slenderness_of_one(spacing: float, profile: Profile, clause: str, symbol: str) -> Step:
    """The step to a spacing [m] over the least radius of one angle, `symbol` such as `r_i`."""
    radius = Quantity(symbol, radius_of_one(profile), "radius")
    given = (Quantity("a", spacing, "length"), radius)
    ratio = Quantity(f"a / {symbol}", spacing / radius.value)
    return Step(clause, f"a / {symbol}, {symbol}: least of one angle", given, ratio, "connectors")
