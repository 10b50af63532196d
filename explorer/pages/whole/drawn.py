"""The drawing of the whole truss as large as fits, with room for a letter or a relative force a member."""

from __future__ import annotations

import numpy as np

from explorer.drawing.bars import Paint, draw_bar
from explorer.drawing.plate import attributes_of, lay_alone
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.view import Direction
from explorer.markup import Markup, element, join
from explorer.wording.whole_truss import KINDS, Key, Kind
from solver.truss import Truss

STROKES: dict[Key, tuple[float, ...]] = {
    "prop": (0.0, 1.0),
    "mechanism": (),
    "overload": (0.2, 0.8),
    "unproven": (0.2,),
    "carried": (),
}
"""Where strokes lie across a bar of each kind, as shares of its length."""

HALF_STROKE = 5.0
LETTER, FORCE = len("P"), len("C 0.63")
"""How many letters stand at a member: its kind, or its force in a state of self-stress."""

SAMPLE = 34.0
FORCES_KEY = (
    (Paint("t", 0.5), "T", "tension"),
    (Paint("c", 0.5), "C", "compression"),
    (Paint("z"), "0", "not in this state"),
)


def draw_plates(truss: Truss, direction: Direction, states: bool) -> dict[str, Markup]:
    """Draw the truss lettered by kinds and, where there are `states`, by forces; seen from a direction."""
    plates = {"kinds": _draw_plate(truss, direction, LETTER)}
    if states:
        plates["state"] = _draw_plate(truss, direction, FORCE)
    return plates


def _draw_plate(truss: Truss, direction: Direction, letters: int) -> Markup:
    plate = lay_alone(truss, direction)
    supports, bars, joints, texts = draw_scene(Scene(truss, plate.frame, direction, letters=letters))
    capsule, tag = (element("g", (), {"class": f"{name}-place"}) for name in ("capsule", "tag"))
    return element("svg", [supports, capsule, bars, joints, texts, tag], attributes_of(plate))


def draw_key(counts: dict[Key, int]) -> dict[str, Markup]:
    """Draw what lines and letters mean: of the kinds that the truss has with their numbers, and of forces."""
    kinds = [
        _entry(draw_sample(kind), kind.letter, f"{kind.name}: {counts[kind.key]}")
        for kind in KINDS
        if counts.get(kind.key)
    ]
    forces = [_entry(_sample(paint), letter, name) for paint, letter, name in FORCES_KEY]
    return {"kinds": join(kinds), "state": join(forces)}


def draw_sample(kind: Kind) -> Markup:
    """Draw a short bar as members of a kind are drawn."""
    return _sample(Paint(kind.key), STROKES[kind.key])


def _entry(sample: Markup, letter: str, name: str) -> Markup:
    text = element("span", [element("b", letter), f" {name}"])
    return element("span", [sample, text], {"class": "entry"})


def _sample(paint: Paint, strokes: tuple[float, ...] = ()) -> Markup:
    middle = HALF_STROKE + 1
    bar = draw_bar("", np.array([[-5.5, middle], [SAMPLE + 5.5, middle]]), paint, 0)
    across = [
        element(
            "line",
            attributes={
                "class": "stroke",
                "x1": 1 + share * (SAMPLE - 2),
                "x2": 1 + share * (SAMPLE - 2),
                "y1": middle - HALF_STROKE,
                "y2": middle + HALF_STROKE,
            },
        )
        for share in strokes
    ]
    drawn = element("g", [bar, *across], {"class": f"sample {paint.look}"})
    attributes = {"class": "truss", "width": SAMPLE, "height": 2 * middle, "aria-hidden": "true"}
    return element("svg", [drawn], attributes)
