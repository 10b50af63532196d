"""A sheet of practice tasks to print: so many drawings, and the answers on pages of their own."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from explorer.document import read_text
from explorer.document.units import SYSTEMS
from explorer.drawing.paper import Layout, draw_answer, draw_task, lay_task
from explorer.markup import Markup, element, join
from explorer.pages.learn.steps import list_steps
from explorer.pages.proofs.names import keep_names
from explorer.tasks import LAST_SEED, LEVEL_WORDS, Task, make_task
from explorer.wording.numbers import NO_BREAK, Teller
from explorer.wording.reasons import Reasoning, tell_reason
from solver.answers import answer
from solver.reasons.reason import Reason
from solver.state import take_state
from solver.tolerances import ZERO
from solver.truss import AXES, Support

TITLE = "Which members carry no force?"
MOST = 40
KILONEWTON = 1000.0
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


def draw_sheet(request: SheetRequest, style: str, day: date | None = None) -> str:
    """Return the sheet as an HTML document with `style` (CSS) inside it, dated `day` or else today."""
    seeds = [(request.seed + number) % (LAST_SEED + 1) for number in range(request.count)]
    solved = [solve_task(make_task(seed, request.level, request.space)) for seed in seeds]
    layouts = [lay_task(one.told) for one in solved]
    numbered = list(enumerate(zip(solved, layouts, strict=True), 1))
    tasks = [_draw_question(number, *one) for number, one in numbered]
    answers = [_draw_solution(number, *one) for number, one in numbered]
    heads = _draw_head(request, [one.name for one in solved], day or date.today())
    body = [
        element("section", [*heads, *tasks, _caution()], {"class": "tasks"}),
        element(
            "section", [element("h1", "Answers"), _reminder(), *answers, _caution()], {"class": "answers"}
        ),
    ]
    head = [
        element("meta", attributes={"charset": "utf-8"}),
        element("meta", attributes={"name": "viewport", "content": "width=device-width"}),
        element("title", f"{TITLE} {solved[0].name}"),
        element("link", attributes={"rel": "icon", "href": "/assets/mark.svg"}),
        # A style sheet knows no escapes; it is the program's own and holds no text of a study.
        Markup(f"<style>{style}</style>"),
    ]
    page = [element("head", head), element("body", [element("main", body)], {"class": "task-sheet"})]
    return "<!DOCTYPE html>" + element("html", page, {"lang": "en", "data-ground": "paper"})


def solve_task(task: Task) -> SolvedTask:
    """Work a task through."""
    answers = answer(read_text(task.text, "task.toml").study)
    load = answers.combinations[0]
    state = take_state(answers.study, answers.responses, load, None)
    scale = float(answers.forces.scales[0])
    told = Reasoning(answers, Teller(SYSTEMS["metric"]), state, ZERO * scale)
    return SolvedTask(task, told, answers.reasoner.explain(state, scale))


def _draw_head(request: SheetRequest, names: list[str], day: date) -> list[Markup]:
    which = f"Task {names[0]}" if len(names) == 1 else f"Tasks {names[0]} to {names[-1]}"
    return [
        element("h1", TITLE),
        element("p", f"Level {request.level}: {LEVEL_WORDS[request.level]}.", {"class": "note"}),
        element("p", f"{which}. Loads in kN. {day.isoformat()}.", {"class": "note"}),
    ]


def _caution() -> Markup:
    return element("p", CAUTION, {"class": "note foot"})


def _reminder() -> Markup:
    return element("p", "Zero now does not mean removable. Loads and forces in kN.", {"class": "note"})


def _draw_name(number: int, solved: SolvedTask) -> Markup:
    return element("h2", [f"{number}. ", element("small", f"task {solved.name}")])


def _draw_question(number: int, solved: SolvedTask, layout: Layout) -> Markup:
    picture = draw_task(layout, f"Task {solved.name}: the truss and its loads")
    line = element("p", ["Zero: ", element("span", "", {"class": "line"})], {"class": "answer-line"})
    return element(
        "article", [_draw_name(number, solved), picture, *_tell_given(solved.told), line], {"class": "task"}
    )


def _tell_given(told: Reasoning) -> list[Markup]:
    """What a drawing shows only roughly: loads' components, what supports hold, in space where joints are."""
    truss, loads = told.answers.study.truss, told.state.joint_loads
    axes = "right, up" if truss.dimension == 2 else "x, y, z up"
    loaded = [
        f"{truss.joint_names[joint]}{NO_BREAK}{_tell_vector(loads[joint] / KILONEWTON)}"
        for joint in np.flatnonzero(loads.any(axis=1))
    ]
    held = [f"{truss.joint_names[s.joint]}{NO_BREAK}{_tell_held(s)}" for s in truss.supports]
    lines = [f"Loads in kN ({axes}): {', '.join(loaded)}.", f"Supports: {', '.join(held)}."]
    if truss.dimension == 3:
        joints = zip(truss.joint_names, truss.joint_coordinates, strict=True)
        lines.append(
            f"Joints in m ({axes}): {', '.join(f'{n}{NO_BREAK}{_tell_vector(at)}' for n, at in joints)}."
        )
    return [element("p", line, {"class": "note given"}) for line in lines]


def _tell_held(support: Support) -> str:
    """The directions that a support holds: axes by their letters, others by their components."""
    letters = "".join(label for label in support.labels if label in tuple(AXES))
    others = [
        _tell_vector(np.array([float(c) for c in direction]))
        for direction, label in zip(support.directions, support.labels, strict=True)
        if label not in tuple(AXES)
    ]
    return NO_BREAK.join([*([letters] if letters else []), *others])


def _tell_vector(vector: NDArray[np.float64]) -> str:
    """Components of a vector; they do not break over lines.

    >>> _tell_vector(np.array([-3.0, 0.0, 1.5])).replace(NO_BREAK, " ")
    '(−3, 0, 1.5)'
    """
    return f"({f',{NO_BREAK}'.join(f'{c + 0.0:g}'.replace('-', chr(0x2212)) for c in vector)})"


def _draw_solution(number: int, solved: SolvedTask, layout: Layout) -> Markup:
    steps = list_steps(solved.reasons)
    zeros = {member for step in steps for member in step.members}
    picture = draw_answer(layout, zeros, f"Task {solved.name}: the truss, its loads and its members' forces")
    rows = [_tell_zero(solved.told, reason) for step in steps for reason in step.reasons]
    content = [_draw_name(number, solved), picture.drawing, element("ul", rows)]
    if picture.unwritten:
        forces = join([_tell_member(solved.told, member, zeros) for member in picture.unwritten], ", ")
        content.append(element("p", ["No room in the drawing: ", forces, "."], {"class": "note"}))
    return element("article", content, {"class": "solution"})


def _tell_zero(told: Reasoning, reason: Reason) -> Markup:
    sentence = element("span", keep_names(tell_reason(told, reason)))
    return element("li", [element("b", told.member(reason.member)), " ", sentence])


def _tell_member(told: Reasoning, member: int, zeros: Collection[int]) -> Markup:
    force = "0" if member in zeros else told.force(member)
    return element("span", f"{told.member(member)}{NO_BREAK}{force}", {"class": "name"})
