"""The layout of the page: one truss, its track, the schedule and the sheet; where each stands in the reading."""

from __future__ import annotations

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
    stores = [dcc.Store(id=name) for name in STORES]
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
            html.Button("slate", id="ground", type="button", **{"data-do": "ground"}),
        ],
        className="study",
    )
    mark = html.A([html.Span(className="mark-picture"), "Stillbar"], href="?", className="mark")
    pages = html.Nav([html.A("Explore", href="?", **{"aria-current": "page"})], **{"aria-label": "Pages"})
    return html.Header([mark, pages, opening])


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


def _stage() -> html.Div:
    tools = html.Div(
        [
            html.Span(id="measure-place"),
            html.Button("closer", type="button", **{"data-do": "closer"}),
            html.Button("wider", type="button", **{"data-do": "wider"}),
            html.Button("whole truss", type="button", **{"data-do": "whole"}),
            html.Button("turn left", type="button", className="space", **{"data-do": "turn-left"}),
            html.Button("turn right", type="button", className="space", **{"data-do": "turn-right"}),
        ],
        className="tools",
    )
    label = "The truss. Arrow keys step through its members, plus and minus zoom, 0 shows all of it."
    return html.Div(
        [
            html.Div(id="opening-note", role="status", **{"aria-live": "polite"}),
            html.Div(id="faults", role="alert"),
            html.Div(
                [
                    html.Div([html.Div(id="key", className="key"), tools], className="over"),
                    html.Div(id="plate", tabIndex="0", role="group", **{"aria-label": label}),
                    html.Div(id="hover-note", hidden=True),
                ],
                className="drawing",
            ),
            html.Div(id="overview", hidden=True),
            html.Div(id="lane-tools", className="lane-tools"),
            html.Div(id="track"),
            html.P(id="spoken", className="unseen", **{"aria-live": "polite"}),
        ],
        id="stage",
        className="stage",
    )


def _lower() -> html.Div:
    grid = dash_ag_grid.AgGrid(
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
            "tooltipShowDelay": 400,
        },
    )
    schedule = html.Section(
        [
            html.H2(["Members ", html.Small(id="schedule-under"), html.Button(id="schedule-swap", type="button", className="swap"), html.Small([html.Span(id="schedule-count"), html.Button("CSV", id="schedule-csv", type="button", title="Save the rows shown")], className="end")]),
            html.Div(id="filters", className="filters"),
            grid,
            html.P(
                [html.B("Zero now does not mean removable. "), html.Span(id="schedule-note")], className="note"
            ),
        ],
        className="schedule",
        **{"aria-label": "Schedule of members"},
    )
    sheet = html.Section(
        [html.Div(id="sheet"), html.P(CAUTION, className="note foot")],
        className="sheet",
        **{"aria-label": "Sheet of the chosen member"},
    )
    return html.Div([schedule, sheet], className="lower")


def _whole() -> html.Section:
    return html.Section(
        [html.H2("The whole truss"), html.Div(id="facts")], className="whole", **{"aria-label": "The whole truss"}
    )


COLUMNS = [
    {"field": "member", "headerName": "Member", "width": 82, "cellClass": "member-cell"},
    {"field": "group", "headerName": "Group", "width": 86},
    {"field": "zero", "headerName": "Zero share", "width": 112, "cellRenderer": "ZeroShare", "sort": "desc"},
    {"field": "peak", "headerName": "Peaks C, T", "width": 150, "cellRenderer": "Peaks", "headerTooltip": "peaks"},
    {"field": "without", "headerName": "Without it", "width": 110, "tooltipField": "without"},
]
