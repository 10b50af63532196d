"""EN 1993-1-1:2005: tension (6.2.3), compression and flexural buckling (6.2.4, 6.3.1), angle webs (BB.1.2).

Partial factors are the recommended ones; national annexes differ, so they can be changed. Unbraced lengths
are taken as buckling lengths: the reductions that BB.1 allows for lattice girders are not made use of. Not
contained: class 4 (EN 1993-1-5), bending (6.2.9, 6.3.3), joints (EN 1993-1-8).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sqrt

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.resistance.directions import (
    NO_RADIUS,
    Direction,
    assumed,
    directions,
    slenderness,
    unfit,
    untold,
)
from solver.resistance.en_angle_webs import (
    CHORD,
    CONDITIONS,
    effective_slenderness,
    fictitious_forces,
)
from solver.resistance.en_pairs import NOT_GIVEN, OWN_CURVE, SHEAR_LAG, space_packing_plates
from solver.resistance.en_walls import classify
from solver.resistance.modes import Mode, order, steepest
from solver.resistance.pairs import is_pair
from solver.resistance.steps import Quantity, Step, Strength
from solver.resistance.twisting import Twist, euler_stress, twist

IMPERFECTION = {"a0": 0.13, "a": 0.21, "b": 0.34, "c": 0.49, "d": 0.76}
"""α of table 6.1, by buckling curve."""

GAMMA_M0, GAMMA_M1, GAMMA_M2 = 1.00, 1.00, 1.25
"""Partial factors that 6.1(1) recommends."""

SHEAR_MODULUS = 81e9
"""G [Pa] of 3.2.6."""

NO_CURVE = "no buckling curve: no profile (table 6.2); write curve in [standards], or a size"
NO_MAKING = "no buckling curve: neither hot finished nor cold formed is told (table 6.2)"
NO_NET_AREA = "net section: no net area given"
NO_ULTIMATE = "net section: no ultimate strength given"
NO_BETA = "net section of an angle joined by one leg: no reduction factor β given (EN 1993-1-8, 3.10.3)"
LAG_UNUSED = "net section: 6.2.3 knows no shear lag factor, the one given is not applied"
NO_CLASS = "class of the section and torsional buckling not checked: no profile"
TWIST_UNKNOWN = "torsional-flexural buckling (6.3.1.4) not checked: length out of plane not known"
RECOMMENDED_M1 = (
    "partial factors as recommended (γ_M1 = 1.00): national annexes differ; "
    "EN 1993-2 recommends 1.10 for bridges"
)
RECOMMENDED_M0 = "partial factors as recommended (γ_M0 = 1.00): national annexes differ"
RECOMMENDED_M0_M2 = "partial factors as recommended (γ_M0 = 1.00, γ_M2 = 1.25): national annexes differ"


@dataclass(frozen=True)
class En1993:
    """EN 1993-1-1:2005 with its partial factors.

    curve: buckling curve of sections without a profile, which table 6.2 cannot tell; None refuses them.
    """

    gamma_m0: float = GAMMA_M0
    gamma_m1: float = GAMMA_M1
    gamma_m2: float = GAMMA_M2
    curve: str | None = None

    @property
    def name(self) -> str:
        """The standard with its edition."""
        return "EN 1993-1-1:2005"

    def tension(self, bar: Bar) -> Strength:
        """N_t,Rd: yielding of the gross section and, where a net area is given, rupture of the net one."""
        refused = unfit(bar.material)
        if refused:
            return Strength(None, (), refused)
        plastic = _force("N_pl,Rd", bar.section.area * (bar.material.yield_strength or 0.0) / self.gamma_m0)
        given = (_area("A", bar.section.area), _strength(bar), Quantity("γ_M0", self.gamma_m0))
        steps = [Step("6.2.3, (6.6)", "N_pl,Rd = A f_y / γ_M0", given, plastic, "gross section")]
        rupture, unchecked = self._rupture(bar)
        steps += rupture
        value = min(step.result.value for step in steps)
        unchecked = (*unchecked, *self._recommended_in_tension(bool(rupture)))
        return Strength(value, tuple(steps), (), unchecked, slenderness(bar))

    def _recommended_in_tension(self, net: bool) -> tuple[str, ...]:
        """What is told of partial factors left as recommended; `net`: γ_M2 is made use of."""
        if self.gamma_m0 != GAMMA_M0 or (net and self.gamma_m2 != GAMMA_M2):
            return ()
        return (RECOMMENDED_M0_M2 if net else RECOMMENDED_M0,)

    def compression(self, bar: Bar) -> Strength:
        """N_b,Rd, the least over all ways to buckle; the weakest stands last."""
        refused = unfit(bar.material)
        if not directions(bar):
            refused += (NO_RADIUS,)
        curve, reason = self._curve(bar)
        refused += reason
        if refused or curve is None:
            return Strength(None, (), refused)
        walls, thin = classify(bar)
        joined, apart = space_packing_plates(bar)
        before, refused = (*walls, *joined), thin + apart
        one_leg = bar.one_legged
        if one_leg and not bar.web:
            refused += (CHORD,)
        if refused:
            return Strength(None, before, refused)
        modes = order(
            [*(self._bending(bar, way, one_leg) for way in directions(bar)), *_twisting(bar, one_leg)]
        )
        weakest = modes[-1]
        own = OWN_CURVE if is_pair(bar) else ""
        reduced = reduction(_non_dimensional(bar, weakest), curve, weakest.about, own)
        last = self._buckling(bar, reduced[-1].result, weakest.about)
        steps = (*before, *(step for mode in modes for step in mode.steps), *reduced, last)
        unchecked = _unchecked(bar, one_leg) + ((RECOMMENDED_M1,) if self.gamma_m1 == GAMMA_M1 else ())
        return Strength(last.result.value, steps, (), unchecked, steepest(modes))

    def _curve(self, bar: Bar) -> tuple[str | None, tuple[str, ...]]:
        """Buckling curve, or why there is none."""
        if bar.profile is None:
            return self.curve, () if self.curve else (NO_CURVE,)
        curve = curve_of(bar.profile, bar.material.yield_strength or 0.0)
        return curve, () if curve else (NO_MAKING,)

    def _bending(self, bar: Bar, way: Direction, one_leg: bool) -> Mode:
        """Flexural buckling one way; of an angle web joined by one leg at the slenderness of BB.1.2."""
        modulus, strength = bar.material.elastic_modulus, bar.material.yield_strength or 1.0
        first = Quantity("λ_1", pi * sqrt(modulus / strength))
        bent = Quantity("λ", way.slenderness)
        relative = Quantity("λ̄", bent.value / first.value)
        sizes = (Quantity("L_cr", way.length, "length"), Quantity("i", way.radius, "radius"))
        steps = [
            Step("6.3.1.3", "λ = L_cr / i", sizes, bent, way.name),
            Step("6.3.1.3", "λ_1 = π √(E / f_y)", (_modulus(bar), _strength(bar)), first, way.name),
            Step("6.3.1.3, (6.50)", "λ̄ = λ / λ_1", (bent, first), relative, way.name),
        ]
        if one_leg:
            steps.append(effective_slenderness(relative, way.name))
            relative = steps[-1].result
        stress = strength / relative.value**2
        return Mode(way.name, stress, way.slenderness, tuple(steps))

    def _buckling(self, bar: Bar, chi: Quantity, about: str) -> Step:
        strength = bar.material.yield_strength or 0.0
        value = chi.value * bar.section.area * strength / self.gamma_m1
        given = (chi, _area("A", bar.section.area), _strength(bar), Quantity("γ_M1", self.gamma_m1))
        formula = "N_b,Rd = χ A f_y / γ_M1"
        return Step("6.3.1.1, (6.47)", formula, given, _force("N_b,Rd", value), about)

    def _rupture(self, bar: Bar) -> tuple[list[Step], tuple[str, ...]]:
        """Rupture of the net section: its step, and what is missing for it."""
        net, ultimate = bar.net_area, bar.material.ultimate_strength
        one_leg = bar.one_legged
        if net is None or ultimate is None:
            return [], (NO_NET_AREA if net is None else NO_ULTIMATE,)
        if one_leg and bar.shear_lag is None:
            return [], (NO_BETA,)
        factor = Quantity("β", bar.shear_lag or 0.0) if one_leg else Quantity("0.9", 0.9)
        value = factor.value * net * ultimate / self.gamma_m2
        given = (_area("A_net", net), _stress("f_u", ultimate), Quantity("γ_M2", self.gamma_m2))
        formula = f"N_u,Rd = {factor.symbol} A_net f_u / γ_M2"
        clause = "EN 1993-1-8, 3.10.3" if one_leg else "6.2.3, (6.7)"
        shown = (factor, *given) if one_leg else given
        step = Step(clause, formula, shown, _force("N_u,Rd", value), "net section")
        lag = (SHEAR_LAG,) if is_pair(bar) else ()
        return [step], lag if one_leg or bar.shear_lag is None else (*lag, LAG_UNUSED)


def curve_of(profile: Profile, yield_strength: float) -> str | None:
    """Buckling curve of table 6.2; None of a hollow section of which the making is not told.

    Hot finished hollow sections: a, and a0 of S460, which is told by its strength (thicker walls of S460,
    with less than 460 MPa, stay on the lower curve a). Pairs of angles count as angles, as in Steel Buildings
    in Europe, part 5, 4.1.3: table 6.2 does not list them.
    """
    if profile.shape in ("angle", "paired angles"):
        return "b"
    if profile.shape in ("rod", "flat"):
        return "c"
    if profile.making == "hot finished":
        return "a0" if yield_strength >= 460e6 * (1 - 1e-9) else "a"
    return "c" if profile.making == "cold formed" else None


def reduction(slenderness: float, curve: str, about: str = "", why: str = "") -> tuple[Step, ...]:
    """Steps to χ of 6.3.1.2 at a non-dimensional slenderness; the last one holds it. why: this curve."""
    relative = Quantity("λ̄", slenderness)
    if slenderness <= 0.2:
        chi = Quantity("χ", 1.0)
        return (Step("6.3.1.2(4)", "χ = 1, as λ̄ ≤ 0.2", (relative,), chi, about),)
    factor = Quantity("α", IMPERFECTION[curve])
    swell = Quantity("Φ", 0.5 * (1 + factor.value * (slenderness - 0.2) + slenderness**2))
    chi = Quantity("χ", min(1.0, 1 / (swell.value + sqrt(swell.value**2 - slenderness**2))))
    formula = f"Φ = 0.5 [1 + α (λ̄ − 0.2) + λ̄²], curve {curve}{why}"
    return (
        Step("6.3.1.2, tables 6.1, 6.2", formula, (factor, relative), swell, about),
        Step("6.3.1.2, (6.49)", "χ = 1 / (Φ + √(Φ² − λ̄²)) ≤ 1", (swell, relative), chi, about),
    )


def _non_dimensional(bar: Bar, mode: Mode) -> float:
    return sqrt((bar.material.yield_strength or 0.0) / mode.stress)


def _twisting(bar: Bar, one_leg: bool) -> tuple[Mode, ...]:
    """Torsional-flexural buckling of angles and their pairs, where both lengths are known.

    Of an angle web joined by one leg, bending enters with the slenderness of BB.1.2, as it does alone.
    """
    profile, modulus = bar.profile, bar.material.elastic_modulus
    if profile is None or profile.shape not in ("angle", "paired angles") or bar.across is None:
        return ()
    section = twist(profile)
    lengths = (bar.in_plane, bar.across) if is_pair(bar) else (max(bar.in_plane, bar.across),) * 2
    ratios = [length / radius for length, radius in zip(lengths, section.radii, strict=True)]
    bent = (euler_stress(modulus, ratios[0]), euler_stress(modulus, ratios[1]))
    area = profile.area
    forces = (_force("N_cr,1", bent[0] * area), _force("N_cr,2", bent[1] * area))
    made_up: tuple[Step, ...] = ()
    if one_leg:
        made_up = fictitious_forces(bar, profile, bent)
        forces = (made_up[2].result, made_up[5].result)
        bent = (forces[0].value / area, forces[1].value / area)
    torsional = section.torsional_stress(SHEAR_MODULUS)
    lowest = section.critical_stress(bent, torsional)
    polar = Quantity("i_0", sqrt(section.polar), "radius")
    twisted = _force("N_cr,T", torsional * area)
    offsets = tuple(Quantity(s, o, "radius") for s, o in zip(("e_1", "e_2"), section.offset, strict=True))
    critical = _force("N_cr,TF", lowest * area)
    relative = Quantity("λ̄_T", sqrt((bar.material.yield_strength or 0.0) / lowest))
    given = (_stress("G", SHEAR_MODULUS), Quantity("I_T", section.constant, "second_moment"), polar)
    text = _coupled(section, tuple(force.symbol for force in forces))
    about = "with twist"
    steps = (
        *made_up,
        Step("6.3.1.4", "N_cr,T = G I_T / i_0², without warping", given, twisted, about),
        Step("6.3.1.4, elastic theory", text, (*forces, twisted, polar, *offsets), critical, about),
        Step(
            "6.3.1.4, (6.52)",
            "λ̄_T = √(A f_y / N_cr,TF)",
            (_area("A", area), _strength(bar), critical),
            relative,
            about,
        ),
    )
    return (Mode(about, lowest, max(ratios), steps),)


def _coupled(section: Twist, symbols: tuple[str, ...]) -> str:
    """The equation of bending with twist, which the standard leaves to elastic theory (see `twisting`)."""
    first, second = symbols
    legs_alone = "i_0 of the section as it is, e and I_T of its legs without fillets"
    if section.symmetric:
        bent, axis = symbols[section.coupled], section.coupled + 1
        return f"lower root N of (N − {bent}) (N − N_cr,T) = N² e_{axis}² / i_0²; {legs_alone}"
    left = f"(N − {first}) (N − {second}) (N − N_cr,T)"
    right = f"N² [(N − {second}) e_1² + (N − {first}) e_2²] / i_0²"
    return f"least root N of {left} = {right}; {legs_alone}"


def _unchecked(bar: Bar, one_leg: bool) -> tuple[str, ...]:
    """What the standard asks besides, and this strength does not contain."""
    found = [] if bar.profile is not None else [NO_CLASS]
    open_section = bar.profile is not None and bar.profile.shape in ("angle", "paired angles")
    found += [*assumed(bar), *untold(bar)]
    if bar.across is None and open_section:
        found.append(TWIST_UNKNOWN)
    if is_pair(bar) and bar.connector_spacing is None:
        found.append(NOT_GIVEN)
    if one_leg:
        found.append(CONDITIONS)
    return tuple(found)


def _force(symbol: str, value: float) -> Quantity:
    return Quantity(symbol, value, "force")


def _area(symbol: str, value: float) -> Quantity:
    return Quantity(symbol, value, "area")


def _stress(symbol: str, value: float) -> Quantity:
    return Quantity(symbol, value, "stress")


def _strength(bar: Bar) -> Quantity:
    return _stress("f_y", bar.material.yield_strength or 0.0)


def _modulus(bar: Bar) -> Quantity:
    return _stress("E", bar.material.elastic_modulus)
