"""Strokes of the small pictures: lines, bars, rings and arrows in pixels, and the sheet they lie on."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot

from explorer.drawing.figures.words import Point
from explorer.markup import Markup, element, number

WIDTH, HEIGHT = 168.0, 112.0
"""A picture's own size [px]; the height is the least."""

HEAD_LENGTH, HEAD_HALF = 7.0, 2.7
"""An ink arrow's head [px]."""


def draw_sheet(
    kind: str, label: str, content: Iterable[Markup], height: float = HEIGHT, width: float = WIDTH
) -> Markup:
    """Lay strokes and words on a sheet that tells readers of the text alone what it shows."""
    attributes: dict[str, object] = {
        "class": f"figure {kind}",
        "viewBox": f"0 0 {number(width)} {number(height)}",
        "role": "img",
        "aria-label": label,
    }
    return element("svg", content, attributes)


def draw_line(cls: str, a: Point, b: Point) -> Markup:
    """Draw a straight line."""
    return element("line", attributes={"class": cls, **_ends(a, b)})


def draw_lines(cls: str, lines: Iterable[tuple[Point, Point]]) -> list[Markup]:
    """Draw many lines of one look as a single path; nothing where there are none."""
    moves = "".join(f"M{write(a)}L{write(b)}" for a, b in lines)
    return [element("path", attributes={"class": cls, "d": moves})] if moves else []


def draw_rectangle(cls: str, left: float, top: float, size: Point) -> Markup:
    """Draw an upright rectangle of size (width, height)."""
    place = {"x": float(left), "y": float(top), "width": float(size[0]), "height": float(size[1])}
    return element("rect", attributes={"class": cls, **place})


def draw_polygon(cls: str, points: Sequence[Point]) -> Markup:
    """Draw a closed outline."""
    return element("polygon", attributes={"class": cls, "points": " ".join(write(p) for p in points)})


def draw_ring(cls: str, at: Point, radius: float) -> Markup:
    """Draw a joint."""
    place = {"cx": float(at[0]), "cy": float(at[1]), "r": float(radius)}
    return element("circle", attributes={"class": cls, **place})


def draw_arrow(tail: Point, tip: Point) -> Markup:
    """Draw an ink arrow; a short one is mostly head."""
    along = toward(tail, tip)
    length = min(HEAD_LENGTH, 0.65 * hypot(tip[0] - tail[0], tip[1] - tail[1]))
    neck = step(tip, along, -length)
    head = draw_polygon("head", [tip, *across(neck, along, HEAD_HALF)])
    return element("g", [draw_line("shaft", tail, neck), head], {"class": "arrow"})


def toward(a: Point, b: Point) -> Point:
    """Return the unit vector from a to b; downwards where they are one point."""
    length = hypot(b[0] - a[0], b[1] - a[1])
    return ((b[0] - a[0]) / length, (b[1] - a[1]) / length) if length else (0.0, 1.0)


def step(at: Point, along: Point, length: float) -> Point:
    """Return the point that lies `length` along a unit vector from `at`."""
    return at[0] + along[0] * length, at[1] + along[1] * length


def across(at: Point, along: Point, half: float) -> tuple[Point, Point]:
    """Return the two points that lie `half` to either side of a line through `at`."""
    return step(at, (-along[1], along[0]), half), step(at, (along[1], -along[0]), half)


def write(point: Point) -> str:
    """Write a point as SVG lists have it.

    >>> write((1.0, 2.5))
    '1,2.5'
    """
    return f"{number(point[0])},{number(point[1])}"


def _ends(a: Point, b: Point) -> dict[str, float]:
    return {"x1": float(a[0]), "y1": float(a[1]), "x2": float(b[0]), "y2": float(b[1])}
