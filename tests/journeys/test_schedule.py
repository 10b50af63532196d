"""The schedule: sorting, filters, both scopes, CSV, and 2,000 rows that scroll."""

from __future__ import annotations

import csv
import io
import re

import pytest

from tests.journeys.conftest import Open
from tests.journeys.girder import girder
from tests.journeys.screen import Screen

# Edges of the bar in tension and of its picture, and the number told beside them.
BAR_AND_PICTURE = """cell => {
  const edges = css => cell.querySelector(css).getBoundingClientRect().toJSON();
  return [edges(".peak-bar.t"), edges("svg"), cell.querySelector("span.t").textContent];
}"""


def rows_shown(screen: Screen) -> list[str]:
    """Names of the rows in view, from the top."""
    rows = screen.find(".schedule-grid .ag-row")
    found: list[tuple[int, str]] = rows.evaluate_all(
        "rows => rows.map(r => [Number(r.getAttribute('row-index')), r.getAttribute('row-id')])"
    )
    return [name for _, name in sorted({tuple(pair) for pair in found})]


def test_it_is_sorted_by_zero_share_first_and_by_any_column_on_asking(open_page: Open) -> None:
    screen = open_page("")
    assert rows_shown(screen)[:3] == ["L2-U2", "L4-U4", "L6-U6"]
    screen.page.get_by_role("columnheader", name="Member").click()
    screen.page.wait_for_function(
        "() => document.querySelector('.ag-row[row-index=\"0\"]').getAttribute('row-id') === 'L0-L1'"
    )


def test_filters_leave_the_members_they_name(open_page: Open) -> None:
    screen = open_page("?study=curlew_mast")
    screen.find("#outcome").select_option("falls")
    screen.see("#schedule-count", "1 of 29")
    assert rows_shown(screen) == ["N1-S1"]
    screen.find("#outcome").select_option("")
    screen.page.get_by_role("checkbox", name="still").check()
    screen.see("#schedule-count", "2 of 29")
    assert sorted(rows_shown(screen)) == ["N1-W1", "W1-S1"]


def test_peaks_are_those_of_the_load_chosen_or_of_all(open_page: Open) -> None:
    screen = open_page("?member=L3-U3")
    row = screen.find('.ag-row[row-id="L3-U3"]')
    assert "103" in row.inner_text()
    screen.find("#schedule-swap").click()
    screen.see("#schedule-under", "over all loads")
    assert "218" in row.inner_text()


def test_the_rows_shown_are_saved_as_csv(open_page: Open) -> None:
    screen = open_page("")
    screen.page.get_by_role("checkbox", name="reverses").check()
    screen.see("#schedule-count", "of 29")
    with screen.page.expect_download() as download:
        screen.find("#schedule-csv").click()
    with open(download.value.path(), encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(io.StringIO(file.read())))
    assert [row["member"] for row in rows] == rows_shown(screen)
    assert set(rows[0]) >= {"member", "group", "zero_share", "peak_tension_kN", "peak_compression_kN"}


def test_a_thousand_members_are_shown_and_the_last_row_can_be_reached(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    screen.upload("girder.toml", girder(200))
    screen.wait_for_other(before)
    assert screen.text("#schedule-count") == "1001"
    screen.find(".schedule-grid .ag-cell").first.click()
    screen.page.keyboard.press("Control+End")
    screen.find('.ag-row[row-index="1000"]').wait_for()
    assert screen.find("#plate .bar").count() == 1001


@pytest.mark.parametrize("size", [(1440, 900), (390, 844)], ids=str)
def test_bars_of_peaks_are_as_long_as_their_numbers_say(open_page: Open, size: tuple[int, int]) -> None:
    screen = open_page("", size=size)
    screen.find(".schedule").scroll_into_view_if_needed()
    lengths = {}
    for member in ("L0-L1", "L2-L3"):
        cell = screen.find(f'.ag-row[row-id="{member}"] .peaks-cell')
        cell.locator("span.t").filter(has_text=re.compile(r"\d")).wait_for()
        # Bar, picture and number in one look: the grid may still be finding its place between two.
        bar, frame, told = cell.evaluate(BAR_AND_PICTURE)
        # All of the bar is seen: nothing is cut at the edge of its picture.
        assert bar["right"] <= frame["right"] + 1
        lengths[member] = bar["width"] / frame["width"] / float(told)
    assert lengths["L0-L1"] == pytest.approx(lengths["L2-L3"], rel=0.03)
