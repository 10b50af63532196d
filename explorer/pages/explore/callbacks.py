"""The page's callbacks: each reads what is chosen, calls one function and hands its result to the browser."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from dash import ClientsideFunction, Dash, Input, Output, State, no_update

from explorer.bundled import list_bundled
from explorer.document import UnitSystem
from explorer.document.units import SYSTEMS
from explorer.drawing.view import Direction
from explorer.pages.explore import ids
from explorer.pages.explore.schedule import list_members
from explorer.pages.explore.sheet import show_sheet
from explorer.pages.explore.stage import show_loads, show_plate, show_stage
from explorer.pages.explore.strip import show_strip
from explorer.store import Jobs, Results, Start, Worked
from explorer.wording.asked import Asked
from explorer.wording.numbers import Teller
from solver.errors import StudyError
from solver.state import Standing

Data = dict[str, Any]
PATIENCE = 0.8
"""Seconds to wait for a study before its progress is shown; most take less."""


def register(app: Dash, results: Results, jobs: Jobs, start: Start) -> None:
    """Register every callback of the page with an app."""
    _register_opening(app, results, jobs, start)
    _register_pictures(app, results)
    _register_member(app, results)
    _register_browser(app)


def _register_opening(app: Dash, results: Results, jobs: Jobs, start: Start) -> None:
    @app.callback(Output(ids.OPENING, "data"), Input(ids.WISH, "data"), prevent_initial_call=True)
    def open_study(wish: Data | None) -> Data | Any:
        if not wish:
            return no_update
        text, name, bundled = _wanted(wish, start)
        job = jobs.start(text, name)
        until = time.monotonic() + PATIENCE
        while time.monotonic() < until and not jobs.look(job).ended:
            time.sleep(0.01)
        return {
            "job": job,
            "text": text,
            "name": name,
            "bundled": bundled,
            "own": wish.get("own"),
            **_progress(jobs, job),
        }

    @app.callback(
        Output(ids.OPENING, "data", allow_duplicate=True),
        Input(ids.POLL, "n_intervals"),
        State(ids.OPENING, "data"),
        prevent_initial_call=True,
    )
    def look_again(_: int, opening: Data | None) -> Data | Any:
        if not opening or opening.get("ended"):
            return no_update
        return {**opening, **_progress(jobs, opening["job"])}

    @app.callback(
        Output(ids.OPENING, "data", allow_duplicate=True),
        Input("cancel-data", "data"),
        State(ids.OPENING, "data"),
        prevent_initial_call=True,
    )
    def cancel(asked: int | None, opening: Data | None) -> Data | Any:
        if not asked or not opening or opening.get("ended"):
            return no_update
        jobs.cancel(opening["job"])
        return {**opening, "ended": True, "key": None, "lines": [["", "cancelled", "the study shown stays"]]}


def _wanted(wish: Data, start: Start) -> tuple[str, str, str]:
    """Text, file name and bundled name (or none) of what is wanted; of an unknown one the start."""
    if wish.get("text") is not None:
        return str(wish["text"]), str(wish.get("name") or "study.toml")[:200], ""
    bundled = {item.name: item for item in list_bundled()}
    item = bundled.get(str(wish.get("bundled") or ""))
    if item:
        return item.text(), item.path.name, item.name
    name = Path(start.name).stem
    same = name in bundled and bundled[name].text() == start.text
    return start.text, Path(start.name).name, name if same else ""


def _progress(jobs: Jobs, job: str) -> Data:
    state = jobs.look(job)
    return {
        "ended": state.ended,
        "what": state.what,
        "share": state.share,
        "key": state.key,
        "lines": [list(line) for line in state.lines],
    }


def _register_pictures(app: Dash, results: Results) -> None:
    @app.callback(Output(ids.STAGE, "data"), Input(ids.STUDY, "data"), prevent_initial_call=True)
    def stage(study: Data | None) -> Data | Any:
        return _with(results, study, lambda worked: show_stage(worked, Direction(), _units(worked, study)))

    @app.callback(
        Output(ids.LETTERED, "data"),
        Input(ids.VIEW, "data"),
        State(ids.STUDY, "data"),
        prevent_initial_call=True,
    )
    def lettered(view: Data | None, study: Data | None) -> Data | Any:
        direction = _direction(view)
        return _with(results, study, lambda worked: {**show_plate(worked, direction), "view": view})

    @app.callback(
        Output(ids.LOADS, "data"),
        Input(ids.LOAD, "data"),
        Input(ids.VIEW, "data"),
        State(ids.STUDY, "data"),
        prevent_initial_call=True,
    )
    def loads(load: Data | None, view: Data | None, study: Data | None) -> Any:
        direction = _direction(view)
        return _with(
            results,
            _current(study, load),
            lambda worked: show_loads(worked, _column(worked, load), direction, _units(worked, load)),
        )

    @app.callback(
        Output(ids.ROWS, "data"), Input(ids.LOAD, "data"), State(ids.STUDY, "data"), prevent_initial_call=True
    )
    def rows(load: Data | None, study: Data | None) -> Any:
        return _with(
            results,
            _current(study, load),
            lambda worked: list_members(worked, _column(worked, load), _units(worked, load)),
        )


def _register_member(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.STRIP, "data"),
        Output(ids.SHEET, "data"),
        Input(ids.LOAD, "data"),
        Input(ids.MEMBER, "data"),
        State(ids.PLACE, "data"),
        State(ids.STUDY, "data"),
        prevent_initial_call=True,
    )
    def member_chosen(
        load: Data | None, member: Data | None, place: Data | None, study: Data | None
    ) -> tuple[Any, Any]:
        def show(worked: Worked) -> tuple[Any, Any]:
            asked = _asked(worked, load, member, place)
            units = _units(worked, load)
            return show_strip(worked, asked.column, asked.member, units), show_sheet(worked, asked)

        shown = _with(results, _current(study, load, member), show)
        return (no_update, no_update) if shown is no_update else shown

    @app.callback(
        Output(ids.SHEET, "data", allow_duplicate=True),
        Input(ids.PLACE, "data"),
        State(ids.LOAD, "data"),
        State(ids.MEMBER, "data"),
        State(ids.STUDY, "data"),
        prevent_initial_call=True,
    )
    def train_at_rest(place: Data | None, load: Data | None, member: Data | None, study: Data | None) -> Any:
        return _with(
            results,
            _current(study, load, member, place),
            lambda worked: show_sheet(worked, _asked(worked, load, member, place)),
        )


def _register_browser(app: Dash) -> None:
    """What arrives is shown by the browser's own part, in assets/."""
    shown = (
        (ids.OPENING, "showOpening"),
        (ids.STAGE, "showStage"),
        (ids.LETTERED, "showLettered"),
        (ids.LOADS, "showLoads"),
        (ids.STRIP, "showStrip"),
        (ids.SHEET, "showSheet"),
    )
    # Dash types its own callbacks but not this one.
    browser: Callable[..., None] = app.clientside_callback
    for number, (store, function) in enumerate(shown):
        browser(
            ClientsideFunction("stillbar_page", function),
            Output(f"{ids.DONE}-{number}", "data"),
            Input(store, "data"),
            prevent_initial_call=True,
        )
    browser(
        ClientsideFunction("stillbar_schedule", "showRows"),
        Output(f"{ids.DONE}-{len(shown)}", "data"),
        Input(ids.ROWS, "data"),
        prevent_initial_call=True,
    )


