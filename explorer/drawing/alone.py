"""A truss by itself, without loads, and the key of its lines: for pages that draw what members are."""

from __future__ import annotations

import numpy as np

from explorer.drawing.bars import Paint, draw_bar
from explorer.drawing.plate import attributes_of, lay_alone
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.view import Direction
from explorer.markup import Markup, element
from solver.truss import Truss

HALF_STROKE = 7.0
"""How far a stroke at a joint that an idle member holds reaches to either side of it."""

SAMPLE, INSET, BEYOND = 34.0, 1.0, 5.5
"""Length of a short bar of the key, how far from its ends strokes stay, and how far it runs out of sight."""


def draw_alone(truss: Truss, direction: Direction, letters: int) -> Markup:
    """Draw the truss as large as fits, with room for so many letters at a member; seen from a direction."""
    plate = lay_alone(truss, direction)
    supports, bars, joints, texts = draw_scene(Scene(truss, plate.frame, direction, letters=letters))
    capsule, tag = (element("g", (), {"class": f"{name}-place"}) for name in ("capsule", "tag"))
    return element("svg", [supports, capsule, bars, joints, texts, tag], attributes_of(plate))


def draw_entry(sample: Markup, letter: str, means: str) -> Markup:
    """Write what a line means beside a short bar drawn so, and the letter or number that stands at it."""
    text = element("span", [element("b", letter), f" {means}"])
    return element("span", [sample, text], {"class": "entry"})


def draw_sample(paint: Paint, half: float, strokes: tuple[float, ...] = ()) -> Markup:
    """Draw a short bar with strokes of so much to either side across it, at shares of its length."""
    middle = half + 1
    bar = draw_bar("", np.array([[-BEYOND, middle], [SAMPLE + BEYOND, middle]]), paint, 0)
    across = [_stroke(INSET + share * (SAMPLE - 2 * INSET), middle, half) for share in strokes]
    drawn = element("g", [bar, *across], {"class": f"sample {paint.look}"})
    attributes = {"class": "truss", "width": SAMPLE, "height": 2 * middle, "aria-hidden": "true"}
    return element("svg", [drawn], attributes)


def _stroke(across: float, middle: float, half: float) -> Markup:
    ends = {"x1": across, "x2": across, "y1": middle - half, "y2": middle + half}
    return element("line", attributes={"class": "stroke", **ends})
