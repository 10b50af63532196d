"""Where limits lie: walls just inside and just outside, and which of several lengths counts."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import pytest

from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.aisc_walls import TOO_THIN
from solver.resistance.en_1993_1_1 import En1993
from solver.resistance.steps import Strength
from tests.resistance.members import INCH, KSI, angle, pair, shaped, steel, tube, us_steel

LRFD, EN = Aisc360(), En1993()


def found(strength: Strength, symbol: str) -> float:
    return [step.result.value for step in strength.steps if step.result.symbol == symbol][-1]


def test_round_walls_are_slender_from_0_11_and_refused_from_0_45_of_e_over_fy() -> None:
    # 46 ksi: 0.11 x 29000 / 46 = 69.35; 50 ksi: 0.45 x 580 = 261
    inside = LRFD.compression(shaped(tube(0.69, 0.01), us_steel(46), 2.0))
    outside = LRFD.compression(shaped(tube(0.70, 0.01), us_steel(46), 2.0))
    assert found(inside, "λ_r") == pytest.approx(69.35, abs=0.005)
    assert {step.clause for step in inside.steps} & {"E3-1", "E7-1"} == {"E3-1"}
    assert {step.clause for step in outside.steps} & {"E3-1", "E7-1"} == {"E7-1"}
    assert LRFD.compression(shaped(tube(2.60, 0.01), us_steel(50), 2.0)).refused == ()
    assert LRFD.compression(shaped(tube(2.62, 0.01), us_steel(50), 2.0)).refused == (TOO_THIN,)


@pytest.mark.parametrize(("paired", "count"), [(False, 2), (True, 4)])
def test_slender_legs_lose_width_by_e7_case_c(paired: bool, count: int) -> None:
    b, t = 6 * INCH, 0.25 * INCH
    shape = pair(b, b, t, 0.01) if paired else angle(b, b, t)
    strength = LRFD.compression(shaped(shape, us_steel(50), 1.0, connector_spacing=0.2))
    stress = found(strength, "F_n") / KSI
    # λ 24, λ_r 0.45 √580 = 10.837, F_el = (1.49 x 10.837 / 24)² 50 = 22.634 ksi
    assert found(strength, "λ_r") == pytest.approx(10.837, abs=0.001)
    share = sqrt(22.634 / stress)
    width = b * (1 - 0.22 * share) * share
    assert 0 < width < b
    assert found(strength, "A_e") == pytest.approx(shape.area - count * (b - width) * t, rel=1e-4)


@pytest.mark.parametrize(("space", "share"), [(False, 0.95), (True, 0.82)])
def test_an_uneven_angle_joined_by_its_short_leg_keeps_above_a_share_of_its_weakest_axis(
    space: bool, share: float
) -> None:
    shape = angle(0.16, 0.10, 0.012)
    bar = shaped(shape, us_steel(36), 80 * shape.radius, web=True, connected="short leg", space=space)
    least = share * 80 * shape.radius / shape.least_radius
    assert 140 < least < 200
    assert LRFD.compression(bar).slenderness == pytest.approx(least)


@pytest.mark.parametrize("longer", ["length", "in_plane", "across"])
def test_the_longest_of_the_lengths_counts_for_an_angle_joined_by_one_leg(longer: str) -> None:
    shape = angle(0.1, 0.1, 0.012)
    bar = shaped(shape, us_steel(36), 1.0, web=True, connected="long leg")
    bar = replace(bar, **{longer: 2.0})  # type: ignore[arg-type]
    assert found(LRFD.compression(bar), "L / r_a") == pytest.approx(2.0 / shape.radius)


@pytest.mark.parametrize("longer", ["in_plane", "across"])
def test_the_weakest_axis_bends_over_the_longer_unbraced_length(longer: str) -> None:
    shape = angle(0.1, 0.1, 0.012)
    bar = shaped(shape, steel(250e6), 1.5, **{longer: 2.0})
    for standard in (LRFD, EN):
        assert standard.compression(bar).slenderness == pytest.approx(2.0 / shape.least_radius)


def test_the_limit_of_round_walls_goes_with_the_square_of_epsilon() -> None:
    # S355: 90 x 235 / 355 = 59.58
    assert EN.compression(shaped(tube(0.59, 0.01), steel(355e6), 2.0)).value is not None
    assert EN.compression(shaped(tube(0.60, 0.01), steel(355e6), 2.0)).value is None