def _with(results: Results, study: Data | None, show: Callable[[Worked], Any]) -> Any:
    """Show something of a study; what the server has forgotten it works out again from the tab's text."""
    if not study:
        return no_update
    try:
        worked = results.find(study["key"]) or results.work(study["text"], study["name"])
    except StudyError:
        # A tab shows nothing but studies that were worked through: this text is not one of ours.
        return no_update
    return show(worked)


def _current(study: Data | None, *chosen: Data | None) -> Data | None:
    """The tab's study, if everything chosen belongs to it and not to the one shown before."""
    if not study or not all(one and one.get("key") == study["key"] for one in chosen):
        return None
    return study


def _units(worked: Worked, chosen: Data | None) -> UnitSystem:
    return SYSTEMS.get((chosen or {}).get("units") or "", worked.document.units)


def _direction(view: Data | None) -> Direction:
    return Direction(float(view["azimuth"]), float(view["elevation"])) if view else Direction()


def _column(worked: Worked, chosen: Data | None) -> int:
    """The load chosen, as its place among all: names of cases and combinations may be the same."""
    return min(max(int((chosen or {}).get("under", 0)), 0), len(worked.answers.combinations) - 1)


def _member(worked: Worked, chosen: Data | None) -> int:
    count = len(worked.answers.study.truss.members)
    return min(max(int((chosen or {}).get("member", 0)), 0), count - 1)


def _asked(worked: Worked, load: Data | None, member: Data | None, place: Data | None) -> Asked:
    column = _column(worked, load)
    crossing = worked.answers.combinations[column].crossing
    standing = None
    if crossing and place and place.get("way") in worked.answers.study.crossings[crossing].directions:
        standing = Standing(place["way"], float(place["position"]))
    return Asked(worked.answers, Teller(_units(worked, load)), _member(worked, member), column, standing)
