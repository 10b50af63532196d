"""AISC 360-22, Specification for Structural Steel Buildings: chapters D (tension) and E (compression).

Symbols are the standard's; F_n is what editions before 2022 call F_cr. Not contained: bending (chapter H),
connections and block shear (chapter J), the strength of what joins paired angles (E6).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt
from typing import Literal

from solver.resistance.aisc_angles import of_one_legged_angle, thin_legs
from solver.resistance.aisc_pairs import ENDS, modify, space_connectors
from solver.resistance.aisc_walls import effective_area, too_thin
from solver.resistance.bar import Bar
from solver.resistance.directions import NO_RADIUS, assumed, directions, slenderness, unfit, untold
from solver.resistance.modes import Mode, order, steepest
from solver.resistance.pairs import is_pair
from solver.resistance.steps import Quantity, Step, Strength
from solver.resistance.twisting import Twist, euler_stress, twist

SHEAR_MODULUS = 11_200 * 6_894_757.2932
"""G [Pa] as E4 gives it: 11,200 ksi; the 77,200 MPa beside it there are the same, rounded."""

Method = Literal["LRFD", "ASD"]


@dataclass(frozen=True)
class Reserve:
    """What stands between nominal and available strength: φ to multiply by, Ω to divide by."""

    name: str
    clause: str
    resistance_factor: float
    safety_factor: float


YIELDING = Reserve("t", "D2(a)", 0.90, 1.67)
RUPTURE = Reserve("t", "D2(b)", 0.75, 2.00)
COMPRESSION = Reserve("c", "E1", 0.90, 1.67)
NO_NET_AREA = "net section: no net area given"
NO_SHEAR_LAG = "net section: no shear lag factor U given (D3)"
NO_ULTIMATE = "net section: no ultimate strength given"
NO_PROFILE = "walls and torsional buckling not checked: no profile"


@dataclass(frozen=True)
class Aisc360:
    """AISC 360-22 by one of its two methods.

    LRFD: design strength φ R_n, held against strength combinations. ASD: allowable strength R_n / Ω, held
    against combinations at service level; the two must not be mixed.
    """

    method: Method = "LRFD"

    @property
    def name(self) -> str:
        """The standard with its edition and the method."""
        return f"AISC 360-22, {self.method}"

    def tension(self, bar: Bar) -> Strength:
        """Available strength in tension: yielding of the gross section, and rupture of the net one."""
        refused = unfit(bar.material)
        if refused:
            return Strength(None, (), refused)
        nominal = (bar.material.yield_strength or 0.0) * bar.section.area
        gross = Quantity("P_n", nominal, "force")
        given = (_stress("F_y", bar.material.yield_strength), Quantity("A_g", bar.section.area, "area"))
        steps = [Step("D2-1", "P_n = F_y A_g", given, gross, "gross section")]
        steps.append(self._available(gross, YIELDING, "gross section"))
        rupture, unchecked = self._rupture(bar)
        steps += rupture
        values = [step.result.value for step in steps if step.clause in (YIELDING.clause, RUPTURE.clause)]
        return Strength(min(values), tuple(steps), (), unchecked, slenderness(bar))

    def compression(self, bar: Bar) -> Strength:
        """Available strength in compression, the least over all ways to buckle; the weakest stands last."""
        refused = unfit(bar.material)
        if not directions(bar):
            refused += (NO_RADIUS,)
        refused += too_thin(bar)
        if refused:
            return Strength(None, (), refused)
        if bar.one_legged:
            modes, refused = of_one_legged_angle(bar)
            if refused:
                return Strength(None, tuple(step for mode in modes for step in mode.steps), refused)
            return self._buckling(bar, order(modes))
        joined, refused = space_connectors(bar)
        if refused:
            return Strength(None, joined, refused)
        return self._buckling(bar, order(_concentric(bar)), (*joined, *_legs_of_one(bar)))

    def _buckling(self, bar: Bar, modes: tuple[Mode, ...], before: tuple[Step, ...] = ()) -> Strength:
        weakest = modes[-1]
        stress = nominal_stress(bar.material.yield_strength or 0.0, weakest.stress, weakest.about)
        area, wall_steps = effective_area(bar, stress.result)
        slender = area.symbol == "A_e"
        nominal = Quantity("P_n", stress.result.value * area.value, "force")
        clause, formula = ("E7-1", "P_n = F_n A_e") if slender else ("E3-1", "P_n = F_n A_g")
        last = (
            Step(clause, formula, (stress.result, area), nominal, weakest.about),
            self._available(nominal, COMPRESSION, weakest.about),
        )
        steps = (*before, *(step for mode in modes for step in mode.steps), stress, *wall_steps, *last)
        return Strength(last[-1].result.value, steps, (), _unchecked(bar, modes), steepest(modes))

    def _available(self, nominal: Quantity, reserve: Reserve, about: str) -> Step:
        n, value = reserve.name, nominal.value
        if self.method == "LRFD":
            factor = Quantity(f"φ_{n}", reserve.resistance_factor)
            result = Quantity(f"φ_{n} P_n", factor.value * value, "force")
        else:
            factor = Quantity(f"Ω_{n}", reserve.safety_factor)
            result = Quantity(f"P_n / Ω_{n}", value / factor.value, "force")
        return Step(reserve.clause, result.symbol, (factor, nominal), result, about)

    def _rupture(self, bar: Bar) -> tuple[list[Step], tuple[str, ...]]:
        """Rupture of the net section: steps, and what is missing for them."""
        net, lag, ultimate = bar.net_area, bar.shear_lag, bar.material.ultimate_strength
        if net is None or lag is None or ultimate is None:
            return [], (NO_NET_AREA if net is None else NO_SHEAR_LAG if lag is None else NO_ULTIMATE,)
        area = Quantity("A_e", net * lag, "area")
        nominal = Quantity("P_n", ultimate * area.value, "force")
        given = (Quantity("A_n", net, "area"), Quantity("U", lag))
        return [
            Step("D3-1", "A_e = A_n U", given, area, "net section"),
            Step("D2-2", "P_n = F_u A_e", (_stress("F_u", ultimate), area), nominal, "net section"),
            self._available(nominal, RUPTURE, "net section"),
        ], ()


def nominal_stress(yield_strength: float, elastic_stress: float, about: str = "") -> Step:
    """F_n from F_y and F_e [Pa]: E3-2 up to F_y / F_e = 2.25, E3-3 above."""
    ratio = yield_strength / elastic_stress
    given = (_stress("F_y", yield_strength), _stress("F_e", elastic_stress), Quantity("F_y / F_e", ratio))
    if ratio <= 2.25:
        result = _stress("F_n", 0.658**ratio * yield_strength)
        return Step("E3-2", "F_n = 0.658^(F_y / F_e) F_y, as F_y / F_e ≤ 2.25", given, result, about)
    result = _stress("F_n", 0.877 * elastic_stress)
    return Step("E3-3", "F_n = 0.877 F_e, as F_y / F_e > 2.25", given, result, about)


def _concentric(bar: Bar) -> tuple[Mode, ...]:
    """Ways to buckle of a member loaded along its axis: bending each way, and with twist where open."""
    modulus = bar.material.elastic_modulus
    modes = []
    for way in directions(bar):
        ratio = Quantity("L_c / r", way.slenderness)
        given = (Quantity("L_c", way.length, "length"), Quantity("r", way.radius, "radius"))
        steps = [Step("E2", "L_c / r, with L_c = K L and K = 1", given, ratio, way.name)]
        if way.name == "out of plane":
            steps += modify(bar, ratio)
        ratio = steps[-1].result
        stress = _stress("F_e", euler_stress(modulus, ratio.value))
        formula = f"F_e = π² E / ({ratio.symbol})²" if len(steps) == 1 else f"F_e = π² E / {ratio.symbol}²"
        steps.append(Step("E3-4", formula, (_stress("E", modulus), ratio), stress, way.name))
        modes.append(Mode(way.name, stress.value, ratio.value, tuple(steps)))
    return (*modes, *_twisting(bar))


def _twisting(bar: Bar) -> tuple[Mode, ...]:
    """Flexural-torsional buckling, where E4 or E5 asks for it and both lengths are known."""
    profile, modulus = bar.profile, bar.material.elastic_modulus
    if profile is None or not _twists(bar) or bar.across is None:
        return ()
    section = twist(profile)
    lengths = (bar.in_plane, bar.across) if is_pair(bar) else (max(bar.in_plane, bar.across),) * 2
    ratios = [length / radius for length, radius in zip(lengths, section.radii, strict=True)]
    modified = modify(bar, Quantity("L_c / r", ratios[1]))
    if modified:
        ratios[1] = modified[-1].result.value
    about_x, about_y = (euler_stress(modulus, ratio) for ratio in ratios)
    torsional = section.torsional_stress(SHEAR_MODULUS)
    stress = section.critical_stress((about_x, about_y), torsional)
    polar = Quantity("r_0", sqrt(section.polar), "radius")
    twisted = _stress("F_ez", torsional)
    given = (_stress("G", SHEAR_MODULUS), Quantity("J", section.constant, "second_moment"), polar)
    clause = "E4-3" if section.symmetric else "E4-4"
    bent = (_stress("F_ex", about_x), _stress("F_ey", about_y), twisted, polar)
    offsets = tuple(Quantity(s, o, "radius") for s, o in zip(("x_0", "y_0"), section.offset, strict=True))
    about = "with twist"
    steps = (
        Step("E4-7", "F_ez = G J / (A_g r_0²), without warping", given, twisted, about),
        Step(clause, _coupled(section), (*bent, *offsets), _stress("F_e", stress), about),
    )
    return (Mode(about, stress, max(ratios), steps),)


def _legs_of_one(bar: Bar) -> tuple[Step, ...]:
    """Of a single angle the steps that tell whether twist is asked for."""
    profile = bar.profile
    return thin_legs(bar, profile) if profile is not None and profile.shape == "angle" else ()


def _coupled(section: Twist) -> str:
    """E4-3, or E4-4 where no axis is one of symmetry, as an equation in F_e."""
    legs_alone = "r_0 of the section as it is, x_0, y_0 and J of its legs without fillets"
    if section.symmetric:
        bent, offset = (("F_ex", "x_0"), ("F_ey", "y_0"))[section.coupled]
        equation = f"F_e = [({bent} + F_ez) / 2H] [1 − √(1 − 4 {bent} F_ez H / ({bent} + F_ez)²)]"
        return f"{equation}, H = 1 − {offset}² / r_0²; {legs_alone}"
    left = "(F_e − F_ex) (F_e − F_ey) (F_e − F_ez)"
    right = "F_e² [(F_e − F_ey) x_0² + (F_e − F_ex) y_0²] / r_0²"
    return f"{left} = {right}, the least root; {legs_alone}"


def _twists(bar: Bar) -> bool:
    """Whether flexural-torsional buckling must be looked at: pairs of angles, and thin single ones (E5)."""
    profile = bar.profile
    if profile is None or profile.shape not in ("angle", "paired angles"):
        return False
    ratio, limit = thin_legs(bar, profile)
    return profile.shape == "paired angles" or ratio.result.value > limit.result.value


def _unchecked(bar: Bar, modes: tuple[Mode, ...]) -> tuple[str, ...]:
    """What the standard asks besides, and this strength does not contain."""
    found = [] if bar.profile is not None else [NO_PROFILE]
    found += [*assumed(bar), *untold(bar)]
    if bar.across is None and _twists(bar) and not bar.one_legged:
        found.append("flexural-torsional buckling (E4) not checked: length out of plane not known")
    if is_pair(bar):
        found.append(ENDS)
    return (*found, *(text for mode in modes for text in mode.unchecked))


def _stress(symbol: str, value: float | None) -> Quantity:
    return Quantity(symbol, value or 0.0, "stress")
