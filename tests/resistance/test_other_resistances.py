"""The plain rule, resistances given outright, and recommended slenderness."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest

from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.bar import Bar
from solver.resistance.directions import NO_RADIUS, NO_YIELD, OUT_OF_PLANE, SAME_RADIUS
from solver.resistance.given import AS_GIVEN, Given, given_with
from solver.resistance.plain import NOT_A_STANDARD, Plain
from solver.resistance.slenderness import AASHTO, AISC_360, ALL, AREMA, IS_800
from solver.truss import Group, Material, Section
from tests.resistance.members import plain_bar, rod, steel

BAR = plain_bar(1e-3, 0.02, steel(250e6), 2.0)


def test_the_plain_rule_takes_the_smaller_of_stress_and_euler_with_their_shares() -> None:
    plain = Plain(stress_share=0.6, euler_share=0.5)
    assert plain.tension(BAR).value == pytest.approx(0.6 * 250e6 * 1e-3)
    euler = 0.5 * pi**2 * 210e9 * 1e-3 * (0.02 / 2.0) ** 2
    assert plain.compression(BAR).value == pytest.approx(euler)
    short = plain_bar(1e-3, 0.02, steel(250e6), 0.2)
    assert plain.compression(short).value == pytest.approx(0.6 * 250e6 * 1e-3)
    assert plain.compression(BAR).unchecked == (NOT_A_STANDARD, SAME_RADIUS)
    with_profile = replace(BAR, profile=rod(0.02))
    assert plain.compression(with_profile).unchecked == (NOT_A_STANDARD,)
    assert "0.6" in plain.name and "0.5" in plain.name


def test_the_plain_rule_is_for_any_material_and_refuses_what_it_lacks() -> None:
    timber = Material("timber", 11e9, 20e6)
    assert Plain().compression(plain_bar(1e-2, 0.03, timber, 2.0)).value is not None
    bare = Bar(Section("bare", 1e-3), steel(None), 2.0, 2.0, 2.0)
    assert Plain().compression(bare).refused == (NO_YIELD, NO_RADIUS)
    assert Plain().tension(bare).refused == (NO_YIELD,)
    unknown = plain_bar(1e-3, 0.02, steel(250e6), 2.0, across=None)
    assert Plain().compression(unknown).unchecked == (NOT_A_STANDARD, OUT_OF_PLANE)


def test_given_resistances_win_and_gaps_are_filled_or_refused() -> None:
    group = Group("web", BAR.section, BAR.material, tension=300e3)
    alone = given_with(group)
    assert alone.tension(BAR).value == 300e3
    assert alone.tension(BAR).steps[0].clause == "given with the group"
    assert alone.tension(BAR).unchecked == (AS_GIVEN,)
    assert alone.compression(BAR).refused == ("no resistance in compression given",)
    standard = Aisc360()
    filled = given_with(group, standard)
    assert filled.tension(BAR).value == 300e3
    assert filled.compression(BAR) == standard.compression(BAR)
    assert Given(None, 200e3, standard).tension(BAR) == standard.tension(BAR)
    assert Given(None, 200e3, standard).compression(BAR).value == 200e3


def test_where_the_standard_gives_less_than_what_is_given_that_is_told() -> None:
    """250 N/mm² times 10 cm² are 250 kN by AISC's D2-1 before φ = 0.9: 225 of 300 kN."""
    standard = Aisc360()
    (told,) = (
        text for text in Given(300e3, None, standard).tension(BAR).unchecked if text.startswith("AISC")
    )
    assert told == "AISC 360-22, LRFD gives less for its section: 0.75 of it"
    assert Given(225e3, None, standard).tension(BAR).unchecked == (AS_GIVEN,)
    assert Given(300e3, None, None).tension(BAR).unchecked == (AS_GIVEN,)


def test_recommendations_hold_up_to_their_limit_and_name_their_source() -> None:
    for limit in ALL:
        assert limit.holds(limit.most) and not limit.holds(limit.most * 1.001)
        assert limit.code in limit.name and f"{limit.most:g}" in limit.name
    assert len({limit.name for limit in ALL}) == len(ALL)


def test_recommendations_are_those_of_the_codes() -> None:
    assert [(r.force, r.most) for r in AISC_360] == [("compression", 200), ("tension", 300)]
    assert [r.most for r in AASHTO] == [120, 140, 140, 200, 240]
    assert [r.most for r in AREMA] == [100, 120, 200]
    assert [r.most for r in IS_800] == [180, 250, 180, 350, 400]
    assert {r.certainty for r in IS_800} == {"seen"}
