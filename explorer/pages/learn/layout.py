"""The layout of the page to learn on: the drawing, and under it one of five ways to work with it."""

from __future__ import annotations

from typing import Any

from dash import html

from explorer.pages import ids as page
from explorer.pages.learn import ids
from explorer.pages.shell import button, lay_header, lay_stores, look_closer, named
from explorer.store import Start
from explorer.tasks import LEVEL_WORDS, LEVELS
from explorer.wording.summary import CAUTION

STORES = (
    *page.SHARED,
    ids.SETTING,
    ids.LESSON,
    ids.HAND,
    ids.MARKS,
    ids.JUDGED,
    ids.TASK,
    ids.TASK_TEXT,
    ids.LETTERED,
)
WAYS = {
    "walk": "the walk",
    "loads": "other loads",
    "hand": "by hand",
    "predict": "predict first",
    "tasks": "tasks",
}
"""Ways to work on the page, by the name each has in the address."""

FINISHED = 7
"""Functions of the browser that show what arrives."""


def lay_out(start: Start) -> html.Div:
    """Lay out the page; `start` is the study it opens on unless the address names another."""
    ways = [_walk(), _loads(), _hand(), _predict(), _tasks()]
    main = html.Main([_title(), _stage(), *ways, html.P(CAUTION, className="note foot")])
    return html.Div([lay_header("Learn"), main, *lay_stores(STORES, FINISHED, start)], className="learn")


def _title() -> html.Div:
    names = [
        html.Button(words, type="button", **named({"data-way": name, "aria-pressed": "false"}))
        for name, words in WAYS.items()
    ]
    return html.Div(
        [
            html.H1("Stillbar", id="question"),
            html.P(id="where"),
            html.Div(names, id="ways", className="under ways", role="group", **named({"aria-label": "Ways"})),
        ],
        className="title",
    )


def _stage() -> html.Div:
    label = "The truss. Arrow keys step through its members; plus and minus zoom, 0 shows all of it."
    tools = [
        *look_closer(),
    ]
    choices = html.Div([html.Span(id="under"), html.Span(id="front-place", hidden=True)], className="choices")
    stands = html.P(id="stands", className="note", hidden=True)
    over = html.Div([html.Div([choices, stands]), html.Div(tools, className="tools")], className="over")
    plate = html.Div(id="plate", tabIndex="0", role="group", **named({"aria-label": label}))
    return html.Div(
        [
            html.Div(id="opening-note", role="status", **named({"aria-live": "polite"})),
            html.Div(id="faults", role="alert"),
            html.Div([over, plate, html.Div(id="hover-note", hidden=True)], className="drawing"),
            html.P(id="spoken", className="unseen", **named({"aria-live": "polite"})),
        ],
        id="stage",
        className="stage",
    )


def _way(name: str, parts: list[Any]) -> html.Div:
    return html.Div(parts, id=f"way-{name}", className="way", hidden=name != "walk")


def _walk() -> html.Div:
    steps = html.Ol(id="walk-steps", className="walk-steps", **named({"aria-label": "Steps"}))
    alone = html.Section(
        [
            html.H2(id="picture-title"),
            html.Div(id="step-picture", className="picture"),
            html.P(id="picture-key", className="signs"),
        ],
        className="alone",
    )
    moves = html.Div(
        [
            html.Button("Next", id="next", type="button", className="go", **named({"data-do": "next"})),
            button("back", "back"),
            button("all at once", "last"),
            button("from the beginning", "first"),
        ],
        className="moves",
    )
    shows = html.Section([html.H2("What it shows"), moves, html.Div(id="step-says")], className="shows")
    beside = html.Section(html.Div(id="step-beside"), className="beside")
    return _way("walk", [steps, html.Div([alone, shows, beside], className="three")])


def _loads() -> html.Div:
    listed = html.Section(
        [
            html.H2(
                [
                    "Loads ",
                    html.Small(
                        "drag an arrow's outer half to turn it, the half nearer its joint to move it",
                        className="plane",
                    ),
                    html.Small("drag an arrow to another joint to move it", className="space"),
                ]
            ),
            html.Div(id="own-loads"),
            html.Div(
                [
                    button("add a load", "add-load"),
                    button("undo", "undo-load"),
                    button("as the study has them", "study-loads"),
                ],
                className="moves",
            ),
        ]
    )
    changed = html.Section([html.H2("What changed"), html.Div(id="changed")])
    reasons = html.Section([html.H2("Why"), html.Div(id="all-reasons")])
    return _way("loads", [html.Div([listed, changed, reasons], className="three")])


def _hand() -> html.Div:
    return _way("hand", [html.Div(id="hand", className="hand")])


def _predict() -> html.Div:
    rounds = html.Div(
        [
            html.Button("Check", id="check", type="button", className="go", **named({"data-do": "check"})),
            button("clear the marks", "clear-marks"),
            button("second round", "second-round", "round-two"),
        ],
        className="moves",
    )
    marks = html.Section(
        [html.H2(id="marks-title"), html.P(id="marks-how"), html.Div(id="mark-list"), rounds]
    )
    judged = html.Section(
        [
            html.H2("What is said of it"),
            html.P(id="marks-key", className="signs"),
            html.Div(id="judged", **named({"aria-live": "polite"})),
        ]
    )
    return _way("predict", [html.Div([marks, judged], className="two")])


def _tasks() -> html.Div:
    levels = [html.Option(f"{level}: {LEVEL_WORDS[level]}", value=str(level)) for level in LEVELS]
    choices = html.Div(
        [
            html.Label("level", htmlFor="task-level"),
            html.Select(levels, id="task-level"),
            html.Label("form", htmlFor="task-form"),
            html.Select(
                [html.Option("plane", value="plane"), html.Option("space", value="space")], id="task-form"
            ),
            html.Label("number", htmlFor="task-seed"),
            html.Span(id="task-seed-place"),
            html.Button("Set this task", id="set-task", type="button", className="go"),
            html.Button("another", id="another-task", type="button"),
        ],
        className="task-choices",
    )
    sheet = html.Div(
        [
            html.Label("a sheet of", htmlFor="sheet-count"),
            html.Span(id="sheet-count-place"),
            html.Span("tasks, answers on pages of their own"),
            html.A("open the sheet to print", id="sheet-link", href="/sheet", target="_blank"),
        ],
        className="task-choices",
    )
    section = html.Section(
        [
            html.H2("Tasks without end"),
            html.P("The same number gives the same task, on every machine."),
            choices,
            html.P(id="task-line"),
            sheet,
        ]
    )
    return _way("tasks", [section])
