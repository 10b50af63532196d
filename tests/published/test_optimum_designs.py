"""Published optimum designs held against their own limits, and the ten-bar truss sized from lists of areas.

R. T. Haftka & Z. Gürdal 1992; K. S. Lee & Z. W. Geem 2004; L. A. Schmit & H. Miura 1976; S. O. Degertekin &
M. S. Hayalioglu 2013 with C. V. Camp 2007; L. Lamberti 2008 (all from memory, recomputed), in ten_bar.toml,
twenty_five_bar.toml and two_hundred_bar.toml. S. Rajeev & C. S. Krishnamoorthy, J. Struct. Eng. 118(5),
1233-1250, 1992: 42 areas; of these later papers know no lighter choice than 5490.74 lb.

The limits are those of the problems: a stress either way, no buckling, a movement along any axis. What else
Stillbar asks of members that hold compressed bars in line these problems do not know, and leave aside.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from solver.answers import Answers, answer, size
from solver.checks.check import Check
from solver.checks.whole import Checks
from solver.resistance.plain import Plain
from solver.rules import Limits, Rules
from solver.sizing.candidates import Candidates
from solver.study import Study
from solver.truss import Group, Making, Section
from tests.published import test_ten_bar as ten
from tests.published import test_twenty_five_bar as twenty_five
from tests.published import test_two_hundred_bar as two_hundred
from tests.published.forms import INCH, KSI, POUND, rounding_of_weight
from tests.published.record import agree_as_printed, agree_exactly, agree_within, published

NO_BUCKLING = Plain(euler_share=1e12)
LISTED = """1.62 1.80 1.99 2.13 2.38 2.62 2.63 2.88 2.93 3.09 3.13 3.38 3.47 3.55 3.63 3.84 3.87 3.88 4.18
  4.22 4.49 4.59 4.80 4.97 5.12 5.74 7.22 7.97 11.5 13.5 13.9 14.2 15.5 16.0 16.9 18.8 19.9 22.0 22.9 26.5
  30.0 33.5"""
LIGHTEST_KNOWN = "33.5 1.62 22.9 14.2 1.62 1.62 7.97 22.9 22.0 1.62"
NEAR = 1.05
"""The search is no proof: it is held to come within this of the lightest known."""

SEVEN = (0.1, 1.0, 5.0, 10.0, 20.0, 25.0, 35.0)


def limited(study: Study, stress: Sequence[float], movement: float | None) -> Study:
    """The study with limits: compression [ksi] bar by bar, their largest in tension, movement [in]."""
    members = []
    for member, most in zip(study.truss.members, stress, strict=True):
        group = member.group
        material = replace(group.material, yield_strength=max(stress) * KSI)
        squash = None if most == max(stress) else most * KSI * group.section.area
        section = replace(group.section, radius=1.0)
        made = replace(group, section=section, material=material, compression=squash)
        members.append(replace(member, group=made))
    limit = None if movement is None else movement * float(INCH)
    rules = Rules(NO_BUCKLING, (), Limits(deflection=limit))
    return replace(study, truss=replace(study.truss, members=tuple(members)), rules=rules)


def strength(checks: Checks) -> list[Check]:
    """The harder of tension and compression, bar by bar."""
    pairs = [checks_[:2] for checks_ in checks.each]
    return [max(pair, key=lambda check: check.utilisation) for pair in pairs]


def used(answers: Answers) -> np.ndarray:
    """How far each bar uses its limit, (members,)."""
    return np.array([check.utilisation for check in strength(answers.checks)])


def moved(answers: Answers) -> float:
    """The movement over its limit."""
    (check,) = answers.checks.whole
    return check.utilisation


@cache
def ten_bars(kind: str, name: str) -> Answers:
    study = ten.analyse_design(kind, name).study
    return answer(limited(study, [25.0] * 10, None if name == "stress_only" else 2.0))


@cache
def twenty_five_bars(name: str) -> Answers:
    """Tension to 40 ksi; compression group by group."""
    study = twenty_five.analyse_design(name).study
    limits = np.repeat(twenty_five.DATA["compression_limits"], twenty_five.DATA["groups"])
    study = limited(study, limits.tolist(), 0.35)
    members = tuple(
        replace(m, group=replace(m.group, tension=40.0 * KSI * m.group.section.area))
        for m in study.truss.members
    )
    return answer(replace(study, truss=replace(study.truss, members=members)))


@cache
def two_hundred_bars(name: str) -> Answers:
    study = two_hundred.analyse_design(name).study
    return answer(limited(study, [float(two_hundred.DATA["limit"])] * 200, None))


@published("haftka_gurdal", "ten-bar designs: checks of stress and movement, and which of them govern")
def test_designs_of_the_book_are_at_their_limits_and_no_further_than_their_digits() -> None:
    stress_only, two_inches = ten_bars("designs", "stress_only"), ten_bars("designs", "two_inches")
    # rounded to three digits, areas of 5.57 in2 are 0.1 % uncertain
    agree_as_printed(25 * used(stress_only).max(), "25.02")
    agree_exactly(stress_only.checks.whole, ())
    agree_as_printed(2 * moved(two_inches), "1.99994")
    agree_as_printed(25 * used(two_inches)[4], "24.99")
    (check,) = two_inches.checks.whole
    agree_exactly((check.holds, check.joint), (True, two_inches.study.truss.joint_index("1")))
    agree_exactly([check.holds for check in strength(two_inches.checks)], [True] * 10)


@published("haftka_gurdal", "ten-bar optima in more digits: movement at its limit, no stress beyond")
@pytest.mark.parametrize("name", ten.DATA["precise"])
def test_optima_in_more_digits_use_all_of_the_movement_and_no_more_than_the_stress(name: str) -> None:
    answers = ten_bars("precise", name)
    agree_within(moved(answers), 1.0, 2e-5)
    agree_exactly(bool((used(answers) < 1 + 1e-4).all()), True)


@published("lee_geem", "ten-bar designs: by how much they move too far")
@pytest.mark.parametrize(
    ("name", "beyond"), [("two_inches_harmony", "0.09"), ("second_case_harmony", "0.19")]
)
def test_ten_bar_designs_by_harmony_search_move_too_far(name: str, beyond: str) -> None:
    answers = ten_bars("designs", name)
    agree_as_printed(100 * (max(moved(answers), used(answers).max()) - 1), beyond)
    agree_exactly(answers.checks.whole[0].holds, False)


@published("schmit_miura", "25-bar design: checks of movement and of compression by group")
def test_the_design_of_schmit_and_miura_is_over_its_limits_by_its_digits_alone() -> None:
    answers = twenty_five_bars("schmit_miura")
    agree_as_printed(0.35 * moved(answers), "0.35003")
    agree_as_printed(used(answers).max(), "1.0001")
    # bars 19 and 20 lie opposite one another, and bear the same in the first case
    hardest = np.flatnonzero(used(answers) > used(answers).max() - 1e-9) + 1
    agree_exactly(hardest.tolist(), [19, 20])
    agree_exactly({strength(answers.checks)[bar - 1].key for bar in hardest}, {"compression"})


@published("degertekin_camp", "25-bar designs: the bar over its compression limit, by the checks")
@pytest.mark.parametrize("name", ["degertekin", "camp"])
def test_later_25_bar_designs_do_not_hold_in_compression(name: str) -> None:
    design, answers = twenty_five.DATA["designs"][name], twenty_five_bars(name)
    agree_as_printed(used(answers).max(), design["over_limit"])
    over = strength(answers.checks)[design["bar"] - 1]
    agree_exactly((over.holds, over.key), (False, "compression"))
    agree_as_printed(over.utilisation, design["over_limit"])


@published("lee_geem", "25-bar design: movement and compression over their limits, by the checks")
def test_the_25_bar_design_by_harmony_search_moves_too_far_and_is_over_in_bar_20() -> None:
    answers = twenty_five_bars("lee_geem")
    agree_as_printed(0.35 * moved(answers), "0.35071")
    agree_as_printed(100 * (used(answers)[19] - 1), "0.21")


@published("lamberti", "200-bar design: by how much it is over, by the checks")
def test_the_200_bar_design_of_lamberti_is_over_by_its_digits_alone() -> None:
    agree_as_printed(100 * (used(two_hundred_bars("lamberti")).max() - 1), "0.07")


@published("lee_geem", "200-bar design: by how much it is over, by the checks")
def test_the_200_bar_design_by_harmony_search_is_over_by_almost_four_per_cent() -> None:
    agree_as_printed(100 * (used(two_hundred_bars("lee_geem")).max() - 1), "3.7")


def to_size(listed: Sequence[float], movement: float | None) -> Study:
    """Ten groups, one a bar, now as heavy as the list allows, under the first case."""
    family = tuple(Section(f"{a:g} in2", a * float(INCH) ** 2, radius=1.0) for a in listed)
    study = limited(ten.analyse([listed[-1]] * 10, "one").study, [25.0] * 10, movement)
    members = []
    for member in study.truss.members:
        material = member.group.material
        group = Group(member.name, family[-1], material, making=Making(family="listed"))
        members.append(replace(member, group=group))
    rules = replace(study.rules, families={"listed": family})
    return replace(study, truss=replace(study.truss, members=tuple(members)), rules=rules)


def heavier_than(found: Candidates, least: float) -> float:
    """By how many times what was found, and holds when worked out afresh, is heavier than `least` [lb]."""
    assert found.then is not None and found.then.holds
    afresh = answer(found.sizes.study_with(found.then.choice))
    kept = [
        check.holds
        for part in (*afresh.checks.each, afresh.checks.whole)
        for check in part
        if check.key != "another's loss"
    ]
    agree_exactly(kept, [True] * len(kept))
    areas = np.array([member.group.section.area for member in afresh.study.truss.members]) / float(INCH) ** 2
    stress, movement = by_plain_matrices(areas)
    assert stress <= 25 * (1 + 1e-9)
    limit = found.sizes.study.rules.limits.deflection
    assert limit is None or movement <= 2 * (1 + 1e-9)
    return float(afresh.study.truss.weights.sum() / POUND) / least


def by_plain_matrices(areas: np.ndarray) -> tuple[float, float]:
    """The largest stress [ksi] and movement [in] of the ten-bar truss under the first case; areas in in2."""
    names = list(ten.DATA["joints"])
    points = np.array([ten.DATA["joints"][name] for name in names], dtype=float)
    pulls = np.zeros((10, 12))
    lengths = np.zeros(10)
    for i, bar in enumerate(ten.DATA["members"]):
        one, two = (names.index(end) for end in bar.split("-"))
        lengths[i] = np.linalg.norm(points[two] - points[one])
        along = (points[two] - points[one]) / lengths[i]
        pulls[i, 2 * one : 2 * one + 2], pulls[i, 2 * two : 2 * two + 2] = -along, along
    load = np.zeros(12)
    for joint in ("2", "4"):
        load[2 * names.index(joint) + 1] = -100.0
    free = [2 * names.index(joint) + axis for joint in ("1", "2", "3", "4") for axis in (0, 1)]
    stiffness = ten.DATA["modulus"] * areas / lengths
    within = pulls[:, free]
    movement = np.linalg.solve(within.T * stiffness @ within, load[free])
    stress = stiffness * (within @ movement) / areas
    return float(np.abs(stress).max()), float(np.abs(movement).max())


@published("rajeev_krishnamoorthy", "the lightest known choice of 42 areas: weight, movement, stress")
def test_the_lightest_known_choice_of_listed_areas_weighs_what_it_says_and_holds() -> None:
    study = ten.analyse(ten.numbers(LIGHTEST_KNOWN), "one").study
    answers = answer(limited(study, [25.0] * 10, 2.0))
    agree_as_printed(ten.weight(answers), "5490.74")
    stress, movement = by_plain_matrices(np.array(ten.numbers(LIGHTEST_KNOWN)))
    agree_within([25 * used(answers).max(), 2 * moved(answers)], [stress, movement], 1e-9)
    kept = [check.holds for check in (*strength(answers.checks), *answers.checks.whole)]
    agree_exactly(kept, [True] * 11)


@published("rajeev_krishnamoorthy", "sizing from the 42 areas: above the optimum, near the lightest known")
@pytest.mark.campaign
def test_sizing_from_listed_areas_stays_above_the_optimum_and_near_the_lightest_known() -> None:
    found = size(answer(to_size(ten.numbers(LISTED), 2.0)))
    ratio = heavier_than(found, 5490.74)
    print(f"ten bars of 42 areas: {5490.74 * ratio:.2f} lb, {ratio:.4f} of the lightest known; {found.tried}")
    agree_exactly((found.proven, ratio * 5490.74 > 5060.85), (False, True))
    agree_exactly(ratio < NEAR, True)


@published("haftka_gurdal", "sizing to 2 in from seven areas: not below the continuous optimum")
def test_sizing_to_two_inches_stays_above_the_optimum() -> None:
    found = size(answer(to_size(SEVEN, 2.0)))
    ratio = heavier_than(found, 5060.85)
    print(f"ten bars of seven areas: {ratio:.4f} of the continuous optimum, {found.tried} tried")
    agree_exactly((found.proven, ratio > 1), (False, True))


@published("haftka_gurdal", "sizing for stress alone: not below the continuous optimum")
def test_sizing_for_stress_alone_stays_above_the_optimum_for_stress() -> None:
    listed = [round(0.1 * 1.2**step, 3) for step in range(28)]
    found = size(answer(to_size(listed, None)))
    ratio = heavier_than(found, 1593.18)
    print(f"ten bars for stress: {1593.18 * ratio:.2f} lb, {ratio:.4f} of the continuous optimum")
    agree_exactly((found.proven, ratio > 1), (False, True))


@published("haftka_gurdal", "two optima: weights of the rounded areas within what rounding may weigh")
def test_rounding_alone_parts_the_weights_of_the_book_from_those_of_its_areas() -> None:
    for name in ten.BOOK:
        design, answers = ten.DATA["designs"][name], ten_bars("designs", name)
        lengths = answers.study.truss.lengths / float(INCH)
        bound = rounding_of_weight(design["areas"], lengths, ten.DATA["density"], 0.1, design["published"])
        agree_within(ten.weight(answers), float(design["published"]), bound)
