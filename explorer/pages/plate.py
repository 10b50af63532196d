"""The plate of a page: the truss as it is drawn before anything is painted, and the small whole truss."""

from __future__ import annotations

import numpy as np

from explorer.drawing.loads import draw_reactions
from explorer.drawing.plate import BELOW, WIDTH, Plate, attributes_of, lay_plate
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.view import Direction
from explorer.markup import Markup, element
from explorer.store import Worked
from explorer.wording.numbers import brief
from solver.answers import Answers


def show_plate(worked: Worked, direction: Direction) -> dict[str, str]:
    """Return the plate and the small whole truss as markup, in space seen from a direction."""
    plate = lay_plate(worked.answers.study, direction)
    return {"plate": _draw_plate(worked.answers, plate), "overview": _draw_overview(worked.answers, plate)}


def _draw_plate(answers: Answers, plate: Plate) -> Markup:
    frame, truss = plate.frame, answers.study.truss
    largest = float(
        max(np.abs(answers.forces.sweep.largest).max(), np.abs(answers.forces.sweep.smallest).max())
    )
    letters = len(f"T {brief(largest / 1000)}")
    scene = Scene(truss, frame, plate.direction, letters=max(4, letters))
    supports, bars, joints, texts = draw_scene(scene)
    content = [
        supports,
        element("g", (), {"class": "capsule-place"}),
        bars,
        joints,
        element("g", (), {"class": "load-place"}),
        draw_reactions(truss, scene.pixels, plate.direction),
        texts,
        element("g", (), {"class": "tag-place"}),
    ]
    return element("svg", content, attributes_of(plate))


def _draw_overview(answers: Answers, plate: Plate) -> Markup:
    """The whole truss without letters, for a page too narrow for it: the part shown large is shaded."""
    scene = Scene(answers.study.truss, plate.frame, plate.direction)
    supports, bars, _, *_ = [*draw_scene(scene, lettered=False), None]
    top, height = plate.top - 30, plate.frame.height - plate.top - BELOW + 60
    shade = element("rect", attributes={"class": "window", "y": top, "height": height, "width": WIDTH})
    box = f"0 {top:g} {WIDTH:g} {height:g}"
    content = [part for part in (shade, supports, bars) if part is not None]
    return element("svg", content, {"class": "truss overview", "viewBox": box, "aria-hidden": "true"})
