"""The page to learn on: a walk, other loads, and joints by hand."""

from __future__ import annotations

import re

import pytest

from tests.journeys.board import arrow_ends, drag, looks, steps, zeros
from tests.journeys.conftest import Open

LORRY = ["L1", "L3", "L7", "U2", "U4", "U6"]
"""Joints of the bundled bridge that show a zero one after the other with the lorry where it first stands."""


def test_a_walk_goes_forward_and_back_by_mouse_and_by_keys(open_page: Open) -> None:
    screen = open_page("learn/")
    assert steps(screen) == [*LORRY, "what is left"]
    assert screen.text("#question") == "Which member at L1 must be zero?"
    assert "No load stands on L1" in screen.text("#step-says")
    assert zeros(screen) == {"L1-U1"}
    screen.find("#next").click()
    assert screen.text("#question") == "Which member at L3 must be zero?"
    assert zeros(screen) == {"L1-U1", "L3-U3"}
    screen.page.keyboard.press("ArrowRight")
    assert screen.text("#question") == "Which member at L7 must be zero?"
    screen.page.keyboard.press("ArrowLeft")
    screen.page.keyboard.press("ArrowLeft")
    assert screen.text("#question") == "Which member at L1 must be zero?"
    assert zeros(screen) == {"L1-U1"}
    screen.page.keyboard.press("End")
    assert screen.text("#question") == "23 of 29 members carry this load"
    assert len(zeros(screen)) == 6 and "plain" not in looks(screen).values()
    assert "Zero now does not mean removable" in screen.text("#step-beside")
    assert "mechanism with six independent movements" in screen.text("#step-beside")


def test_each_step_shows_the_joint_its_load_and_the_deciding_axis(open_page: Open) -> None:
    screen = open_page("learn/?step=4")
    assert screen.text("#question") == "Which member at U4 must be zero?"
    picture = screen.find("#step-picture svg.free-body")
    assert picture.locator(".arm").count() == 3
    assert picture.locator(".arm.asked").count() == picture.locator(".axis").count() // 2 == 1
    words = picture.text_content() or ""
    assert "L4-U4" in words and "no load" in words and "N = 0" in words
    assert screen.find("#step-beside svg.waking").count() == 1


def test_a_member_pointed_at_leads_to_the_step_that_shows_it(open_page: Open) -> None:
    screen = open_page("learn/")
    screen.find("#plate").focus()
    for _ in range(29):
        screen.page.keyboard.press("ArrowRight")
    assert screen.text("#question") != "Which member at L1 must be zero?"


def test_a_working_member_pointed_at_is_told_with_its_force_until_the_next_step(open_page: Open) -> None:
    screen = open_page("learn/?under=deck")
    screen.find("#plate").focus()
    screen.page.keyboard.press("Home")
    screen.page.keyboard.press("ArrowRight")
    told = screen.text("#pointed")
    name = told.split(" ", 1)[0]
    assert told.startswith(f"{name} is not zero here: it bears ") and told.endswith("kN.")
    screen.find("#next").click()
    assert screen.find("#pointed").count() == 0
    screen.find("#ways [data-way=loads]").click()
    force = (
        screen.find("#plate .value text")
        .nth(
            screen.find("#plate .bar").evaluate_all(
                f"bars => bars.findIndex(bar => bar.dataset.member === '{name}')"
            )
        )
        .text_content()
    )
    assert force and force in told


def test_what_leads_no_further_is_disabled_at_both_ends_of_the_walk(open_page: Open) -> None:
    screen = open_page("learn/")
    back, first, last = (screen.find(f"#way-walk [data-do={name}]") for name in ("back", "first", "last"))
    assert back.is_disabled() and first.is_disabled() and last.is_enabled()
    last.click()
    assert back.is_enabled() and first.is_enabled() and last.is_disabled()


def test_a_cut_step_fills_the_joints_of_its_part_and_strikes_the_members_cut(open_page: Open) -> None:
    screen = open_page("learn/?study=bittern_roof")
    kinds: list[str] = screen.page.evaluate("() => window.stillbar.stage.lesson.steps.map(s => s.kind)")
    screen.find("#walk-steps button").nth(kinds.index("cut")).click()
    filled, empty = (
        set(
            screen.find(f"#plate .joint{kind} circle").evaluate_all(
                "rings => rings.map(ring => getComputedStyle(ring).fill)"
            )
        )
        for kind in (".in-part", ":not(.in-part)")
    )
    assert len(filled) == len(empty) == 1 and filled != empty
    # a cut of this walk passes three members at most
    assert 1 <= screen.find("#plate .cut-stroke").count() <= 3
    assert "filled" in screen.text("#picture-key")
    screen.page.keyboard.press("Home")
    assert screen.find("#plate .cut-stroke").count() == screen.find("#plate .in-part").count() == 0


@pytest.mark.parametrize("study", ["bittern_roof", "dunlin_cascade"])
def test_on_a_narrow_page_the_deciding_joint_has_its_name_at_every_step(open_page: Open, study: str) -> None:
    screen = open_page(f"learn/?study={study}", size=(390, 844))
    seen = 0
    for number in range(len(steps(screen))):
        screen.find("#walk-steps button").nth(number).click()
        joint: int = screen.page.evaluate("() => window.stillbar.stage.step().joint")
        if joint < 0:
            continue
        seen += 1
        name: str = screen.page.evaluate(f"() => window.stillbar.stage.study.names[{joint}]")
        lettered = screen.find(f"#plate .letters .name[data-j='{joint}']:not(.off) text")
        beside = screen.find("#plate .deciding-name:not(.off)")
        assert [*lettered.all_text_contents(), *beside.all_text_contents()] == [name]
    assert seen


