"""The sheet of practice tasks: what it asks for is what it holds."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from explorer.drawing.paper import draw_answer, lay_task
from explorer.pages.learn.task_sheet import SheetRequest, SolvedTask, draw_sheet, read_request, solve_task
from explorer.tasks import make_task
from tests.laws.proving import dense_forces

DAY = date(2031, 5, 9)
FEW = 4
"""Tasks of a sheet: making them takes longest."""
STYLE = Path(__file__).resolve().parents[2] / "explorer" / "assets" / "learn" / "45-sheet-print.css"
NAME = re.compile(r"task (\d+-[123]-(?:plane|space))<")
LETTERED = re.compile(r'<g class="name" [^>]*><text y="4">([^<]+)</text>')


@cache
def solved_task(seed: int, level: int, space: bool) -> SolvedTask:
    """A task and its solution: making one takes longer than looking, and several facts are seen on it."""
    return solve_task(make_task(seed, level, space))


@cache
def short_sheet(level: int, space: bool) -> tuple[str, str]:
    """Tasks and answers of the sheet that begins with task 0."""
    return halves(draw_sheet(SheetRequest(0, level, space, FEW), "", DAY))


def dense(solved: SolvedTask) -> np.ndarray:
    """Forces [N] by a dense solution that shares nothing with the sheet's own."""
    truss, loads = solved.told.answers.study.truss, solved.told.state.joint_loads
    return np.asarray(dense_forces(truss, loads.reshape(-1, 1), truss.axial_stiffness)[:, 0])


def zeros_of(solved: SolvedTask) -> set[str]:
    """Names of members without force by the dense solution."""
    forces = dense(solved)
    members = solved.told.answers.study.truss.members
    return {m.name for m, f in zip(members, forces, strict=True) if abs(f) < 1e-8 * abs(forces).max()}


def halves(page: str) -> tuple[str, str]:
    """The tasks and the answers of a sheet."""
    asked, between, answered = page.partition('<section class="answers">')
    assert between
    return asked, answered


def test_a_request_is_read_from_an_address() -> None:
    assert read_request({"task": "4711-2-plane", "count": "3"}) == SheetRequest(4711, 2, False, 3)
    assert read_request({"task": "0-3-space"}) == SheetRequest(0, 3, True, 8)


@pytest.mark.parametrize(
    "query",
    [
        {},
        {"task": "4711"},
        {"task": "4711-4-plane"},
        {"task": "4711-2-flat"},
        {"task": "-1-2-plane"},
        {"task": "1000000000-2-plane"},
        {"task": "1-1-plane\n"},
        {"task": "1-1-plane", "count": ""},
        {"task": "1-1-plane", "count": "0"},
        {"task": "1-1-plane", "count": "41"},
        {"task": "1-1-plane", "count": "-3"},
        {"task": "1-1-plane", "count": "2.5"},
        {"task": "1-1-plane", "count": "\u0663"},
        {"task": "1-1-plane", "count": "1" * 5000},
        {"task": "1-1-plane", "count": "0" * 12 + "8" * 12},
        {"task": "1-1-plane", "count": "<b>"},
    ],
    ids=ascii,
)
def test_anything_else_is_refused_with_what_would_be_right(query: dict[str, str]) -> None:
    with pytest.raises(ValueError, match=r"task is not like|whole number from 1 to 40"):
        read_request(query)


def test_a_sheet_holds_its_tasks_in_a_row_and_then_their_answers() -> None:
    asked, answered = halves(draw_sheet(SheetRequest(999_999_998, 1, False, 3), "", DAY))
    for half in (asked, answered):
        assert NAME.findall(half) == ["999999998-1-plane", "999999999-1-plane", "0-1-plane"]
        assert half.count("<svg") == 3
    assert asked.count('class="line"') == 3


@pytest.mark.parametrize("space", [False, True])
def test_the_tasks_show_no_force_and_the_answers_show_them_all(space: bool) -> None:
    asked, answered = halves(draw_sheet(SheetRequest(4711, 2, space, 3), "", DAY))
    solved = [solve_task(make_task(4711 + number, 2, space)) for number in range(3)]
    zeros = sum(len(zeros_of(one)) for one in solved)
    members = sum(len(one.told.state.forces) for one in solved)
    looks = re.findall(r'class="bar (\w+)"', asked)
    assert looks == ["plain"] * members
    assert 'class="value' not in asked and "--f:0.0" not in asked and not re.search(r">[TC] ?[\d.]", asked)
    looks = re.findall(r'class="bar (\w)"', answered)
    assert looks.count("z") == zeros and len(looks) == members


def test_the_reminder_stands_once_and_in_the_answers_and_the_caution_under_both() -> None:
    asked, answered = halves(draw_sheet(SheetRequest(7, 1, True, 1), "", DAY))
    assert asked.count("Zero now does not mean removable.") == 0
    assert answered.count("Zero now does not mean removable.") == 1
    for half in (asked, answered):
        assert half.count("local codes and a licensed engineer decide") == 1


@pytest.mark.parametrize("level", [1, 2, 3])
@pytest.mark.parametrize("space", [False, True])
def test_the_listed_zeros_are_those_of_a_dense_solution(level: int, space: bool) -> None:
    _, answered = short_sheet(level, space)
    articles = answered.split("<article")[1:]
    assert len(articles) == FEW
    for number, article in enumerate(articles):
        listed = re.findall(r"<li><b>([^<]+)</b> <span>.*?</span></li>", article)
        assert set(listed) == zeros_of(solved_task(number, level, space))
        assert len(set(listed)) == len(listed) == article.count("<li>")


