"""The page's callbacks: lighter sections are looked for, and tried, in threads that tell how far they are."""

from __future__ import annotations

import time
from typing import Any

from dash import Dash, Input, Output, State, no_update

from explorer.drawing.view import Direction
from explorer.markup import Markup
from explorer.pages import ids as page
from explorer.pages.chosen import Data, current, show_of
from explorer.pages.handing import hand_drawing, hand_over
from explorer.pages.lighter import ids
from explorer.pages.lighter.drawn import draw_plate
from explorer.pages.lighter.shown import show_checks, show_found, show_table, show_trial, show_truss, sizes_of
from explorer.pages.lighter.tried import choice_of
from explorer.pages.opening import register_opening, show_opening
from explorer.store import Jobs, Results, Start, Worked
from solver.progress import Progress

PATIENCE = 0.4
"""Seconds to wait for work before its progress is shown."""

SHOWN = (
    (page.STAGE, "showTruss"),
    (ids.LETTERED, "showLettered"),
    (ids.SIZING, "showSizing"),
    (ids.TOLD, "showTold"),
    (ids.TRIAL, "showTrial"),
)
"""Stores, and the functions of assets/lighter/ that show what arrives in them."""


def register(app: Dash, results: Results, jobs: Jobs, start: Start) -> None:
    """Register every callback of the page with an app."""
    register_opening(app, jobs, start)
    hand_drawing(app, results, ids.LETTERED, show_truss, _show_turned)
    _register_sizing(app, results, jobs)
    _register_told(app, results)
    _register_trials(app, results, jobs)
    hand_over(app, "stillbar_lighter", SHOWN)
    show_opening(app, 5)


def _show_turned(worked: Worked, direction: Direction) -> Markup:
    return draw_plate(worked.answers.study.truss, direction)


def _register_sizing(app: Dash, results: Results, jobs: Jobs) -> None:
    @app.callback(
        Output(ids.SIZING, "data"),
        Input(ids.SIZE, "data"),
        State(page.STUDY, "data"),
        State(ids.SIZING, "data"),
        prevent_initial_call=True,
    )
    def size(asked: Data | None, study: Data | None, before: Data | None) -> Any:
        _call_off_earlier(jobs, before)

        def begin(worked: Worked) -> Data:
            def work(tell: Progress) -> str:
                results.size(worked, tell)
                return worked.key

            kept = worked.key if results.find_sized(worked.key) else None
            return _waited(jobs, {"key": worked.key, "job": jobs.start_work(work, kept)})

        return show_of(results, current(study, asked), begin)

    @app.callback(
        Output(ids.SIZING, "data", allow_duplicate=True),
        Input(ids.POLL, "n_intervals"),
        State(ids.SIZING, "data"),
        prevent_initial_call=True,
    )
    def look_again(_: int, sizing: Data | None) -> Any:
        return no_update if not sizing or sizing.get("ended") else {**sizing, **_look(jobs, sizing["job"])}

    @app.callback(
        Output(ids.SIZING, "data", allow_duplicate=True),
        Input(ids.CALL_OFF, "data"),
        State(ids.SIZING, "data"),
        prevent_initial_call=True,
    )
    def call_off(asked: int | None, sizing: Data | None) -> Any:
        if not asked or not sizing or sizing.get("ended"):
            return no_update
        jobs.cancel(sizing["job"])
        return {**sizing, "ended": True, "done": False, "lines": [["", "cancelled", ""]]}


def _register_told(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.TOLD, "data"),
        Input(ids.TOLD_ASKED, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def told(asked: Data | None, study: Data | None) -> Any:
        def show(worked: Worked) -> Data:
            chosen = asked or {}
            found = results.size(worked) if chosen.get("found") and sizes_of(worked) else None
            return {
                "key": worked.key,
                "units": chosen.get("units"),
                "opened": chosen.get("opened"),
                "table": show_table(worked, chosen),
                "found": show_found(worked, found, chosen) if found else None,
            }

        return show_of(results, current(study, asked), show)


def _register_trials(app: Dash, results: Results, jobs: Jobs) -> None:
    @app.callback(
        Output(ids.TRIAL, "data"),
        Input(ids.TRY, "data"),
        State(page.STUDY, "data"),
        State(ids.TRIAL, "data"),
        prevent_initial_call=True,
    )
    def try_out(asked: Data | None, study: Data | None, before: Data | None) -> Any:
        _call_off_earlier(jobs, before)

        def begin(worked: Worked) -> Data:
            told: Data = {"key": worked.key, "asked": (asked or {}).get("asked"), "wish": asked}
            if not sizes_of(worked):
                return {**told, "ended": True, "done": True, "checks": show_checks(worked, asked)}
            job = jobs.start_work(lambda tell: _try(results, worked, asked or {}, tell))
            return _shown(results, worked, _waited(jobs, {**told, "job": job}))

        return show_of(results, current(study, asked), begin)

    @app.callback(
        Output(ids.TRIAL, "data", allow_duplicate=True),
        Input(ids.POLL, "n_intervals"),
        State(ids.TRIAL, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def look_again(_: int, trial: Data | None, study: Data | None) -> Any:
        if not trial or trial.get("ended"):
            return no_update
        looked = {**trial, **_look(jobs, trial["job"])}
        return show_of(results, current(study, trial), lambda worked: _shown(results, worked, looked))


def _try(results: Results, worked: Worked, asked: Data, tell: Progress) -> str:
    """Work out the truss as it is and as tried, for whoever shows them then."""
    bench = results.bench(worked)
    for share, choice in enumerate((bench.sizes.now, choice_of(bench.sizes, asked.get("sections") or {}))):
        tell("the sections tried", share / 2)
        bench.try_out(choice)
    return worked.key


def _shown(results: Results, worked: Worked, trial: Data) -> Data:
    """A trial with what became of it, once its work has ended well."""
    if not trial.get("done"):
        return trial
    return {**trial, **show_trial(worked, results.bench(worked), trial["wish"] or {})}


def _call_off_earlier(jobs: Jobs, before: Data | None) -> None:
    """End what was asked for before, if it is still under way: nobody waits for it."""
    if before and not before.get("ended"):
        jobs.cancel(before["job"])


def _waited(jobs: Jobs, told: Data) -> Data:
    """What is told of a job after a moment's patience: most end within it."""
    until = time.monotonic() + PATIENCE
    while time.monotonic() < until and not jobs.look(told["job"]).ended:
        time.sleep(0.01)
    return {**told, **_look(jobs, told["job"])}


def _look(jobs: Jobs, job: str) -> Data:
    state = jobs.look(job)
    lines = [list(line) for line in state.lines]
    return {
        "ended": state.ended,
        "done": bool(state.key),
        "what": state.what,
        "share": state.share,
        "lines": lines,
    }
