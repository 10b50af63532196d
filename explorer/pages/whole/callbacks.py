"""The page's callbacks: each reads what is chosen, calls one function and hands its result to the browser."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from dash import ClientsideFunction, Dash, Input, Output, State, no_update

from explorer.drawing.view import Direction
from explorer.pages import ids as page
from explorer.pages.chosen import Data, current, direction_of, show_of
from explorer.pages.opening import register_opening, show_opening
from explorer.pages.whole import ids
from explorer.pages.whole.shown import show_plates, show_state, show_told, show_whole
from explorer.store import Jobs, Results, Start, Worked


def register(app: Dash, results: Results, jobs: Jobs, start: Start) -> None:
    """Register every callback of the page with an app."""
    register_opening(app, jobs, start)
    _register_drawing(app, results)
    _register_words(app, results)
    _register_browser(app)
    show_opening(app, 4)


def _register_drawing(app: Dash, results: Results) -> None:
    @app.callback(Output(page.STAGE, "data"), Input(page.STUDY, "data"), prevent_initial_call=True)
    def whole(study: Data | None) -> Any:
        return show_of(results, study, lambda worked: show_whole(worked, Direction()))

    @app.callback(
        Output(ids.LETTERED, "data"),
        Input(page.VIEW, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def lettered(view: Data | None, study: Data | None) -> Any:
        direction = direction_of(view)
        return show_of(results, study, lambda worked: show_plates(worked, direction))


def _register_words(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.TOLD, "data"),
        Input(ids.SETTING, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def told(setting: Data | None, study: Data | None) -> Any:
        return show_of(results, current(study, setting), lambda worked: show_told(worked, setting))

    @app.callback(
        Output(ids.STATE_SHOWN, "data"),
        Input(ids.STATE, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def state(asked: Data | None, study: Data | None) -> Any:
        def show(worked: Worked) -> Any:
            return show_state(worked, asked or {}) if worked.answers.losses.sharing.states else no_update

        return show_of(results, current(study, asked), show)


def _register_browser(app: Dash) -> None:
    """What arrives is shown by the browser's own part, in assets/whole/."""
    shown = (
        (page.STAGE, "showWhole"),
        (ids.LETTERED, "showLettered"),
        (ids.TOLD, "showTold"),
        (ids.STATE_SHOWN, "showState"),
    )
    # Dash types its own callbacks but not this one.
    browser: Callable[..., None] = app.clientside_callback
    for number, (store, function) in enumerate(shown):
        browser(
            ClientsideFunction("stillbar_whole", function),
            Output(f"{page.DONE}-{number}", "data"),
            Input(store, "data"),
            prevent_initial_call=True,
        )
