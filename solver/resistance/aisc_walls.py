"""AISC 360-22, table B4.1a and E7: walls of a compressed section, and its area where they are slender."""

from __future__ import annotations

from dataclasses import dataclass
from math import sqrt

from solver.profiles.profile import Profile
from solver.resistance.bar import Bar
from solver.resistance.steps import Quantity, Step
from solver.resistance.twisting import legs

TOO_THIN = "slender walls (E7): D/t of a round hollow section over 0.45 E/F_y"


@dataclass(frozen=True)
class Wall:
    """Walls alike: width b and thickness t [m], count, λ_r and its case of B4.1a, c_1 and c_2 of E7.1."""

    name: str
    width: float
    thickness: float
    count: int
    case: str
    limit: Quantity
    limit_formula: str
    imperfection: tuple[float, float]

    @property
    def clause(self) -> str:
        """Where b is told: of hollow sections B − 3 t with the design wall of B4.2, of angles the leg."""
        return "B4.1b(d), b = B − 3 t" if self.case == "case 6" else "B4.1a(b), b: the leg"

    @property
    def slenderness(self) -> float:
        """λ = b / t."""
        return self.width / self.thickness


def walls(bar: Bar) -> tuple[Wall, ...]:
    """Flat walls of `bar`: of hollow sections b = B − 3 t (B4.1b(d)), of angles the whole legs."""
    profile = bar.profile
    if profile is None:
        return ()
    t = profile.thickness
    root = sqrt(bar.material.elastic_modulus / (bar.material.yield_strength or 1.0))
    if profile.shape == "rectangular hollow":
        limit, text = Quantity("λ_r", 1.40 * root), "λ_r = 1.40 √(E / F_y)"
        sides = [(max(side - 3 * t, 0.0), t, 2) for side in (profile.depth, profile.width)]
        case, factors = "case 6", (0.20, 1.38)
    elif profile.shape in ("angle", "paired angles"):
        limit, text = Quantity("λ_r", 0.45 * root), "λ_r = 0.45 √(E / F_y)"
        sides = [(leg, t, 1 if profile.shape == "angle" else 2) for leg in legs(profile)]
        case, factors = "case 3", (0.22, 1.49)
    else:
        return ()
    names = ("along the depth", "across")
    return tuple(
        Wall(name, *side, case, limit, text, factors) for name, side in zip(names, sides, strict=True)
    )


def too_thin(bar: Bar) -> tuple[str, ...]:
    """Walls beyond what E7 covers."""
    if bar.profile is None or bar.profile.shape != "round hollow":
        return ()
    limit = 0.45 * bar.material.elastic_modulus / (bar.material.yield_strength or 1.0)
    return (TOO_THIN,) if bar.profile.depth / bar.profile.thickness >= limit else ()


def effective_area(bar: Bar, stress: Quantity) -> tuple[Quantity, tuple[Step, ...]]:
    """A_g, or where a wall is slender A_e at the nominal stress F_n; with the steps to it.

    A slender wall is one of E7, whose A_e is as large as A_g where F_n is low.
    """
    gross = Quantity("A_g", bar.section.area, "area")
    if bar.profile is not None and bar.profile.shape == "round hollow":
        return _round(bar, bar.profile, gross)
    steps: list[Step] = []
    loss = 0.0
    for wall in walls(bar):
        found, width = _effective_width(bar, wall, stress)
        steps += found
        loss += wall.count * (wall.width - width) * wall.thickness
    if not any(wall.slenderness > wall.limit.value for wall in walls(bar)):
        return gross, tuple(steps)
    area = Quantity("A_e", gross.value - loss, "area")
    given = (gross, Quantity("Σ (b − b_e) t", loss, "area"))
    return area, (*steps, Step("E7.1", "A_e = A_g − Σ (b − b_e) t", given, area, "walls"))


def _effective_width(bar: Bar, wall: Wall, stress: Quantity) -> tuple[list[Step], float]:
    """b_e of a wall: all of it up to λ_r √(F_y / F_n), less above; never more than b.

    The printed c_1 and c_2 are rounded, so that E7-3 would give up to 0.2 % more than b at the limit itself.
    """
    about = f"wall {wall.name}"
    strength = Quantity("F_y", bar.material.yield_strength or 0.0, "stress")
    width, ratio = Quantity("b", wall.width, "radius"), Quantity("λ", wall.slenderness)
    modulus = Quantity("E", bar.material.elastic_modulus, "stress")
    reach = Quantity("λ_r √(F_y / F_n)", wall.limit.value * sqrt(strength.value / stress.value))
    steps = [
        Step(wall.clause, "λ = b / t", (width, Quantity("t", wall.thickness, "radius")), ratio, about),
        Step(f"table B4.1a, {wall.case}", wall.limit_formula, (modulus, strength), wall.limit, about),
    ]
    if ratio.value <= wall.limit.value:
        return steps, width.value
    steps.append(Step("E7.1", "λ_r √(F_y / F_n)", (wall.limit, strength, stress), reach, about))
    if ratio.value <= reach.value:
        steps.append(Step("E7-2", "b_e = b, as λ ≤ λ_r √(F_y / F_n)", (width,), _width(width.value), about))
        return steps, width.value
    first, second = (Quantity(f"c_{i}", c) for i, c in zip((1, 2), wall.imperfection, strict=True))
    elastic = (second.value * wall.limit.value / ratio.value) ** 2 * strength.value
    local = Quantity("F_el", elastic, "stress")
    share = sqrt(elastic / stress.value)
    reduced = _width(min(1.0, (1 - first.value * share) * share) * width.value)
    formula = "b_e = b (1 − c_1 √(F_el / F_n)) √(F_el / F_n) ≤ b"
    steps += [
        Step("E7-5", "F_el = (c_2 λ_r / λ)² F_y", (second, wall.limit, ratio, strength), local, about),
        Step("E7-3", formula, (width, first, local, stress), reduced, about),
    ]
    return steps, reduced.value


def _round(bar: Bar, profile: Profile, gross: Quantity) -> tuple[Quantity, tuple[Step, ...]]:
    """Area of a round hollow section (E7.2); at the limit itself E7-7 would give 1.2 % more than A_g."""
    share = bar.material.elastic_modulus / (bar.material.yield_strength or 1.0)
    ratio = Quantity("D / t", profile.depth / profile.thickness)
    limit = Quantity("λ_r", 0.11 * share)
    modulus = Quantity("E", bar.material.elastic_modulus, "stress")
    strength = Quantity("F_y", bar.material.yield_strength or 0.0, "stress")
    sizes = (Quantity("D", profile.depth, "radius"), Quantity("t", profile.thickness, "radius"))
    steps = (
        Step("table B4.1a", "D / t", sizes, ratio, "wall"),
        Step("table B4.1a, case 9", "λ_r = 0.11 E / F_y", (modulus, strength), limit, "wall"),
    )
    if ratio.value <= limit.value:
        return gross, steps
    area = Quantity("A_e", min(1.0, 0.038 * share / ratio.value + 2 / 3) * gross.value, "area")
    formula = "A_e = [0.038 E / (F_y (D / t)) + 2/3] A_g ≤ A_g"
    return area, (*steps, Step("E7-7", formula, (modulus, strength, ratio, gross), area, "wall"))


def _width(value: float) -> Quantity:
    return Quantity("b_e", value, "radius")
