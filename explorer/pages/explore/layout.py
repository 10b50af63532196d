"""The layout of the page: one truss, its track, the schedule of members and the sheet of one."""

from __future__ import annotations

from typing import Any

import dash_ag_grid
from dash import dcc, html

from explorer.bundled import list_bundled
from explorer.pages.explore import ids
from explorer.store import Start
from explorer.wording.summary import CAUTION

STORES = (
    ids.OPENING,
    ids.STUDY,
    ids.STAGE,
    ids.LOAD,
    ids.MEMBER,
    ids.PLACE,
    ids.VIEW,
    ids.LETTERED,
    ids.LOADS,
    ids.STRIP,
    ids.SHEET,
    ids.ROWS,
    ids.WISH,
)


def lay_out(start: Start) -> html.Div:
    """Lay out the page; `start` is the study it opens on unless the address names another."""
    stores: list[Any] = [dcc.Store(id=name) for name in STORES]
    stores += [dcc.Store(id=f"{ids.DONE}-{number}") for number in range(8)]
    stores += [dcc.Store(id="start", data={"name": start.name, "key": start.key})]
    stores += [dcc.Interval(id=ids.POLL, interval=250, disabled=True)]
    return html.Div([_header(), html.Main([_title(), _stage(), _lower(), _whole()]), *stores])


def _header() -> html.Header:
    names = [html.Option(item.title.split(":")[0], value=item.name) for item in list_bundled()]
    opening = html.Span(
        [
            html.Label("study", htmlFor="open-bundled"),
            html.Select([html.Option("", value="", id="own-option"), *names], id="open-bundled"),
            html.Label("open a file", id="file-place", className="file"),
            html.Button(id="units-swap", type="button", title="Show metric or US units"),
            html.Button("dark", id="ground", type="button", **_named({"data-do": "ground"})),
        ],
        className="study",
    )
    mark = html.A([html.Span(className="mark-picture"), "Stillbar"], href="?", className="mark")
    pages = html.Nav(
        [html.A("Explore", href="?", **_named({"aria-current": "page"}))], **_named({"aria-label": "Pages"})
    )
    return html.Header([mark, pages, opening, html.Span(id="paper-title")])


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
            _button("closer", "closer"),
            _button("wider", "wider"),
            _button("whole truss", "whole"),
            _button("turn left", "turn-left", "space"),
            _button("turn right", "turn-right", "space"),
        ],
        className="tools",
    )


def _button(text: str, does: str, cls: str | None = None) -> Any:
    """A button whose work the browser does by itself."""
    return html.Button(text, type="button", className=cls, **_named({"data-do": does}))


def _stage() -> html.Div:
    label = "The truss. Arrow keys step through its members, plus and minus zoom, 0 shows all of it."
    return html.Div(
        [
            html.Div(id="opening-note", role="status", **_named({"aria-live": "polite"})),
            html.Div(id="faults", role="alert"),
            html.Div(
                [
                    html.Div([html.Div(id="key", className="key"), _tools()], className="over"),
                    html.Div(id="plate", tabIndex="0", role="group", **_named({"aria-label": label})),
                    html.Div(id="hover-note", hidden=True),
                ],
                className="drawing",
            ),
            html.Div(id="overview", hidden=True),
            html.Div(
                [
                    _button("let it travel", "travel", "travel"),
                    html.Span(id="lane-caption"),
                ],
                id="lane-tools",
                className="lane-tools",
                hidden=True,
            ),
            html.Div(id="track"),
            html.P(id="spoken", className="unseen", **_named({"aria-live": "polite"})),
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
        **_named({"aria-label": "Schedule of members"}),
    )
    sheet = html.Section(
        [html.Div(id="sheet"), html.P(CAUTION, className="note foot")],
        className="sheet",
        **_named({"aria-label": "Sheet of the chosen member"}),
    )
    return html.Div([schedule, sheet], className="lower")


def _whole() -> html.Section:
    return html.Section(
        [html.H2("The whole truss"), html.Div(id="facts")],
        className="whole",
        **_named({"aria-label": "The whole truss"}),
    )


def _named(attributes: dict[str, str]) -> dict[str, Any]:
    """Attributes whose names are no words of Python, as aria-label."""
    return attributes


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
