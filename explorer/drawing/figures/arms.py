"""The arms of a free body: members cut near a joint, loads and reactions, each along its own direction."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from explorer.drawing.figures.strokes import across, draw_arrow, draw_line, draw_lines, draw_polygon, step
from explorer.drawing.figures.words import Box, Point
from explorer.markup import Markup, element

RING = 5.0
START = 9.0
"""Where arms begin, off the joint's middle [px]."""

HEAD, HEAD_HALF = 12.0, 6.0
"""Heads of members' arrows [px]; ink arrows have their own."""

APART = 13.0
"""Least angle between arms [degrees]: members of a space truss may be seen one behind another."""

FREE = 18.0
"""Angle to the nearest arm from which on an ink arrow needs no moving aside [degrees]."""


@dataclass(frozen=True)
class Arm:
    """A member at the joint.

    `angle`: from the joint to its other end, degrees from the right, upwards positive. `look`: t, c, z or
    plain (force not known). `asked`: the member in question. `fraction`: of the largest force, 0 to 1.
    """

    name: str
    angle: float
    look: str = "plain"
    force: str = ""
    asked: bool = False
    fraction: float = 1.0


@dataclass(frozen=True)
class Push:
    """A load or a reaction on the joint: the direction in which it acts, degrees as in `Arm`."""

    angle: float
    text: str = ""
    support: bool = False


@dataclass(frozen=True)
class Spoke:
    """A line in the picture that goes out from the joint: its direction and its two ends [px]."""

    along: Point
    near: Point
    far: Point
    half: float

    @property
    def head_box(self) -> Box:
        """The room around its outer end."""
        x, y = self.far
        return Box(x - self.half, y - self.half, x + self.half, y + self.half)


def spread(angles: Sequence[float], held: Sequence[bool]) -> list[float]:
    """Return angles [degrees] moved apart, no more than is needed; those that are held stay.

    >>> spread([0.0, 180.0], [False, False])
    [0.0, 180.0]
    """
    moved = list(angles)
    order = sorted(range(len(moved)), key=lambda i: moved[i] % 360)
    least = min(APART, 270 / max(1, len(moved)))
    for _ in range(60):
        for first, second in zip(order, [*order[1:], *order[:1]], strict=True):
            gap = (moved[second] - moved[first]) % 360 if first != second else 360.0
            # A pair pushed past one another shows as a gap of nearly a whole turn.
            gap = gap - 360 if gap > 360 - least / 2 else gap
            if gap < least - 1e-6:
                _push_apart(moved, held, (first, second), least - gap)
    return moved


def _push_apart(moved: list[float], held: Sequence[bool], pair: tuple[int, int], lack: float) -> None:
    first, second = pair
    shares = (0.0 if held[first] else 1.0, 0.0 if held[second] else 1.0)
    whole = sum(shares) or 1.0
    moved[first] -= lack * shares[0] / whole
    moved[second] += lack * shares[1] / whole


def unit(angle: float) -> Point:
    """Return the direction [px, downwards] of an angle in degrees."""
    return cos(radians(angle)), -sin(radians(angle))


def reach(along: Point, axes: Point) -> float:
    """Return how far an ellipse with these half axes [px] reaches in a direction."""
    return 1 / hypot(along[0] / axes[0], along[1] / axes[1])


def lay_arm(look: str, angle: float, middle: Point, axes: Point) -> Spoke:
    """Return the place of an arm; only one with a force has a head."""
    along = unit(angle)
    half = HEAD_HALF if look in ("t", "c") else 2.0
    return Spoke(along, step(middle, along, START), step(middle, along, reach(along, axes)), half)


def lay_push(push: Push, taken: Sequence[float], middle: Point, axes: Point) -> tuple[Spoke, bool]:
    """Return the place of a load or reaction, and whether it comes inwards.

    It pushes the joint from outside where no arm lies there, else pulls from the other side, else
    stands a little aside. A support always pushes or holds from its own side.
    """
    inward, outward = (push.angle + 180) % 360, push.angle % 360
    sides = [(inward, True)] if push.support else [(inward, True), (outward, False)]
    angle, inwards = max(sides, key=lambda side: min(FREE, _nearest(side[0], taken)))
    along = unit(angle)
    aside = 0.0 if _nearest(angle, taken) >= FREE else START
    if aside and _nearest(angle + 40, taken) > _nearest(angle - 40, taken):
        aside = -aside
    start = step(middle, (-along[1], along[0]), aside)
    far = step(start, along, 0.8 * reach(along, axes) if not aside else 0.62 * reach(along, axes))
    return Spoke(along, step(start, along, START - 1), far, 3.0), inwards


def _nearest(angle: float, taken: Sequence[float]) -> float:
    return min((abs((angle - other + 180) % 360 - 180) for other in taken), default=360.0)


def draw_arm(arm: Arm, spoke: Spoke) -> Markup:
    """Draw a member's arm: tension pulls at the joint, compression presses on it, zero does neither."""
    cls = f"arm {arm.look} asked" if arm.asked else f"arm {arm.look}"
    if arm.look not in ("t", "c"):
        return element("g", [draw_line("line", spoke.near, spoke.far)], {"class": cls})
    half = 1.0 + 2.0 * min(1.0, max(0.0, arm.fraction))
    head = min(HEAD, 0.5 * hypot(spoke.far[0] - spoke.near[0], spoke.far[1] - spoke.near[1]))
    if arm.look == "t":
        neck, tip, tail = step(spoke.far, spoke.along, -head), spoke.far, spoke.near
    else:
        # A hollow bar is two walls: it needs one pixel more to show what lies between them.
        half += 1.0
        neck, tip, tail = step(spoke.near, spoke.along, head), spoke.near, spoke.far
    a, b = across(tail, spoke.along, half)
    c, d = across(neck, spoke.along, half)
    parts = [
        draw_polygon("body", [a, b, d, c]),
        draw_polygon("head", [tip, *across(neck, spoke.along, HEAD_HALF)]),
    ]
    return element("g", parts, {"class": cls})


def draw_push(push: Push, spoke: Spoke, inwards: bool) -> Markup:
    """Draw a load or reaction in ink; what comes from a support starts at a piece of ground."""
    arrow = draw_arrow(spoke.far, spoke.near) if inwards else draw_arrow(spoke.near, spoke.far)
    if not push.support:
        return arrow
    along = spoke.along
    a, b = across(spoke.far, along, 7)
    strokes = []
    for share in (0.15, 0.5, 0.85):
        start = a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share
        strokes.append((start, step(step(start, along, 4), (-along[1], along[0]), 3)))
    ground = [draw_line("seat", a, b), *draw_lines("hatch", strokes)]
    return element("g", [arrow, *ground], {"class": "reaction"})
