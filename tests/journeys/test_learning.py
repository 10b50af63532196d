"""The page to learn on: a walk, other loads, predictions, by hand, tasks and their sheet."""

from __future__ import annotations

import re

import pytest

from explorer.tasks import make_task
from tests.journeys.conftest import Open
from tests.journeys.screen import Screen

LORRY = ["L1", "L3", "L7", "U2", "U4", "U6"]
"""Joints of the bundled bridge that show a zero one after the other with the lorry where it first stands."""


def steps(screen: Screen) -> list[str]:
    return screen.find("#walk-steps button").all_inner_texts()


def looks(screen: Screen) -> dict[str, str]:
    """How each member is drawn, by name."""
    found: list[tuple[str, str]] = screen.page.evaluate(
        "() => [...document.querySelectorAll('#plate .bars > .bar')]"
        ".map(b => [b.dataset.member, b.getAttribute('class').split(' ')[1]])"
    )
    return dict(found)


def zeros(screen: Screen) -> set[str]:
    return {name for name, look in looks(screen).items() if look == "z"}


def mark(screen: Screen, *names: str) -> None:
    for name in names:
        screen.page.get_by_role("checkbox", name=name, exact=True).check()


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


def test_an_arrow_is_turned_and_moved_on_the_drawing(open_page: Open) -> None:
    screen = open_page("learn/?way=loads&under=deck")
    arrow = screen.find("#plate .load[data-j='4'] .arrow").first
    box = arrow.bounding_box()
    assert box
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] - 4
    screen.page.mouse.move(x, y)
    screen.page.mouse.down()
    screen.page.mouse.move(x + 40, y - 10, steps=4)
    screen.page.mouse.up()
    turned = screen.find("#own-loads li").nth(4).locator("input").nth(1)
    screen.page.wait_for_function(
        "() => document.querySelectorAll('#own-loads li')[4].querySelectorAll('input')[1].value !== '270'"
    )
    assert float(turned.input_value()) % 15 == pytest.approx(0, abs=1e-6)


def test_a_prediction_tells_what_is_right_missed_and_wrong_and_why(open_page: Open) -> None:
    screen = open_page("learn/?way=predict")
    mark(screen, "L1-U1", "L3-U3", "L7-U7", "L2-U2", "L4-U4", "L5-U5")
    screen.find("#check").click()
    screen.see("#judged .say", "one missed")
    right = screen.find("#judged .right b").all_inner_texts()
    assert set(right) == {"L1-U1", "L3-U3", "L7-U7", "L2-U2", "L4-U4"}
    assert screen.find("#judged .missed b").all_inner_texts() == ["L6-U6"]
    assert "Step 1" in screen.text("#judged .missed li")
    assert screen.find("#judged .wrong b").all_inner_texts() == ["L5-U5"]
    wrong = screen.text("#judged .wrong li")
    # at L5 stands a share of the lorry: the three-bar rule does not hold there
    assert "three-bar rule" in wrong and "L5" in wrong
    assert looks(screen)["L5-U5"] == "t" and looks(screen)["L6-U6"] == "missed"


def test_the_second_round_asks_what_moves_and_names_zero_taken_for_removable(open_page: Open) -> None:
    screen = open_page("learn/?way=predict&study=heron_fan&under=sideways")
    screen.find("[data-do=second-round]").click()
    assert screen.text("#question") == "Without which of these members is the truss a mechanism?"
    mark(screen, "T2-P")
    screen.find("#check").click()
    screen.see("#judged .wrong", "T2-P")
    assert "redundancy share" in screen.text("#judged .wrong")
    other = open_page("learn/?way=predict")
    other.find("[data-do=second-round]").click()
    other.find("#check").click()
    other.see("#judged .missed", "L4-U4")
    assert "U4" in other.text("#judged .missed")


def test_members_are_marked_with_the_keys_alone(open_page: Open) -> None:
    screen = open_page("learn/?way=predict")
    screen.find("#plate").focus()
    screen.page.keyboard.press("ArrowRight")
    screen.page.keyboard.press("Space")
    assert screen.find(".mark-list input:checked").count() == 1
    screen.page.keyboard.press("Space")
    assert screen.find(".mark-list input:checked").count() == 0


def test_by_hand_every_joint_has_at_most_two_unknowns_and_the_forces_of_the_drawing(open_page: Open) -> None:
    screen = open_page("learn/?way=hand&under=deck")
    screen.find(".hand-steps li").first.wait_for()
    titles = screen.find(".hand-steps h2").all_inner_texts()
    assert titles[0].startswith("The whole truss")
    assert all(re.search(r"(one|two) (of .*)?unknowns?|no unknown", title) for title in titles[1:]), titles
    results = " ".join(screen.find(".hand-steps .results").all_inner_texts()).replace("\u00a0", " ")
    assert "L4-U4 = 0" in results and "L0-U1 = −205 kN, compression" in results


def test_the_same_number_gives_the_same_task_and_a_line_to_paste(open_page: Open) -> None:
    screen = open_page("learn/?way=tasks")
    screen.find("#task-seed").fill("4711")
    screen.find("#task-level").select_option("2")
    before = screen.key()
    screen.find("#set-task").click()
    screen.wait_for_other(before)
    screen.page.wait_for_url("**task=4711-2-plane**")
    again = open_page("learn/?task=4711-2-plane")
    assert again.key() == screen.key()
    again.find("#check").click()
    again.see(".paste", "Stillbar task 4711-2-plane: 0 of")
    text = make_task(4711, 2, False).text
    assert "Task 4711, level 2" in text


def test_a_sheet_of_tasks_has_its_answers_on_pages_of_their_own(open_page: Open) -> None:
    screen = open_page("learn/?way=tasks")
    address = screen.find("#sheet-link").get_attribute("href") or ""
    assert address.startswith("/learn/sheet?")
    screen.page.goto(screen.address + "learn/sheet?task=4711-2-plane&count=3")
    assert screen.find("article.task svg").count() == screen.find(".answers article svg").count() == 3
    assert "Zero now does not mean removable" in screen.text(".answers")
    assert screen.find("article.task .bar.z").count() == 0 < screen.find(".answers .bar.z").count()
    screen.page.emulate_media(media="print")
    assert screen.find(".answers").evaluate("n => getComputedStyle(n).breakBefore") == "page"
    assert screen.violations() == []


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
    screen.find("[data-do=last]").click()
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
