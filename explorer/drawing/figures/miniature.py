"""A truss in miniature: where a member lies, and where the load stands that governs it."""

from __future__ import annotations

from dataclasses import dataclass

from explorer.drawing.figures.strokes import draw_arrow, draw_line, draw_lines, step
from explorer.drawing.figures.words import Box, Point
from explorer.markup import Markup, element

ARROW = 11.0
"""Length of a load's arrow [px]."""

ROOM = 3.0
"""Room for the width of lines and heads at the edge of the box [px]."""


@dataclass(frozen=True)
class Miniature:
    """A truss seen flat.

    `points`: (right, up) of each joint; `members`: pairs of joints; `marked`: the member meant, in the
    look t, c, z or plain; `chord`: the members that the load travels on; `axles`: points (right, up) on
    which it stands; `loads`: (point, unit direction (right, up)) of further loads.
    """

    points: tuple[Point, ...]
    members: tuple[tuple[int, int], ...]
    marked: int | None = None
    look: str = "plain"
    chord: tuple[int, ...] = ()
    axles: tuple[Point, ...] = ()
    loads: tuple[tuple[Point, Point], ...] = ()


@dataclass(frozen=True)
class View:
    """How points (right, up) lie in a picture: pixels count downwards."""

    scale: float
    left: float
    base: float

    def place(self, point: Point) -> Point:
        """Return a point's pixels."""
        return self.left + self.scale * point[0], self.base - self.scale * point[1]


def fit(points: tuple[Point, ...], box: Box) -> View:
    """Return the view in which points fill a box, centred, in their own proportions."""
    across, up = [x for x, _ in points], [y for _, y in points]
    width, height = max(across) - min(across), max(up) - min(up)
    # A truss may stand in one line: what it does not fill does not limit its size.
    scales = [
        room / size
        for room, size in ((box.right - box.left, width), (box.bottom - box.top, height))
        if size > 1e-9 * max(width, height)
    ]
    scale = min(scales, default=0.0)
    left = (box.left + box.right) / 2 - scale * (max(across) + min(across)) / 2
    base = (box.top + box.bottom) / 2 + scale * (max(up) + min(up)) / 2
    return View(scale, left, base)


def draw_miniature(miniature: Miniature, box: Box) -> Markup:
    """Draw the truss in hairlines inside a box [px], its chord firmer, the member meant in its look."""
    if not miniature.points:
        return element("g", attributes={"class": "miniature"})
    view = fit((*miniature.points, *miniature.axles), _inside(miniature, box))
    ends = [(view.place(miniature.points[a]), view.place(miniature.points[b])) for a, b in miniature.members]
    chord = set(miniature.chord) - {miniature.marked}
    plain = [line for i, line in enumerate(ends) if i not in chord and i != miniature.marked]
    parts = draw_lines("thin", plain) + draw_lines("road", [ends[i] for i in sorted(chord)])
    if miniature.marked is not None:
        parts += _draw_marked(miniature.look, ends[miniature.marked])
    parts += [_draw_load(view.place(point), (0.0, 1.0)) for point in miniature.axles]
    parts += [_draw_load(view.place(point), (right, -up)) for point, (right, up) in miniature.loads]
    return element("g", parts, {"class": "miniature"})


def _inside(miniature: Miniature, box: Box) -> Box:
    """The box less what arrows need: axles stand above it, other loads come from anywhere."""
    side = ROOM + (ARROW if miniature.loads else 0.0)
    above = ARROW if miniature.axles and not miniature.loads else 0.0
    return Box(box.left + side, box.top + side + above, box.right - side, box.bottom - side)


def _draw_marked(look: str, ends: tuple[Point, Point]) -> list[Markup]:
    """A compressed member is hollow even here: a wide line with a light one in it."""
    if look == "c":
        return [draw_line("mark c", *ends), draw_line("mark inside", *ends)]
    return [draw_line(f"mark {look}", *ends)]


def _draw_load(tip: Point, along: Point) -> Markup:
    return draw_arrow(step(tip, along, -ARROW), step(tip, along, -1.5))