def test_a_load_that_is_added_wakes_a_member_and_undoing_lets_it_fall_still(open_page: Open) -> None:
    screen = open_page("learn/?way=loads")
    before = zeros(screen)
    screen.find("[data-do=add-load]").click()
    screen.see("#changed li:first-child span", "L4-U4")
    assert zeros(screen) == before - {"L4-U4"}
    screen.find("[data-do=undo-load]").click()
    screen.see("#changed li:nth-child(2) span", "L4-U4")
    assert zeros(screen) == before


def test_a_load_is_moved_turned_resized_and_removed_in_the_list(open_page: Open) -> None:
    screen = open_page("learn/?way=loads&under=deck")
    row = screen.find("#own-loads li").nth(1)
    assert row.locator("select").evaluate("s => s.selectedOptions[0].text") == "L1"
    row.locator("select").select_option(label="U2")
    screen.see("#changed li:first-child span", "L2-U2")
    assert "L1-U1" in zeros(screen)
    moved = screen.find("#own-loads li").nth(1)
    moved.locator("input").nth(1).fill("0")
    moved.locator("input").nth(1).press("Enter")
    screen.see("#changed li:nth-child(2) span", "L2-U2")
    count = screen.find("#own-loads li").count()
    screen.find("#own-loads li").nth(1).get_by_role("button", name="remove").click()
    screen.page.wait_for_function(f"() => document.querySelectorAll('#own-loads li').length === {count - 1}")


def test_an_arrow_is_turned_by_its_outer_half_and_moved_by_its_inner_one(open_page: Open) -> None:
    screen = open_page("learn/?way=loads&under=deck")
    outer, inner = arrow_ends(screen, 4)
    drag(screen, [outer[0], 0.7 * outer[1] + 0.3 * inner[1]], [outer[0] + 40, outer[1] + 10])
    screen.page.wait_for_function(
        "() => document.querySelectorAll('#own-loads li')[4].querySelectorAll('input')[1].value !== '270'"
    )
    turned = screen.find("#own-loads li").nth(4).locator("input").nth(1)
    assert float(turned.input_value()) % 15 == pytest.approx(0, abs=1e-6)
    screen.find("[data-do=undo-load]").click()
    screen.page.wait_for_function(
        "() => document.querySelectorAll('#own-loads li')[4].querySelectorAll('input')[1].value === '270'"
    )
    outer, inner = arrow_ends(screen, 4)
    other = screen.find("#plate .joint[data-j='12'] circle").bounding_box()
    assert other
    drag(screen, [inner[0], 0.35 * outer[1] + 0.65 * inner[1]], [other["x"] + 4, other["y"] + 4])
    screen.page.wait_for_function("() => !document.querySelector('#plate .load[data-j=\"4\"]')")
    turns = [row.locator("input").nth(1).input_value() for row in screen.find("#own-loads li").all()]
    assert set(turns) == {"270"}
    assert screen.find("#plate .load[data-j='12']").count() == 1


def test_in_space_only_moving_a_load_is_promised(open_page: Open) -> None:
    plane = open_page("learn/?way=loads")
    assert "to turn it" in plane.text("#way-loads h2")
    space = open_page("learn/?way=loads&study=curlew_mast")
    assert space.find("html").get_attribute("data-dimension") == "3"
    seen = space.find("#way-loads h2 small:visible").all_inner_texts()
    assert len(seen) == 1 and "move" in seen[0] and "turn" not in seen[0]


def test_by_hand_every_joint_has_at_most_two_unknowns_and_the_forces_of_the_drawing(open_page: Open) -> None:
    screen = open_page("learn/?way=hand&under=deck")
    screen.find(".hand-steps li").first.wait_for()
    titles = screen.find(".hand-steps h2").all_inner_texts()
    assert titles[0].startswith("The whole truss")
    assert all(re.search(r"(one|two) (of .*)?unknowns?|no unknown", title) for title in titles[1:]), titles
    results = " ".join(screen.find(".hand-steps .results").all_inner_texts()).replace("\u00a0", " ")
    assert "L4-U4 = 0" in results and "L0-U1 = −205 kN, compression" in results


@pytest.mark.parametrize("way", ["walk", "loads", "hand", "predict", "tasks"])
@pytest.mark.parametrize("size", [(1440, 900), (390, 844)], ids=str)
@pytest.mark.parametrize("ground", ["light", "dark"])
def test_axe_finds_nothing_and_nothing_lies_beside_the_page(
    open_page: Open, way: str, size: tuple[int, int], ground: str
) -> None:
    screen = open_page(f"learn/?way={way}", size=size, ground=ground)
    assert screen.violations() == []
    assert screen.page.evaluate("document.documentElement.scrollWidth") <= size[0]


@pytest.mark.parametrize("study", ["curlew_mast", "godwit_girder", "bittern_roof"])
def test_the_walk_of_every_kind_of_truss_ends_with_what_is_left(open_page: Open, study: str) -> None:
    screen = open_page(f"learn/?study={study}")
    # where nothing is zero the walk is its end
    screen.find("#walk-steps button").last.click()
    assert "Zero now does not mean removable" in screen.text("#step-beside")


def test_explore_and_learn_lead_to_one_another_with_the_same_study_and_load(open_page: Open) -> None:
    screen = open_page("?study=bittern_roof")
    screen.page.wait_for_url("**study=bittern_roof**")
    screen.page.get_by_role("link", name="Learn").click()
    screen.find("#step-says p").first.wait_for()
    assert screen.find("#open-bundled").input_value() == "bittern_roof"
    screen.page.get_by_role("link", name="Explore").click()
    screen.find("#sheet .answer").first.wait_for()
    assert screen.find("#open-bundled").input_value() == "bittern_roof"
