"""The sheet of one member: five questions, each with a few words, a picture, a sentence and its proof."""

from __future__ import annotations

from explorer.markup import Markup, element, join
from explorer.pages.explore.losing import draw_reasons, draw_ways_on
from explorer.pages.explore.pictures import draw_pictures
from explorer.pages.explore.together import draw_together
from explorer.pages.proofs.names import keep_names
from explorer.pages.sheet.request import draw_way_to_lighter, draw_way_to_sheet
from explorer.store import Worked
from explorer.wording.asked import QUESTIONS, Asked, Told
from explorer.wording.how_hard import tell_how_hard
from explorer.wording.if_gone import tell_if_gone
from explorer.wording.numbers import significant
from explorer.wording.what_stops import tell_what_stops
from explorer.wording.when_zero import tell_when_zero
from explorer.wording.why_zero import tell_why_zero

NOTHING = Markup("")
WIDE = 3
"""A proof of more columns is one that a narrow page scrolls sideways by itself."""

TELLERS = (tell_when_zero, tell_how_hard, tell_why_zero, tell_if_gone, tell_what_stops)


def show_sheet(worked: Worked, asked: Asked) -> Markup:
    """Draw the sheet of the member asked about."""
    told = [tell(asked) for tell in TELLERS]
    pictures = draw_pictures(worked, asked)
    questions = [
        _draw_question(number, answer, picture)
        for number, (answer, picture) in enumerate(zip(told, pictures, strict=True), 1)
    ]
    questions[3] = _draw_question(4, told[3], pictures[3], draw_ways_on(asked))
    ways = [draw_way_to_sheet(worked, asked), draw_way_to_lighter(worked, asked)]
    questions[4] = _draw_question(5, told[4], pictures[4], join(ways, " "))
    asked_of = element("ol", questions, {"class": "questions"})
    return join([_draw_head(asked), asked_of, draw_reasons(asked), draw_together(worked, asked)])


def _draw_head(asked: Asked) -> Markup:
    truss = asked.answers.study.truss
    group = truss.members[asked.member].group
    area = significant(asked.teller.value("area", group.section.area))
    length = asked.teller.length(float(truss.lengths[asked.member]))
    facts = f"{length}, {area}\u00a0{asked.teller.units.label('area')}, "
    return element(
        "h2",
        [
            element("span", asked.name, {"class": "tag-head"}),
            element("span", group.name),
            element("small", [facts, element("span", "", {"class": "now"})]),
        ],
        {"id": "sheet-title"},
    )


def _draw_question(number: int, told: Told, picture: Markup, ways_on: Markup = NOTHING) -> Markup:
    paragraphs = [element("p", keep_names(sentence)) for sentence in told.sentences]
    if told.caution:
        paragraphs.insert(1, element("p", told.caution, {"class": "caution"}))
    if 'class="moving"' in picture:
        paragraphs.append(element("button", "show it move", {"type": "button", "data-do": "move"}))
    paragraphs.append(ways_on)
    return element(
        "li",
        [
            element("h3", [element("b", f"{number} "), told.question or QUESTIONS[number - 1]]),
            element("p", told.answer, {"class": "answer"}),
            element("div", [picture], {"class": "picture"}),
            element("div", paragraphs, {"class": "words"}),
            _draw_proof(told),
        ],
        {"data-question": number},
    )


def _draw_proof(told: Told) -> Markup:
    widest = max(map(len, told.proof), default=0)
    table = element("table", [element("tr", _draw_cells(row, widest)) for row in told.proof])
    if widest > WIDE:
        reached = {"class": "steps", "tabindex": 0, "role": "group", "aria-label": told.proof_title}
        table = element("div", [table], reached)
    return element("details", [element("summary", told.proof_title), table])


def _draw_cells(row: tuple[str, ...], widest: int) -> list[Markup]:
    """Cells of a row, the last over all that are wanting; one alone is the head of the rows below it."""
    if len(row) == 1 < widest:
        return [element("td", [element("b", row)], {"colspan": widest, "class": "head"})]
    span = widest - len(row) + 1
    cells = [element("td", cell) for cell in row[:-1]]
    return [*cells, element("td", row[-1], {"colspan": span if span > 1 else None})]
