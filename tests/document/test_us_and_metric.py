"""One study written in US units and in metric ones is one study."""

from __future__ import annotations

from decimal import Decimal, localcontext
from fractions import Fraction

import numpy as np
import pytest
from numpy.testing import assert_allclose

from explorer.document import read_text
from solver.study import Study

# One US unit in metric ones, from the foot of 0.3048 m and the pound-force of 4.4482216152605 N.
FOOT, KIP = Fraction("0.3048"), Fraction("4.4482216152605")
INCH = FOOT / 12
METRIC = {
    "ft": FOOT,
    "kip": KIP,
    "kip/ft": KIP / FOOT,
    "in2": (1000 * INCH) ** 2,
    "in4": (1000 * INCH) ** 4,
    "in": 1000 * INCH,
    "ksi": KIP / INCH**2 / 1000,
    "kip/ft3": KIP / FOOT**3,
    "F": Fraction(5, 9),
    "1/F": Fraction(9, 5),
}


def write(metric: bool) -> str:
    """Write the study; its metric numbers have 50 digits, far more than 1e-15 asks for."""

    def n(value: str, unit: str) -> str:
        exact = Fraction(value) * METRIC[unit] if metric else Fraction(value)
        with localcontext(prec=50):
            return str(Decimal(exact.numerator) / Decimal(exact.denominator))

    return f"""
title = "Teal Ford footbridge"
units = "{"metric" if metric else "US"}"
zero_limit = {n("0.125", "kip")}
[joints]
L0 = [0, 0]
L1 = [{n("13.1", "ft")}, 0]
L2 = [{n("26.2", "ft")}, 0]
U1 = [{n("13.1", "ft")}, {n("9.7", "ft")}]
[supports]
L0 = "xy"
L2 = "y"
[materials.steel]
E = {n("29000", "ksi")}
fy = {n("50", "ksi")}
fu = {n("65", "ksi")}
unit_weight = {n("0.49", "kip/ft3")}
expansion = {n("0.0000065", "1/F")}
[sections.tube]
area = {n("2.3", "in2")}
I = {n("5.3", "in4")}
r = {n("1.51", "in")}
[groups.all]
along = ["L0", "L1", "L2"]
members = ["L0-U1", "U1-L2", "L1-U1"]
section = "tube"
material = "steel"
tension = {n("70", "kip")}
compression = {n("27", "kip")}
[chords.deck]
joints = ["L0", "L1", "L2"]
[cases.load]
joints = {{ U1 = [{n("0.3", "kip")}, {n("-1.1", "kip")}] }}
lines = [
  {{ chord = "deck", load = [0, {n("-0.21", "kip/ft")}] }},
  {{ chord = "deck", normal = {n("0.17", "kip/ft")}, from = {n("3.3", "ft")}, to = {n("26.2", "ft")} }},
]
[cases.frost]
temperature = {n("-37", "F")}
settlement = {{ L2 = [0, {n("-0.4", "in")}] }}
misfit = {{ "L1-U1" = {n("0.11", "in")} }}
[trains.cart]
axles = [[0, {n("2.2", "kip")}], [{n("8.2", "ft")}, {n("3.4", "kip")}]]
[crossings.cart]
train = "cart"
chord = "deck"
"""


def numbers(study: Study) -> dict[str, np.ndarray]:
    """All numbers of the study that have a unit, in SI."""
    truss, (load, frost) = study.truss, study.cases.values()
    group = truss.members[0].group
    material, section = group.material, group.section
    axles = study.crossings["cart"].trains[0].axles
    found: dict[str, object] = {
        "zero limit": study.zero_limit,
        "coordinates": truss.joint_coordinates,
        "material": [
            material.elastic_modulus,
            material.yield_strength,
            material.ultimate_strength,
            material.unit_weight,
            material.expansion,
        ],
        "section": [section.area, section.second_moment, section.radius],
        "resistances": [group.tension, group.compression],
        "joint loads": load.joints[3],
        "lines": [load.lines[0].vector, (load.lines[1].normal, 0.0)],
        "stretches": [(line.start, line.end) for line in load.lines],
        "frost": [*frost.settlement[2], *frost.misfit.values()],
        "temperature": frost.temperature,
        "axles": [(axle.distance, axle.load) for axle in axles],
        "chord": study.chords["deck"].positions,
    }
    return {name: np.array(value, dtype=float) for name, value in found.items()}


US_NUMBERS = numbers(read_text(write(metric=False), "us.toml").study)
METRIC_NUMBERS = numbers(read_text(write(metric=True), "metric.toml").study)


@pytest.mark.parametrize("what", US_NUMBERS)
def test_a_study_in_us_units_equals_the_same_study_in_metric_ones(what: str) -> None:
    assert np.all(np.isfinite(US_NUMBERS[what]))
    assert_allclose(US_NUMBERS[what], METRIC_NUMBERS[what], rtol=1e-15, atol=0)
