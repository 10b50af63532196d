"""The page to learn on: predictions, what is said of them, and tasks to practise on."""

from __future__ import annotations

import pytest

from explorer.tasks import make_task
from tests.journeys.board import classes, looks, mark, value_boxes
from tests.journeys.conftest import Open


def test_a_prediction_tells_what_is_right_missed_and_wrong_and_why(open_page: Open) -> None:
    screen = open_page("learn/?way=predict")
    mark(screen, "L1-U1", "L3-U3", "L7-U7", "L2-U2", "L4-U4", "L5-U5")
    screen.find("#check").click()
    screen.see("#judged .say", "one missed")
    right = screen.find("#judged .right b").all_inner_texts()
    assert set(right) == {"L1-U1", "L3-U3", "L7-U7", "L2-U2", "L4-U4"}
    assert screen.find("#judged .missed b").all_inner_texts() == ["L6-U6"]
    assert "Step 6 of the walk" in screen.text("#judged .missed li")
    assert screen.find("#judged .wrong b").all_inner_texts() == ["L5-U5"]
    wrong = screen.text("#judged .wrong li")
    # at L5 stands a share of the lorry: the three-bar rule does not hold there
    assert "three-bar rule" in wrong and "L5" in wrong
    assert looks(screen)["L5-U5"] == "t"
    # missed, and a zero all the same: broken and thin like the others
    assert looks(screen)["L6-U6"] == "z" and "missed" in classes(screen, "L6-U6")
    assert "missed" not in classes(screen, "L1-U1")


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


def test_each_round_keeps_its_marks_and_its_verdict(open_page: Open) -> None:
    screen = open_page("learn/?way=predict")
    mark(screen, "L1-U1", "L3-U3")
    screen.find("#check").click()
    screen.see("#judged .right", "L3-U3")
    screen.find("[data-do=second-round]").click()
    assert screen.find(".mark-list input:checked").count() == 0
    mark(screen, "L0-L1")
    screen.find("[data-do=second-round]").click()
    assert screen.find(".mark-list input:checked").count() == 2
    assert screen.find("#judged .right b").all_inner_texts() == ["L1-U1", "L3-U3"]
    screen.find("#ways [data-way=hand]").click()
    screen.find(".hand-steps li").first.wait_for()
    screen.find("#ways [data-way=predict]").click()
    assert screen.find("#judged .right b").all_inner_texts() == ["L1-U1", "L3-U3"]
    screen.find("[data-do=second-round]").click()
    assert screen.page.get_by_role("checkbox", name="L0-L1", exact=True).is_checked()
    assert screen.find(".mark-list input:checked").count() == 1


@pytest.mark.parametrize("study", ["dunlin_cascade", "bittern_roof"])
@pytest.mark.parametrize("second", [False, True])
def test_no_verdict_on_the_drawing_covers_another(open_page: Open, study: str, second: bool) -> None:
    screen = open_page(f"learn/?way=predict&study={study}")
    if second:
        screen.find("[data-do=second-round]").click()
    screen.find("#check").click()
    screen.find("#judged .missed li").first.wait_for()
    boxes = value_boxes(screen)
    assert len(boxes) >= screen.find("#judged .missed li").count() // 2 > 0
    for i, one in enumerate(boxes):
        for other in boxes[:i]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]
            assert apart, (one, other)
    assert "missed" in screen.text("#marks-key")


def test_members_are_marked_with_the_keys_alone(open_page: Open) -> None:
    screen = open_page("learn/?way=predict")
    screen.find("#plate").focus()
    screen.page.keyboard.press("ArrowRight")
    screen.page.keyboard.press("Space")
    assert screen.find(".mark-list input:checked").count() == 1
    screen.page.keyboard.press("Space")
    assert screen.find(".mark-list input:checked").count() == 0


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


def test_a_task_set_once_more_is_shown_whole_and_unmarked(open_page: Open) -> None:
    screen = open_page("learn/?way=tasks")
    before = screen.key()
    screen.find("#task-seed").fill("77")
    screen.find("#set-task").click()
    screen.wait_for_other(before)
    loads = screen.find("#plate .load").count()
    screen.find(".mark-list input").first.check()
    screen.find("#ways [data-way=tasks]").click()
    screen.find("#set-task").click()
    screen.see("#judged", "Nothing yet")
    assert screen.find(".mark-list input:checked").count() == 0
    assert screen.find("#plate .load").count() == loads > 0
    assert set(looks(screen).values()) == {"plain"}


@pytest.mark.parametrize(
    ("typed", "used"), [("-5", "0"), ("12.7", "13"), ("99999999999", "999999999"), ("", "0")]
)
def test_the_number_used_stands_in_place_of_one_that_cannot_be(
    open_page: Open, typed: str, used: str
) -> None:
    screen = open_page("learn/?way=tasks")
    screen.find("#task-seed").fill(typed)
    screen.find("#task-seed").press("Tab")
    assert screen.find("#task-seed").input_value() == used
    assert used in screen.text("#task-line")
    assert f"task={used}-1-plane" in (screen.find("#sheet-link").get_attribute("href") or "")


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
