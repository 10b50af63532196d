"""Members and loads are chosen on the drawing, in the schedule, by keys and by the address."""

from __future__ import annotations

import re

from tests.journeys.conftest import Open
from tests.journeys.screen import Screen


def middle_of(screen: Screen, member: str) -> tuple[float, float]:
    """The middle of a bar on the screen."""
    box = screen.find(f'#plate [data-member="{member}"] .dash').bounding_box()
    assert box
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_a_click_on_a_bar_chooses_it_everywhere(open_page: Open) -> None:
    screen = open_page("")
    screen.page.mouse.click(*middle_of(screen, "U5-L6"))
    screen.wait_for_member("U5-L6")
    assert screen.find(".ag-row-selected").get_attribute("row-id") == "U5-L6"
    assert screen.find('#plate [data-member="U5-L6"].chosen').count() == 1
    screen.page.wait_for_url("**member=U5-L6**")


def test_a_row_of_the_schedule_chooses_its_member_on_the_drawing(open_page: Open) -> None:
    screen = open_page("")
    screen.find('.ag-row[row-id="L6-U6"]').click()
    screen.wait_for_member("L6-U6")
    assert screen.text("#plate .tag tspan") == "L6-U6"


def test_arrow_keys_step_through_the_schedule(open_page: Open) -> None:
    screen = open_page("")
    screen.find('.ag-row[row-id="L2-U2"] .ag-cell').first.click()
    screen.wait_for_member("L2-U2")
    below = screen.find('.ag-row[row-index="1"]').first.get_attribute("row-id") or ""
    screen.page.keyboard.press("ArrowDown")
    screen.wait_for_member(below)


def test_arrow_keys_on_the_drawing_step_from_left_to_right_through_all_members(open_page: Open) -> None:
    screen = open_page("?study=egret_span")
    screen.find("#plate").focus()
    screen.page.keyboard.press("Home")
    seen = [screen.text("#plate .tag tspan")]
    for _ in range(20):
        screen.page.keyboard.press("ArrowRight")
        seen.append(screen.text("#plate .tag tspan"))
    assert len(set(seen)) == 21
    screen.page.keyboard.press("ArrowLeft")
    assert screen.text("#plate .tag tspan") == seen[-2]


def test_up_and_down_go_to_what_lies_there(open_page: Open) -> None:
    screen = open_page("?member=L3-L4")
    screen.find("#plate").focus()
    screen.page.keyboard.press("ArrowUp")
    assert screen.text("#plate .tag tspan") in ("U3-L4", "L3-U3", "L4-U4")


def test_the_address_brings_the_same_state_back(open_page: Open) -> None:
    screen = open_page(
        "?study=avocet_bridge&under=lorry_crossing&member=L5-U5&at=12.5+backward&show=zero+share"
    )
    assert screen.member() == "L5-U5"
    assert screen.position() == 12.5
    assert "backward" in screen.text("#where")
    assert screen.find("#measure").input_value() == "zero share"


def test_a_combination_is_chosen_and_the_page_says_why_hardly_anything_is_zero(open_page: Open) -> None:
    screen = open_page("")
    assert screen.text("#why-few") == ""
    screen.choose_load("strength")
    screen.see("#sentence", "Every member works")
    assert "permanent load" in screen.text("#why-few")
    assert "1.35 self weight + 1.35 deck + 1.5 lorry crossing" in screen.text("#where")


def test_without_a_train_the_track_is_a_row_of_ticks_that_choose_their_load(open_page: Open) -> None:
    screen = open_page("?study=bittern_roof&member=L4-U4")
    ticks = screen.find(".ticks button")
    assert ticks.count() == 11
    ticks.filter(has_text="suction").click()
    screen.see("#where", "suction")
    screen.find('.ticks button[aria-pressed="true"]').filter(has_text="suction").wait_for()


def test_what_bars_show_can_be_chosen(open_page: Open) -> None:
    screen = open_page("")
    post = screen.find('#plate [data-member="L4-U4"]')
    assert "z" in (post.get_attribute("class") or "").split()
    screen.find("#measure").select_option("outcome if gone")
    assert "ink" in (post.get_attribute("class") or "").split()
    screen.find("#measure").select_option("peak tension")
    assert re.search(r"\bz\b", post.get_attribute("class") or "")
    assert re.search(r"\bt\b", screen.find('#plate [data-member="L4-L5"]').get_attribute("class") or "")


def test_zoom_and_whole_truss(open_page: Open) -> None:
    screen = open_page("")
    before = middle_of(screen, "L0-L1")
    screen.page.get_by_role("button", name="closer").click()
    screen.page.get_by_role("button", name="closer").click()
    assert middle_of(screen, "L0-L1") != before
    screen.page.get_by_role("button", name="whole truss").click()
    assert middle_of(screen, "L0-L1") == before


def test_dragging_moves_the_drawing_and_the_track_with_it(open_page: Open) -> None:
    screen = open_page("")
    tick = screen.find(".ruler text").first
    bar, mark = middle_of(screen, "L3-L4"), tick.bounding_box()
    screen.page.mouse.move(700, 330)
    screen.page.mouse.down()
    screen.page.mouse.move(760, 330, steps=4)
    screen.page.mouse.up()
    moved, after = middle_of(screen, "L3-L4"), tick.bounding_box()
    assert mark and after
    assert abs(moved[0] - bar[0] - 60) < 1 and abs(after["x"] - mark["x"] - 60) < 1


def test_an_answer_about_another_member_that_comes_late_changes_nothing(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L2-U2")
    late = """({ another, wanted }) => {
      const { study, state } = stillbar.stage,
        about = { key: study.key, member: state.member, under: state.under };
      const told = wanted ? "in time" : "late",
        answer = { ...about, ...another, markup: "<p>" + told + "</p>" };
      window.dash_clientside.set_props("sheet-data", { data: answer });
      return new Promise((done) => setTimeout(done, 300));
    }"""
    for another in ({"member": 0}, {"under": 1}, {"key": "another"}):
        screen.page.evaluate(late, {"another": another, "wanted": False})
        assert screen.member() == "L2-U2"
    screen.page.evaluate(late, {"another": {}, "wanted": True})
    screen.see("#sheet", "in time")
