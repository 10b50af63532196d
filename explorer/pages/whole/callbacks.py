"""The page's callbacks: each reads what is chosen, calls one function and hands its result to the browser."""

from __future__ import annotations

from typing import Any

from dash import Dash, Input, Output, State, no_update

from explorer.pages import ids as page
from explorer.pages.chosen import Data, current, show_of
from explorer.pages.handing import hand_drawing, hand_over
from explorer.pages.opening import register_opening, show_opening
from explorer.pages.whole import ids
from explorer.pages.whole.shown import show_plates, show_state, show_told, show_whole
from explorer.store import Jobs, Results, Start, Worked

SHOWN = (
    (page.STAGE, "showWhole"),
    (ids.LETTERED, "showLettered"),
    (ids.TOLD, "showTold"),
    (ids.STATE_SHOWN, "showState"),
)
"""Stores, and the functions of assets/whole/ that show what arrives in them."""


def register(app: Dash, results: Results, jobs: Jobs, start: Start) -> None:
    """Register every callback of the page with an app."""
    register_opening(app, jobs, start)
    hand_drawing(app, results, ids.LETTERED, show_whole, show_plates)
    _register_words(app, results)
    hand_over(app, "stillbar_whole", SHOWN)
    show_opening(app, 4)


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
