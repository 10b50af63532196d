"""A sheet of practice tasks to print: so many drawings, and the answers on pages of their own."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from explorer.document import read_text
from explorer.document.units import SYSTEMS
from explorer.markup import Markup, element, join
from explorer.pages.learn.steps import list_steps
from explorer.pages.learn.task_drawing import draw_answer, draw_task
from explorer.pages.proofs.names import keep_names
from explorer.tasks import LAST_SEED, LEVEL_WORDS, Task, make_task
from explorer.wording.numbers import Teller
from explorer.wording.reasons import Reasoning, tell_reason
from solver.answers import answer
from solver.reasons.reason import Reason
from solver.state import take_state
from solver.tolerances import ZERO

MOST = 40
ASKED = re.compile(r"(\d{1,9})-([123])-(plane|space)")
CAUTION = "An aid to thought, not a check: local codes and a licensed engineer decide."


@dataclass(frozen=True)
class SheetRequest:
    """The first task of a sheet, and how many there are."""

    seed: int
    level: int
    space: bool
    count: int


@dataclass(frozen=True)
class SolvedTask:
    """A task with the reasons of all its members."""

    task: Task
    told: Reasoning
    reasons: tuple[Reason, ...]

    @property
    def name(self) -> str:
        """As it stands in an address: 4711-2-plane."""
        return f"{self.task.seed}-{self.task.level}-{'space' if self.task.space else 'plane'}"


def read_request(query: Mapping[str, str]) -> SheetRequest:
    """Read `task` and `count` of an address. Raises ValueError with what is wrong and what would be right."""
    found = ASKED.fullmatch(query.get("task", ""))
    if not found:
        raise ValueError("task is not like 4711-2-plane: a number, a level of 1 to 3, plane or space")
    count = query.get("count", "8")
    if not count.isascii() or not count.isdigit() or not 1 <= int(count[:9]) <= MOST:
        raise ValueError(f"count is not a whole number from 1 to {MOST}")
    return SheetRequest(int(found[1]), int(found[2]), found[3] == "space", int(count))


def draw_sheet(request: SheetRequest, style: str) -> str:
    """Return the sheet as an HTML document with `style` (CSS) inside it."""
    seeds = [(request.seed + number) % (LAST_SEED + 1) for number in range(request.count)]
    solved = [solve_task(make_task(seed, request.level, request.space)) for seed in seeds]
    title = f"Which members carry no force? Level {request.level}: {LEVEL_WORDS[request.level]}"
    tasks = [_draw_question(number, one) for number, one in enumerate(solved, 1)]
    answers = [_draw_solution(number, one) for number, one in enumerate(solved, 1)]
    body = [
        element("h1", title),
        element("p", f"Forces in kN. Tasks {solved[0].name} to {solved[-1].name}.", {"class": "note"}),
        *tasks,
        element("section", [element("h1", "Answers"), _reminder(), *answers], {"class": "answers"}),
        element("p", CAUTION, {"class": "note"}),
    ]
    head = join(
        [
            element("meta", attributes={"charset": "utf-8"}),
            element("meta", attributes={"name": "viewport", "content": "width=device-width"}),
            element("title", title),
            element("link", attributes={"rel": "icon", "href": "/assets/mark.svg"}),
        ]
    )
    # The style is the program's own: it holds no text of a study.
    inside = (
        f"<head>{head}<style>{style}</style></head><body class='task-sheet'><main>{join(body)}</main></body>"
    )
    return f"<!DOCTYPE html><html lang='en' data-ground='paper'>{inside}</html>"


def solve_task(task: Task) -> SolvedTask:
    """Work a task through."""
    answers = answer(read_text(task.text, "task.toml").study)
    load = answers.combinations[0]
    state = take_state(answers.study, answers.responses, load, None)
    scale = float(answers.forces.scales[0])
    told = Reasoning(answers, Teller(SYSTEMS["metric"]), state, ZERO * scale)
    return SolvedTask(task, told, answers.reasoner.explain(state, scale))


def _reminder() -> Markup:
    return element("p", "Zero now does not mean removable.", {"class": "note"})


def _draw_question(number: int, solved: SolvedTask) -> Markup:
    head = element("h2", [f"{number}. ", element("small", f"task {solved.name}")])
    line = element("p", ["Zero: ", element("span", "", {"class": "line"})], {"class": "answer-line"})
    return element("article", [head, draw_task(solved.told), line], {"class": "task"})


def _draw_solution(number: int, solved: SolvedTask) -> Markup:
    rows = [
        element(
            "li",
            [
                element("b", solved.told.member(reason.member)),
                " ",
                element("span", keep_names(tell_reason(solved.told, reason))),
            ],
        )
        for step in list_steps(solved.reasons)
        for reason in step.reasons
    ]
    head = element("h2", [f"{number}. ", element("small", f"task {solved.name}")])
    picture = draw_answer(solved.told, {row for step in list_steps(solved.reasons) for row in step.members})
    return element("article", [head, picture, element("ul", rows)], {"class": "solution"})
