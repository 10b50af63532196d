"""The layout of the page: one truss, its track, the schedule of members and the sheet of one."""

from __future__ import annotations

from typing import Any

import dash_ag_grid
from dash import dcc, html

from explorer.pages import ids as page
from explorer.pages.explore import ids
from explorer.pages.shell import button, lay_header, lay_stores, look_closer, named
from explorer.store import Start
from explorer.wording.summary import CAUTION, TRAIN_CAUTION, WHICH_MOMENT

STORES = (
    *page.SHARED,
    ids.LOAD,
    ids.MEMBER,
    ids.PLACE,
    ids.LETTERED,
    ids.LOADS,
    ids.STRIP,
    ids.SHEET,
    ids.ROWS,
    ids.TRAIN_ASKED,
    ids.TRAIN_SHOWN,
)


def lay_out(start: Start) -> html.Div:
    """Lay out the page; `start` is the study it opens on unless the address names another."""
    stores = lay_stores(STORES, 9, start)
    return html.Div(
        [lay_header("Explore"), html.Main([_title(), _stage(), _lower(), _trains(), _whole()]), *stores]
    )


def _title() -> html.Div:
    return html.Div(
        [
            html.H1("Stillbar", id="sentence"),
            html.P(id="where"),
            html.Div(id="under", className="under"),
            html.P(id="why-few", className="why-few"),
        ],
        className="title",
    )


def _tools() -> html.Div:
    return html.Div(
        [
            html.Span(id="measure-place"),
            *look_closer(),
        ],
        className="tools",
    )


def _lost() -> html.P:
    """Said over the drawing while it is drawn without a member."""
    words = [
        html.Span(id="lost-name"),
        " ",
        button("the difference alone", "difference"),
        " ",
        button("put it back", "put-back"),
    ]
    return html.P(words, id="lost-note", role="status", hidden=True)


def _stage() -> html.Div:
    label = "The truss. Arrow keys step through its members, plus and minus zoom, 0 shows all of it."
    return html.Div(
        [
            html.Div(id="opening-note", role="status", **named({"aria-live": "polite"})),
            html.Div(id="faults", role="alert"),
            _lost(),
            html.Div(
                [
                    html.Div([html.Div(id="key", className="key"), _tools()], className="over"),
                    html.Div(id="plate", tabIndex="0", role="group", **named({"aria-label": label})),
                    html.Div(id="hover-note", hidden=True),
                ],
                className="drawing",
            ),
            html.Div(id="overview", hidden=True),
            html.Div(
                [
                    html.Span(button("let it travel", "travel", "travel"), id="lane-travel"),
                    html.Span(id="lane-caption"),
                    html.Span(id="train-choice", className="traffic"),
                    html.Span(id="arrange-choice", className="traffic"),
                    html.Span(id="beside-choice", className="traffic"),
                    html.Span(id="beside-told", role="status"),
                ],
                id="lane-tools",
                className="lane-tools",
                hidden=True,
            ),
            html.Div(id="track"),
            html.P(id="spoken", className="unseen", **named({"aria-live": "polite"})),
        ],
        id="stage",
        className="stage",
    )


def _grid() -> Any:
    return dash_ag_grid.AgGrid(
        id=ids.GRID,
        className="schedule-grid",
        columnDefs=COLUMNS,
        rowData=[],
        getRowId="params.data.member",
        columnSize="responsiveSizeToFit",
        dashGridOptions={
            "rowSelection": {"mode": "singleRow", "checkboxes": False, "enableClickSelection": True},
            "rowHeight": 25,
            "headerHeight": 26,
            "suppressMovableColumns": True,
            "animateRows": False,
            "alwaysShowVerticalScroll": True,
            "tooltipShowDelay": 400,
            "localeText": {"noRowsToShow": "no member is like that"},
        },
    )


def _lower() -> html.Div:
    schedule = html.Section(
        [
            html.H2(
                [
                    "Members ",
                    html.Small(id="schedule-under"),
                    html.Button(id="schedule-swap", type="button", className="swap"),
                    html.Small(
                        [
                            html.Span(id="schedule-count"),
                            html.Button("CSV", id="schedule-csv", type="button", title="Save the rows shown"),
                        ],
                        className="end",
                    ),
                ]
            ),
            html.Div(id="filters", className="filters"),
            _grid(),
            html.P(
                [html.B("Zero now does not mean removable. "), html.Span(id="schedule-note")],
                className="note",
            ),
        ],
        className="schedule",
        **named({"aria-label": "Schedule of members"}),
    )
    sheet = html.Section(
        [html.Div(id="sheet"), html.P(CAUTION, className="note foot")],
        className="sheet",
        **named({"aria-label": "Sheet of the chosen member"}),
    )
    return html.Div([schedule, sheet], className="lower")


def _trains() -> html.Section:
    """The list of trains, and what lets one of them across a chord of the study."""
    numbers = (
        ("train-share", "share on this truss", 1, 0),
        ("train-impact", "impact", 0, 0),
        ("train-lane-impact", "lane impact", 0, 0),
    )
    fields = [
        html.Label([f"{what} ", dcc.Input(id=name, type="number", value=value, min=least, step="any")])
        for name, what, value, least in numbers
    ]
    return html.Section(
        [
            html.H2("Trains"),
            html.Div(
                [html.Span(id="train-choices"), *fields, button("let it cross", "cross")], className="moves"
            ),
            html.P(id="train-fault", role="alert", className="note"),
            html.Div(id="train-shown"),
            html.P(WHICH_MOMENT, className="note"),
            html.P(TRAIN_CAUTION, className="note"),
        ],
        className="trains",
        id="trains",
        **named({"aria-label": "Trains"}),
    )


def _whole() -> html.Section:
    return html.Section(
        [html.H2("The whole truss"), html.Div(id="facts")],
        className="whole",
        **named({"aria-label": "The whole truss"}),
    )


COLUMNS = [
    {"field": "member", "headerName": "Member", "width": 66, "cellClass": "member-cell"},
    {"field": "group", "headerName": "Group", "width": 72},
    {"field": "zero", "headerName": "Zero share", "width": 98, "cellRenderer": "ZeroShare", "sort": "desc"},
    {
        "field": "peak",
        "headerName": "Peaks C, T",
        "width": 146,
        "cellRenderer": "Peaks",
        "headerTooltip": "peaks",
    },
    {"field": "without", "headerName": "Without it", "width": 108, "tooltipField": "whole"},
]
