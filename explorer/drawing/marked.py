"""A truss on paper with one member marked: which one a sheet is about."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.bars import PLAIN, Paint
from explorer.drawing.labels import Ground, place_labels
from explorer.drawing.lettering import letter_joints
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.symbols import hang, hang_from_above
from explorer.drawing.view import Direction, Frame, Margins, fit, look
from explorer.markup import Markup, element
from solver.truss import Truss

WIDTH, TALL = 688.0, 226.0
"""As wide as the sheet, and no higher than 60 mm: 96 px an inch [px]."""

SIDE, ABOVE, BELOW = 44.0, 26.0, 40.0
"""Room for names and supports [px]."""

MARKED = "marked"
"""The look of the member marked."""


def draw_marked(truss: Truss, member: int) -> Markup:
    """Draw the truss plain and a member (index) bold, joints named; no load and no force."""
    frame = _frame(truss)
    paints = [Paint(MARKED if place == member else PLAIN) for place in range(len(truss.members))]
    scene = Scene(truss, frame, Direction(), paints)
    letters = element("g", _letter(truss, scene.pixels, member), {"class": "letters"})
    attributes = {
        "class": "truss",
        "viewBox": f"0 0 {frame.width:.0f} {frame.height:.0f}",
        "role": "img",
        "aria-label": f"The truss, {truss.members[member].name} bold",
    }
    return element("svg", [*draw_scene(scene, lettered=False), letters], attributes)


def _frame(truss: Truss) -> Frame:
    """The frame in which the truss is as large as width and height allow."""
    seen = look(truss.joint_coordinates, Direction())
    wide, high = np.maximum(seen.max(axis=0) - seen.min(axis=0), 1e-12)
    scale = min((WIDTH - 2 * SIDE) / wide, (TALL - ABOVE - BELOW) / high)
    return fit(seen, WIDTH, float(ABOVE + scale * high + BELOW), Margins(SIDE, SIDE, ABOVE, BELOW))


def _letter(truss: Truss, pixels: NDArray[np.float64], member: int) -> list[Markup]:
    """Write the names of joints that have room, those of the member's two ends first and in any case."""
    ends = truss.ends[member].tolist()
    order = [*ends, *(joint for joint in range(len(truss.joint_names)) if joint not in ends)]
    labels = letter_joints(truss, pixels)
    hanging = hang_from_above(truss, pixels)
    feet = tuple((s.joint, -1.0 if s.joint in hanging else 1.0) for s in truss.supports)
    placed = place_labels(Ground(pixels, truss.ends, feet), [labels[joint] for joint in order])
    written = []
    for joint, one in zip(order, placed, strict=True):
        if joint not in ends and (one.zoom is None or one.zoom > 1):
            continue
        at = pixels[joint] + np.array([one.place.right, one.place.down])
        written.append(hang([element("text", truss.joint_names[joint], {"y": 4})], at, {"class": "name"}))
    return written
