"""AISC 360-22, E6: two angles back to back, joined at intervals, bend out of plane more easily than as one.

E6.1 enlarges the slenderness where connectors are sheared, which they are out of plane and with twist, not in
plane. E6.2 limits the interval by the slenderness of the pair as one, before it is enlarged.
"""

from __future__ import annotations

from math import hypot

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.resistance.directions import directions
from solver.resistance.pairs import is_pair, slenderness_of_one
from solver.resistance.steps import Quantity, Step

NO_SPACING = "connectors (E6.1): no spacing given"
TOO_FAR = "connectors (E6.2): a/r_i of one angle over 3/4 of the largest slenderness of the pair"
ENDS = "connectors (E6): their strength, and ends welded or pretensioned (E6.2), not checked"
BACK_TO_BACK = 0.50
"""K_i of angles back to back."""

UNCHANGED = 40.0
"""a/r_i up to which welded or pretensioned connectors leave the slenderness as it is."""


def space_connectors(bar: Bar) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """Steps that hold the connectors of a pair against E6.2, and why the pair is refused; else empty."""
    if bar.profile is None or not is_pair(bar):
        return (), ()
    if bar.connector_spacing is None:
        return (), (NO_SPACING,)
    one = slenderness_of_one(bar.connector_spacing, bar.profile, "E6.1", "r_i")
    largest = Quantity("L_c / r", max(way.slenderness for way in directions(bar)))
    limit = Quantity("limit of a / r_i", 0.75 * largest.value)
    holds = one.result.value <= limit.value * (1 + 1e-9)
    formula = f"a / r_i {'≤' if holds else '>'} 3/4 of the largest L_c / r"
    steps = (one, Step("E6.2", formula, (one.result, largest), limit, "connectors"))
    return steps, () if holds else (TOO_FAR,)


def modify(bar: Bar, ratio: Quantity) -> tuple[Step, ...]:
    """The step from (L_c/r)_o out of plane to (L_c/r)_m; none where `bar` is no pair."""
    if bar.profile is None or bar.connector_spacing is None or not is_pair(bar):
        return ()
    return (_modified(bar, bar.profile, bar.connector_spacing, ratio),)


def _modified(bar: Bar, profile: Profile, spacing: float, ratio: Quantity) -> Step:
    one = slenderness_of_one(spacing, profile, "E6.1", "r_i").result
    whole, about = Quantity("(L_c / r)_o", ratio.value), "out of plane"
    if bar.connector_fixing == "snug":
        result = Quantity("(L_c / r)_m", hypot(whole.value, one.value))
        return Step("E6-1", "(L_c / r)_m = √((L_c / r)_o² + (a / r_i)²)", (whole, one), result, about)
    if one.value <= UNCHANGED:
        result = Quantity("(L_c / r)_m", whole.value)
        return Step("E6-2a", "(L_c / r)_m = (L_c / r)_o, as a / r_i ≤ 40", (whole, one), result, about)
    factor = Quantity("K_i", BACK_TO_BACK)
    result = Quantity("(L_c / r)_m", hypot(whole.value, factor.value * one.value))
    formula = "(L_c / r)_m = √((L_c / r)_o² + (K_i a / r_i)²), as a / r_i > 40"
    return Step("E6-2b", formula, (whole, factor, one), result, about)
