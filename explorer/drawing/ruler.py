"""The ruler of a track: round numbers of the reader's unit, and a tick at every joint of the chord."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.labels import text_width
from explorer.drawing.symbols import hang
from explorer.markup import Markup, element
from explorer.wording.numbers import Teller

Array = NDArray[np.float64]
APART = 62.0
"""Numbers on a ruler stand at least this far apart [px]."""


class Along(Protocol):
    """An axis of positions."""

    @property
    def scale(self) -> float:
        """Pixels per metre."""
        ...

    def place(self, positions: Array) -> Array:
        """Pixels of positions [m]."""
        ...


def round_step(least: float) -> float:
    """Return the least of 1, 2, 5 x a power of ten that is at least so much.

    >>> round_step(0.3), round_step(3.0), round_step(12.0), round_step(5.0)
    (0.5, 5.0, 20.0, 5.0)
    """
    power = 10.0 ** floor(log10(least))
    return float(next(f * power for f in (1, 2, 5, 10) if f * power >= least * (1 - 1e-9)))


def draw_ruler(axis: Along, joints: Array, teller: Teller, top: float) -> Markup:
    """Draw the ruler with its upper edge at `top` [px]; joints: positions of the chord's joints [m]."""
    unit = teller.units.to_si("length", 1)  # type: ignore[arg-type]
    per_unit = abs(axis.scale) * float(unit)
    ticks = [
        hang(
            [element("line", attributes={"y1": 0, "y2": 4})],
            np.array([x, top]),
            {"class": "tick", "data-x": float(x)},
        )
        for x in axis.place(joints)
    ]
    length = float(joints[-1]) / float(unit)
    step = round_step(APART / per_unit)
    numbers = [
        _draw_number(axis, k, (step, float(unit)), (teller, ceil(length / step - 1e-9) - 1), top)
        for k in range(floor(length / step + 1e-9) + 1)
    ]
    return element("g", [*ticks, *numbers], {"class": "ruler"})


def _draw_number(
    axis: Along, k: int, steps: tuple[float, float], told: tuple[Teller, int], top: float
) -> Markup:
    """One number; those between larger ones go first when the page grows narrow."""
    step, unit = steps
    teller, last = told
    text = f"{k * step:g}"
    if k == 0 or k > last:
        text = f"{text} {teller.units.label('length')}"
    x = float(axis.place(np.array([k * step * unit]))[0])
    coarse = next((c for c in (8, 4, 2) if k % c == 0), 1)
    room = abs(axis.scale) * step * unit
    needed = max(round((text_width(text) + 10) / (room * coarse), 4), 0.01) if k else 0.01
    attributes: dict[str, object] = {
        "data-x": x,
        "data-from": needed,
        "class": "off" if needed > 1 else None,
    }
    return hang([element("text", text, {"y": 18, "text-anchor": "middle"})], np.array([x, top]), attributes)
