"""The layout of the page on lighter sections: the drawing, sections to try, the candidates as a list."""

from __future__ import annotations

from dash import dcc, html

from explorer.pages import ids as page
from explorer.pages.lighter import ids
from explorer.pages.shell import button, lay_header, lay_stores, look_closer, named
from explorer.store import Start
from explorer.wording.lighter import NEVER_CHECKED, QUESTION
from explorer.wording.summary import CAUTION

STORES = (
    *page.SHARED,
    ids.LETTERED,
    ids.SIZE,
    ids.SIZING,
    ids.CALL_OFF,
    ids.TOLD_ASKED,
    ids.TOLD,
    ids.TRY,
    ids.TRIAL,
)
FINISHED = 6
"""Functions of the browser that show what arrives."""


def lay_out(start: Start) -> html.Div:
    """Lay out the page; `start` is the study it opens on unless the address names another."""
    main = html.Main([_title(), _stage(), _chosen(), _trying(), _list()])
    poll = dcc.Interval(id=ids.POLL, interval=250, disabled=True)
    stores = lay_stores(STORES, FINISHED, start)
    return html.Div([lay_header("Lighter"), main, *stores, poll], className="lighter-page")


def _title() -> html.Div:
    said = html.P([html.Span(id="where"), " ", html.Span(id="found"), " ", html.Span(id="proven")])
    not_among = html.Span(id="not-among")
    cautions = html.P([html.B(QUESTION), " ", html.Span(id="unchecked"), " ", NEVER_CHECKED, " ", not_among])
    return html.Div(
        [
            html.H1("Stillbar", id="saving", **named({"aria-live": "polite"})),
            said,
            html.Div(id="sizing-note", role="status"),
            html.Div([cautions, html.P(CAUTION)], className="cautions"),
            html.Div(id="no-family", hidden=True),
        ],
        className="title",
    )


def _stage() -> html.Div:
    label = "The truss. Arrow keys step through its members; plus and minus zoom, 0 shows all of it."
    over = html.Div([html.Div(id="legend", className="key"), _tools()], className="over")
    plate = html.Div(id="plate", tabIndex="0", role="group", **named({"aria-label": label}))
    return html.Div(
        [
            html.Div(id="opening-note", role="status", **named({"aria-live": "polite"})),
            html.Div(id="faults", role="alert"),
            html.Div(
                [over, html.P(id="paper-drawn"), plate, html.Div(id="hover-note", hidden=True)],
                className="drawing",
            ),
            html.P(id="spoken", className="unseen", **named({"aria-live": "polite"})),
        ],
        id="stage",
        className="stage",
    )


def _tools() -> html.Div:
    options = [html.Option("as tried", value="tried"), html.Option("as it is now", value="now")]
    drawn = html.Span(
        [html.Label("drawn", htmlFor="drawn"), html.Select(options, id="drawn")], className="drawn"
    )
    return html.Div(
        [
            drawn,
            *look_closer(),
        ],
        className="tools",
    )


def _chosen() -> html.Section:
    title = html.H2(
        [
            html.Span(id="chosen-name", className="tag-head"),
            html.B(id="chosen-ratio"),
            html.Small(id="chosen-use"),
            html.Span(html.A("in Explore", id="chosen-link", href="/"), className="end swap"),
        ]
    )
    unfolded = html.Details(
        [html.Summary("every check of this member, before and after"), html.Div(id="chosen-checks")]
    )
    return html.Section([title, unfolded], id="chosen")


def _trying() -> html.Section:
    does = (
        ("undo", "undo"),
        ("redo", "redo"),
        ("back to now", "back-to-now"),
        ("the lightest found", "lightest"),
    )
    end = html.Span([button(text, done) for text, done in does], className="end swap")
    return html.Section(
        [
            html.H2(["Try sections ", html.Small("on one group or on several together"), end]),
            html.P(id="outcome", **named({"aria-live": "polite"})),
            html.P(id="left-out", className="note", hidden=True, role="status"),
            html.Div(id="tried-table"),
            html.Div(id="failing"),
            html.P([QUESTION, " Joint not checked, with any section tried."], className="note"),
        ],
        id="trying",
    )


def _list() -> html.Section:
    end = html.Span(button("print", "print"), className="end swap")
    return html.Section(
        [
            html.H2(["Group by group ", html.Small("all chosen together, none by itself"), end]),
            html.Div(id="list"),
            html.P([QUESTION, " ", NEVER_CHECKED], className="note"),
            html.P(CAUTION, className="note foot"),
        ],
        id="candidates",
    )
