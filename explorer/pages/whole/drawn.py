"""The drawing of the whole truss as large as fits, with room for a letter or a relative force a member."""

from __future__ import annotations

from explorer.drawing.alone import draw_alone, draw_entry, draw_sample
from explorer.drawing.bars import Paint
from explorer.drawing.view import Direction
from explorer.markup import Markup, join
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

FORCES_KEY = (
    (Paint("t", 0.5), "T", "tension"),
    (Paint("c", 0.5), "C", "compression"),
    (Paint("z"), "0", "not in this state"),
)


def draw_plates(truss: Truss, direction: Direction, states: bool) -> dict[str, Markup]:
    """Draw the truss lettered by kinds and, where there are `states`, by forces; seen from a direction."""
    plates = {"kinds": draw_alone(truss, direction, LETTER)}
    if states:
        plates["state"] = draw_alone(truss, direction, FORCE)
    return plates


def draw_key(counts: dict[Key, int]) -> dict[str, Markup]:
    """Draw what lines and letters mean: of the kinds that the truss has with their numbers, and of forces."""
    kinds = [
        draw_entry(draw_kind(kind), kind.letter, f"{kind.name}: {counts[kind.key]}")
        for kind in KINDS
        if counts.get(kind.key)
    ]
    forces = [draw_entry(draw_sample(paint, HALF_STROKE), letter, name) for paint, letter, name in FORCES_KEY]
    return {"kinds": join(kinds), "state": join(forces)}


def draw_kind(kind: Kind) -> Markup:
    """Draw a short bar as members of a kind are drawn."""
    return draw_sample(Paint(kind.key), HALF_STROKE, STROKES[kind.key])
