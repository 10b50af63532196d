"""The list of candidates: its numbers are those of the table, and its headings what became of groups."""

from __future__ import annotations

import re

import pytest

from explorer.drawing.view import Direction
from explorer.pages.lighter.shown import show_found, show_truss
from explorer.store import Results
from explorer.tables.candidates import CANDIDATES_HEADER, candidates_table
from explorer.tables.context import Context
from explorer.wording.lighter import BESIDE
from explorer.wording.numbers import MINUS, significant
from tests.pages.sized import SIZED, found, text_of, told_ratio, words_of, worked


def items_of(told: dict[str, object]) -> list[str]:
    """What stands in the list of candidates, a group each."""
    return re.findall(r'<li><div class="row">.*?</details></li>', str(told["list"]), re.S)


def group_of(item: str) -> str:
    match = re.search(r"<h4>(.*?)</h4>", item)
    assert match
    return match[1]


def saving_of(name: str, item: str) -> float:
    sizes = found(name).sizes
    (one,) = (one for one in found(name).each if sizes.groups[one.place].name == group_of(item))
    return one.weights[0] - one.weights[1]


def under_headings(told: dict[str, object]) -> dict[str, list[str]]:
    """The groups under each heading of the list."""
    parts = re.split(r"<h3>(.*?)(?: <small>.*?</small>)?</h3>", str(told["list"]))
    return {
        heading: re.findall(r"<h4>(.*?)</h4>", part)
        for heading, part in zip(parts[1::2], parts[2::2], strict=True)
    }


@pytest.mark.parametrize("name", SIZED)
def test_the_list_tells_the_numbers_of_the_table_of_candidates_row_by_row(name: str) -> None:
    told = show_found(worked(name), found(name), None)
    items = sorted(items_of(told), key=lambda item: -saving_of(name, item))
    table = candidates_table(Context(worked(name).answers, worked(name).document.units), found(name))
    assert len(items) == len(table.rows)
    for item, row in zip(items, table.rows, strict=True):
        cells = dict(zip(CANDIDATES_HEADER, row, strict=True))
        words = words_of(item)
        assert group_of(item) == cells["group"]
        now, then = (float(str(cells[f"weight_{state}"])) for state in ("now", "lighter"))
        assert f"{significant(now)} kN → {significant(then)} kN" in words
        sign = MINUS if then < now else "+"
        assert then == now or f"{sign}{significant(abs(then - now))} kN" in words
        assert then == now or f"→ {cells['lighter']}" in words
        assert f"{cells['governs']} of " in words and f"({cells['governs_by']})" in words
        assert f"at {told_ratio(cells['governs'], cells['utilisation'])} (" in words
        if cells["next_lighter"]:
            stops = told_ratio(cells["stopped_by"], cells["stopped_utilisation"])
            rung = f"{cells['stopped_by']} of {cells['stopped_member']} at {stops} ("
            assert f"{cells['next_lighter']}: {rung}" in words
        assert all(member in words for member in str(cells["idle_props"]).split())
        assert BESIDE in words


def test_where_no_choice_holds_nothing_is_told_to_be_lighter() -> None:
    # one section of 40 by 3 for everything: far too little
    text = re.sub(r"from = .*\nto = .*", 'from = "SHS 40x40x3"\nto = "SHS 40x40x3"', text_of("bittern_roof"))
    # and the bow of now is not enough either
    text = text.replace("compression = 450", "compression = 100")
    results = Results()
    study = results.work(text, "thin.toml")
    told = show_found(study, results.size(study), None)
    assert str(told["title"]).startswith("Bow: no section to choose from meets all of its checks, ")
    assert "the nearest has compression at 2.12" in str(told["title"])
    assert "No choice from these families meets every check made here;" in str(told["title"])
    assert told["lightest"] == {}
    assert str(told["proven"]).startswith("Every choice of these families fails a check or cannot")
    words = words_of(told["list"])
    groups = ["bow", "tie", "verticals", "diagonals"]
    assert under_headings(told)["Each group in the nearest choice"] == groups
    assert words.count("; not a candidate.") == 4
    assert "→" not in words and "governs then" not in words and MINUS not in words
    # 212 kN of the 100 kN given: 40 by 3 resists far less, so the nearest to it is the bow of now
    assert words.count(" in the nearest choice, as it is") == 4
    lacking = "with the one that comes nearest compression of L0-U1 stands at 2.12 (given with the group)"
    assert f"all of its own checks under the forces of the nearest choice: {lacking}" in words
    assert words.count("nothing by itself: some section to choose from meets its own checks") == 3
    broken = re.findall(r"<li>(.*?)</li>", re.search(r'<ul class="failing">.*?</ul>', str(told["list"]))[0])  # type: ignore[index]
    assert len(broken) == 8 and all("compression of " in words_of(line) for line in broken)


def test_groups_stand_under_what_became_of_them() -> None:
    # a bow of 60 by 3 buckles, so what is found has a heavier one
    text = re.sub(r"compression = 450\n", "", text_of("bittern_roof"))
    start = text.index("[groups.bow]")
    text = text[:start] + re.sub(r'section = ".*?"', 'section = "SHS 60x60x3"', text[start:], count=1)
    results = Results()
    study = results.work(text, "thin.toml")
    told = show_found(study, results.size(study), None)
    stand = under_headings(told)
    assert stand["What would have to be heavier"] == ["bow"]
    assert "bow" not in stand["What could be lighter"] and "tie" in stand["What could be lighter"]
    bow = next(words_of(item) for item in items_of(told) if group_of(item) == "bow")
    assert "Not met now: compression of " in bow
    assert "meets the checks made here, together with the other sections found." in bow
    assert under_headings(show_found(worked("bittern_roof"), found("bittern_roof"), None)) == {
        "Idle, and yet holding": [],
        "What could be lighter": ["bow", "tie", "verticals"],
        "No lighter one found": ["diagonals"],
    }


def test_what_most_groups_share_is_told_once_and_beside_each_only_its_own() -> None:
    told = show_found(worked("bittern_roof"), found("bittern_roof"), None)
    words = words_of(told["list"])
    assert words.count("A question for the engineer, not a proposal") == 1
    cautions = [words_of(one) for one in re.findall(r'<p class="note caution">(.*?)</p>', str(told["list"]))]
    assert len(cautions) == 4 and all(one.startswith(BESIDE) for one in cautions)
    # of four groups only the diagonals keep resistances given outright, without a net section of their own
    shared = words_of(re.search(r'<p class="note shared">(.*?)</p>', str(told["list"]))[1])  # type: ignore[index]
    assert "Of all groups but diagonals: net section: no net area given" in shared
    assert not any("Net section" in one for one in cautions)


def test_what_a_study_does_not_ask_for_is_said_in_the_cautions() -> None:
    said = show_truss(worked("bittern_roof"), Direction())["notAmong"]
    assert str(said).startswith("The loss of a member is not among the checks made here")