def test_a_narrow_truss_is_drawn_so_large_that_its_forces_have_room() -> None:
    # A tower of four panels, four times as high as wide: 14 members, of which the smallest size held none.
    solved = solve_task(make_task(4711, 1, False))
    layout = lay_task(solved.told)
    assert not draw_answer(layout, set(), "").unwritten
    reach = np.ptp(layout.pixels, axis=0)
    # It may be high, but a page of A4, 269 mm at 688 px for 182 mm, holds two of it.
    assert reach[0] < reach[1] < 508


@pytest.mark.parametrize("space", [False, True])
def test_every_member_has_its_value_in_the_drawing_or_beside_it(space: bool) -> None:
    for seed in range(6):
        solved = solved_task(seed, 3, space)
        forces = dense(solved)
        zeros = {m for m, f in enumerate(forces) if abs(f) < 1e-8 * abs(forces).max()}
        picture = draw_answer(lay_task(solved.told), zeros, "")
        letters = re.findall(r'<g class="value (\w)"', str(picture.drawing))
        left_out = ["z" if m in zeros else "t" if forces[m] > 0 else "c" for m in picture.unwritten]
        wanted = ["z" if m in zeros else "t" if f > 0 else "c" for m, f in enumerate(forces)]
        assert sorted([*letters, *left_out]) == sorted(wanted)


@pytest.mark.parametrize("level", [1, 2, 3])
@pytest.mark.parametrize("space", [False, True])
def test_every_joint_is_lettered_in_every_drawing(level: int, space: bool) -> None:
    for half in short_sheet(level, space):
        drawings = re.findall(r"<svg.*?</svg>", half)
        assert len(drawings) == FEW
        for seed, drawing in enumerate(drawings):
            truss = solved_task(seed, level, space).told.answers.study.truss
            assert LETTERED.findall(drawing) == list(truss.joint_names)


def check_nearness(seed: int, level: int, space: bool) -> None:
    layout = lay_task(solved_task(seed, level, space).told)
    for joint, place in enumerate(layout.places):
        assert np.hypot(*(layout.pixels - place).T).argmin() == joint, seed
    for arrow in layout.arrows:
        near = min((arrow.tail, arrow.tip), key=lambda end: np.hypot(*(end - layout.pixels[arrow.joint])))
        assert np.hypot(*(layout.pixels - near).T).argmin() == arrow.joint, seed


@pytest.mark.parametrize("level", [1, 2, 3])
@pytest.mark.parametrize("space", [False, True])
def test_names_and_arrows_are_nearest_to_their_own_joints(level: int, space: bool) -> None:
    for seed in range(FEW):
        check_nearness(seed, level, space)


@pytest.mark.campaign
@pytest.mark.parametrize("level", [1, 2, 3])
@pytest.mark.parametrize("space", [False, True])
def test_names_and_arrows_are_nearest_to_their_own_joints_in_many_tasks(level: int, space: bool) -> None:
    for seed in range(FEW, 60):
        check_nearness(seed, level, space)


@pytest.mark.parametrize("space", [False, True])
def test_a_load_is_drawn_at_its_joint_and_told_in_components(space: bool) -> None:
    asked, _ = short_sheet(2, space)
    for seed, article in enumerate(asked.split("<article")[1:]):
        told = solved_task(seed, 2, space).told
        layout, loads = lay_task(told), told.state.joint_loads
        assert {arrow.joint for arrow in layout.arrows} == set(np.flatnonzero(loads.any(axis=1)).tolist())
        assert article.count('<g class="load">') == len(layout.arrows)
        given = article.partition("Loads in kN")[2].partition("</p>")[0]
        for arrow in layout.arrows:
            ends = np.array([arrow.tail, arrow.tip]) - layout.pixels[arrow.joint]
            assert np.hypot(*ends.T).min() < 30
            parts = ",\u00a0".join(f"{c / 1000:g}".replace("-", "\u2212") for c in loads[arrow.joint])
            assert f"{told.joint(arrow.joint)}\u00a0({parts})" in given


def test_in_space_the_sheet_tells_where_the_joints_are() -> None:
    asked, _ = halves(draw_sheet(SheetRequest(4714, 2, True, 1), "", DAY))
    text = make_task(4714, 2, True).text.partition("[joints]")[2].partition("[supports]")[0]
    written = re.findall(r"(\w+) = \[(.*?)\]", text)
    assert written
    for name, point in written:
        parts = ",\u00a0".join(part.strip().replace("-", "\u2212") for part in point.split(","))
        assert f"{name}\u00a0({parts})" in asked


def test_the_same_request_gives_the_same_page_but_for_the_date() -> None:
    request = SheetRequest(31, 2, True, 2)
    first, later = draw_sheet(request, "", DAY), draw_sheet(request, "", date(2032, 1, 1))
    assert first != later
    assert first.replace("2031-05-09", "2032-01-01") == later
    assert date.today().isoformat() in draw_sheet(SheetRequest(31, 1, False, 1), "")


def test_a_sheet_runs_no_script_asks_nothing_of_elsewhere_and_holds_its_style() -> None:
    page = draw_sheet(SheetRequest(1, 1, False, 1), ".x{color:red}", DAY)
    assert page.startswith("<!DOCTYPE html><html lang=")
    assert "<style>.x{color:red}</style>" in page
    assert not re.search(r"<script|\son\w+=|https?:|//\w", page)


def test_the_answers_begin_on_a_page_of_their_own() -> None:
    rules = re.findall(r"\.task-sheet \.answers \{([^}]*)\}", STYLE.read_text(encoding="utf-8"))
    assert any("break-before: page" in rule for rule in rules)
    assert halves(draw_sheet(SheetRequest(1, 1, False, 2), "", DAY))[0].count("<article") == 2
