"""The sheet of practice tasks: what it asks for is what it holds."""

from __future__ import annotations

import re

import pytest

from explorer.pages.learn.task_sheet import SheetRequest, draw_sheet, read_request, solve_task
from explorer.tasks import make_task
from solver.reasons.reason import NOT_ZERO
from tests.laws.proving import dense_forces


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
        {"task": "1-1-plane", "count": "0"},
        {"task": "1-1-plane", "count": "41"},
        {"task": "1-1-plane", "count": "1" * 5000},
        {"task": "1-1-plane", "count": "<b>"},
    ],
    ids=str,
)
def test_anything_else_is_refused_with_what_would_be_right(query: dict[str, str]) -> None:
    with pytest.raises(ValueError, match=r"task is not like|whole number from 1 to 40"):
        read_request(query)


def test_a_sheet_holds_its_tasks_in_a_row_and_then_their_answers() -> None:
    page = draw_sheet(SheetRequest(999_999_998, 1, False, 3), "")
    asked, _, answered = page.partition('<section class="answers">')
    for part in (asked, answered):
        assert re.findall(r"task (\d+)-1-plane", part)[:3] == ["999999998", "999999999", "0"] or part is asked
        assert part.count("<svg") == 3
    assert 'class="bar z"' not in asked and 'class="bar z"' in answered
    assert "Zero now does not mean removable." in answered


@pytest.mark.parametrize("space", [False, True])
def test_the_answers_are_the_zeros_of_a_dense_solution(space: bool) -> None:
    for seed in range(5):
        solved = solve_task(make_task(seed, 2, space))
        truss, loads = solved.told.answers.study.truss, solved.told.state.joint_loads
        forces = dense_forces(truss, loads.reshape(-1, 1), truss.axial_stiffness)[:, 0]
        zeros = {r.member for r in solved.reasons if r.kind != NOT_ZERO}
        assert zeros == {m for m, f in enumerate(forces) if abs(f) < 1e-8 * abs(forces).max()}
