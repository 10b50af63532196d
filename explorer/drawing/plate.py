"""The plate: how large the truss is drawn, and the axis of positions that lies under it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.track import Axis
from explorer.drawing.view import Direction, Frame, Margins, fit, look
from solver.study import Study
from solver.truss import Truss

Array = NDArray[np.float64]
WIDTH = 1360.0
"""Width of the page's content at which a plate is laid out [px]; other widths zoom it."""

EDGE, KEY, ABOVE, BELOW = 28.0, 60.0, 34.0, 70.0
"""Room at the sides, beside the key, over the truss (names) and under it (supports, reactions) [px]."""

LOADS_ABOVE = 76.0
LOW, TALL = 190.0, 330.0
"""The truss is drawn at most so high above a track, and so high without one [px]."""


@dataclass(frozen=True)
class Plate:
    """Frame of the truss and, by crossing, the axis of its positions; top and truss height [px]."""

    frame: Frame
    direction: Direction
    axes: Mapping[str, Axis]
    top: float


def lay_plate(study: Study, direction: Direction) -> Plate:
    """Lay out a study's plate: the truss as large as fits, with its trains' lengths at both ends."""
    seen = look(study.truss.joint_coordinates, direction)
    plane = study.truss.dimension == 2
    approach = _longest_train(study) if plane else 0.0
    low, high = seen.min(axis=0), seen.max(axis=0)
    size = high - low
    side = EDGE if study.crossings and plane else KEY
    tallest = LOW if study.crossings else TALL
    room = WIDTH - 2 * side
    scale = min(room / max(size[0] + 2 * approach, 1e-12), tallest / max(size[1], 1e-12))
    top = LOADS_ABOVE if study.cases else ABOVE
    height = top + scale * size[1] + BELOW
    corners = np.array([low - np.array([approach, 0.0]), high + np.array([approach, 0.0])])
    frame = fit(corners, WIDTH, float(height), Margins(side, side, top, BELOW))
    axes = {name: _axis(study, name, frame, seen) for name in study.crossings}
    return Plate(frame, direction, axes, top)


def lay_alone(truss: Truss, direction: Direction) -> Plate:
    """Lay out a truss by itself: no train needs room at the ends, no load above, no track below."""
    seen = look(truss.joint_coordinates, direction)
    size = seen.max(axis=0) - seen.min(axis=0)
    scale = min((WIDTH - 2 * KEY) / max(size[0], 1e-12), TALL / max(size[1], 1e-12))
    height = ABOVE + scale * size[1] + BELOW
    frame = fit(seen, WIDTH, float(height), Margins(KEY, KEY, ABOVE, BELOW))
    return Plate(frame, direction, {}, ABOVE)


def attributes_of(plate: Plate) -> dict[str, object]:
    """What the browser must know of a plate to move and letter it, as attributes of its drawing."""
    frame = plate.frame
    return {
        "class": "truss",
        "width": WIDTH,
        "height": frame.height,
        "data-width": WIDTH,
        "data-height": frame.height,
        "data-top": plate.top,
        "data-scale": f"{frame.scale:.9g}",
        "data-left": f"{frame.left:.9g}",
        "data-base": f"{frame.base:.9g}",
        "data-azimuth": plate.direction.azimuth,
        "data-elevation": plate.direction.elevation,
        "aria-hidden": "true",
    }


def road(study: Study, crossing: str, plate: Plate, positions: Array) -> Array:
    """Return the pixels of positions [m] on a crossing's chord, (n, 2); beyond its ends the road is level."""
    chord = study.chords[study.crossings[crossing].chord]
    joints = plate.frame.place(look(study.truss.joint_coordinates, plate.direction))[list(chord.joints)]
    beyond = positions - np.clip(positions, 0.0, chord.length)
    across = np.interp(positions, chord.positions, joints[:, 0]) + plate.axes[crossing].scale * beyond
    return np.column_stack([across, np.interp(positions, chord.positions, joints[:, 1])])


def _longest_train(study: Study) -> float:
    lengths = [train.last_load for c in study.crossings.values() for train in c.trains if train.travels]
    return max(lengths, default=0.0)


def _axis(study: Study, crossing: str, frame: Frame, seen: Array) -> Axis:
    """In the plane the drawing's own axis; in space an axis of its own as wide as the plate."""
    chord = study.chords[study.crossings[crossing].chord]
    if study.truss.dimension == 2:
        first, last = seen[chord.joints[0], 0], seen[chord.joints[-1], 0]
        return Axis(frame.left + frame.scale * float(first), frame.scale * float(np.sign(last - first)))
    trains = study.crossings[crossing].trains
    train = max((train.last_load for train in trains if train.travels), default=0.0)
    edge = 2 * EDGE
    scale = (WIDTH - 2 * edge) / (chord.length + 2 * train)
    return Axis(edge + scale * train, scale)
