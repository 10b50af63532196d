"""What wakes a member: at each joint the direction of the load that puts most tension into it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from explorer.drawing.figures.miniature import fit
from explorer.drawing.figures.placing import Ground, Words
from explorer.drawing.figures.strokes import (
    HEIGHT,
    WIDTH,
    draw_arrow,
    draw_line,
    draw_lines,
    draw_ring,
    draw_sheet,
    step,
    toward,
)
from explorer.drawing.figures.words import FALL, RISE, Box, Point, Word, draw_word, width_of
from explorer.markup import Markup

LONGEST, SHORTEST = 20.0, 4.0
"""Length of the largest arrow in a picture of the usual width, and of the smallest that is drawn [px]."""

GROWTH = 1.75
"""A wide picture has longer arrows, up to so many times as long."""

DOT = 1.8
"""Radius of the ring at a joint whose arrow would be shorter [px]."""


@dataclass(frozen=True)
class WakingPicture:
    """A truss seen flat: joints as (right, up), members, the member asked (index).

    pulls: per joint the load's direction, as long as the force it puts into the member per unit load; (0,
    0) where no load reaches it. name, text: of the joint at which it is longest, and how long that is.
    """

    label: str
    points: tuple[Point, ...]
    members: tuple[tuple[int, int], ...]
    asked: int
    pulls: tuple[Point, ...]
    name: str = ""
    text: str = ""


def draw_waking(picture: WakingPicture, width: float = WIDTH) -> Markup:
    """Draw an arrow at each joint that a load wakes the member from; lengths by force per unit load.

    Where an arrow would be too short to be seen, a small ring tells that a load wakes the member too.
    """
    height = HEIGHT * width / WIDTH
    longest = LONGEST * min(GROWTH, width / WIDTH)
    edge = longest + 4
    # Words stand beyond the tip of an arrow that may point down from the lowest joint.
    end = edge + (RISE + FALL + 2 if picture.name else 0.0)
    view = fit(picture.points, Box(edge, end, width - edge, height - end))
    joints = [view.place(point) for point in picture.points]
    lines = [(joints[a], joints[b]) for a, b in picture.members]
    arrows = _arrows(picture, joints, longest)
    ground = Ground(Box(1, 1, width - 1, height - 1))
    ground.lines += [(a, b, 1.5) for a, b in [*arrows.values(), *lines]]
    words = _letter(picture, arrows, ground)
    strokes = [
        *draw_lines("thin", [line for index, line in enumerate(lines) if index != picture.asked]),
        draw_line("mark plain", *lines[picture.asked]),
        *[draw_arrow(tail, tip) for tail, tip in arrows.values()],
        *[draw_ring("joint", joints[joint], DOT) for joint in _weak(picture, arrows)],
    ]
    return draw_sheet("waking", picture.label, [*strokes, *map(draw_word, words)], height, width)


def _arrows(picture: WakingPicture, joints: list[Point], longest: float) -> dict[int, tuple[Point, Point]]:
    """Tail and tip by joint: from the joint the way the load pulls."""
    largest = max((hypot(*pull) for pull in picture.pulls), default=0.0)
    arrows = {}
    for joint, (right, up) in enumerate(picture.pulls):
        size = hypot(right, up)
        length = longest * size / largest if largest else 0.0
        if length >= SHORTEST:
            x, y = joints[joint]
            arrows[joint] = ((x, y), (x + length * right / size, y - length * up / size))
    return arrows


def _weak(picture: WakingPicture, arrows: dict[int, tuple[Point, Point]]) -> list[int]:
    """Joints at which a load wakes the member too, but so little that an arrow could not be seen."""
    return [joint for joint, pull in enumerate(picture.pulls) if any(pull) and joint not in arrows]


def _letter(picture: WakingPicture, arrows: dict[int, tuple[Point, Point]], ground: Ground) -> Words:
    """Name and value at the longest arrow; none where there is no arrow or no room."""
    if not picture.name or not arrows:
        return ()
    most = max(arrows, key=lambda joint: round(hypot(*picture.pulls[joint]), 9))
    return ground.take(_places(f"{picture.name} {picture.text}".strip(), *arrows[most]))


def _places(text: str, tail: Point, tip: Point) -> Iterator[Words]:
    """Beyond the arrow's tip, then around its joint, then farther and farther, where the truss ends."""
    along = toward(tail, tip)
    sides = (width_of(text) / 2, abs(along[0])), ((RISE + FALL) / 2, abs(along[1]))
    half = min(side / part for side, part in sides if part > 1e-9)
    for aside in (0, 8, -8, 16, -16):
        x, y = step(step(tip, along, half + 3), (-along[1], along[0]), aside)
        yield (Word(text, x, y + 3, "s", "middle"),)
    for far in range(10, 60, 6):
        for down in (-far, far + 6):
            for right, anchor in ((0, "middle"), (8, "start"), (-8, "end")):
                yield (Word(text, tail[0] + right, tail[1] + down, "s", anchor),)
