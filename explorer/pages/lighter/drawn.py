"""The drawing of the truss with room for a utilisation at each member, and what its lines mean."""

from __future__ import annotations

from explorer.drawing.alone import HALF_STROKE, draw_alone, draw_entry, draw_sample
from explorer.drawing.bars import Paint
from explorer.drawing.view import Direction
from explorer.markup import Markup, join
from solver.checks.whole import Checks
from solver.truss import Truss

USED, OVER, UNKNOWN, ZERO = "used", "over", "unknown", "z"
"""Looks: as thick as it is used, doubled, not known, nothing asked of it."""

HOLDS = "holds"
"""Beside a look: a stroke at the joint that a member holds in place which looks idle."""

LETTERS = len("0.88")
MEANS = (
    (Paint(USED, 0.3), "0.30", "of its limit"),
    (Paint(USED, 1.0), "1.00", "at its limit"),
    (Paint(OVER, 1.0), "1.20", "a check not met"),
    (Paint(UNKNOWN), "?", "strength not known"),
    (Paint(ZERO), "0", "nothing asked of it"),
)
SAMPLE_HOLDS = Paint(f"{USED} {HOLDS}", 0.3)


def draw_plate(truss: Truss, direction: Direction) -> Markup:
    """Draw the truss as large as fits, lettered for utilisations; seen from a direction."""
    return draw_alone(truss, direction, LETTERS)


def draw_key(reach: str) -> Markup:
    """Draw what lines mean: short bars as members are drawn.

    reach: what alone reaches those that hold idle; nothing where there are none.
    """
    holds = (SAMPLE_HOLDS, "", f"{reach} reaches it, yet it holds the joint at the stroke")
    means = [*MEANS, holds] if reach else MEANS
    return join([draw_entry(_sample(paint), number, text) for paint, number, text in means])


def find_strokes(truss: Truss, checks: Checks) -> list[list[float]]:
    """Return of each member where strokes lie across it, as shares of its length: at joints it holds idle."""
    strokes: list[list[float]] = [[] for _ in truss.members]
    for member in checks.idle:
        held = {check.joint for check in checks.each[member] if check.key.startswith("prop")}
        strokes[member] = [float(end) for end, joint in enumerate(truss.ends[member]) if joint in held]
    return strokes


def _sample(paint: Paint) -> Markup:
    return draw_sample(paint, HALF_STROKE, (1.0,) if HOLDS in paint.look else ())
