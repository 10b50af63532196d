"""EN 1993-1-1:2005, table 5.2: whether the walls of a compressed section are within class 3."""

from __future__ import annotations

from math import sqrt

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.resistance.steps import Quantity, Step
from solver.resistance.twisting import legs

CLASS_4 = "class 4 (table 5.2): effective section of EN 1993-1-5"
SHEETS = {"rectangular hollow": "sheet 1", "round hollow": "sheet 3"}


def classify(bar: Bar) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """Steps that hold the walls against the limits of class 3, and the refusal of class 4.

    Of hollow walls c = h − 3 t, the usual choice where the corner is not known. Rods and flats have no walls:
    table 5.2 has no limit for solid sections.
    """
    if bar.profile is None:
        return (), ()
    pairs = _ratios(bar.profile)
    if not pairs:
        return (), ()
    strength = Quantity("f_y", bar.material.yield_strength or 0.0, "stress")
    epsilon = Quantity("ε", sqrt(235e6 / strength.value))
    sheet = f"table 5.2, {SHEETS.get(bar.profile.shape, 'sheet 3')}"
    steps = [Step("table 5.2", "ε = √(235 MPa / f_y)", (strength,), epsilon)]
    refused: tuple[str, ...] = ()
    for ratio, factor, power in pairs:
        limit = factor * epsilon.value**power
        exponent = "²" if power == 2 else ""
        holds = ratio.result.value <= limit * (1 + 1e-12)
        formula = f"{ratio.result.symbol} {'≤' if holds else '>'} {factor:g} ε{exponent}"
        steps += [ratio, Step(sheet, formula, (ratio.result, epsilon), Quantity("limit of class 3", limit))]
        if not holds:
            refused = (CLASS_4,)
    return tuple(steps), refused


def _ratios(profile: Profile) -> list[tuple[Step, float, int]]:
    """Each ratio of the walls with its limit: a factor on a power of ε."""
    thickness = Quantity("t", profile.thickness, "radius")
    if profile.shape == "round hollow":
        size = Quantity("d", profile.depth, "radius")
        return [(_step("d / t", (size, thickness), size.value / thickness.value, "wall"), 90, 2)]
    if profile.shape == "rectangular hollow":
        found = []
        for side, name in ((profile.depth, "wall along the depth"), (profile.width, "wall across")):
            inner = Quantity("c", max(side - 3 * thickness.value, 0.0), "radius")
            step = _step("c / t", (inner, thickness), inner.value / thickness.value, name)
            found.append((step, 42.0, 1))
        return found
    if profile.shape in ("angle", "paired angles"):
        long, short = Quantity("h", max(legs(profile)), "radius"), Quantity("b", min(legs(profile)), "radius")
        mean = (long.value + short.value) / (2 * thickness.value)
        return [
            (_step("h / t", (long, thickness), long.value / thickness.value, "legs"), 15, 1),
            (_step("(b + h) / 2t", (short, long, thickness), mean, "legs"), 11.5, 1),
        ]
    return []


def _step(formula: str, given: tuple[Quantity, ...], value: float, about: str) -> Step:
    return Step("table 5.2", formula, given, Quantity(formula, value), about)
