"""The drawing of a task on paper: the truss with its loads, without forces or with them."""

from __future__ import annotations

from collections.abc import Collection, Sequence

import numpy as np

from explorer.drawing.bars import PLAIN, ZERO, Paint, paint_force
from explorer.drawing.loads import JointLoads, draw_joint_loads
from explorer.drawing.plate import WIDTH, Plate, lay_plate
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.view import Direction
from explorer.markup import Markup, element
from explorer.wording.reasons import Reasoning

PAPER = 640.0
"""Width of the drawing on paper [px]: lettering keeps its size, so it is laid out as if zoomed out."""


def draw_task(told: Reasoning) -> Markup:
    """Draw the truss with joint names and loads; no member shows what it bears."""
    count = len(told.answers.study.truss.members)
    return _draw(told, [Paint(PLAIN)] * count, [""] * count)


def draw_answer(told: Reasoning, zeros: Collection[int]) -> Markup:
    """Draw the truss with the force of every member; those in `zeros` (indices) are thin and broken."""
    forces = told.state.forces
    largest = float(np.abs(forces).max(initial=0.0))
    paints = [
        Paint(ZERO) if m in zeros else paint_force(float(f), told.band, largest) for m, f in enumerate(forces)
    ]
    values = [
        "0" if m in zeros else f"{'T' if f > 0 else 'C'} {told.teller.brief(float(f))}"
        for m, f in enumerate(forces)
    ]
    return _draw(told, paints, values)


def _draw(told: Reasoning, paints: Sequence[Paint], values: Sequence[str]) -> Markup:
    study = told.answers.study
    plate: Plate = lay_plate(study, Direction())
    scene = Scene(study.truss, plate.frame, plate.direction, paints, values)
    supports, bars, joints, texts = draw_scene(scene)
    loads = JointLoads(study.truss, told.state.joint_loads, plate.direction, told.teller.load)
    content = [supports, bars, joints, draw_joint_loads(loads, scene.pixels), texts]
    left, right = float(scene.pixels[:, 0].min()) - 70, float(scene.pixels[:, 0].max()) + 70
    bottom = float(plate.frame.height)
    box = f"{max(0.0, left):.0f} 0 {min(WIDTH, right) - max(0.0, left):.0f} {bottom:.0f}"
    attributes = {"class": "truss", "viewBox": box, "role": "img", "aria-label": "The truss and its loads"}
    return element("svg", content, attributes)
