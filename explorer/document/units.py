"""Unit systems, exact in both directions: what a study writes, and SI inside."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike, NDArray

FOOT = Fraction("0.3048")
INCH = FOOT / 12
POUND_FORCE = Fraction("4.4482216152605")
"""International yard and pound agreement of 1959 with standard gravity 9.80665 m/s2, exact."""

KIP = 1000 * POUND_FORCE
MM = Fraction(1, 1000)


@dataclass(frozen=True)
class UnitSystem:
    """Labels and SI factors by kind of quantity: value in SI = factor x value as written."""

    name: str
    labels: Mapping[str, str]
    factors: Mapping[str, Fraction]

    def label(self, kind: str) -> str:
        """Return the unit of a kind of quantity, as `kN`."""
        return self.labels[kind]

    def to_si(self, kind: str, value: Fraction) -> Fraction:
        """Return a value as written in SI, exactly."""
        return value * self.factors[kind]

    def from_si(self, kind: str, values: ArrayLike) -> NDArray[np.float64]:
        """Return SI values in this system's unit."""
        factor = self.factors[kind]
        return np.asarray(values, dtype=float) * factor.denominator / factor.numerator


def _system(name: str, units: Mapping[str, tuple[str, Fraction]]) -> UnitSystem:
    labels = MappingProxyType({kind: label for kind, (label, _) in units.items()})
    return UnitSystem(name, labels, MappingProxyType({kind: factor for kind, (_, factor) in units.items()}))


METRIC = _system(
    "metric",
    {
        "length": ("m", Fraction(1)),
        "force": ("kN", Fraction(1000)),
        "line_load": ("kN/m", Fraction(1000)),
        "area": ("mm²", MM**2),
        "second_moment": ("mm⁴", MM**4),
        "radius": ("mm", MM),
        "stress": ("MPa", Fraction(10**6)),
        "unit_weight": ("kN/m³", Fraction(1000)),
        "small_length": ("mm", MM),
        "temperature": ("°C", Fraction(1)),
        "expansion": ("1/°C", Fraction(1)),
        "none": ("", Fraction(1)),
    },
)
US = _system(
    "US",
    {
        "length": ("ft", FOOT),
        "force": ("kip", KIP),
        "line_load": ("kip/ft", KIP / FOOT),
        "area": ("in²", INCH**2),
        "second_moment": ("in⁴", INCH**4),
        "radius": ("in", INCH),
        "stress": ("ksi", KIP / INCH**2),
        "unit_weight": ("kip/ft³", KIP / FOOT**3),
        "small_length": ("in", INCH),
        "temperature": ("°F", Fraction(5, 9)),
        "expansion": ("1/°F", Fraction(9, 5)),
        "none": ("", Fraction(1)),
    },
)
SYSTEMS = {system.name: system for system in (METRIC, US)}
