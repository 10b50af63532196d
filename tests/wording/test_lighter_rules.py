"""Rules that change with a section: resistances given go with the section they were given with."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from explorer.bundled import list_bundled
from explorer.store import Results
from explorer.wording.lighter_rules import tell_rules
from solver.answers import size
from solver.sizing.candidates import Candidates


@cache
def found() -> Candidates:
    item = next(item for item in list_bundled("study") if item.name == "avocet_bridge")
    return size(Results().work(item.text(), item.path.name).answers)


def told(group: str, of: Candidates | None = None) -> str:
    candidates = of or found()
    one = next(one for one in candidates.each if candidates.sizes.groups[one.place].name == group)
    return tell_rules(candidates, one)


def test_a_group_is_told_to_go_from_resistances_given_to_the_standard_in_what_was_given() -> None:
    then = {found().sizes.groups[one.place].name: one.then for one in found().each}
    assert all(then.values())
    # of the bottom chord only the tension was given, of the hangers both, of the top chord nothing
    for group, keys in (("bottom", "Tension"), ("hangers", "Tension and compression")):
        section = then[group]
        assert section is not None and told(group) == (
            f"{keys} now against the resistances given, with {section.name} by EN 1993-1-1:2005."
        )
    assert told("top") == ""


def test_of_sections_that_stay_no_change_of_rules_is_told() -> None:
    of = found()
    assert all(tell_rules(replace(of, then=of.now), one) == "" for one in of.each)
