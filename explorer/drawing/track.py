"""The track: the chosen member's force along the way of a train, on the drawing's own horizontal axis.

Two lanes of one road, forward above and backward below, with a ruler between them. Lines and areas lie
in groups of class `along`, whose x alone a page scales; whatever keeps its size hangs at an x (data-x).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.labels import text_width
from explorer.drawing.ruler import draw_ruler
from explorer.drawing.symbols import hang
from explorer.markup import Markup, element, number
from explorer.wording.numbers import Teller
from solver.passage import Curve, Passage

Array = NDArray[np.float64]
RISE, BAND, LETTERS, RULER = 46.0, 6.0, 14.0, 25.0
"""Height for the forces of a lane, of the zero band, of a line of letters, of the ruler [px]."""


@dataclass(frozen=True)
class Axis:
    """Positions on the plate: pixel = left + scale x position [px/m]; scale is negative towards the left."""

    left: float
    scale: float

    def place(self, positions: Array) -> Array:
        """Pixels of positions [m]."""
        return self.left + self.scale * positions


@dataclass(frozen=True)
class Track:
    """One member's passages (one or two ways) on an axis, told in the reader's units.

    joints: the chord's joints as positions [m]; width [px]; others: passages of another train on the same
    chord, to compare with.
    """

    passages: tuple[Passage, ...]
    axis: Axis
    joints: Array
    width: float
    teller: Teller
    others: tuple[Passage, ...] = ()


@dataclass(frozen=True)
class _Lane:
    """Where a lane's line lies [px] and how high a force is drawn [px/N]; letters: rows of them above it."""

    passage: Passage
    line: float
    rise: float


def track_height(ways: int) -> float:
    """Height of a track of one or two ways [px]."""
    return RULER + ways * (RISE + 2 * LETTERS + BAND) + 4


def draw_track(track: Track) -> Markup:
    """Draw the lanes, the ruler between them, and the marks one can jump to."""
    values = [curve.values for p in (*track.passages, *track.others) for curve in _all_curves(p)]
    top = max([0.0, *(float(part.max()) for part in values)])
    low = max([0.0, *(float(-part.min()) for part in values)])
    rise = RISE / (top + low) if top + low else 0.0
    lane_height = RISE + 2 * LETTERS + BAND
    above = LETTERS + (top * rise if top + low else RISE) + BAND / 2
    parts: list[Markup] = []
    for order, passage in enumerate(track.passages):
        start = order * (lane_height + RULER)
        parts += _draw_lane(track, _Lane(passage, start + above, rise))
    ruler = draw_ruler(track.axis, track.joints, track.teller, lane_height)
    height = track_height(len(track.passages))
    attributes: dict[str, object] = {
        "class": "track",
        "width": track.width,
        "height": height,
        "data-lanes": " ".join(
            f"{p.direction}:{number(i * (lane_height + RULER) + above)}" for i, p in enumerate(track.passages)
        ),
        "data-left": f"{track.axis.left:.6g}",
        "data-scale": f"{track.axis.scale:.9g}",
        "data-ruler": lane_height,
    }
    return element("svg", [*parts, ruler], attributes)


def _draw_lane(track: Track, lane: _Lane) -> list[Markup]:
    passage = lane.passage
    line = {"class": "road", "x1": 0, "x2": track.width, "y1": lane.line, "y2": lane.line}
    curves = [*(_draw_area(track, lane, sign) for sign in (1.0, -1.0)), *_draw_curve(track, lane)]
    curves += [_draw_line(track, lane, curve, "bound") for curve in (passage.most, passage.least) if curve]
    for other in track.others:
        if other.direction == passage.direction:
            curves += [_draw_line(track, lane, curve, "beside") for curve in _extremes(other)]
    bands = [_draw_band(track, lane, stretch) for stretch in passage.zeros]
    words = [text for stretch in passage.zeros for text in _tell_band(track, lane, stretch)]
    peaks = [mark for sign in (1.0, -1.0) for mark in _draw_peak(track, lane, sign)]
    along = element("g", [*curves, *bands], {"class": "along"})
    words.append(_name_way(track, lane))
    return [
        element("line", attributes=line),
        element("g", [along, *words, *peaks], {"class": "lane", "data-way": passage.direction}),
    ]


def _name_way(track: Track, lane: _Lane) -> Markup:
    """The way's name at the end that its lane never uses; choosing it turns the train round."""
    forward = lane.passage.direction == "forward"
    place = {
        "x": 0.0 if forward else track.width,
        "y": lane.line - 8,
        "text-anchor": "start" if forward else "end",
    }
    text = element("text", "forward →" if forward else "← backward", place)
    attributes = {"class": "way", "data-way": lane.passage.direction, "role": "button", "tabindex": 0}
    return element("g", [text], attributes)


def _draw_area(track: Track, lane: _Lane, sign: float) -> Markup:
    """The forces of one sign as an outline from the lane's line and back to it."""
    passage = lane.passage
    forces = np.maximum(sign * passage.forces, 0.0)
    if not forces.any():
        return Markup("")
    x, values = _with_crossings(track.axis.place(passage.positions), passage.forces, forces)
    y = lane.line - sign * values * lane.rise
    points = " ".join(f"{number(float(a))},{number(float(b))}" for a, b in zip(x, y, strict=True))
    closed = f"{number(float(x[0]))},{number(lane.line)} {points} {number(float(x[-1]))},{number(lane.line)}"
    return element("polygon", attributes={"class": f"area {'t' if sign > 0 else 'c'}", "points": closed})


