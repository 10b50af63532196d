"""Candidates by hand: what each group is now, what it could be, and what keeps it there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from solver.answers import answer, size
from solver.errors import InputError
from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.en_1993_1_1 import En1993
from solver.resistance.plain import Plain
from solver.resistance.standard import Standard
from solver.rules import Limits, Rules
from solver.sizing import least
from solver.sizing.candidates import Candidate, Candidates
from solver.sizing.choice import find_sizes
from solver.sizing.sound import find_sound
from solver.sizing.trial import Bench
from solver.study import Study
from solver.truss import Group, Making, Section
from tests.building import build_truss, load_case
from tests.checks.made_of import STEEL, made_of, ruled
from tests.sizing.plain_truss import tubes

BY_STRESS = Plain()


def bar_of(
    group: Group,
    families: Mapping[str, tuple[Section, ...]],
    standard: Standard | None = BY_STRESS,
    pull: float = 90e3,
) -> Study:
    """A bar of 1 m pulled at its end."""
    truss = made_of(build_truss({"A": (0, 0), "B": (1, 0)}, ["A-B"], {"A": "xy", "B": "y"}), {}, group)
    return ruled(truss, [load_case(truss, B=(pull, 0))], Rules(standard, families=families))


def now_of(section: Section, **more: float | None) -> Group:
    making = Making(
        net_area=more.pop("net_area", None), shear_lag=more.pop("shear_lag", None), family="tubes"
    )
    return Group("bar", section, STEEL, more.get("tension"), more.get("compression"), making=making)


def sized(study: Study) -> tuple[Candidates, Candidate]:
    found = size(answer(study))
    return found, found.each[0]


TWO, FOUR, EIGHT = tubes(2.0, 4.0, 8.0)
FAMILY = {"tubes": (TWO, FOUR, EIGHT)}
"""90 kN asks for 3.6 cm2 at 250 MPa."""


def test_a_lighter_section_that_holds_is_told_with_what_stops_the_next() -> None:
    found, one = sized(bar_of(now_of(EIGHT), FAMILY))
    assert (one.state, one.now, one.then, one.below) == ("lighter", EIGHT, FOUR, TWO)
    assert found.proven and one.fails is None
    assert one.weights == pytest.approx((77e3 * 8e-4, 77e3 * 4e-4))
    assert one.governs is not None and one.governs.check.utilisation == pytest.approx(0.9)
    assert one.stops is not None and one.stops.check.key == "tension"
    assert one.stops.check.utilisation == pytest.approx(1.8)


def test_what_is_lightest_already_stays_as_it_is() -> None:
    _, one = sized(bar_of(now_of(FOUR), FAMILY))
    assert (one.state, one.then, one.weights[0]) == ("as it is", FOUR, one.weights[1])


def test_what_holds_and_is_lighter_than_any_of_its_family_that_does_stays_as_it_is() -> None:
    (own,) = tubes(3.7)
    found, one = sized(bar_of(now_of(own), FAMILY))
    assert (one.state, one.then, one.below) == ("as it is", own, TWO)
    assert found.then is found.now


def test_what_fails_now_becomes_heavier_and_says_why() -> None:
    _, one = sized(bar_of(now_of(TWO), FAMILY))
    assert (one.state, one.then) == ("heavier", FOUR)
    assert one.fails is not None and one.fails.check.utilisation == pytest.approx(1.8)


def test_where_nothing_holds_each_group_says_so() -> None:
    found, one = sized(bar_of(now_of(TWO), FAMILY, pull=900e3))
    assert found.then is None and (one.state, one.then, one.below, one.governs) == ("none holds", *[None] * 3)
    assert one.fails is not None


def test_what_holds_now_stays_as_it_is_where_nothing_of_its_family_holds() -> None:
    (own,) = tubes(40.0)
    found, one = sized(bar_of(now_of(own), FAMILY, pull=900e3))
    assert found.now.holds
    assert (one.state, one.then) == ("as it is", own)


def test_without_a_family_there_is_nothing_to_choose_from() -> None:
    with pytest.raises(InputError, match="no group names a family"):
        size(answer(bar_of(replace(now_of(TWO), making=Making()), {})))


def test_a_resistance_given_outright_goes_with_the_section_of_now() -> None:
    """900 kN given for 8 cm2; what 4 cm2 bear the rule says: 100 kN."""
    found, one = sized(bar_of(now_of(EIGHT, tension=900e3, compression=900e3), FAMILY))
    assert found.now.checks.each[0][0].limit == 900e3
    assert one.then == FOUR and one.governs is not None
    assert one.governs.check.limit == pytest.approx(100e3)
    assert one.stops is not None and one.stops.check.limit == pytest.approx(50e3)


@pytest.mark.parametrize("most", [10_000, -1])
def test_without_a_standard_only_the_section_with_given_resistances_is_known_to_hold(
    most: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(least, "MOST", most)
    _, one = sized(bar_of(now_of(FOUR, tension=95e3, compression=95e3), FAMILY, None))
    assert (one.state, one.then) == ("as it is", FOUR)


@pytest.mark.parametrize("standard", [En1993(), Aisc360("LRFD")])
def test_a_net_area_goes_with_the_section_of_now_too(standard: Standard) -> None:
    """7 cm2 of 8 are left at the bolts; no section of 4 cm2 has 7 cm2 left."""
    found, _ = sized(bar_of(now_of(EIGHT, net_area=7e-4, shear_lag=1.0), FAMILY, standard, 80e3))
    assert found.then is not None
    for bar in found.then.before.resisting.bars:
        assert bar.net_area is None or bar.net_area <= bar.section.area


def strut(push: float = 40e3, standard: Standard | None = None) -> Study:
    """A chord A-M-B pushed; the post M-P bears nothing and holds M."""
    points = {"A": (0, 0), "M": (3, 0), "B": (7, 0), "P": (3, 2)}
    truss = build_truss(points, ["A-M", "M-B", "A-P", "P-B", "M-P"], {"A": "xy", "B": "y"})
    (heavy,) = tubes(40.0, radius=3.0)
    fixed = Group("fixed", heavy, STEEL)
    post = Group("posts", POSTS[-1], STEEL, making=Making(family="posts"))
    truss = made_of(truss, {"M-P": post}, fixed)
    return ruled(
        truss, [load_case(truss, B=(-push, 0))], Rules(standard or Plain(), families={"posts": POSTS})
    )


POSTS = tubes(0.01, 0.05, 0.1, 0.2, 0.5, 1.0, radius=3.0)
"""2 % of 40 kN and the force of Winter's bow, 373 N, ask for a share of these."""


