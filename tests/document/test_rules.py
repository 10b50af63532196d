"""What a study is held against: standard with factors, recommendations, limits; combinations' purposes."""

from __future__ import annotations

import pytest

from explorer.document import read_text
from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.en_1993_1_1 import En1993
from solver.resistance.plain import Plain
from solver.resistance.standard import Standard
from solver.rules import Limits, Rules
from solver.study import Study
from tests.document.example import edited
from tests.document.rule_faults import STRENGTH, limits, standards

WITHOUT = ("[combinations.strength]\ndead = 1.35\ndeck_cart = 1.5\n", "")
MORE = ("deck_cart = 1.5", 'deck_cart = 1.5\n[combinations.use]\nfor = "service"\ndead = 1')


def read(*changes: tuple[str, str]) -> Study:
    return read_text(edited(*changes), "teal.toml").study


def told_for(purpose: str) -> tuple[str, str]:
    return STRENGTH, f'{STRENGTH}\nfor = "{purpose}"'


def test_a_study_without_rules_has_none() -> None:
    assert read().rules == Rules()


# What the study writes and the standard that comes of it; factors left out are the recommended ones.
WRITTEN = [
    ('strength = "AISC 360-22 LRFD"', Aisc360("LRFD")),
    ('strength = "AISC 360-22 ASD"', Aisc360("ASD")),
    ('strength = "EN 1993-1-1"', En1993(1.0, 1.0, 1.25)),
    (
        'strength = "EN 1993-1-1"\ngamma_M0 = 1.05\ngamma_M1 = 1.1\ngamma_M2 = 1.3\ncurve = "c"',
        En1993(gamma_m0=1.05, gamma_m1=1.1, gamma_m2=1.3, curve="c"),
    ),
    ('strength = "plain"', Plain(1.0, 1.0)),
    ('strength = "plain"\nstress_share = 0.6\neuler_share = 0.5', Plain(stress_share=0.6, euler_share=0.5)),
]


@pytest.mark.parametrize(("keys", "standard"), WRITTEN, ids=[row[0].replace("\n", ", ") for row in WRITTEN])
def test_a_standard_is_read_with_its_factors(keys: str, standard: Standard) -> None:
    assert read(standards(keys)).rules.standard == standard


def test_recommendations_are_taken_code_by_code_and_need_no_standard() -> None:
    rules = read(standards('slenderness = ["AISC 360-22", "AREMA"]')).rules
    assert rules.standard is None
    codes = [recommendation.code for recommendation in rules.recommendations]
    assert codes == ["AISC 360-22"] * 2 + ["AREMA Manual for Railway Engineering, chapter 15"] * 3
    # the user notes of D1 and E2
    assert [recommendation.most for recommendation in rules.recommendations[:2]] == [200, 300]


LIMITS = """deflection = 25
deflections = { L1 = 20, U1 = 10 }
length_to_depth = 10
slenderness_compression = 180
slenderness_tension = 240
after_loss = true"""


def test_limits_are_read_into_si() -> None:
    found = read(limits(LIMITS)).rules.limits
    assert found.deflection == pytest.approx(0.025, rel=1e-12)
    # joints in the file's order: L0, L1, L2, U1
    assert found.deflections == pytest.approx({1: 0.020, 3: 0.010}, rel=1e-12)
    assert (found.length_to_depth, found.slenderness, found.after_loss) == (10.0, (180.0, 240.0), True)
    us = read(limits(LIMITS), ('units = "metric"', 'units = "US"')).rules.limits
    assert us.deflection == pytest.approx(25 * 0.0254, rel=1e-12)
    assert us.deflections == pytest.approx({1: 20 * 0.0254, 3: 10 * 0.0254}, rel=1e-12)


def test_a_limit_left_out_limits_nothing() -> None:
    assert read(limits("slenderness_tension = 300")).rules.limits == Limits(slenderness=(None, 300.0))
    assert read(limits("after_loss = false")).rules.limits == Limits()


def test_a_combination_counts_for_what_it_says_and_for_both_without_a_word() -> None:
    purposes = [combination.purpose for combination in read(MORE).combinations]
    assert purposes == ["both", "service"]
    for purpose in ("strength", "service", "nothing"):
        (combination,) = read(told_for(purpose)).combinations
        assert (combination.purpose, combination.cases) == (purpose, {"dead": 1.35})


FACTORED = ['strength = "AISC 360-22 LRFD"', 'strength = "EN 1993-1-1"']


@pytest.mark.parametrize("keys", FACTORED, ids=["LRFD", "EN"])
def test_design_strengths_without_a_combination_for_strength_get_a_notice(keys: str) -> None:
    chosen = standards(keys)
    marked = (chosen[0], f'{chosen[1]}\nfor = "strength"')
    assert read(marked, MORE).notices == ()
    (unmarked,) = read(chosen, MORE).notices
    assert "design strengths want combinations with load factors" in unmarked
    assert 'no combination is for = "strength": those without `for` are compared' in unmarked
    (none,) = read((chosen[0], f'{chosen[1]}\nfor = "service"')).notices
    assert none.endswith("no combination is for strength, so that no member is compared with them")
    (alone,) = read((WITHOUT[0], f"[standards]\n{keys}\n")).notices
    assert "each load case alone, without a factor, is compared with them" in alone


def test_allowable_strengths_get_a_notice_whatever_the_combinations_are_for() -> None:
    for purpose in ("strength", "service"):
        (notice,) = read(
            (STRENGTH, f'[standards]\nstrength = "AISC 360-22 ASD"\n{STRENGTH}\nfor = "{purpose}"')
        ).notices
        assert notice.startswith("AISC 360-22, ASD: allowable strengths are compared with the combinations")


def test_the_plain_rule_gets_no_notice() -> None:
    assert read(standards('strength = "plain"')).notices == ()


def test_a_partial_factor_below_1_gets_a_notice() -> None:
    chosen = standards('strength = "EN 1993-1-1"\ngamma_M0 = 0.9\ngamma_M1 = 1')
    (notice,) = read((chosen[0], f'{chosen[1]}\nfor = "strength"')).notices
    assert notice == "standards: gamma_M0 = 0.9 is below 1 and raises resistances"


def test_strength_without_any_factor_above_1_is_a_notice() -> None:
    plain = ("dead = 1.35\ndeck_cart = 1.5\n", "dead = 1.0\ndeck_cart = 0.9\n")
    for keys, told in (('strength = "EN 1993-1-1"', 1), ('strength = "AISC 360-22 ASD"', 0)):
        chosen = standards(keys)
        marked = (chosen[0], f'{chosen[1]}\nfor = "strength"')
        assert sum("above 1" in notice for notice in read(marked, plain).notices) == told
        assert not any("above 1" in notice for notice in read(marked).notices)
