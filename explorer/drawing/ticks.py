"""Without a train: one tick a load case, filled where the member works, hollow where it is zero."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.markup import Markup, element

HALF = 26.0
"""The largest force is drawn so high [px]."""


@dataclass(frozen=True)
class Tick:
    """A load by its number and name, the member's force under it as fraction -1 to 1, and as words.

    combined: a combination, set apart from the load cases.
    """

    load: int
    name: str
    fraction: float
    told: str
    chosen: bool
    combined: bool = False


def draw_ticks(ticks: Sequence[Tick]) -> Markup:
    """Draw the row of ticks as a list of buttons, each choosing its load."""
    items = [
        element("li", [_draw_tick(tick)], {"class": "combined" if tick.combined else None}) for tick in ticks
    ]
    return element("ol", items, {"class": "ticks"})


def _draw_tick(tick: Tick) -> Markup:
    size = abs(tick.fraction) * HALF
    look = "z" if not tick.fraction else "t" if tick.fraction > 0 else "c"
    line = element("line", attributes={"class": "road", "x1": 0, "x2": 60, "y1": HALF + 2, "y2": HALF + 2})
    if look == "z":
        shape = element(
            "rect", attributes={"class": "hollow", "x": 26, "y": HALF - 3, "width": 8, "height": 10}
        )
    else:
        top = HALF + 2 - size if look == "t" else HALF + 2
        shape = element(
            "rect",
            attributes={"class": f"tick {look}", "x": 26, "y": top, "width": 8, "height": max(size, 1.0)},
        )
    picture = element(
        "svg",
        [line, shape],
        {"viewBox": f"0 0 60 {2 * HALF + 4:g}", "aria-hidden": "true", "class": "tick-picture"},
    )
    words = [
        element("span", tick.name, {"class": "tick-name"}),
        element("span", tick.told, {"class": f"tick-force {look}"}),
    ]
    attributes = {
        "type": "button",
        "data-load": tick.load,
        "aria-pressed": "true" if tick.chosen else "false",
    }
    return element("button", [picture, *words], attributes)
