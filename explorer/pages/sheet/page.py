"""The calculation sheet as a page of its own: plain HTML that a browser prints on any paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from math import isnan
from pathlib import Path

from explorer.drawing.marked import draw_marked
from explorer.markup import Markup, element, join
from explorer.pages.explore.pictures import draw_limits
from explorer.pages.sheet.basis import list_basis
from explorer.pages.sheet.facts import list_combinations, list_demands, list_facts
from explorer.pages.sheet.running_foot import write_running_foot
from explorer.store import Worked
from explorer.wording.asked import QUESTIONS, Asked, begin
from explorer.wording.checks import list_lines, list_notes, tell_by, tell_check, tell_ratio
from explorer.wording.rungs import WHOLE, list_rungs
from explorer.wording.what_stops import CAUTION, list_outside, list_unchecked, tell_head
from solver.checks.check import Check

AID = "An aid, not a verification: local codes and a licensed engineer decide."
ZERO = "Zero now does not mean removable: what speaks for this member stands on its page in Explore."
HEADS = ("Clause", "Formula", "With", "Result")


def draw_page(worked: Worked, asked: Asked, style: str, day: date | None = None) -> str:
    """Return a member's sheet as an HTML document with `style` (CSS) inside it, dated `day` or else today."""
    title = f"Calculation sheet: {asked.name}"
    study, dated = worked.answers.study.title, (day or date.today()).isoformat()
    head = [
        element("meta", attributes={"charset": "utf-8"}),
        element("meta", attributes={"name": "viewport", "content": "width=device-width"}),
        element("title", f"{title} · {study}"),
        element("link", attributes={"rel": "icon", "href": "/assets/mark.svg"}),
        # A style sheet is not escaped as text is; what it holds of a study, its running foot escapes itself.
        Markup(f"<style>{style}{write_running_foot((study, title, dated))}</style>"),
    ]
    body = [
        *_draw_head(worked, asked, title, dated),
        _draw_facts(asked),
        _draw_demands(asked),
        _draw_ladder(asked),
        element("section", [element("h2", "Checks"), *_draw_checks(asked)]),
        # Whoever signs has what is not checked before the eyes, on the same page.
        element("div", [_draw_unchecked(asked), _draw_signing()], {"class": "closing"}),
        _draw_foot(worked),
    ]
    page = [element("head", head), element("body", [element("main", body)], {"class": "member-sheet"})]
    return "<!DOCTYPE html>" + element("html", page, {"lang": "en", "data-ground": "paper"})


def _draw_head(worked: Worked, asked: Asked, title: str, day: str) -> list[Markup]:
    study, units = worked.answers.study, asked.teller.units
    told = ", ".join(units.label(kind) for kind in ("force", "length", "radius", "stress"))
    file = Path(worked.document.file).name
    return [
        element("h1", title),
        element("p", study.title, {"class": "study-title"}),
        element("p", f"{file}, sheet of {day}. Units: {told}; tension positive.", {"class": "note"}),
        *(element("p", line, {"class": "note"}) for line in list_basis(asked)),
        element("p", AID, {"class": "caution"}),
        element("div", [draw_marked(study.truss, asked.member)], {"class": "where"}),
    ]


def _draw_facts(asked: Asked) -> Markup:
    pairs = [
        element("div", [element("dt", begin(name)), element("dd", value)])
        for name, value in list_facts(asked)
    ]
    return element("section", [element("h2", "The member"), element("dl", pairs, {"class": "member-facts"})])


def _draw_demands(asked: Asked) -> Markup:
    peaks = draw_table(("Peak", "Force", "Where"), list_demands(asked), "Peaks over what counts for strength")
    heads = ("Combination", "For", "Most tension, or least compression", "Most compression, or least tension")
    every = draw_table(heads, list_combinations(asked), "Forces in every combination")
    return element("section", [element("h2", "What is asked of it"), peaks, every])


def _draw_ladder(asked: Asked) -> Markup:
    return element(
        "section",
        [
            element("h2", f"{QUESTIONS[4]} {tell_head(asked)}"),
            element("div", [draw_limits(asked)], {"class": "picture"}),
            element("p", CAUTION, {"class": "caution"}),
        ],
        {"class": "ladder-place"},
    )


def _draw_checks(asked: Asked) -> Iterable[Markup]:
    for rung in list_rungs(asked):
        if rung.of_whole:
            yield element("h3", begin(WHOLE), {"class": "of-whole"})
        for check in rung.checks:
            yield _draw_check(asked, check)
        told = rung.beside or ("" if rung.checks else rung.full)
        if told:
            yield element("p", f"{begin(told)}.", {"class": "without"})


def _draw_check(asked: Asked, check: Check) -> Markup:
    beyond = "" if check.holds or isnan(check.utilisation) else ", more than the limit"
    lines = [line.cells for line in list_lines(asked, check)]
    return element(
        "article",
        [
            element("h3", [begin(check.key), " ", element("b", tell_ratio(check.utilisation)), beyond]),
            element("p", f"{begin(tell_check(asked, check))}."),
            draw_table(HEADS, lines, f"Steps of {check.key}, {tell_by(check)}") if lines else Markup(""),
            *(
                element("p", [element("b", f"{name}: "), f"{text}."], {"class": "note"})
                for name, text in list_notes(asked, check)
            ),
        ],
        {"class": "check"},
    )


def draw_table(heads: Sequence[str], rows: Iterable[Sequence[str]], caption: str) -> Markup:
    """Draw a table under a caption, which scrolls by itself where a page is too narrow for it."""
    top = element("tr", [element("th", head, {"scope": "col"}) for head in heads])
    body = [element("tr", [element("td", cell) for cell in row]) for row in rows]
    content = [element("caption", caption), element("thead", [top]), element("tbody", body)]
    attributes = {"class": "wide", "tabindex": 0, "role": "group", "aria-label": caption}
    return element("div", [element("table", content)], attributes)


def _draw_unchecked(asked: Asked) -> Markup:
    items = [element("li", begin(text)) for text in (*list_unchecked(asked), *list_outside(asked))]
    return element("section", [element("h2", "Not checked"), element("ul", items)])


def _draw_signing() -> Markup:
    """A line for whoever has checked the sheet: a name and a day, by hand."""
    line = element("span", "", {"class": "line"})
    places = [element("span", [f"{what} ", line]) for what in ("Checked by", "Date")]
    return element("div", places, {"class": "signing"})


def _draw_foot(worked: Worked) -> Markup:
    lines = [ZERO, AID, f"{Path(worked.document.file).name}, SHA-256 {worked.key}."]
    return join([element("p", line, {"class": "note foot"}) for line in lines])
