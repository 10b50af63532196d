"""Lighter sections in words: what the title claims, what is not checked, what a study file needs."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from functools import cache

import pytest

from explorer.bundled import list_bundled
from explorer.document import read_text
from explorer.document.units import METRIC, US
from explorer.store import Results, Worked
from explorer.wording.lighter import (
    BESIDE,
    difference,
    tell_all_unchecked,
    tell_fails,
    tell_governs,
    tell_idle,
    tell_not_among,
    tell_passed_over,
    tell_proven,
    tell_scope,
    tell_shared,
    tell_stops,
    tell_title,
    tell_unchecked,
    weight,
    write_family,
)
from explorer.wording.lighter_checks import utilisation
from explorer.wording.lighter_nothing import tell_none
from explorer.wording.numbers import MINUS, Teller, plain
from solver.answers import size
from solver.checks.check import Check
from solver.sizing.candidates import Candidate, Candidates, PassedOver, Rung
from solver.sizing.choice import find_sizes

NAN = float("nan")
TELLER = Teller(METRIC)


@cache
def worked(name: str) -> Worked:
    item = next(item for item in list_bundled("study") if item.name == name)
    return Results().work(item.text(), item.path.name)


@cache
def found(name: str = "bittern_roof") -> Candidates:
    return size(worked(name).answers)


def group(name: str, of: Candidates | None = None) -> Candidate:
    candidates = of or found()
    return next(one for one in candidates.each if candidates.sizes.groups[one.place].name == name)


def check(key: str, ratio: float) -> Check:
    return Check(key, "a rule", ratio, 1.0, ratio)  # type: ignore[arg-type]


def test_the_title_tells_what_meets_every_check_and_that_joints_are_none_of_them() -> None:
    of = found()
    assert of.then and of.now.holds
    then, now = (f"{trial.weight / 1000:.2f} kN" for trial in (of.then, of.now))
    assert plain(tell_title(of, TELLER)) == (
        f"Every check made here is also met with a weight of {then} instead of {now}; "
        "joints are not among them."
    )


def test_the_title_claims_nothing_where_nothing_holds_or_nothing_lighter_was_found() -> None:
    of = found()
    none = replace(of, then=None, proven=True)
    assert tell_title(none, TELLER).startswith("No choice from these families meets")
    assert tell_title(replace(none, proven=False, tried=57), TELLER).startswith(
        "None that meets every check made here was found among 57 choices worked out; others were not tried."
    )
    same = replace(of, then=of.now, proven=False)
    assert tell_title(same, TELLER).startswith("Nothing lighter was found in these families")
    assert tell_title(replace(same, proven=True), TELLER).startswith("Nothing lighter from these families")


def test_the_title_tells_a_truss_that_fails_now_from_one_of_which_a_check_cannot_be_answered() -> None:
    of = found()
    for ratio, words in ((1.2, "As it is, not every check made here is met;"), (NAN, "as it is, not every")):
        checks = replace(of.now.checks, each=((check("tension", ratio),), *of.now.checks.each[1:]))
        now = replace(of.now, checks=checks)
        assert words in tell_title(replace(of, now=now), TELLER)


def test_every_title_says_that_joints_are_not_among_the_checks() -> None:
    of = found()
    over = replace(of.now.checks, each=((check("tension", 1.2),), *of.now.checks.each[1:]))
    unknown = replace(of.now.checks, each=((check("tension", NAN),), *of.now.checks.each[1:]))
    for then in (of.then, of.now, None):
        for now in (of.now, replace(of.now, checks=over), replace(of.now, checks=unknown)):
            for proven in (True, False):
                told = tell_title(replace(of, now=now, then=then, proven=proven), TELLER)
                assert "joints are not among them." in told


def test_what_weighs_more_than_now_is_called_heavier_in_the_title() -> None:
    of = found()
    assert of.then
    checks = replace(of.now.checks, each=((check("tension", 1.2),), *of.now.checks.each[1:]))
    light = replace(of.now, weight=0.5 * of.then.weight, checks=checks)
    told = plain(tell_title(replace(of, now=light), TELLER))
    kn = [f"{weight / 1000:.2f} kN" for weight in (of.then.weight, light.weight)]
    assert f"with a weight of {kn[0]}, heavier than the {kn[1]} of now, all of them are;" in told
    assert "heavier" not in tell_title(of, TELLER)


def test_the_loss_of_a_member_is_said_to_be_left_out_only_where_it_is() -> None:
    study = found().sizes.study
    assert study.rules.limits.after_loss is False
    assert tell_not_among(study).startswith("The loss of a member is not among the checks made here")
    asks = replace(study.rules, limits=replace(study.rules.limits, after_loss=True))
    assert tell_not_among(replace(study, rules=asks)) == ""


def test_allowable_strengths_are_said_to_need_loads_at_service_level() -> None:
    item = next(item for item in list_bundled("study") if item.name == "egret_span")
    text = item.text()
    assert "AISC 360-22 LRFD" in text
    for name, told in (("LRFD", False), ("ASD", True)):
        study = read_text(text.replace("AISC 360-22 LRFD", f"AISC 360-22 {name}"), item.path.name).study
        assert ("must be at service level" in tell_not_among(study)) == told


def test_sections_passed_over_are_told_by_why_and_at_most_four_by_name() -> None:
    one, section = group("bow"), group("bow").now
    passed = [PassedOver(replace(section, name=f"S{number}"), "class 4") for number in range(6)]
    passed.append(PassedOver(replace(section, name="T1"), "no radius"))
    assert tell_passed_over(replace(one, passed_over=tuple(passed))) == (
        "Passed over, not answered for: S0, S1, S2, S3 and 2 more (class 4); T1 (no radius)."
    )
    assert tell_passed_over(replace(one, passed_over=())) == ""


def test_what_governs_is_not_known_where_no_check_answers() -> None:
    study, one = found().sizes.study, group("bow")
    assert tell_governs(study, replace(one, governs=None)) == "not known"
    unknown = Rung(check("compression", NAN), one.members[0])
    assert tell_governs(study, replace(one, governs=unknown)) == "compression of L0-U1 not known (a rule)"


def test_proven_is_said_only_of_what_is_proven() -> None:
    of = found()
    assert tell_proven(replace(of, proven=True)).startswith("Proven least:")
    assert tell_proven(replace(of, proven=False)).endswith("a lighter one may exist.")
    told = tell_proven(replace(of, then=None, proven=True))
    assert told == "Every choice of these families fails a check or cannot be answered for."
    assert tell_proven(replace(of, then=None, proven=False)) == ""
    assert "others were not tried" in tell_none(replace(of, then=None, proven=False))


def test_what_was_passed_over_is_not_called_failing() -> None:
    of = found()
    passed = replace(of.each[0], passed_over=(PassedOver(of.each[0].now, "class 4"),))
    told = tell_proven(replace(of, each=(passed, *of.each[1:]), proven=True))
    group = of.sizes.groups[passed.place].name
    assert told.endswith(f"fails a check, or has a section that cannot be answered for ({group}).")


def test_groups_that_name_no_family_are_told_to_stay_as_they_are() -> None:
    of = found()
    assert tell_scope(of) == ""
    fewer = replace(of.sizes, groups=of.sizes.groups[:-1], families=of.sizes.families[:-1])
    left = of.sizes.groups[-1].name
    assert tell_scope(replace(of, sizes=fewer)) == (
        f"Weights are those of the groups that name a family: {left} stays as it is and is not in them."
    )


def test_of_every_group_it_is_told_that_its_joint_is_not_checked() -> None:
    assert BESIDE.startswith("Joint not checked")
    for name in ("bittern_roof", "avocet_bridge"):
        assert tell_shared(found(name)).startswith("Of every group: joint not checked")


def test_what_is_not_checked_of_a_group_stands_above_or_beside_it_and_never_in_both() -> None:
    for name in ("bittern_roof", "avocet_bridge"):
        of = found(name)
        assert of.then
        for one in of.each:
            for text in {text for each in of.then.groups[one.place] for text in each.unchecked}:
                above = re.search(rf"Of ([^:]*): [^.]*{re.escape(text[:20])}", tell_shared(of))
                about = above is not None and of.sizes.groups[one.place].name not in above[1]
                assert about != (text[:1].upper() + text[1:] in tell_unchecked(of, one))


def test_out_of_plane_is_told_of_the_bow_that_has_no_props_and_not_of_the_tie_that_has_runners() -> None:
    # the file gives lateral_props for the tie at every joint, and none for the bow
    assert "Out of plane not checked." in tell_unchecked(found(), group("bow"))
    assert "out of plane" not in tell_unchecked(found(), group("tie")).lower()
    told = re.search(r"Out of plane not checked( \([^)]*\))?\.", tell_all_unchecked(found()))
    assert told and "bow" in told[0] and "tie" not in told[0]


def test_idle_members_are_told_with_the_joints_they_hold_the_bars_the_rule_and_the_force() -> None:
    # no case of the roof has own weight, and roofing and snow hang on the bow alone: the outermost verticals
    # bear nothing, the tie between them is compressed when the wind lifts the roof
    told = [plain(line) for line in tell_idle(found(), TELLER)]
    assert told[0].startswith("Two members look idle: nothing reaches them under any combination. Yet")
    assert re.match(
        r"L1-U1 \(verticals\) is zero .*; it holds L1 between L0-L1 and L1-L2: force [\d.]+ kN \(", told[1]
    )
    assert re.match(
        r"L7-U7 \(verticals\) is zero .*; it holds L7 between L6-L7 and L7-L8: force [\d.]+ kN \(", told[2]
    )
    assert len(told) == 3


def test_posts_that_nothing_but_own_weight_reaches_are_told_with_it_and_with_what_they_hold() -> None:
    # a post weighs 0.693 kN and carries two half panels of the top chord, all of it times 1.35
    told = [plain(line) for line in tell_idle(found("avocet_bridge"), TELLER)]
    assert told[0].startswith("Three members look idle: nothing but own weight reaches them")
    assert len(told) == 4
    for line, post, joint, bars in (
        (told[1], "L2-U2", "U2", "U1-U2 and U2-U3"),
        (told[2], "L4-U4", "U4", "U3-U4 and U4-U5"),
        (told[3], "L6-U6", "U6", "U5-U6 and U6-U7"),
    ):
        assert line.startswith(f"{post} (posts) is zero but for own weight (compression ")
        assert f"it holds {joint} between {bars}: force " in line


def test_what_stops_the_next_lighter_section_names_member_check_rule_and_utilisation() -> None:
    one = group("bow")
    assert one.stops and one.below
    told = tell_stops(found().sizes.study, one)
    member = found().sizes.study.truss.members[one.stops.member].name
    assert told == (
        f"{one.below.name}: {one.stops.check.key} of {member} at "
        f"{utilisation(one.stops.check.utilisation)} ({one.stops.check.by})."
    )
    assert tell_stops(found().sizes.study, replace(one, below=None)) == "The family has nothing lighter."


def test_a_group_that_fails_now_is_told_with_the_section_that_meets_the_checks_with_the_others() -> None:
    one = group("bow")
    fails = replace(one, fails=Rung(check("compression", 1.32), one.members[0]))
    assert one.then
    assert tell_fails(found(), fails) == (
        f"Not met now: compression of L0-U1 at 1.32 (a rule); {one.then.name} meets the checks made here, "
        "together with the other sections found."
    )
    none = replace(fails, then=None)
    no_choice = "no choice from these families meets the checks made here."
    assert tell_fails(replace(found(), proven=True), none).endswith(no_choice)
    unproven = tell_fails(replace(found(), proven=False), none)
    assert unproven.endswith("none that meets the checks made here was found.")
    assert tell_fails(found(), one) == ""


def test_weights_are_told_in_the_readers_units_and_as_volumes_where_no_unit_weight_is_known() -> None:
    sizes = found().sizes
    assert plain(weight(TELLER, sizes, 1500.0)) == "1.50 kN"
    assert plain(difference(TELLER, sizes, -1500.0)) == f"{MINUS}1.50 kN"
    assert difference(TELLER, sizes, 0.0) == "0"
    light = replace(sizes.groups[0], material=replace(sizes.groups[0].material, unit_weight=None))
    unweighed = replace(sizes, groups=(light, *sizes.groups[1:]))
    assert plain(weight(TELLER, unweighed, 0.02)) == "0.0200 m³"
    assert " with a volume of " in tell_title(replace(found(), sizes=unweighed), TELLER)
    # a cubic metre is (1/0.3048)³ = 35.3 cubic feet
    assert plain(weight(Teller(US), unweighed, 1.0)) == "35.3 ft³"


@pytest.mark.parametrize("name", ["curlew_mast", "godwit_girder", "heron_fan", "dunlin_cascade"])
def test_what_a_study_without_families_is_told_to_write_makes_a_study_with_one(name: str) -> None:
    item = next(item for item in list_bundled("study") if item.name == name)
    study = worked(name).answers.study
    written = tomllib.loads(write_family(study, metric=worked(name).document.units is METRIC))
    first = study.truss.members[0].group.name
    assert written["groups"] == {first: {"family": "square"}}
    lines = write_family(study, metric=worked(name).document.units is METRIC).split("\n")
    heading = next(line for line in lines if line.startswith("[groups.")).partition("  #")[0]
    others = "\n".join(line for line in lines if not line.startswith(("[groups.", "family =")))
    text = re.sub(rf"^{re.escape(heading)}.*$", f'{heading}\nfamily = "square"', item.text(), flags=re.M)
    sizes = find_sizes(read_text(f"{text}\n{others}\n", item.path.name).study)
    assert [one.name for one in sizes.groups] == [first] and len(sizes.families[0]) > 1