def test_an_idle_post_keeps_a_section_for_the_joint_that_it_holds() -> None:
    """800 N by the custom. Euler of 2 m with r² = 9 A is pi² E 9 A² / 4: 800 N at 0.13 cm2."""
    found, one = sized(strut())
    needed = max(800 / 250e6, np.sqrt(800 * 4 / (9 * np.pi**2 * 200e9)))
    assert one.then == next(section for section in POSTS if section.area >= needed) == POSTS[3]
    assert one.idle == (4,) == one.members
    tension, compression = found.now.before.demands
    assert tension[4] == compression[4] == 0
    assert one.below == POSTS[2] and one.stops is not None and one.stops.member == 4
    assert one.stops.check.key == "prop force" and one.stops.check.by == "2 % rule"
    assert one.stops.check.utilisation == pytest.approx((needed / POSTS[2].area) ** 2)


def test_sections_that_would_bear_what_a_group_bears_now_must_do_its_duty_too() -> None:
    answers = answer(strut())
    bench = Bench(find_sizes(answers.study), (answers.statics, answers.removals))
    assert find_sound(bench.sizes, bench.try_out((5,)), 0) == (3, 4, 5)
    pulled = answer(strut(push=-40e3))
    idle = Bench(find_sizes(pulled.study), (pulled.statics, pulled.removals))
    assert find_sound(idle.sizes, idle.try_out((5,)), 0) == (0, 1, 2, 3, 4, 5)


def test_what_stops_a_group_is_its_own_check_before_one_of_the_truss() -> None:
    """2 cm2: 1.8 times its strength, and twice a deflection that 4 cm2 keep to by a hair."""
    study = bar_of(now_of(EIGHT), FAMILY)
    limit = 90e3 / (200e9 * 4e-4) * 1.01
    _, one = sized(replace(study, rules=replace(study.rules, limits=Limits(deflection=limit))))
    assert one.then == FOUR and one.stops is not None
    assert (one.stops.check.key, one.stops.member) == ("tension", 0)
    hung = replace(study, rules=replace(study.rules, limits=Limits(deflection=limit / 2)))
    _, one = sized(hung)
    assert one.then == EIGHT and one.stops is not None
    assert (one.stops.check.key, one.stops.member) == ("deflection", -1)


def test_without_a_push_the_post_may_be_the_smallest_and_is_not_told_as_idle_with_a_duty() -> None:
    _, one = sized(strut(push=-40e3))
    assert (one.then, one.idle, one.stops) == (POSTS[0], (), None)


