"""The page's callbacks: each reads what is chosen, calls one function and hands its result to the browser."""

from __future__ import annotations

from typing import Any

from dash import Dash, Input, Output, State, no_update

from explorer.pages import ids as page
from explorer.pages.chosen import (
    Data,
    asked_of,
    column_of,
    current,
    direction_of,
    show_of,
    sign_of,
    train_of,
    units_of,
)
from explorer.pages.explore import ids
from explorer.pages.explore.packing import pack_loss
from explorer.pages.explore.schedule import list_members
from explorer.pages.explore.sheet import show_sheet
from explorer.pages.explore.stage import show_loads, show_stage
from explorer.pages.explore.strip import show_strip
from explorer.pages.explore.train_list import show_train
from explorer.pages.handing import hand_drawing, hand_over
from explorer.pages.opening import register_opening, show_opening
from explorer.pages.plate import show_plate
from explorer.store import Jobs, Results, Start, Worked
from explorer.wording.asked import Asked
from explorer.wording.numbers import Teller

SHOWN = (
    (page.STAGE, "showStage"),
    (ids.LETTERED, "showLettered"),
    (ids.LOADS, "showLoads"),
    (ids.STRIP, "showStrip"),
    (ids.SHEET, "showSheet"),
    (ids.TRAIN_SHOWN, "showTrain"),
)
"""Stores, and the functions of assets/explore/ that show what arrives in them."""


def register(app: Dash, results: Results, jobs: Jobs, start: Start) -> None:
    """Register every callback of the page with an app."""
    register_opening(app, jobs, start)
    hand_drawing(app, results, ids.LETTERED, show_stage, show_plate)
    _register_loads(app, results)
    _register_schedule(app, results)
    _register_member(app, results)
    _register_trains(app, results)
    hand_over(app, "stillbar_page", SHOWN)
    hand_over(app, "stillbar_schedule", ((ids.ROWS, "showRows"),), len(SHOWN))
    show_opening(app, 8)


def _register_loads(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.LOADS, "data"),
        Input(ids.LOAD, "data"),
        Input(page.VIEW, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def loads(load: Data | None, view: Data | None, study: Data | None) -> Any:
        direction = direction_of(view)
        return show_of(
            results,
            current(study, load),
            lambda worked: show_loads(
                worked, asked_of(worked, load, None, None), direction, train_of(worked, load)
            ),
        )


def _register_schedule(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.ROWS, "data"),
        Input(ids.LOAD, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def rows(load: Data | None, study: Data | None) -> Any:
        return show_of(
            results,
            current(study, load),
            lambda worked: list_members(worked, column_of(worked, load), units_of(worked, load)),
        )


def _register_member(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.STRIP, "data"),
        Output(ids.SHEET, "data"),
        Input(ids.LOAD, "data"),
        Input(ids.MEMBER, "data"),
        State(ids.PLACE, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def member_chosen(
        load: Data | None, member: Data | None, place: Data | None, study: Data | None
    ) -> tuple[Any, Any]:
        def show(worked: Worked) -> tuple[Any, Any]:
            asked = asked_of(worked, load, member, place)
            beside = int((load or {}).get("beside", -1))
            strip = show_strip(worked, asked, train_of(worked, load), beside)
            told: dict[str, object] = {"member": asked.member, "under": asked.column, "sign": sign_of(load)}
            told["train"] = train_of(worked, load)
            told["loss"] = pack_loss(worked.answers, asked.member)
            return {**strip, **told}, _sheet(worked, asked)

        shown = show_of(results, current(study, load, member), show)
        return (no_update, no_update) if shown is no_update else shown

    @app.callback(
        Output(ids.SHEET, "data", allow_duplicate=True),
        Input(ids.PLACE, "data"),
        State(ids.LOAD, "data"),
        State(ids.MEMBER, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def train_at_rest(place: Data | None, load: Data | None, member: Data | None, study: Data | None) -> Any:
        return show_of(
            results,
            current(study, load, member, place),
            lambda worked: _sheet(worked, asked_of(worked, load, member, place)),
        )


def _sheet(worked: Worked, asked: Asked) -> Data:
    """The sheet with what it is about: two callbacks make it, and the older answer may come last."""
    about = {"key": worked.key, "member": asked.member, "under": asked.column}
    return {**about, "markup": show_sheet(worked, asked)}


def _register_trains(app: Dash, results: Results) -> None:
    @app.callback(
        Output(ids.TRAIN_SHOWN, "data"),
        Input(ids.TRAIN_ASKED, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def train(asked: Data | None, study: Data | None) -> Any:
        return show_of(
            results,
            current(study, asked),
            lambda worked: show_train(
                worked, str((asked or {}).get("name")), Teller(units_of(worked, asked))
            ),
        )
