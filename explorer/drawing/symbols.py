"""Symbols that hang on a joint: joints themselves, supports, arrows; drawn in pixels around their point."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from explorer.markup import Markup, element, number
from solver.truss import Truss

Array = NDArray[np.float64]


def hang(content: list[Markup], at: Array, attributes: Mapping[str, object]) -> Markup:
    """Hang a group on a point [px]; `attributes` tell the page what it hangs on, to move it by."""
    place = f"translate({number(float(at[0]))},{number(float(at[1]))})"
    return element("g", content, {**attributes, "transform": place})


def draw_joint(index: int, at: Array) -> Markup:
    """Draw a joint as a ring; where bars are short on the page the page makes rings smaller."""
    return hang([element("circle", attributes={"r": 3.6})], at, {"class": "joint", "data-j": index})


def draw_support(index: int, at: Array, seen: Array, upside_down: bool = False) -> Markup:
    """Draw a support: a pin on the ground, or a roller whose ground lies square to what it holds.

    seen (n, 2): what it holds as seen, right and up. A roller may stand on a slope; whatever holds more
    than one direction stands upright, or hangs from above where all of the truss lies below it.
    """
    turn = 180.0 if upside_down else 0.0
    if len(seen) == 1 and seen[0].any():
        # A held direction and its opposite are the same support: the one that points up is drawn.
        right, up = seen[0] if (seen[0][1], seen[0][0]) >= (0, 0) else -seen[0]
        turn += float(np.degrees(np.arctan2(right, up)))
    parts = _roller() if len(seen) == 1 else _pin()
    inside = element("g", parts, {"transform": f"rotate({number(turn)})"} if turn else None)
    kind = "roller" if len(seen) == 1 else "pin"
    return hang([inside], at, {"class": f"support {kind}", "data-j": index})


def _pin() -> list[Markup]:
    triangle = element("polygon", attributes={"points": "0,4 -10,21 10,21"})
    return [triangle, *_ground(21)]


def _roller() -> list[Markup]:
    triangle = element("polygon", attributes={"points": "0,4 -8,16 8,16"})
    wheels = [element("circle", attributes={"cx": x, "cy": 18.8, "r": 2.6}) for x in (-5.2, 5.2)]
    return [triangle, *wheels, *_ground(21.6)]


def _ground(level: float) -> list[Markup]:
    line = element("line", attributes={"class": "seat", "x1": -17, "y1": level, "x2": 17, "y2": level})
    strokes = " ".join(f"M{x} {number(level)}l-4 5" for x in range(-12, 20, 6))
    return [line, element("path", attributes={"class": "hatch", "d": strokes})]


def draw_arrow(tail: Array, tip: Array, cls: str = "arrow") -> Markup:
    """Draw an arrow between two points [px]."""
    along = tip - tail
    length = float(np.hypot(*along))
    unit = along / length if length else np.array([0.0, 1.0])
    across = np.array([-unit[1], unit[0]])
    neck = tip - unit * min(7.0, length)
    head = " ".join(
        f"{number(float(x))},{number(float(y))}" for x, y in (tip, neck + 2.7 * across, neck - 2.7 * across)
    )
    line = {"x1": float(tail[0]), "y1": float(tail[1]), "x2": float(neck[0]), "y2": float(neck[1])}
    return element(
        "g",
        [element("line", attributes=line), element("polygon", attributes={"points": head})],
        {"class": cls},
    )


def hang_from_above(truss: Truss, pixels: Array) -> frozenset[int]:
    """Supported joints (indices) all of whose bars go down on the plate: their supports hang over them."""
    hanging = set()
    for support in truss.supports:
        here = [truss.members[index] for index in truss.members_at[support.joint]]
        others = [m.second if m.first == support.joint else m.first for m in here]
        along = pixels[others] - pixels[support.joint]
        if (along[:, 1] > 0.3 * np.hypot(*along.T)).all():
            hanging.add(support.joint)
    return frozenset(hanging)
