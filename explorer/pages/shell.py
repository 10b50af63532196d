"""What all pages have: their head, their stores, and small words for attributes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dash import dcc, html

from explorer.bundled import list_bundled
from explorer.pages import ids
from explorer.store import Start

PAGES = {"Explore": "/", "Learn": "/learn/", "Whole truss": "/whole/", "Lighter": "/lighter/"}


def lay_stores(names: Sequence[str], answers: int, start: Start) -> list[Any]:
    """Lay out what a page remembers; `answers`: how many functions of the browser answer with nothing."""
    stores: list[Any] = [dcc.Store(id=name) for name in names]
    stores += [dcc.Store(id=f"{ids.DONE}-{number}") for number in range(answers)]
    stores += [dcc.Store(id="start", data={"name": start.name, "key": start.key})]
    stores += [dcc.Interval(id=ids.POLL, interval=250, disabled=True)]
    return stores


def lay_header(here: str) -> html.Header:
    """Lay out the head of a page: the pages, this one marked; the study, its units, the ground."""
    names = [html.Option(item.title.split(":")[0], value=item.name) for item in list_bundled("study")]
    opening = html.Span(
        [
            html.Label("study", htmlFor="open-bundled"),
            html.Select([html.Option("", value="", id="own-option"), *names], id="open-bundled"),
            html.Label("open a file", id="file-place", className="file"),
            html.Button(id="units-swap", type="button", title="Show metric or US units"),
            html.Button("dark", id="ground", type="button", **named({"data-do": "ground"})),
        ],
        className="study",
    )
    mark = html.A([html.Span(className="mark-picture"), "Stillbar"], href="?", className="mark")
    links = [
        html.A(
            name,
            href=place,
            id=f"page-{name.lower().replace(' ', '-')}",
            **named({"aria-current": "page"} if name == here else {}),
        )
        for name, place in PAGES.items()
    ]
    pages = html.Nav(links, **named({"aria-label": "Pages"}))
    return html.Header([mark, pages, opening, html.Span(id="paper-title")])


def button(text: str, does: str, cls: str | None = None) -> Any:
    """A button whose work the browser does by itself."""
    return html.Button(text, type="button", className=cls, **named({"data-do": does}))


def look_closer() -> list[Any]:
    """The buttons by which a drawing is looked at: closer, wider, all of it; in space also turned."""
    return [
        button("closer", "closer"),
        button("wider", "wider"),
        button("whole truss", "whole"),
        button("turn left", "turn-left", "space"),
        button("turn right", "turn-right", "space"),
    ]


def named(attributes: dict[str, str]) -> dict[str, Any]:
    """Attributes whose names are no words of Python, as aria-label."""
    return attributes
