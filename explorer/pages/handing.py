"""What all pages do alike: a study's drawing on its way to the browser, and the browser's part called."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from dash import ClientsideFunction, Dash, Input, Output, State

from explorer.drawing.view import Direction
from explorer.pages import ids as page
from explorer.pages.chosen import Data, direction_of, show_of
from explorer.store import Results, Worked

Show = Callable[[Worked, Direction], Any]


def hand_drawing(app: Dash, results: Results, lettered: str, show: Show, show_turned: Show) -> None:
    """Register what shows a study that is opened, and what its plate is from elsewhere (`lettered`)."""

    @app.callback(Output(page.STAGE, "data"), Input(page.STUDY, "data"), prevent_initial_call=True)
    def opened(study: Data | None) -> Any:
        return show_of(results, study, lambda worked: show(worked, Direction()))

    @app.callback(
        Output(lettered, "data"),
        Input(page.VIEW, "data"),
        State(page.STUDY, "data"),
        prevent_initial_call=True,
    )
    def turned(view: Data | None, study: Data | None) -> Any:
        direction = direction_of(view)
        return show_of(results, study, lambda worked: show_turned(worked, direction))


def hand_over(app: Dash, space: str, shown: Sequence[tuple[str, str]], first: int = 0) -> None:
    """Let functions of the browser's own part show what arrives: (store, function of `space`) each.

    first: how many were registered before on the same page.
    """
    # Dash types its own callbacks but not this one.
    browser: Callable[..., None] = app.clientside_callback
    for number, (store, function) in enumerate(shown, first):
        browser(
            ClientsideFunction(space, function),
            Output(f"{page.DONE}-{number}", "data"),
            Input(store, "data"),
            prevent_initial_call=True,
        )
