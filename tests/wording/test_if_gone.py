"""Question 4 and what speaks for a member, told in the numbers of the tables."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from explorer.document.units import METRIC
from explorer.wording.asked import Asked
from explorer.wording.if_gone import list_grounds, tell_if_gone
from explorer.wording.numbers import Teller, plain
from solver.answers import answer
from solver.verdicts.ground import QUANTITIES
from tests.building import build_study, build_truss, load_case
from tests.wording.test_questions import BUNDLED, FORBIDDEN, known, numbers_in, three


@pytest.mark.parametrize("name", BUNDLED)
def test_what_its_loss_does_is_told_in_the_table_of_removals(name: str) -> None:
    study = known(name)
    for member, row in enumerate(study.tables["members"]):
        removal = study.of("removals", member)[0]
        told = tell_if_gone(study.ask(member, 0))
        if removal["mechanism"] == "yes":
            moves = removal["moves"].split()
            shown = numbers_in(told.answer, study.answers)
            assert shown == ((Decimal(len(moves)),) if len(moves) > 2 else ())
            joints = len(study.answers.study.truss.joint_names)
            assert [
                j for j in moves if len(moves) <= 4 and not re.search(rf"\b{j}\b", told.sentences[0])
            ] == []
            assert len(moves) <= 4 or f"{len(moves)} of {joints} joints" in told.sentences[0]
            continue
        worst = (three(removal["worst_utilisation"]),) if removal["worst_member"] else ()
        expected = (three(row["redundancy_share"]), *worst)
        assert numbers_in(told.sentences[0], study.answers) == expected, told.sentences[0]
        grown = [removal[key] for key in ("growth", "growth_ratio") if removal["grown_member"]]
        more = [row["number"] for row in study.of("verdicts", member) if row["key"] == "deflection"]
        grown += more if grown else []
        assert numbers_in(told.sentences[1], study.answers) == tuple(three(v) for v in grown if v != "")


@pytest.mark.parametrize("name", BUNDLED)
def test_grounds_are_told_with_the_numbers_of_the_table_of_verdicts(name: str) -> None:
    study = known(name)
    for member in range(len(study.tables["members"])):
        told = list_grounds(study.ask(member, 0))
        rows = study.of("verdicts", member)
        for row, (_, sentence) in zip(rows, told, strict=False):
            assert plain(sentence) == row["sentence"]
            assert not FORBIDDEN.search(sentence)
            quantity = QUANTITIES.get(row["key"], "count")
            if quantity != "count":
                assert three(abs(row["number"])) in numbers_in(sentence, study.answers), sentence
        waking = study.of("waking", member)[0]
        components = [float(c) for c in waking["direction"].split()]
        aslant = sum(abs(c) >= 1e-9 for c in components) > 1
        along = tuple(three(c) if abs(c) >= 1e-9 else Decimal(0) for c in components) if aslant else ()
        wakes = (*along, three(waking["force"])) if waking["joint"] else ()
        assert numbers_in(told[-1][1], study.answers) == wakes


@pytest.mark.parametrize(("ratio", "near"), [(1.0004, True), (0.9996, True), (1.01, False), (0.98, False)])
def test_a_resistance_that_is_only_just_kept_or_missed_is_told_to_be_near(ratio: float, near: bool) -> None:
    # three bars meet at P under 45 degrees; without the middle one each side bears 10 / sqrt 2
    truss = build_truss(
        {"A": (-1, 0), "B": (0, 0), "C": (1, 0), "P": (0, -1)},
        ["A-P", "B-P", "C-P"],
        {"A": "xy", "B": "xy", "C": "xy"},
    )
    group = replace(truss.members[0].group, tension=10e3 / 2**0.5 / ratio)
    truss = replace(truss, members=tuple(replace(member, group=group) for member in truss.members))
    answers = answer(build_study(truss, [load_case(truss, P=(0, -10e3))]))
    told = tell_if_gone(Asked(answers, Teller(METRIC), 1, 0, None))
    assert answers.losses.each[1].outcome == ("overload" if ratio > 1 else "carried")
    assert ("near the limit" in told.sentences[0]) == near
