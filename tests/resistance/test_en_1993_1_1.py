"""EN 1993-1-1 by hand: curves, classes, angle webs, net sections, refusals."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import pytest

from solver.profiles.profile import Profile
from solver.resistance import en_1993_1_1 as en
from solver.resistance import en_pairs
from solver.resistance.directions import NO_YIELD, OUT_OF_PLANE, SAME_RADIUS
from solver.resistance.en_1993_1_1 import En1993, curve_of
from solver.resistance.en_walls import CLASS_4
from solver.truss import Material
from tests.resistance.members import angle, box, pair, plain_bar, rod, shaped, steel, tube

EN = En1993()
RECOMMENDED = (en.RECOMMENDED_M0_M2,)
S235, S275, S355 = steel(235e6, 360e6), steel(275e6, 430e6), steel(355e6, 510e6)


@pytest.mark.parametrize(
    ("profile", "strength", "curve"),
    [
        (tube(0.1, 0.005), 355e6, "a"),
        (tube(0.1, 0.005), 460e6, "a0"),
        (box(0.1, 0.1, 0.02), 440e6, "a"),
        (box(0.1, 0.1, 0.005, "cold formed"), 355e6, "c"),
        (box(0.1, 0.1, 0.005, "cold formed"), 460e6, "c"),
        (angle(0.1, 0.1, 0.01), 275e6, "b"),
        (pair(0.1, 0.1, 0.01, 0.01), 275e6, "b"),
        (rod(0.05), 275e6, "c"),
        (box(0.1, 0.1, 0.005, "rolled"), 355e6, None),
    ],
)
def test_the_curve_follows_section_and_making(profile: Profile, strength: float, curve: str | None) -> None:
    assert curve_of(profile, strength) == curve


@pytest.mark.parametrize(
    ("profile", "material", "holds"),
    [
        # S235: 42 on c/t with c = h - 3t, 90 on d/t, 15 on h/t and 11.5 on (b + h)/2t
        (box(0.450, 0.1, 0.010), S235, True),
        (box(0.451, 0.1, 0.010), S235, False),
        (box(0.1, 0.451, 0.010), S235, False),
        (tube(0.450, 0.005), S235, True),
        (tube(0.451, 0.005), S235, False),
        (tube(0.450, 0.005), S355, False),
        (angle(0.150, 0.080, 0.010), S235, True),
        (angle(0.151, 0.070, 0.010), S235, False),
        (angle(0.115, 0.115, 0.010), S235, True),
        (angle(0.116, 0.116, 0.010), S235, False),
        (pair(0.150, 0.150, 0.015, 0.01), S355, False),
        (rod(0.05), S355, True),
    ],
)
def test_walls_beyond_class_3_are_refused_by_name(profile: Profile, material: Material, holds: bool) -> None:
    strength = EN.compression(shaped(profile, material, 2.0))
    assert strength.refused == (() if holds else (CLASS_4,))
    assert (strength.value is not None) == holds
    assert EN.tension(shaped(profile, material, 2.0)).value is not None


def test_an_angle_web_joined_by_one_leg_has_the_slenderness_of_bb_1_2() -> None:
    # L 100x100x10, A 19.2 cm2, I 177, I_v 73 cm4, S275, 2.5 m: λ_v 128.21 / 86.815 = 1.4768,
    # 0.35 + 0.7 x 1.4768 = 1.3838; Φ 1.6587, χ 0.3886; 0.3886 x 1920 x 275 = 205.2 kN
    shape = replace(angle(0.1, 0.1, 0.01), area=19.2e-4, second_moment=177e-8, across=177e-8, least=73e-8)
    strength = EN.compression(shaped(shape, S275, 2.5, web=True, connected="long leg"))
    assert strength.value == pytest.approx(205.2e3, abs=100)
    assert strength.steps[-1].about == "weakest axis"
    assert en.CONDITIONS in strength.unchecked
    chord = EN.compression(shaped(shape, S275, 2.5, connected="long leg"))
    assert chord.value is None and chord.refused == (en.CHORD,)


def test_a_short_angle_buckles_with_twist_as_the_coupled_equation_says() -> None:
    shape = angle(0.1, 0.1, 0.01)
    strength = EN.compression(shaped(shape, S235, 0.5))
    assert strength.steps[-1].about == "with twist"
    # centre lines: shear centre where they meet, J = Σ b t³/3 with b measured along them
    centroid = (0.1 * 0.01 * 0.05 + 0.09 * 0.01 * 0.005) / (0.19 * 0.01)
    offset = sqrt(2) * (centroid - 0.005)
    major = 2 * shape.radius**2 - shape.least_radius**2
    polar = offset**2 + major + shape.least_radius**2
    bent = pi**2 * 210e9 * major / 0.5**2
    torsional = 81e9 * 0.19 * 0.01**3 / 3 / (shape.area * polar)
    lowest = next(s.result.value for s in strength.steps if s.result.symbol == "N_cr,TF") / shape.area
    assert (lowest - bent) * (lowest - torsional) == pytest.approx(lowest**2 * offset**2 / polar, rel=1e-9)
    assert lowest < torsional < bent


def test_net_sections_are_checked_where_given_and_else_told() -> None:
    bar = plain_bar(20e-4, 0.02, S275, 2.0)
    assert EN.tension(bar).unchecked == (en.NO_NET_AREA, en.RECOMMENDED_M0)
    without = replace(bar, material=steel(275e6), net_area=14e-4)
    assert EN.tension(without).unchecked == (en.NO_ULTIMATE, en.RECOMMENDED_M0)
    net = EN.tension(replace(bar, net_area=14e-4))
    assert net.value == pytest.approx(0.9 * 14e-4 * 430e6 / 1.25) and net.unchecked == RECOMMENDED
    lagging = EN.tension(replace(bar, net_area=14e-4, shear_lag=0.8))
    assert lagging.unchecked == (en.LAG_UNUSED, *RECOMMENDED)
    one_leg = shaped(angle(0.1, 0.1, 0.01), S275, 2.0, net_area=14e-4, connected="long leg")
    assert EN.tension(one_leg).unchecked == (en.NO_BETA, en.RECOMMENDED_M0)
    reduced = EN.tension(replace(one_leg, shear_lag=0.5))
    assert reduced.value == pytest.approx(0.5 * 14e-4 * 430e6 / 1.25)
    assert reduced.unchecked == RECOMMENDED
    both = shaped(pair(0.1, 0.1, 0.01, 0.01), S275, 2.0, net_area=28e-4)
    assert EN.tension(both).unchecked == (en_pairs.SHEAR_LAG, *RECOMMENDED)


def test_partial_factors_can_be_changed() -> None:
    bar = plain_bar(20e-4, 0.02, S275, 2.0, net_area=20e-4)
    other = En1993(gamma_m0=1.1, gamma_m1=1.2, gamma_m2=1.5, curve="c")
    usual = En1993(curve="c")
    assert other.tension(bar).steps[0].result.value == pytest.approx(20e-4 * 275e6 / 1.1)
    assert other.tension(bar).steps[1].result.value == pytest.approx(0.9 * 20e-4 * 430e6 / 1.5)
    assert other.compression(bar).value == pytest.approx((usual.compression(bar).value or 0) / 1.2)


def test_partial_factors_left_as_recommended_are_told_with_that_of_bridges() -> None:
    bar = plain_bar(20e-4, 0.02, S275, 2.0, net_area=20e-4)
    usual, bridge = En1993(curve="c"), En1993(gamma_m1=1.10, curve="c")
    assert any(
        "γ_M1 = 1.00" in text and "1.10 for bridges" in text for text in usual.compression(bar).unchecked
    )
    assert not any("partial factors" in text for text in bridge.compression(bar).unchecked)
    assert any("γ_M2 = 1.25" in text for text in usual.tension(bar).unchecked)
    for changed in (En1993(gamma_m0=1.05), En1993(gamma_m2=1.30)):
        assert not any("partial factors" in text for text in changed.tension(bar).unchecked)


def test_an_angle_web_shows_how_the_coupled_equation_gets_the_slenderness_of_bb_1_2() -> None:
    # L 100x100x10, A 19.2 cm², i_v² 73/19.2, i_u² 281/19.2 cm²; 1 m, S275, λ_1 86.815:
    # v: 51.285 / 86.815 = 0.5907, 0.35 + 0.7 x 0.5907 = 0.7635, N = 528 / 0.7635² = 905.8 kN
    # u: 26.140 / 86.815 = 0.3011, 0.50 + 0.7 x 0.3011 = 0.7108, N = 528 / 0.7108² = 1045.1 kN
    shape = replace(angle(0.1, 0.1, 0.01), area=19.2e-4, second_moment=177e-8, across=177e-8, least=73e-8)
    strength = EN.compression(shaped(shape, S275, 1.0, web=True, connected="long leg"))
    found = {step.result.symbol: step for step in strength.steps}
    assert found["N_cr,1,eff"].result.value == pytest.approx(1045.1e3, rel=2e-4)
    assert found["N_cr,2,eff"].result.value == pytest.approx(905.8e3, rel=2e-4)
    assert "chosen here" in found["N_cr,1,eff"].formula and "BB.1.2" in found["N_cr,1,eff"].clause
    given = {quantity.symbol: quantity.value for quantity in found["N_cr,TF"].given}
    assert given["N_cr,1,eff"] == found["N_cr,1,eff"].result.value
    assert {"N_cr,1", "N_cr,2"}.isdisjoint(given)
    assert 0.0 in (given["e_1"], given["e_2"])


def test_what_bb_1_2_eases_in_bending_it_does_not_ease_where_twist_takes_part() -> None:
    """As above over 3 m. v: 1.7721, 0.35 + 0.7 x 1.7721 = 1.5905; 528 / 1.7721² = 168.1 and not 208.7 kN."""
    shape = replace(angle(0.1, 0.1, 0.01), area=19.2e-4, second_moment=177e-8, across=177e-8, least=73e-8)
    strength = EN.compression(shaped(shape, S275, 3.0, web=True, connected="long leg"))
    found = {step.result.symbol: step for step in strength.steps}
    assert found["N_cr,2,eff"].result.value == pytest.approx(168.1e3, rel=5e-4)
    assert "N² e_" in found["N_cr,TF"].formula


def test_widths_and_thicknesses_of_the_classes_are_small_lengths() -> None:
    shapes = (tube(0.1, 0.005), box(0.1, 0.06, 0.005), pair(0.1, 0.075, 0.01, 0.01))
    sizes = {
        (quantity.symbol, quantity.kind)
        for shape in shapes
        for step in EN.compression(shaped(shape, S275, 2.0)).steps
        if step.clause.startswith("table 5.2")
        for quantity in step.given
        if quantity.symbol in ("t", "d", "c", "h", "b")
    }
    assert sizes == {(symbol, "radius") for symbol in ("t", "d", "c", "h", "b")}


def test_without_a_profile_the_curve_must_be_told() -> None:
    bar = plain_bar(20e-4, 0.02, S275, 2.0)
    assert EN.compression(bar).refused == (en.NO_CURVE,)
    told = (en.NO_CLASS, SAME_RADIUS, en.RECOMMENDED_M1)
    assert En1993(curve="c").compression(bar).unchecked == told
    assert EN.compression(shaped(box(0.1, 0.1, 0.005, "rolled"), S275, 2.0)).refused == (en.NO_MAKING,)


def test_missing_lengths_and_strengths_are_told() -> None:
    shape = pair(0.1, 0.1, 0.012, 0.01)
    strength = EN.compression(shaped(shape, S235, 2.0, across=None))
    told = (OUT_OF_PLANE, en.TWIST_UNKNOWN, en_pairs.NOT_GIVEN, en.RECOMMENDED_M1)
    assert strength.unchecked == told
    assert EN.compression(shaped(shape, steel(None), 2.0)).refused == (NO_YIELD,)
    assert EN.tension(shaped(shape, steel(None), 2.0)).refused == (NO_YIELD,)
