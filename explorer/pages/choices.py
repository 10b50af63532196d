"""The few controls above the drawing: under which load it is seen, and what its bars show."""

from __future__ import annotations

from explorer.markup import Markup, element, join
from explorer.wording.asked import words
from solver.answers import Answers
from solver.combining import Combination

MOST_WORDS = 130
"""More letters than fit on one line: the choice becomes a list to unfold."""

MEASURES = (
    "force now",
    "zero share",
    "peak tension",
    "peak compression",
    "largest peak",
    "redundancy share",
    "outcome if gone",
    "utilisation",
)


def draw_choices(answers: Answers) -> dict[str, Markup]:
    """Draw the choice of load and that of the measure."""
    return {"under": _choose_load(answers), "measure": _choose_measure()}


def load_label(answers: Answers, load: Combination) -> str:
    """Name a load as a choice: a crossing says that it is alone."""
    return f"{words(load.name)} alone" if load.crossing and load in answers.study.alone else words(load.name)


def _order(answers: Answers) -> list[int]:
    """Crossings first, then cases, then combinations."""
    cases, alone = len(answers.study.cases), len(answers.study.alone)
    return [*range(cases, alone), *range(cases), *range(alone, len(answers.combinations))]


def _choose_load(answers: Answers) -> Markup:
    loads = [(index, load_label(answers, answers.combinations[index])) for index in _order(answers)]
    if sum(len(label) + 3 for _, label in loads) <= MOST_WORDS:
        return _as_words(loads)
    names = [element("option", label, {"value": index}) for index, label in loads]
    return join([element("span", "under"), element("select", names, {"id": "load", "aria-label": "Load"})])


def _as_words(loads: list[tuple[int, str]]) -> Markup:
    words_ = [
        element(
            "label",
            [
                element("input", attributes={"type": "radio", "name": "load", "value": index}),
                element("span", label),
            ],
        )
        for index, label in loads
    ]
    group = element("span", words_, {"role": "radiogroup", "aria-label": "Load", "class": "words"})
    return join([element("span", "under"), group])


def _choose_measure() -> Markup:
    options = [element("option", name, {"value": name}) for name in MEASURES]
    return join(
        [element("label", "bars show", {"for": "measure"}), element("select", options, {"id": "measure"})]
    )


def choose_opening(answers: Answers) -> int:
    """The load the page opens on: the first crossing alone, else the first case in which one is zero."""
    study, shares = answers.study, answers.forces.shares
    if study.crossings:
        return len(study.cases)
    return next((c for c in range(len(study.cases)) if shares[:, c].any()), 0)
