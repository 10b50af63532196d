"""The checks of a whole study in a line: counts, the hardest, what is not known, and nothing without any."""

from __future__ import annotations

from dataclasses import replace

from explorer.document.units import METRIC
from explorer.wording.checked import tell_checks, tell_left_out
from explorer.wording.summary import describe_run
from solver.answers import Answers, answer, size
from solver.resistance.plain import Plain
from solver.rules import Limits, Rules
from solver.truss import Group, Making, Section
from tests.building import build_truss, load_case
from tests.checks.made_of import BAR, STEEL, made_of, ruled

BARE = Group("bare", Section("bare", 1e-3), STEEL)


def row(*pulls: float, first: Group | None = None, rules: Rules | None = None) -> Answers:
    """Bars of 1 m end to end from a pin, each pulled by a force of its own [N]."""
    points = {f"J{i}": (float(i), 0.0) for i in range(len(pulls) + 1)}
    bars = [f"J{i}-J{i + 1}" for i in range(len(pulls))]
    truss = build_truss(points, bars, dict.fromkeys(points, "y") | {"J0": "xy"})
    ends = [*pulls[1:], 0.0]
    loads = {f"J{i + 1}": (pull - ends[i], 0.0) for i, pull in enumerate(pulls)}
    truss = made_of(truss, {bars[0]: first} if first else {})
    return answer(ruled(truss, [load_case(truss, "crowd_on_it", **loads)], rules or Rules(Plain())))


def test_what_is_not_met_is_counted_and_the_hardest_named_with_its_load() -> None:
    """250 kN at yield."""
    told = tell_checks(row(275e3, 300e3, 100e3))
    assert "two not met, the hardest tension of J1-J2 at 1.20 under crowd on it" in told
    assert told.endswith("joints are not among them") and "not known" not in told


def test_where_all_is_met_it_says_so_and_of_what_is_unknown_how_many() -> None:
    assert "all are met" in tell_checks(row(100e3))
    told = tell_checks(row(-1e3, 100e3, first=BARE))
    assert "all that are known are met; not known: one check" in told


def test_limits_that_the_study_does_not_ask_for_count_for_nothing() -> None:
    answers = row(275e3)
    asked = tell_checks(answers)
    off = tuple(tuple(replace(check, asked=False) for check in own) for own in answers.checks.each)
    told = tell_checks(replace(answers, checks=replace(answers.checks, each=off)))
    assert "one not met" in asked and told == ""


def test_a_study_without_any_limit_is_told_nothing_about_checks() -> None:
    answers = row(100e3, rules=Rules())
    assert tell_checks(answers) == ""
    assert "checks" not in describe_run(answers, METRIC, "folder")


def test_a_limit_of_the_whole_truss_is_among_them() -> None:
    """100 kN lengthen 1 m of 10 cm2 by 0.5 mm."""
    told = tell_checks(row(100e3, rules=Rules(None, (), Limits(deflection=0.25e-3))))
    assert "the hardest deflection of the whole truss at 2.00" in told


def test_a_run_tells_what_was_found_lighter_how_far_it_was_sought_and_that_it_is_a_question() -> None:
    families = {"bars": (replace(BAR, name="half", area=5e-4), BAR)}
    group = Group("row", BAR, STEEL, making=Making(family="bars"))
    answers = row(100e3, first=group, rules=Rules(Plain(), families=families))
    told = describe_run(answers, METRIC, "folder", size(answers))
    assert "lighter sections: Every check made here is also met" in told
    assert "Proven least" in told and "not a proposal" in told


def test_a_group_that_bears_what_nobody_knows_it_resists_is_a_notice() -> None:
    notices = row(-1e3, 100e3, first=BARE).notices
    (one,) = [notice for notice in notices if "not known" in notice]
    assert one.startswith("group bare: resistance in compression not known: ") and "radius" in one
    assert not [n for n in row(-1e3, first=BARE, rules=Rules()).notices if "not known" in n]


def test_what_the_checks_leave_out_is_told_with_the_groups_that_it_is_about() -> None:
    group = Group("row", BAR, STEEL, tension=300e3, compression=300e3)
    answers = row(-100e3, 100e3, first=group)
    told = tell_left_out(answers)
    assert told.startswith("left out: ") and "as given: what it contains is not known here (row)" in told
    assert "out of plane not checked (rest)" in told
    off = tuple(tuple(replace(check, asked=False) for check in own) for own in answers.checks.each)
    assert tell_left_out(replace(answers, checks=replace(answers.checks, each=off))) == ""