@pytest.mark.parametrize("most", [10_000, -1])
def test_descending_minds_the_duty_of_an_idle_post(most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(least, "MOST", most)
    assert sized(strut())[1].then == POSTS[3]


def pair(after_loss: bool, pull: float = 70e3) -> Study:
    """Two bars at 45 degrees share a pull of 70 kN along x: 49.5 kN each, or 99 where one is lost."""
    points = {"A": (0, 0), "B": (0, 2), "P": (1, 1)}
    truss = build_truss(points, ["A-P", "B-P"], {"A": "xy", "B": "xy", "P": "y"})
    truss = made_of(truss, {}, now_of(EIGHT))
    rules = Rules(Plain(), (), Limits(after_loss=after_loss), FAMILY)
    return ruled(truss, [load_case(truss, P=(pull, 0))], rules)


@pytest.mark.parametrize(("after_loss", "expected", "stops"), [(False, TWO, None), (True, FOUR, TWO)])
def test_what_must_hold_after_a_loss_is_as_much_heavier(
    after_loss: bool, expected: Section, stops: Section | None
) -> None:
    found, one = sized(pair(after_loss))
    assert (one.then, one.below) == (expected, stops)
    assert found.then is not None
    keys = {check.key for checks in found.then.checks.each for check in checks}
    assert ("another's loss" in keys) == after_loss
    if after_loss:
        assert one.governs is not None and one.governs.check.key == "another's loss"
        assert one.governs.check.utilisation == pytest.approx(70 * 2**0.5 / 100)
        assert one.stops is not None and one.stops.check.key == "another's loss"


def gone() -> Study:
    """A prestressed pair in line: q is pulled between a and b; without a-q the other bar is pushed.

    A bar given a resistance in tension alone says nothing of what it bears when pushed.
    """
    points = {"a": (0, 0), "q": (1, 0), "b": (3, 0)}
    truss = build_truss(points, ["a-q", "q-b"], {"a": "xy", "b": "xy", "q": "y"})
    bare = Section("bare", 1e-3)
    only = {"a-q": Group("near", bare, STEEL, tension=90e3, making=Making(family="bare"))}
    only["q-b"] = Group("far", bare, STEEL, tension=90e3)
    truss = made_of(truss, only)
    rules = Rules(Plain(), (), Limits(after_loss=True), {"bare": (bare,)})
    case = load_case(truss, "load", q=(10e3, 0))
    return ruled(truss, [replace(case, misfit={0: -1e-3})], rules)


def test_a_force_after_a_loss_whose_sign_has_no_known_resistance_does_not_hold() -> None:
    answers = answer(gone())
    assert answers.losses.before.demands[1][1] == 0
    stable = answers.losses.each[0].stable
    assert stable is not None and stable.unproven
    found, one = sized(gone())
    assert not found.now.holds and one.state == "none holds"


def test_groups_come_with_the_most_saving_first() -> None:
    truss = build_truss(
        {"A": (0, 0), "B": (1, 0), "C": (4, 0)}, ["A-B", "B-C"], {"A": "xy", "B": "y", "C": "y"}
    )
    groups = {name: replace(now_of(EIGHT), name=name) for name in ("A-B", "B-C")}
    truss = made_of(truss, groups)
    found = size(answer(ruled(truss, [load_case(truss, C=(90e3, 0))], Rules(Plain(), families=FAMILY))))
    assert [one.members for one in found.each] == [(1,), (0,)]
    assert found.now.weight == pytest.approx(77e3 * 8e-4 * 4)
    assert found.then is not None and found.then.weight == pytest.approx(77e3 * 4e-4 * 4)


def test_without_a_unit_weight_volumes_are_compared() -> None:
    study = bar_of(replace(now_of(EIGHT), material=replace(STEEL, unit_weight=None)), FAMILY)
    _, one = sized(study)
    assert one.then == FOUR and one.weights == pytest.approx((8e-4, 4e-4))


def test_a_member_of_no_family_that_fails_lets_nothing_hold() -> None:
    truss = build_truss(
        {"A": (0, 0), "B": (1, 0), "C": (4, 0)}, ["A-B", "B-C"], {"A": "xy", "B": "y", "C": "y"}
    )
    truss = made_of(truss, {"A-B": now_of(EIGHT)}, Group("thin", TWO, STEEL))
    found = size(answer(ruled(truss, [load_case(truss, C=(90e3, 0))], Rules(Plain(), families=FAMILY))))
    assert found.then is None and found.each[0].state == "none holds"
    assert found.each[0].fails is None
