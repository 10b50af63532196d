"""EN 1993-1-1:2005, BB.1.2: angle webs joined by one leg, and their torsional-flexural buckling (6.3.1.4)."""

from __future__ import annotations

from math import sqrt

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.resistance.steps import Quantity, Step

ACROSS, WEAKEST = 0.50, 0.35
"""What is added to 0.7 times the slenderness: of bending about y, z or the strongest axis; about v."""

CHORD = "a single angle joined by one leg that is no web member (bending by 6.2.9)"
CONDITIONS = "BB.1.2 asks, and the study is not asked: chords that hold the ends, welds or two bolts at least"


def effective_slenderness(relative: Quantity, name: str, symbol: str = "λ̄_eff") -> Step:
    """The step from λ̄ to the effective slenderness of bending `name`."""
    constant = WEAKEST if name == "weakest axis" else ACROSS
    effective = Quantity(symbol, constant + 0.7 * relative.value)
    formula = f"{symbol} = {constant:.2f} + 0.7 {relative.symbol}"
    if name == "strongest axis":
        # BB.1 speaks of v, y and z.
        formula += ", as about y and z: chosen here"
    return Step("BB.1.2, (BB.1)", formula, (relative,), effective, name)


def fictitious_forces(bar: Bar, profile: Profile, stresses: tuple[float, float]) -> tuple[Step, ...]:
    """Steps from elastic stresses [Pa] about the axes 1 and 2 to the forces with which bending meets twist.

    6.3.1.4 asks for critical forces, BB.1.2 gives a slenderness, of bending alone: the smaller of the elastic
    force and of that which has this slenderness is taken, so that BB.1.2 eases nothing that it does not
    speak of. Each axis ends with its force, the third and the sixth step.
    """
    found: list[Step] = []
    for axis, stress, name in zip((1, 2), stresses, ("strongest axis", "weakest axis"), strict=True):
        found += _fictitious(bar, profile, (f"N_cr,{axis}", stress), name)
    return tuple(found)


def _fictitious(bar: Bar, profile: Profile, critical: tuple[str, float], name: str) -> tuple[Step, ...]:
    symbol, stress = critical
    strength = Quantity("f_y", bar.material.yield_strength or 0.0, "stress")
    area = Quantity("A", profile.area, "area")
    elastic = Quantity(symbol, stress * area.value, "force")
    relative = Quantity("λ̄", sqrt(strength.value / stress))
    first = Step("6.3.1.2", f"λ̄ = √(A f_y / {symbol})", (area, strength, elastic), relative, name)
    second = effective_slenderness(relative, name)
    made_up = min(elastic.value, area.value * strength.value / second.result.value**2)
    taken = Quantity(f"{symbol},eff", made_up, "force")
    formula = f"{symbol},eff = the smaller of {symbol} and A f_y / λ̄_eff², chosen here"
    last = Step("6.3.1.4 with BB.1.2", formula, (elastic, area, strength, second.result), taken, name)
    return first, second, last
