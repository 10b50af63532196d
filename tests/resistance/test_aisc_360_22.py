"""AISC 360-22 by hand: walls, angles, refusals, and what is told beside the numbers."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import pytest

from solver.resistance import aisc_angles
from solver.resistance.aisc_360_22 import (
    NO_NET_AREA,
    NO_PROFILE,
    NO_SHEAR_LAG,
    NO_ULTIMATE,
    Aisc360,
)
from solver.resistance.aisc_pairs import ENDS
from solver.resistance.aisc_walls import TOO_THIN
from solver.resistance.bar import Bar
from solver.resistance.directions import NO_RADIUS, NO_YIELD, NOT_STEEL, OUT_OF_PLANE, SAME_RADIUS
from solver.resistance.steps import Strength
from solver.truss import Material, Section
from tests.resistance.members import (
    INCH,
    KIP,
    KSI,
    angle,
    box,
    pair,
    plain_bar,
    rod,
    shaped,
    steel,
    tube,
    us_steel,
)

LRFD, ASD = Aisc360("LRFD"), Aisc360("ASD")
A36, A992 = us_steel(36, 58), us_steel(50, 65)


def result(strength: Strength, symbol: str) -> float:
    """The last value of a symbol among the steps."""
    return [step.result.value for step in strength.steps if step.result.symbol == symbol][-1]


def clauses(strength: Strength) -> list[str]:
    return [step.clause for step in strength.steps]


def test_slender_walls_of_a_box_lose_area_as_reckoned_by_hand() -> None:
    # 12 x 8 in, t 0.174 in: h/t 65.97, b/t 42.98, λ_r 33.72; F_e 38.64, F_n 29.09; 12-in. walls only:
    # F_el (1.38 x 33.72 / 65.97)² 50 = 24.88, √(F_el/F_n) 0.9247, b_e 0.7537 x 11.478 = 8.651,
    # A_e = 6.76 - 2 x 2.827 x 0.174 = 5.776
    shape = box(12 * INCH, 8 * INCH, 0.174 * INCH, "cold formed")
    shape = replace(shape, area=6.76 * INCH**2, second_moment=140 * INCH**4, across=75.7 * INCH**4)
    shape = replace(shape, least=shape.across)
    strength = LRFD.compression(shaped(shape, A992, 288 * INCH))
    assert result(strength, "F_el") / KSI == pytest.approx(24.88, abs=0.01)
    assert result(strength, "A_e") / INCH**2 == pytest.approx(5.776, abs=0.002)
    assert strength.value == pytest.approx(0.9 * 29.09 * 5.776 * KIP, rel=1e-3)
    assert "E7-1" in clauses(strength) and "E3-1" not in clauses(strength)


def test_slender_walls_at_a_low_stress_keep_their_area_and_are_told_by_e7() -> None:
    # 12 x 8 in, t 0.174 in, 60 ft: λ 65.97 over λ_r 33.72; L/r 215, F_e 6.18, F_n 5.42 ksi by E3-3:
    # λ_r √(50/5.42) = 102.4 is above λ, so that b_e = b and A_e = A_g = 6.76 in² (E7-2)
    shape = box(12 * INCH, 8 * INCH, 0.174 * INCH, "cold formed")
    shape = replace(shape, area=6.76 * INCH**2, second_moment=140 * INCH**4, across=75.7 * INCH**4)
    shape = replace(shape, least=shape.across)
    strength = LRFD.compression(shaped(shape, A992, 720 * INCH))
    assert result(strength, "A_e") / INCH**2 == pytest.approx(6.76, rel=1e-9)
    assert strength.value == pytest.approx(0.9 * 5.42 * 6.76 * KIP, rel=2e-3)
    assert "E7-1" in clauses(strength) and "E3-1" not in clauses(strength)


def test_widths_and_thicknesses_of_walls_are_small_lengths() -> None:
    bars = [
        shaped(box(0.3, 0.2, 0.004), A992, 3.0),
        shaped(tube(0.5, 0.005), A992, 3.0),
        shaped(angle(0.1, 0.075, 0.012), A36, 2.0, web=True, connected="short leg"),
    ]
    walls = ("b", "t", "b_e", "D", "b_l", "b_s")
    kinds = {
        (quantity.symbol, quantity.kind)
        for bar in bars
        for step in LRFD.compression(bar).steps
        for quantity in (*step.given, step.result)
        if quantity.symbol in walls
    }
    assert kinds == {(symbol, "radius") for symbol in walls}


def test_e4_takes_the_shear_modulus_of_11_200_ksi() -> None:
    strength = LRFD.compression(shaped(angle(0.15, 0.15, 0.006), A992, 0.8))
    (modulus,) = {q.value for step in strength.steps for q in step.given if q.symbol == "G"}
    assert modulus / KSI == pytest.approx(11200, rel=1e-9)


def test_the_shear_centre_of_equal_legs_lies_exactly_on_their_axis() -> None:
    for leg in (0.06, 0.09, 0.15):
        strength = LRFD.compression(shaped(angle(leg, leg, leg / 25), A992, 0.8))
        given = next(step.given for step in strength.steps if step.clause == "E4-3")
        offsets = {q.symbol: q.value for q in given if q.symbol in ("x_0", "y_0")}
        assert 0 in offsets.values() and max(map(abs, offsets.values())) > 0.01


def test_of_equal_legs_none_is_the_long_one() -> None:
    for sizes, joined in (((0.1, 0.1), "one leg"), ((0.1, 0.075), "long leg"), ((0.075, 0.1), "long leg")):
        assert shaped(angle(*sizes, 0.01), A36, 2.0, connected="long leg").joined_by == joined
    assert shaped(angle(0.1, 0.1, 0.01), A36, 2.0).joined_by == "both legs"


def test_a_thin_round_wall_loses_area_by_e7_7() -> None:
    # D/t 80, 0.11 E/F_y 69.3, A_e/A_g = 0.038 x 29000 / (46 x 80) + 2/3 = 0.96612
    strength = LRFD.compression(shaped(tube(20 * INCH, 0.25 * INCH), us_steel(46), 120 * INCH))
    area = pi / 4 * (20**2 - 19.5**2)
    assert result(strength, "A_e") / INCH**2 == pytest.approx(0.96612 * area, rel=1e-4)


def test_a_round_wall_beyond_e7_is_refused_by_name() -> None:
    assert LRFD.compression(shaped(tube(20 * INCH, 0.06 * INCH), A992, 1.0)).refused == (TOO_THIN,)


def test_stocky_walls_are_told_and_keep_the_whole_area() -> None:
    strength = LRFD.compression(shaped(box(0.1, 0.06, 0.005), steel(355e6), 2.0))
    assert {"table B4.1a, case 6", "E3-1"} <= set(clauses(strength))
    assert strength.unchecked == () and strength.refused == ()


def test_a_long_leg_of_an_angle_joined_by_one_leg_bends_about_the_axis_along_it() -> None:
    shape = angle(0.10, 0.075, 0.012)
    for turned in (shape, angle(0.075, 0.10, 0.012)):
        by_long = LRFD.compression(shaped(turned, A36, 2.0, web=True, connected="long leg"))
        by_short = LRFD.compression(shaped(turned, A36, 2.0, web=True, connected="short leg"))
        assert result(by_long, "L / r_a") == pytest.approx(2.0 / shape.radius_across, rel=1e-9)
        assert result(by_short, "L / r_a") == pytest.approx(2.0 / shape.radius, rel=1e-9)
        # 100/75: 4 (1.7778 - 1) = 3.111
        line = 72 + 0.75 * 2.0 / shape.radius
        expected = max(line + 3.1111, 0.95 * 2.0 / shape.least_radius)
        assert by_short.slenderness == pytest.approx(expected, rel=1e-4)


@pytest.mark.parametrize(
    ("sizes", "more", "reason"),
    [
        ((0.1, 0.1, 0.012), {"web": False}, aisc_angles.CHAPTER_H),
        ((0.17, 0.10, 0.015), {}, aisc_angles.UNEVEN),
        ((0.1, 0.1, 0.012), {"length": 4.3}, aisc_angles.SLENDER),
        ((0.1, 0.1, 0.0045), {}, aisc_angles.TWIST),
    ],
)
def test_an_angle_joined_by_one_leg_outside_e5_is_refused_by_name(
    sizes: tuple[float, float, float], more: dict[str, object], reason: str
) -> None:
    given = {"web": True, "connected": "long leg"} | more
    length = float(given.pop("length", 2.0))  # type: ignore[arg-type]
    strength = LRFD.compression(shaped(angle(*sizes), A36, length, **given))
    assert strength.value is None and strength.refused == (reason,)
    assert LRFD.tension(shaped(angle(*sizes), A36, length, **given)).value is not None


def test_an_angle_within_e5_tells_the_conditions_that_nobody_asked() -> None:
    strength = LRFD.compression(shaped(angle(0.1, 0.1, 0.012), A36, 2.0, web=True, connected="long leg"))
    assert strength.unchecked == aisc_angles.CONDITIONS


def test_an_angle_loaded_along_its_axis_bends_about_the_weakest_axis() -> None:
    shape = angle(0.1, 0.1, 0.012)
    strength = LRFD.compression(shaped(shape, A36, 2.0))
    assert strength.steps[-1].about == "weakest axis"
    assert strength.slenderness == pytest.approx(2.0 / shape.least_radius)


def test_a_thin_angle_loaded_along_its_axis_twists_when_short() -> None:
    shape = angle(0.15, 0.15, 0.006)
    strength = LRFD.compression(shaped(shape, A992, 0.8))
    assert strength.steps[-1].about == "with twist" and "E4-3" in clauses(strength)
    assert "E4-4" in clauses(LRFD.compression(shaped(angle(0.15, 0.10, 0.006), A992, 0.8)))


def test_paired_angles_twist_with_bending_out_of_plane_and_tell_their_connectors() -> None:
    shape = pair(0.1, 0.075, 0.008, 0.01)
    # a/r_i under 40 and welded: E6-2a leaves the slenderness out of plane as it is
    joined = {"connector_spacing": 0.4, "connector_fixing": "welded"}
    strength = LRFD.compression(shaped(shape, A36, 2.0, **joined))
    # E4-3 with F_ey, F_ez and H from the centre lines of the legs
    upright, flat = 0.1 * 0.008, 0.067 * 0.008
    offset = (upright * 0.05 + flat * 0.004) / (upright + flat) - 0.004
    polar = offset**2 + shape.radius**2 + shape.radius_across**2
    fey = pi**2 * A36.elastic_modulus / (2.0 / shape.radius_across) ** 2
    fez = 11200 * KSI * 2 * (0.1 + 0.075 - 0.008) * 0.008**3 / 3 / (shape.area * polar)
    h = 1 - offset**2 / polar
    expected = (fey + fez) / (2 * h) * (1 - sqrt(1 - 4 * fey * fez * h / (fey + fez) ** 2))
    twisted = next(step for step in strength.steps if step.clause == "E4-3")
    assert twisted.result.value == pytest.approx(expected, rel=1e-9)
    assert strength.unchecked == (ENDS,)


def test_an_unknown_length_out_of_plane_is_told_and_never_taken_for_none() -> None:
    strength = LRFD.compression(shaped(box(0.1, 0.06, 0.005), steel(355e6), 2.0, across=None))
    assert strength.unchecked == (OUT_OF_PLANE,)
    assert {step.about for step in strength.steps if step.clause == "E3-4"} == {"in plane"}
    paired = shaped(pair(0.1, 0.1, 0.01, 0.01), A36, 2.0, across=None, connector_spacing=0.5)
    angles = LRFD.compression(paired)
    assert OUT_OF_PLANE in angles.unchecked and any("E4" in text for text in angles.unchecked)


def test_the_weakest_direction_stands_last() -> None:
    shape = box(0.1, 0.06, 0.005)
    weak_across = LRFD.compression(shaped(shape, steel(355e6), 2.0))
    weak_inside = LRFD.compression(shaped(shape, steel(355e6), 2.0, across=0.5))
    assert weak_across.steps[-1].about == "out of plane"
    assert weak_inside.steps[-1].about == "in plane"
    assert [s.about for s in weak_inside.steps if s.clause == "E3-4"] == ["out of plane", "in plane"]


def test_a_section_without_a_profile_tells_that_its_walls_were_not_checked() -> None:
    assert LRFD.compression(plain_bar(1e-3, 0.02, A36, 2.0)).unchecked == (NO_PROFILE, SAME_RADIUS)
    assert LRFD.compression(shaped(rod(0.05), A36, 1.0)).unchecked == ()


def test_what_is_missing_is_refused_by_name() -> None:
    bare = Bar(Section("bare", 1e-3), A36, 2.0, 2.0, 2.0)
    assert LRFD.compression(bare).refused == (NO_RADIUS,)
    assert LRFD.tension(bare).value is not None
    for way in (LRFD.tension, LRFD.compression):
        assert way(plain_bar(1e-3, 0.02, steel(None), 2.0)).refused == (NO_YIELD,)
        aluminium = Material("aluminium", 69e9, 200e6)
        assert way(plain_bar(1e-3, 0.02, aluminium, 2.0)).refused == (NOT_STEEL,)


def test_rupture_is_checked_with_net_area_and_shear_lag_and_else_told() -> None:
    whole = plain_bar(10e-4, 0.02, A36, 2.0)
    assert LRFD.tension(whole).unchecked == (NO_NET_AREA,)
    assert LRFD.tension(replace(whole, net_area=8e-4)).unchecked == (NO_SHEAR_LAG,)
    without = replace(whole, net_area=8e-4, shear_lag=0.7, material=us_steel(36))
    assert LRFD.tension(without).unchecked == (NO_ULTIMATE,)
    checked = LRFD.tension(replace(whole, net_area=8e-4, shear_lag=0.7))
    assert checked.unchecked == ()
    assert checked.value == pytest.approx(0.75 * 58 * KSI * 8e-4 * 0.7)


def test_a_standard_tells_its_edition_and_its_method() -> None:
    assert ASD.name == "AISC 360-22, ASD"
    assert LRFD.name == "AISC 360-22, LRFD"
