"""The page's callbacks: each reads what is chosen, calls one function and hands its result to the browser."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from dash import Dash, Input, Output, State, no_update
from flask import Response, request

from explorer.markup import element
from explorer.pages import ids as page
from explorer.pages.chosen import Data, current, direction_of, show_of
from explorer.pages.handing import hand_drawing, hand_over
from explorer.pages.learn import ids
from explorer.pages.learn.hand_page import show_by_hand
from explorer.pages.learn.judged import show_judged
from explorer.pages.learn.lesson import show_board, show_lesson
from explorer.pages.learn.setting import read_setting
from explorer.pages.learn.task_sheet import draw_sheet, read_request
from explorer.pages.opening import register_opening, show_opening
from explorer.pages.plate import show_plate
from explorer.store import Jobs, Results, Start, Worked
from explorer.tasks import make_task
from solver.errors import StudyError

ASSETS = Path(__file__).resolve().parents[2] / "assets"
SHEET_STYLES = ("10-tokens.css", "20-drawing.css", "30-page.css", "learn/45-sheet-print.css")

SHOWN = (
    (page.STAGE, "showBoard"),
    (ids.LETTERED, "showLettered"),
    (ids.LESSON, "showLesson"),
    (ids.HAND, "showHand"),
    (ids.JUDGED, "showJudged"),
    (ids.TASK_TEXT, "showTask"),
)
"""Stores, and the functions of assets/learn/ that show what arrives in them."""


def register(app: Dash, results: Results, jobs: Jobs, start: Start) -> None:
    """Register every callback of the page with an app."""
    register_opening(app, jobs, start)
    hand_drawing(app, results, ids.LETTERED, show_board, show_plate)
    _register_lesson(app, results)
    _register_tasks(app)
    _serve_sheet(app)
    hand_over(app, "stillbar_learn", SHOWN)
    show_opening(app, 6)


def _register_lesson(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.LESSON, "data"),
        Input(ids.SETTING, "data"),
        State(page.VIEW, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def lesson(setting: Data | None, view: Data | None, study: Data | None) -> Any:
        direction = direction_of(view)
        return _told(
            results, study, setting, lambda worked, given: show_lesson(read_setting(worked, given), direction)
        )

    @app.callback(
        Output(ids.HAND, "data"),
        Input(ids.SETTING, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def hand(setting: Data | None, study: Data | None) -> Any:
        if not setting or setting.get("way") != "hand":
            return no_update
        return _told(results, study, setting, lambda worked, given: show_by_hand(read_setting(worked, given)))

    @app.callback(
        Output(ids.JUDGED, "data"),
        Input(ids.MARKS, "data"),
        State(ids.SETTING, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def judged(marks: Data | None, setting: Data | None, study: Data | None) -> Any:
        if not marks:
            return no_update

        def judge(worked: Worked, given: Data) -> Data:
            marked = frozenset(int(member) for member in marks["marked"])
            return {
                **show_judged(read_setting(worked, given), marked, bool(marks.get("second"))),
                **_echo(marks),
            }

        return _told(results, study, setting, judge)


def _echo(marks: Data) -> Data:
    return {"second": bool(marks.get("second")), "asked": marks.get("asked")}


def _told(
    results: Results, study: Data | None, setting: Data | None, tell: Callable[[Worked, Data], Any]
) -> Any:
    """Tell something of a setting; what cannot be answered is said, and what was shown before stays."""
    given = setting or {}
    try:
        return show_of(results, current(study, setting), lambda worked: tell(worked, given))
    except StudyError as error:
        return {"fault": element("p", str(error), {"class": "fault"})}


def _register_tasks(app: Dash) -> None:
    @app.callback(Output(ids.TASK_TEXT, "data"), Input(ids.TASK, "data"), prevent_initial_call=True)
    def task(asked: Data | None) -> Any:
        if not asked:
            return no_update
        try:
            made = make_task(int(asked["seed"]), int(asked["level"]), bool(asked["space"]))
        except (KeyError, TypeError, ValueError):
            return {"fault": "a task has a level of 1 to 3 and a number from 0 to 999999999"}
        return {"text": made.text, "seed": made.seed, "level": made.level, "space": made.space}


def _serve_sheet(app: Dash) -> None:
    """Serve the sheet of tasks that an address asks for, a page of its own."""

    def sheet() -> Response:
        try:
            wanted = read_request(request.args)
        except ValueError as error:
            return Response(f"No sheet: {error}.", status=400, mimetype="text/plain")
        style = "".join((ASSETS / name).read_text(encoding="utf-8") for name in SHEET_STYLES)
        return Response(draw_sheet(wanted, style), mimetype="text/html")

    app.server.add_url_rule("/learn/sheet", "task_sheet", sheet)
