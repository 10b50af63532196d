"""Where nothing holds: what no section meets, and the nearest choice, which is never called a candidate."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from explorer.bundled import list_bundled
from explorer.store import Results
from explorer.wording.lighter_nothing import (
    tell_in_nearest,
    tell_lacks,
    tell_nearest,
    tell_no_answer,
    tell_none,
)
from solver.answers import size
from solver.checks.check import Check
from solver.sizing.candidates import Candidates, Rung

NAN = float("nan")


@cache
def found() -> Candidates:
    """The roof as if nothing held; the nearest choice is the truss as it is."""
    item = next(item for item in list_bundled("study") if item.name == "bittern_roof")
    of = size(Results().work(item.text(), item.path.name).answers)
    return replace(of, then=None, nearest=of.now)


def check(key: str, ratio: float) -> Check:
    return Check(key, "a rule", ratio, 1.0, ratio)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("key", "ratio", "told"),
    [
        ("compression", 1.32, "stands at 1.32 (a rule)."),
        ("prop force", 1.32, "stands at 1.32 = (own + prop) / N_R (a rule)."),
        ("depth", NAN, "cannot be answered (a rule)."),
    ],
)
def test_what_no_section_meets_is_named_with_its_member_and_where_the_nearest_stands(
    key: str, ratio: float, told: str
) -> None:
    one = replace(found().each[0], lacks=Rung(check(key, ratio), 0))
    said = tell_lacks(found(), one)
    meets = "is known to meet" if ratio != ratio else "meets"
    assert said.startswith(f"No section to choose from {meets} all of its own checks under the forces")
    assert said.endswith(f"with the one that comes nearest {key} of L0-U1 {told}")
    assert tell_lacks(found(), replace(one, lacks=None)) == ""


def test_each_group_of_the_nearest_choice_tells_its_section_and_hardest_check_and_is_no_candidate() -> None:
    one = next(one for one in found().each if found().sizes.groups[one.place].name == "tie")
    told = tell_in_nearest(found(), one)
    # the tie resists 373 kN in tension and has 188 kN under full snow
    assert told == "Tension of L0-L1 at 0.50 (EN 1993-1-1:2005), met; not a candidate."
    assert tell_in_nearest(replace(found(), nearest=None), one) == ""


@pytest.mark.parametrize(("over", "words"), [(1, "one check of it is not met"), (2, "two checks of it are")])
def test_of_the_nearest_choice_it_is_told_how_much_is_not_met_and_that_it_is_no_candidate(
    over: int, words: str
) -> None:
    now = found().now
    broken = tuple(check("tension", 1.2) for _ in range(over))
    nearest = replace(now, checks=replace(now.checks, each=(broken, *now.checks.each[1:])))
    told = tell_nearest(replace(found(), nearest=nearest))
    assert words in told and told.endswith("is not a candidate.") and "the truss as it is" in told


def test_no_choice_is_said_only_of_what_is_proven() -> None:
    assert tell_none(replace(found(), proven=True)).startswith("No choice from these families")
    assert "others were not tried" in tell_none(replace(found(), proven=False))


def test_the_title_begins_with_the_groups_of_which_no_section_meets_a_check() -> None:
    bow, others = found().each[0], found().each[1:]
    name = found().sizes.groups[bow.place].name
    lacks = replace(bow, lacks=Rung(check("tension", 1.42), 0))
    told = tell_none(replace(found(), each=(lacks, *others), proven=False))
    meets = (
        "meets all of its checks, the nearest has tension at 1.42, under the forces of the nearest choice."
    )
    assert told.startswith(f"{name.capitalize()}: no section to choose from {meets} None that meets every")


def test_where_the_nearest_section_cannot_be_answered_for_it_is_said_what_fails_in_the_nearest_choice() -> (
    None
):
    bow, now = found().each[0], found().now
    lacks = replace(bow, lacks=Rung(check("depth", NAN), bow.members[0]))
    each = list(now.checks.each)
    each[bow.members[0]] = (check("tension", 1.3),)
    nearest = replace(now, checks=replace(now.checks, each=tuple(each)))
    told = tell_none(replace(found(), each=(lacks,), nearest=nearest))
    assert " is known to meet all of its checks, of one depth cannot be answered; " in told
    assert "; that of the nearest choice has tension at 1.30, under the forces" in told


def test_that_now_is_no_answer_is_said_where_a_check_cannot_be_answered_and_none_is_known_to_fail() -> None:
    now = found().now

    def told(*ratios: float) -> str:
        broken = tuple(check("depth", ratio) for ratio in ratios)
        checks = replace(now.checks, each=(broken, *now.checks.each[1:]))
        return tell_no_answer(replace(found(), now=replace(now, checks=checks)))

    assert told(NAN) == "As it is, the truss is no answer either: depth cannot be answered of L0-U1."
    assert told(0.5) == told(NAN, 1.2) == ""
