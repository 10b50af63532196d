"""The table of candidates where nothing holds, or nothing is known: no empty cell that reads as a number."""

from __future__ import annotations

from dataclasses import replace

from explorer.document.units import METRIC
from explorer.tables.candidates import CANDIDATES_HEADER, candidates_table
from explorer.tables.context import Context
from explorer.tables.table import Cell
from solver.answers import answer, size
from solver.rules import Limits
from solver.study import Study
from solver.truss import Section
from tests.sizing.test_nothing_holds import TWO, in_a_row

Row = dict[str, Cell]


def rows(study: Study) -> dict[str, Row]:
    answers = answer(study)
    table = candidates_table(Context(answers, METRIC), size(answers))
    return {str(row[0]): dict(zip(CANDIDATES_HEADER, row, strict=True)) for row in table.rows}


def test_where_nothing_holds_no_weight_then_and_no_saving_stand_and_what_is_lacking_does() -> None:
    """8 cm2 bear 200 of 300 kN."""
    found = rows(in_a_row(90e3, 300e3))
    for row in found.values():
        assert (row["state"], row["lighter"], row["weight_lighter"], row["saving"]) == (
            "none holds",
            "",
            "",
            "",
        )
        assert row["weight_now"] and row["proven"] == "yes"
    guilty, other = found["J1-J2"], found["J0-J1"]
    assert (guilty["lacks"], guilty["lacks_member"], guilty["lacks_utilisation"]) == ("tension", "J1-J2", 1.5)
    assert (guilty["fails_now"], guilty["fails_member"]) == ("tension", "J1-J2")
    assert (other["lacks"], other["lacks_member"], other["fails_now"]) == ("", "", "")


def test_where_every_group_has_a_section_of_its_own_the_whole_truss_is_what_lacks() -> None:
    """100 kN lengthen two metres of 8 cm2 by 1.25 mm."""
    found = rows(in_a_row(100e3, 100e3, limits=Limits(deflection=0.5e-3)))
    for row in found.values():
        assert (row["lacks"], row["lacks_member"]) == ("deflection", "the whole truss")
        assert abs(float(str(row["lacks_utilisation"])) - 2.5) < 1e-9


def test_what_cannot_be_answered_is_told_as_not_known_and_without_a_number() -> None:
    """Pushed by 30 kN, a section without a radius: nobody knows what it bears."""
    bare = Section("bare", 1.5e-4)
    study = in_a_row(-30e3)
    families = {"tubes": (bare, TWO)}
    group = replace(study.truss.members[0].group, section=bare)
    members = (replace(study.truss.members[0], group=group),)
    study = replace(study, truss=replace(study.truss, members=members))
    (row,) = rows(replace(study, rules=replace(study.rules, families=families))).values()
    assert (row["fails_now"], row["fails_utilisation"]) == ("not known: compression", "")
    assert row["stopped_by"] == "not known: compression" and row["passed_over"] == "bare"
    assert "out of plane not checked" in str(row["unchecked"])
