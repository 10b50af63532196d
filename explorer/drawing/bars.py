"""Bars: a member is three lines on one axis, and the style sheet makes tension, compression or zero of it.

Each bar carries its class (`t`, `c`, `z`, `share` or `plain`) and the fraction --f of the largest value
shown, from 0 to 1. How wide and in which hue that is lies in the style sheet alone, so that the page,
which repaints while a train travels, and a printed picture cannot disagree.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.markup import Markup, element, number

Array = NDArray[np.float64]
SHORT_OF_JOINT = 6.5
"""Bars stop this many pixels before the middle of a joint, so that every member stays a thing by itself."""

WALL = 1.25
"""Thickness of the walls of a hollow bar [px]."""

TENSION, COMPRESSION, ZERO, SHARE, PLAIN = "t", "c", "z", "share", "plain"


@dataclass(frozen=True)
class Paint:
    """How a member looks: its class, and its fraction of the largest value shown (0 to 1)."""

    look: str
    fraction: float = 0.0


def paint_force(force: float, band: float, largest: float) -> Paint:
    """Return the look of a force [N]; up to `band` it is zero, `largest` has the full width.

    >>> paint_force(-5.0, 1e-9, 10.0)
    Paint(look='c', fraction=0.5)
    """
    if abs(force) <= band:
        return Paint(ZERO)
    return Paint(TENSION if force > 0 else COMPRESSION, min(1.0, abs(force) / largest) if largest else 0.0)


def draw_bar(name: str, ends: Array, paint: Paint, index: int) -> Markup:
    """Draw a member between two points (2, 2) [px].

    Its lines lie along x in a group that is moved and turned, so that a page sets few numbers a frame.
    """
    a, b = shorten(ends, SHORT_OF_JOINT)
    length = float(np.hypot(*(b - a)))
    turn = float(np.degrees(np.arctan2(*(b - a)[::-1]))) if length else 0.0
    wall = min(WALL, length / 2)
    lines = [
        element("line", attributes={"class": "wall", "x2": length}),
        element("line", attributes={"class": "core", "x1": wall, "x2": length - wall}),
        element("line", attributes={"class": "dash", "x2": length}),
    ]
    attributes: dict[str, object] = {
        "class": f"bar {paint.look}",
        "data-member": name,
        "data-i": index,
        "style": f"--f:{paint.fraction:.4g}",
        "transform": f"translate({number(float(a[0]))},{number(float(a[1]))}) rotate({number(turn)})",
    }
    return element("g", lines, attributes)


def shorten(ends: Array, by: float) -> Array:
    """Return the ends (2, 2) moved towards one another, at most to a tenth of the length from the middle."""
    along = ends[1] - ends[0]
    length = float(np.hypot(*along))
    if length == 0:
        return ends
    step = along / length * min(by, 0.4 * length)
    return np.array([ends[0] + step, ends[1] - step])
