"""Steels by name, with strengths by thickness."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from explorer.bundled import data_folder
from explorer.sections.numbers import INCH, MM, spell
from solver.errors import InputError
from solver.truss import Material

FOOT = 12 * INCH
KIP = 1000 * Fraction("4.4482216152605")
"""International pound of 1959 with standard gravity 9.80665 m/s², exact, as in the units of a study."""

FACTORS: Mapping[str, Mapping[str, Fraction]] = MappingProxyType(
    {
        "metric": {
            "thickness": MM,
            "stress": Fraction(10**6),
            "unit_weight": Fraction(1000),
            "expansion": Fraction(1),
        },
        "US": {
            "thickness": INCH,
            "stress": KIP / INCH**2,
            "unit_weight": KIP / FOOT**3,
            "expansion": Fraction(9, 5),
        },
    }
)
"""SI of what is written: mm, MPa, kN/m³, 1/°C; in, ksi, kip/ft³, 1/°F."""


@dataclass(frozen=True)
class Strengths:
    """Yield and ultimate strength [Pa] up to a thickness [m]."""

    up_to: float
    yield_strength: float
    ultimate_strength: float


@dataclass(frozen=True)
class Steel:
    """A steel of a standard: strengths from the thinnest range on, the rest as of `Material` [SI]."""

    name: str
    title: str
    standard: str
    source: str
    certainty: str
    not_covered: str
    strengths: tuple[Strengths, ...]
    elastic_modulus: float
    unit_weight: float
    expansion: float

    def material(self, thickness: float | None = None) -> Material:
        """The material at a thickness [m]; without one that of the thinnest range, which is the strongest.

        Raises InputError beyond the thickest range.
        """
        fitting = [each for each in self.strengths if thickness is None or thickness <= each.up_to]
        if not fitting:
            most = self.strengths[-1].up_to * 1000
            wrong = f"{self.name} is given up to {most:.4g} mm, not for {1000 * (thickness or 0):.4g} mm"
            raise InputError(wrong, [self.name])
        return Material(
            self.name,
            elastic_modulus=self.elastic_modulus,
            yield_strength=fitting[0].yield_strength,
            ultimate_strength=fitting[0].ultimate_strength,
            unit_weight=self.unit_weight,
            expansion=self.expansion,
        )


@cache
def bundled_steels() -> Mapping[str, Steel]:
    """All bundled steels by name, in the file's order."""
    text = (data_folder() / "materials" / "steels.toml").read_text(encoding="utf-8")
    entries = tomllib.loads(text, parse_float=Fraction)
    return MappingProxyType({name: _steel(name, entry) for name, entry in entries.items()})


def find_steel(name: str, thickness: float | None = None) -> Material:
    """Return a steel as a material, at the thickness [m] of a profile; raises InputError with near names.

    >>> find_steel("S355").yield_strength, find_steel("S355", thickness=0.020).yield_strength
    (355000000.0, 345000000.0)
    """
    known = {spell(steel): steel for steel in bundled_steels()}
    if spell(name) in known:
        return bundled_steels()[known[spell(name)]].material(thickness)
    near = get_close_matches(spell(name[:80]), list(known), n=2)
    right = " or ".join(known[key] for key in near)
    told = f"did you mean {right}?" if near else f"there are {', '.join(bundled_steels())}"
    raise InputError(f"there is no steel {name[:80]}: {told}", [name])


def _steel(name: str, entry: Mapping[str, object]) -> Steel:
    factors = FACTORS[str(entry["units"])]

    def si(value: object, kind: str) -> float:
        assert isinstance(value, int | Fraction), f"{name}: {value!r} is no number"
        return float(value * factors[kind])

    written = entry["strengths"]
    assert isinstance(written, list), f"{name}: strengths are a list"
    strengths = [
        Strengths(si(each["up_to"], "thickness"), si(each["fy"], "stress"), si(each["fu"], "stress"))
        for each in written
    ]
    words = ("title", "standard", "source", "certainty", "not_covered")
    return Steel(
        name,
        **{key: str(entry[key]) for key in words},
        strengths=tuple(strengths),
        elastic_modulus=si(entry["E"], "stress"),
        unit_weight=si(entry["unit_weight"], "unit_weight"),
        expansion=si(entry["expansion"], "expansion"),
    )
