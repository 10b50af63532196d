"""AISC 360-22, E5: single angles joined by one leg, as if loaded along their axis at a larger slenderness."""

from __future__ import annotations

from math import sqrt

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.resistance.directions import longest
from solver.resistance.modes import Mode
from solver.resistance.steps import Quantity, Step
from solver.resistance.twisting import euler_stress, legs

EVEN, MOST = 1.7, 200
"""Below so many times the shorter leg the longer one must be, and the largest L_c/r, for E5 to apply."""

CHAPTER_H = "a single angle joined by one leg that is no web member (E5: chapter H)"
UNEVEN = "a single angle joined by one leg, legs 1.7 to 1 or more (E5: chapter H)"
SLENDER = "a single angle joined by one leg, L_c/r over 200 (E5: chapter H)"
TWIST = "flexural-torsional buckling of a single angle joined by one leg, b/t over 0.71 √(E/F_y) (E4)"
CONDITIONS = (
    "E5 asks, and the study is not asked: the same leg joined at both ends, by welds or two bolts at least",
    "E5 asks, and the study is not asked: neighbouring web members on the same side of gusset or chord",
)


def of_one_legged_angle(bar: Bar) -> tuple[tuple[Mode, ...], tuple[str, ...]]:
    """The mode of E5 for a single angle joined by one leg, and why it cannot be used.

    L is the longest of the length between joints and the unbraced ones. r_a, about the axis parallel to the
    joined leg, is the smaller of the two geometric radii where the long leg is joined, else the larger.
    """
    profile = bar.profile
    assert profile is not None, "an angle has a profile"
    long, short = max(legs(profile)), min(legs(profile))
    if not bar.web:
        return (), (CHAPTER_H,)
    if long / short >= EVEN:
        return (), (UNEVEN,)
    modulus = bar.material.elastic_modulus
    wall = thin_legs(bar, profile)
    if wall[0].result.value > wall[1].result.value:
        return (), (TWIST,)
    legs_asked = _uneven(long, short)
    steps = (legs_asked, *wall, *equivalent_slenderness(bar, profile))
    ratio = steps[-1].result
    refused = (SLENDER,) if ratio.value > MOST else ()
    most = Step("E5", "largest L_c / r by E5", (), Quantity("most L_c / r", MOST), "joined by one leg")
    stress = Quantity("F_e", euler_stress(modulus, ratio.value), "stress")
    given = (Quantity("E", modulus, "stress"), ratio)
    last = Step("E3-4", "F_e = π² E / (L_c / r)²", given, stress, "joined by one leg")
    steps = (*steps, most, last)
    return (Mode("joined by one leg", stress.value, ratio.value, steps, CONDITIONS),), refused


def thin_legs(bar: Bar, profile: Profile) -> tuple[Step, Step]:
    """Steps to b/t of the longer leg and to 0.71 √(E/F_y), up to which E4 is not asked of a single angle."""
    modulus = Quantity("E", bar.material.elastic_modulus, "stress")
    strength = Quantity("F_y", bar.material.yield_strength or 1.0, "stress")
    width = Quantity("b", max(legs(profile)), "radius")
    thickness = Quantity("t", profile.thickness, "radius")
    ratio = Quantity("b / t", width.value / thickness.value)
    limit = Quantity("most b / t", 0.71 * sqrt(modulus.value / strength.value))
    about = "twist"
    return (
        Step("E4", "b / t of the longer leg", (width, thickness), ratio, about),
        Step("E4", "0.71 √(E / F_y), up to which twist is not asked for", (modulus, strength), limit, about),
    )


def _uneven(long: float, short: float) -> Step:
    given = (Quantity("b_l", long, "radius"), Quantity("b_s", short, "radius"))
    formula = f"b_l / b_s, less than {EVEN}"
    return Step("E5", formula, given, Quantity("b_l / b_s", long / short), "joined by one leg")


def equivalent_slenderness(bar: Bar, profile: Profile) -> tuple[Step, ...]:
    """Steps to L_c/r of E5, (a) in planar trusses and (b) in space trusses; the last one holds it."""
    long, short = max(legs(profile)), min(legs(profile))
    by_short = bar.connected == "short leg" and long > short * (1 + 1e-9)
    radii = (profile.radius, profile.radius_across)
    radius = Quantity("r_a", max(radii) if by_short else min(radii), "radius")
    length = Quantity("L", max(bar.length, longest(bar)), "length")
    ratio = Quantity("L / r_a", length.value / radius.value)
    about = "joined by one leg"
    steps = [Step("E5", "L / r_a", (length, radius), ratio, about), _line(ratio, bar.space)]
    if by_short:
        factor, share = (6, 0.82) if bar.space else (4, 0.95)
        base = steps[-1].result
        least = Quantity("r_z", profile.least_radius, "radius")
        value = max(base.value + factor * ((long / short) ** 2 - 1), share * length.value / least.value)
        given = (base, Quantity("b_l", long, "radius"), Quantity("b_s", short, "radius"), length, least)
        formula = f"L_c / r + {factor} [(b_l / b_s)² − 1], not below {share} L / r_z"
        clause = "E5(b)(2)" if bar.space else "E5(a)(2)"
        steps.append(Step(clause, formula, given, Quantity("L_c / r", value), about))
    return tuple(steps)


def _line(ratio: Quantity, space: bool) -> Step:
    """The straight line of E5 for L / r_a."""
    x = ratio.value
    if space:
        low, high = ("E5-3", "60 + 0.8 L / r_a", 60 + 0.8 * x), ("E5-4", "45 + L / r_a", 45 + x)
        chosen, limit = (low, "≤ 75") if x <= 75 else (high, "> 75")
    else:
        low = ("E5-1", "72 + 0.75 L / r_a", 72 + 0.75 * x)
        high = ("E5-2", "32 + 1.25 L / r_a", 32 + 1.25 * x)
        chosen, limit = (low, "≤ 80") if x <= 80 else (high, "> 80")
    clause, formula, value = chosen
    text = f"L_c / r = {formula}, as L / r_a {limit}"
    return Step(clause, text, (ratio,), Quantity("L_c / r", value), "joined by one leg")
