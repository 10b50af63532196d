"""The layout of the page on the whole truss: one drawing, what is told of the member chosen, the list."""

from __future__ import annotations

from typing import Any

from dash import html

from explorer.pages import ids as page
from explorer.pages.shell import button, lay_header, lay_stores, look_closer, named
from explorer.pages.whole import ids
from explorer.store import Start
from explorer.wording.grounds import NOT_STUDIED
from explorer.wording.if_gone import LOSS_CAUTION
from explorer.wording.summary import CAUTION
from explorer.wording.whole_truss import ZERO_NOW

STORES = (*page.SHARED, ids.LETTERED, ids.SETTING, ids.TOLD, ids.STATE, ids.STATE_SHOWN)
FINISHED = 5
"""Functions of the browser that show what arrives."""


def lay_out(start: Start) -> html.Div:
    """Lay out the page; `start` is the study it opens on unless the address names another."""
    main = html.Main([_title(), _stage(), _chosen(), _sharing(), _list()])
    return html.Div(
        [lay_header("Whole truss"), main, *lay_stores(STORES, FINISHED, start)], className="whole-truss"
    )


def _title() -> html.Div:
    said = html.P([html.Span(id="where"), " ", html.B(ZERO_NOW)])
    return html.Div(
        [html.H1("Stillbar", id="counts"), said, html.P(CAUTION, className="note")], className="title"
    )


def _tools() -> html.Div:
    return html.Div(
        [
            _chooser(),
            *look_closer(),
        ],
        className="tools",
    )


def _chooser() -> html.Span:
    """Of a truss with states of self-stress: what is drawn, its kinds or one of the states."""
    parts: list[Any] = [
        html.Label("drawn", htmlFor="drawn"),
        html.Select(id="drawn"),
        button("state before", "state-before"),
        button("next state", "state-next"),
    ]
    return html.Span(parts, id="chooser", className="chooser", hidden=True)


def _stage() -> html.Div:
    label = "The truss. Arrow keys step through its members; plus and minus zoom, 0 shows all of it."
    over = html.Div([html.Div(id="legend", className="key"), _tools()], className="over")
    plate = html.Div(id="plate", tabIndex="0", role="group", **named({"aria-label": label}))
    return html.Div(
        [
            html.Div(id="opening-note", role="status", **named({"aria-live": "polite"})),
            html.Div(id="faults", role="alert"),
            html.Div([over, plate, html.Div(id="hover-note", hidden=True)], className="drawing"),
            html.P(id="state-told", className="note", hidden=True, **named({"aria-live": "polite"})),
            html.P(id="spoken", className="unseen", **named({"aria-live": "polite"})),
        ],
        id="stage",
        className="stage",
    )


def _chosen() -> html.Section:
    title = html.H2([html.Span(id="chosen-name", className="tag-head"), html.Small(id="chosen-kind")])
    return html.Section([title, html.P(id="verdict"), html.P(id="partners", className="note")], id="chosen")


def _sharing() -> html.Section:
    title = html.H2(["Who shares ", html.Small(id="sharing")])
    return html.Section([title, html.Div(id="shares")], id="sharing-section")


def _list() -> html.Section:
    end = html.Span(button("print", "print"), className="end swap")
    return html.Section(
        [
            html.H2(["Every member, by what it is ", end]),
            html.Div(id="list"),
            html.P([html.B(ZERO_NOW), " ", NOT_STUDIED], className="note"),
            html.P(LOSS_CAUTION, className="note"),
            html.P(CAUTION, className="note foot"),
        ]
    )
