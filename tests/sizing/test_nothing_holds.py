"""Where nothing holds: known at once where it can be, told with group and check, and what comes nearest."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import answer, size
from solver.progress import Progress, silent
from solver.resistance.plain import Plain
from solver.rules import Limits, Rules
from solver.sizing import least
from solver.sizing.candidates import Candidates
from solver.sizing.trial import Bench, Trial
from solver.study import Study
from solver.truss import Group, Making, Section
from tests.building import build_truss, load_case
from tests.checks.made_of import STEEL, made_of, ruled
from tests.sizing.plain_truss import tubes

TWO, FOUR, EIGHT = tubes(2.0, 4.0, 8.0)
FAMILIES = {"tubes": (TWO, FOUR, EIGHT)}


def in_a_row(*pulls: float, limits: Limits | None = None, own_weight: float = 0.0) -> Study:
    """Bars of 1 m end to end, a group each, with the same families; each bears a pull of its own [N]."""
    points = {f"J{i}": (float(i), 0.0) for i in range(len(pulls) + 1)}
    bars = [f"J{i}-J{i + 1}" for i in range(len(pulls))]
    truss = build_truss(points, bars, dict.fromkeys(points, "y") | {"J0": "xy"})
    groups = {bar: Group(bar, EIGHT, STEEL, making=Making(family="tubes")) for bar in bars}
    loads = {}
    for i, pull in enumerate(pulls):
        beyond = pulls[i + 1] if i + 1 < len(pulls) else 0.0
        loads[f"J{i + 1}"] = (pull - beyond, 0.0)
    truss = made_of(truss, groups)
    case = replace(load_case(truss, **loads), self_weight=own_weight)
    return ruled(truss, [case], Rules(Plain(), (), limits or Limits(), FAMILIES))


def sized(study: Study) -> Candidates:
    return size(answer(study), silent)


def test_a_group_whose_family_is_too_small_whatever_the_others_are_ends_it_after_one_trial() -> None:
    """8 cm2 bear 200 kN; the second bar is pulled by 300."""
    found = sized(in_a_row(90e3, 300e3, 40e3))
    assert found.then is None and found.proven and found.tried == 1
    lacks = {found.sizes.groups[one.place].name: one.lacks for one in found.each}
    assert lacks["J0-J1"] is None and lacks["J2-J3"] is None
    hopeless = lacks["J1-J2"]
    assert hopeless is not None
    assert (hopeless.check.key, hopeless.member) == ("tension", 1)
    assert hopeless.check.utilisation == pytest.approx(1.5)


def test_with_own_weight_forces_are_not_certain_and_choices_are_worked_out_all_the_same() -> None:
    """The three of its family, and what it is now."""
    found = sized(in_a_row(300e3, own_weight=1.0))
    assert found.then is None and found.proven and found.tried == 4


def test_a_depth_that_no_section_has_ends_it_after_one_trial_too() -> None:
    """No section of these has a profile, so that a depth is known of none."""
    found = sized(in_a_row(90e3, limits=Limits(length_to_depth=10.0), own_weight=1.0))
    assert found.then is None and found.proven and found.tried == 1
    lacks = found.each[0].lacks
    assert lacks is not None and lacks.check.key == "depth" and lacks.check.refused


def test_nearest_is_the_choice_of_which_least_is_exceeded() -> None:
    """100 kN lengthen each metre of 8 cm2 by 100e3 / (200e9 8e-4) = 0.625 mm; 0.5 mm are set for both."""
    found = sized(in_a_row(100e3, 100e3, limits=Limits(deflection=0.5e-3)))
    assert found.then is None and found.proven
    assert found.nearest is not None
    sections = [found.sizes.section(place, chosen) for place, chosen in enumerate(found.nearest.choice)]
    assert sections == [EIGHT, EIGHT]
    assert found.nearest.exceeded == pytest.approx(2 * 0.625 / 0.5 - 1)
    assert all(one.lacks is None for one in found.each)


def test_where_something_holds_nothing_is_lacking_or_nearest() -> None:
    found = sized(in_a_row(90e3, 40e3))
    assert found.then is not None and found.nearest is None
    assert all(one.lacks is None for one in found.each)


def test_what_is_too_much_to_go_through_is_not_called_proven(monkeypatch: pytest.MonkeyPatch) -> None:
    """A tenth less than four bars of 4 cm2 lengthen: one of them is of 8 cm2, or none is light enough."""
    most = 0.9 * 4 * 90e3 / (200e9 * 4e-4)
    study = in_a_row(*[90e3] * 4, limits=Limits(deflection=most))
    assert sized(study).proven
    monkeypatch.setattr(least, "MEMBERS_GONE_THROUGH", 0)
    assert not sized(study).proven


def test_a_lighter_section_of_unknown_strength_is_passed_over_by_name() -> None:
    """30 kN push a bar of 1 m: Euler's load of 2 cm2 with r² = 2.25 A is 177.7 kN; one has no radius."""
    bare = Section("bare", 1.5e-4)
    study = in_a_row(-30e3)
    families = {"tubes": (bare, TWO, FOUR, EIGHT)}
    found = sized(replace(study, rules=replace(study.rules, families=families)))
    (one,) = found.each
    assert one.then == TWO
    assert [passed.section for passed in one.passed_over] == [bare]
    assert "radius" in one.passed_over[0].why


def test_what_is_known_to_fail_stops_a_section_before_what_is_not_known() -> None:
    """1 m over 0.2 m is 5 of 10; what the section bears when pushed nobody knows, for want of a radius."""
    bare, deep = Section("bare", 1.5e-4, depth=0.2), replace(TWO, depth=0.05)
    study = in_a_row(-30e3, limits=Limits(length_to_depth=10.0))
    group = replace(study.truss.members[0].group, section=deep)
    members = (replace(study.truss.members[0], group=group),)
    rules = replace(study.rules, families={"tubes": (bare, deep)})
    (one,) = sized(replace(study, truss=replace(study.truss, members=members), rules=rules)).each
    assert (one.then, one.below) == (deep, bare) and one.passed_over == ()
    assert one.stops is not None and one.stops.check.key == "depth"
    assert one.stops.check.utilisation == pytest.approx(2.0)


def test_what_descending_missed_is_found_by_going_through_all_that_is_lighter(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """90 kN ask for 4 cm2 and 40 kN for 2: together 6 cm2 m; a search that ends at 8 missed it by a third."""

    def ends_early(bench: Bench, progress: Progress) -> Trial:
        return bench.try_out((1, 1))

    monkeypatch.setattr(least, "descend", ends_early)
    found = sized(in_a_row(90e3, 40e3))
    assert found.proven and found.then is not None
    assert [found.sizes.section(place, chosen) for place, chosen in enumerate(found.then.choice)] == [
        FOUR,
        TWO,
    ]


def test_a_choice_a_little_lighter_than_what_descending_found_is_gone_through_too(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """4.2 cm2 for 90 kN where 4 are enough: a twentieth."""
    (more,) = tubes(4.2)
    study = in_a_row(90e3)
    study = replace(study, rules=replace(study.rules, families={"tubes": (TWO, FOUR, more, EIGHT)}))
    monkeypatch.setattr(least, "descend", lambda bench, progress: bench.try_out((2,)))
    found = sized(study)
    assert found.then is not None and found.sizes.section(0, found.then.choice[0]) == FOUR
