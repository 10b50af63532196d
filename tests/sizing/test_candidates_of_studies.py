"""The bundled studies' candidates are those of the data sheet, and their whole run passes again."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from explorer.bundled import find_bundled
from explorer.document import read_study
from solver.answers import answer, size
from solver.sizing.candidates import Candidate, Candidates

SHEET = Path(__file__).resolve().parents[2] / "data" / "README.md"
NAMES = ("avocet_bridge", "bittern_roof", "egret_span")


@cache
def found(name: str) -> Candidates:
    return size(answer(read_study(find_bundled(name).path).study))


def on_the_sheet(name: str) -> tuple[bool, dict[str, tuple[str, str, str]]]:
    """Whether the sheet calls it proven, and by group what it is now, then, and what stops the next."""
    table = SHEET.read_text(encoding="utf-8").partition("| file | group | now |")[2].partition("\n\n")[0]
    rows = [[cell.strip() for cell in line.split("|")[1:-1]] for line in table.splitlines()[2:]]
    file, proven, groups = "", False, {}
    for first, group, now, then, stops in rows:
        match = re.match(r"`(\w+)` \((not )?proven least\)", first)
        if match:
            file = match[1]
            proven = not match[2] if file == name else proven
        if file == name:
            groups[group.partition(":")[0].replace(" ", "_")] = (now, then, stops)
    return proven, groups


def named(candidates: Candidates) -> dict[str, Candidate]:
    return {candidates.sizes.groups[one.place].name: one for one in candidates.each}


@pytest.mark.parametrize("name", NAMES)
def test_candidates_are_those_that_the_data_sheet_tells(name: str) -> None:
    proven, told = on_the_sheet(name)
    candidates = found(name)
    assert candidates.proven == proven
    groups = named(candidates)
    assert set(groups) == set(told)
    for group, (now, then, stops) in told.items():
        one = groups[group]
        assert one.then is not None
        assert (one.now.name, one.then.name) == (now, then)
        if one.stops is None:
            assert "nothing lighter" in stops
            continue
        member, key = one.stops.member, one.stops.check.key.replace("prop force", "as a prop")
        assert key.partition(" ")[0] in stops
        names = re.findall(r"\b[LU]\d-[LU]\d\b", stops)
        assert not names or candidates.sizes.study.truss.members[member].name in names


@pytest.mark.parametrize("name", NAMES)
def test_the_lighter_truss_passes_a_whole_run_of_its_own(name: str) -> None:
    candidates = found(name)
    assert candidates.then is not None and candidates.then.weight < candidates.now.weight
    checks = answer(candidates.sizes.study_with(candidates.then.choice)).checks
    asked = [check for own in (*checks.each, checks.whole) for check in own if check.asked]
    assert asked and all(check.holds for check in asked)


@pytest.mark.parametrize(
    ("name", "props"),
    [("avocet_bridge", {"L2-U2", "L4-U4", "L6-U6"}), ("bittern_roof", {"L1-U1", "L7-U7"})],
)
def test_bridge_and_roof_have_idle_props_that_stay_with_their_duty(name: str, props: set[str]) -> None:
    """By the data sheet: the posts bear own weight alone and hold the top chord; the roof's hold the tie."""
    candidates = found(name)
    members = candidates.sizes.study.truss.members
    idle = {members[member].name for one in candidates.each for member in one.idle}
    assert idle == props
    assert candidates.then is not None
    for name_ in props:
        member = candidates.sizes.study.truss.member_index(name_)
        duties = [check for check in candidates.then.checks.each[member] if check.key == "prop force"]
        assert duties and all(check.demand > 0 and check.holds for check in duties)
