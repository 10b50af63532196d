"""Opening a study, on every page: the wish, the work on it, its progress, and its end."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from dash import ClientsideFunction, Dash, Input, Output, State, no_update

from explorer.bundled import list_bundled
from explorer.pages import ids
from explorer.pages.chosen import Data
from explorer.store import Jobs, Start

PATIENCE = 0.8
"""Seconds to wait for a study before its progress is shown; most take less."""


def register_opening(app: Dash, jobs: Jobs, start: Start) -> None:
    """Register what opens studies: in a thread, with progress, and cancelled on a word."""

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
        Input(ids.CANCEL, "data"),
        State(ids.OPENING, "data"),
        prevent_initial_call=True,
    )
    def cancel(asked: int | None, opening: Data | None) -> Data | Any:
        if not asked or not opening or opening.get("ended"):
            return no_update
        jobs.cancel(opening["job"])
        return {**opening, "ended": True, "key": None, "lines": [["", "cancelled", "the study shown stays"]]}


def show_opening(app: Dash, number: int) -> None:
    """Register the browser's function that shows how far the work is; it answers to store `number`."""
    # Dash types its own callbacks but not this one.
    browser: Callable[..., None] = app.clientside_callback
    browser(
        ClientsideFunction("stillbar_opening", "showOpening"),
        Output(f"{ids.DONE}-{number}", "data"),
        Input(ids.OPENING, "data"),
        prevent_initial_call=True,
    )


def _wanted(wish: Data, start: Start) -> tuple[str, str, str]:
    """Text, file name and bundled name (or none) of what is wanted; of an unknown one the start."""
    if wish.get("text") is not None:
        return str(wish["text"]), str(wish.get("name") or "study.toml")[:200], ""
    bundled = {item.name: item for item in list_bundled("study")}
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