def _draw_curve(track: Track, lane: _Lane) -> list[Markup]:
    """The line of the force, in pieces of one sign each; nothing where it is zero."""
    passage = lane.passage
    x, forces = _with_crossings(track.axis.place(passage.positions), passage.forces, passage.forces)
    signs = np.sign(forces[:-1] + forces[1:])
    edges = np.flatnonzero(np.diff(signs)) + 1
    runs = zip([0, *edges], [*edges, len(signs)], strict=True)
    curves = []
    for start, end in runs:
        if not signs[start]:
            continue
        part = slice(start, end + 1)
        points = " ".join(
            f"{number(float(a))},{number(lane.line - float(f) * lane.rise)}"
            for a, f in zip(x[part], forces[part], strict=True)
        )
        look = "t" if signs[start] > 0 else "c"
        curves.append(element("polyline", attributes={"class": f"curve {look}", "points": points}))
    return curves


def _extremes(passage: Passage) -> list[Curve]:
    """What the force can be at most and at least at each position, once where it is what it is."""
    if passage.most and passage.least:
        return [passage.most, passage.least]
    return [Curve(passage.positions, passage.forces)]


def _all_curves(passage: Passage) -> list[Curve]:
    return [Curve(passage.positions, passage.forces), *_extremes(passage)]


def _draw_line(track: Track, lane: _Lane, curve: Curve, look: str) -> Markup:
    """A thin line of a force along the way: a bound of what lanes can make of it, or another train's."""
    x = track.axis.place(curve.positions)
    points = " ".join(
        f"{number(float(a))},{number(lane.line - float(f) * lane.rise)}"
        for a, f in zip(x, curve.values, strict=True)
    )
    return element("polyline", attributes={"class": look, "points": points})


def _with_crossings(x: Array, forces: Array, clipped: Array) -> tuple[Array, Array]:
    """Add the points at which the force passes through zero, so that a clipped curve stays straight."""
    turns = np.flatnonzero(forces[:-1] * forces[1:] < 0)
    share = forces[turns] / (forces[turns] - forces[turns + 1])
    at = x[turns] + share * (x[turns + 1] - x[turns])
    return np.insert(x, turns + 1, at), np.insert(clipped, turns + 1, 0.0)


def _draw_band(track: Track, lane: _Lane, stretch: tuple[float, float]) -> Markup:
    ends = sorted(float(x) for x in track.axis.place(np.array(stretch)))
    place = {"x": ends[0], "width": ends[1] - ends[0], "y": lane.line - BAND / 2, "height": BAND}
    return element("rect", attributes={"class": "band", **place})


def _tell_band(track: Track, lane: _Lane, stretch: tuple[float, float]) -> list[Markup]:
    as_it_stands = " as it stands" if lane.passage.most else ""
    text = f"zero for {track.teller.position(stretch[1] - stretch[0])}{as_it_stands}"
    length = abs(stretch[1] - stretch[0]) * abs(track.axis.scale)
    middle = float(track.axis.place(np.array([sum(stretch) / 2]))[0])
    words = element("text", text, {"class": "word", "y": -7, "text-anchor": "middle"})
    needed = round(text_width(text) / max(length, 1e-3), 4)
    cls = "off" if needed > 1 else None
    return [
        hang([words], np.array([middle, lane.line]), {"data-x": middle, "data-from": needed, "class": cls})
    ]


def _draw_peak(track: Track, lane: _Lane, sign: float) -> list[Markup]:
    """A ring at the largest force of one sign, with its value and place: a thing one can jump to.

    Where loads are arranged it is that of the loads arranged for it.
    """
    passage = lane.passage
    bound = passage.most if sign > 0 else passage.least
    curve = bound or Curve(passage.positions, passage.forces)
    forces = sign * curve.values
    if forces.max() <= passage.band:
        return []
    index = int(forces.argmax())
    force, position = float(curve.values[index]), float(curve.positions[index])
    x = float(track.axis.place(np.array([position]))[0])
    y = lane.line - force * lane.rise
    text = f"{track.teller.member_force(force)} at {track.teller.position(position)}"
    width = text_width(text)
    left = x + width + 12 > track.width
    start = {"x": -9 if left else 9, "text-anchor": "end" if left else "start"}
    words = element("text", text, {"class": "jump", "y": -2 if sign > 0 else 10, **start})
    ring = element("circle", attributes={"class": "ring", "r": 3.4})
    attributes: dict[str, object] = {
        "class": f"peak {'t' if sign > 0 else 'c'}",
        "data-x": x,
        "data-position": f"{position:.15g}",
        "data-way": passage.direction,
        "data-force": f"{force:.15g}",
        "data-arranged": int(sign) if bound else 0,
        "role": "button",
        "tabindex": 0,
        "aria-label": f"Go to the peak {text}, {passage.direction}",
    }
    return [hang([ring, words], np.array([x, y]), attributes)]
