"""Ways on from question 4: the truss drawn without the member, and the place where another fares worst."""

from __future__ import annotations

from explorer.markup import Markup, element, join
from explorer.pages.proofs.names import keep_names
from explorer.wording.asked import Asked
from explorer.wording.if_gone import LOSS_CAUTION, list_grounds

SHOWN = 3
"""So many reasons are told at once; the others unfold."""


def draw_ways_on(asked: Asked) -> Markup:
    """Draw the words that take the member out of the drawing; nothing where a mechanism would be left."""
    answers = asked.answers
    stable = answers.losses.each[asked.member].stable
    if stable is None:
        return Markup("")
    words = [element("button", "draw it without", {"type": "button", "data-do": "lose"})]
    worst = stable.worst
    if worst is not None and worst.member >= 0:
        asked_from = len(answers.combinations) - len(answers.study.asked)
        attributes: dict[str, object] = {
            "type": "button",
            "data-worst": worst.member,
            "data-under": worst.combination + asked_from,
        }
        if worst.direction >= 0:
            way = "forward" if worst.direction == 0 else "backward"
            attributes |= {"data-way": way, "data-position": f"{worst.position:.15g}"}
        name = asked.member_names((worst.member,))[0]
        words.append(element("button", f"where {name} is worst then", attributes))
    return join(words)


def _title(asked: Asked) -> str:
    """Zero now is spoken of where the member is zero in something that can happen."""
    zero = float(asked.answers.forces.zero_share[asked.member]) > 0
    return "Why zero now does not mean removable" if zero else "What speaks against losing it"


def draw_reasons(asked: Asked) -> Markup:
    """Draw what speaks for a member, the weightiest first and open, the others to unfold."""
    folds = []
    for place, (title, sentence) in enumerate(list_grounds(asked)):
        told = element("p", keep_names(sentence))
        if place < SHOWN:
            folds.append(element("div", [element("b", title), told]))
        else:
            folds.append(element("details", [element("summary", title), told]))
    return element(
        "section",
        [
            element("h3", _title(asked)),
            element("div", folds, {"class": "grounds"}),
            element("p", LOSS_CAUTION, {"class": "note"}),
        ],
        {"id": "grounds"},
    )
