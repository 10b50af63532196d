"""A part cut free: its members, the members cut, the loads on it, and the point or direction that decides."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from explorer.drawing.figures.arms import unit
from explorer.drawing.figures.miniature import View, fit
from explorer.drawing.figures.placing import Ground, Words
from explorer.drawing.figures.strokes import (
    WIDTH,
    across,
    draw_arrow,
    draw_line,
    draw_lines,
    draw_ring,
    draw_sheet,
    step,
)
from explorer.drawing.figures.words import FALL, RISE, Box, Point, Word, draw_word, width_of
from explorer.markup import Markup, element

TALL = 0.72
"""Height of the picture as a part of its width."""

ARM, PUSH, RING = 0.16, 0.1, 3.6
"""Lengths of cut members and of arrows as parts of the width; radius of a joint [px]."""

EDGE = 4.0
RINGED = 30
"""Rings at up to so many joints; more would hide the members."""


@dataclass(frozen=True)
class CutArm:
    """A member cut: its joint (index) in the part, and where it leads away, degrees, upwards positive."""

    joint: int
    angle: float
    name: str
    asked: bool = False
    known_zero: bool = False


@dataclass(frozen=True)
class PartPush:
    """A load or reaction on a joint (index) of the part: the direction in which it acts, degrees."""

    joint: int
    angle: float
    text: str = ""
    support: bool = False


@dataclass(frozen=True)
class PartPicture:
    """A part seen flat: joints as (right, up), their names where lettered, members between them (indices).

    centre: the point about which moments are taken, in the joints' own measure; `across`: the direction of
    a sum, degrees. At most one of them.
    """

    label: str
    points: tuple[Point, ...]
    names: tuple[str, ...]
    members: tuple[tuple[int, int], ...]
    arms: tuple[CutArm, ...]
    pushes: tuple[PartPush, ...] = ()
    centre: Point | None = None
    centre_name: str = ""
    across: float | None = None


def draw_part(picture: PartPicture, width: float = WIDTH) -> Markup:
    """Draw the part; a label that finds no room is left out, for the words beside the picture name it."""
    height = TALL * width
    view = _view(picture, width, height)
    joints = [view.place(point) for point in picture.points]
    arms = [(arm, *_arm(joints[arm.joint], arm.angle, ARM * width)) for arm in picture.arms]
    pushes = [(push, *_push(joints[push.joint], push.angle, PUSH * width)) for push in picture.pushes]
    lines = [(joints[a], joints[b]) for a, b in picture.members]
    deciding = _deciding(picture, view, joints, (width, height))
    ground = _ground(lines, joints, (width, height))
    ground.lines += [(near, far, 2.5) for _, near, far in (*arms, *pushes)]
    ground.lines += [(a, b, 1.0) for a, b in deciding]
    words = _letter(picture, ground, joints, (arms, pushes))
    words += _name_centre(picture, ground, view, (width, height))
    strokes = [
        *draw_lines("thin", lines),
        *draw_lines("axis", deciding),
        *[_draw_arm(arm, near, far) for arm, near, far in arms],
        *[draw_arrow(tail, tip) for _, tail, tip in pushes],
        *_rings(joints),
    ]
    return draw_sheet("part", picture.label, [*strokes, *map(draw_word, words)], height, width)


def _view(picture: PartPicture, width: float, height: float) -> View:
    """The part with its arms inside the picture; the centre too, where it is near."""
    room = ARM * width + 14
    inside = picture.points
    if picture.centre is not None and _is_near(picture.points, picture.centre):
        inside = (*inside, picture.centre)
    above = PUSH * width + RING + 4 + min(26.0, 0.07 * width + 8)
    return fit(inside, Box(room, above, width - room, height - above))


def _is_near(points: tuple[Point, ...], centre: Point) -> bool:
    size = max(max(x) - min(x) for x in zip(*points, strict=True)) or 1.0
    return all(
        min(x) - size <= c <= max(x) + size for x, c in zip(zip(*points, strict=True), centre, strict=True)
    )


def _arm(joint: Point, angle: float, length: float) -> tuple[Point, Point]:
    along = unit(angle)
    return step(joint, along, RING + 2), step(joint, along, length)


def _push(joint: Point, angle: float, length: float) -> tuple[Point, Point]:
    """Tail and tip of an arrow that ends at the joint."""
    along = unit(angle)
    return step(joint, along, -(length + RING + 3)), step(joint, along, -(RING + 3))


def _deciding(
    picture: PartPicture, view: View, joints: list[Point], size: tuple[float, float]
) -> list[tuple[Point, Point]]:
    """The lines of the cut members to the centre, or the direction of the sum through the member asked."""
    asked = next((arm for arm in picture.arms if arm.asked), None)
    if picture.across is not None and asked is not None:
        along, at = unit(picture.across), joints[asked.joint]
        return [(step(at, along, -0.3 * size[0]), step(at, along, 0.3 * size[0]))]
    if picture.centre is None:
        return []
    centre = view.place(picture.centre)
    if not _inside(centre, size):
        return []
    lines = []
    for arm in picture.arms:
        near = joints[arm.joint]
        if (
            not arm.asked
            and not arm.known_zero
            and hypot(near[0] - centre[0], near[1] - centre[1]) > 2 * RING
        ):
            lines.append((near, centre))
    return lines


def _inside(point: Point, size: tuple[float, float]) -> bool:
    return 0 <= point[0] <= size[0] and 0 <= point[1] <= size[1]


def _ground(lines: list[tuple[Point, Point]], joints: list[Point], size: tuple[float, float]) -> Ground:
    ground = Ground(Box(EDGE, EDGE, size[0] - EDGE, size[1] - EDGE))
    ground.lines += [(a, b, 1.5) for a, b in lines]
    ground.boxes += [Box(x - RING, y - RING, x + RING, y + RING) for x, y in joints]
    return ground


def _letter(
    picture: PartPicture,
    ground: Ground,
    joints: list[Point],
    spokes: tuple[list[tuple[CutArm, Point, Point]], list[tuple[PartPush, Point, Point]]],
) -> list[Word]:
    """Names of cut members, the one asked first; then loads; then joints."""
    words: list[Word] = []
    for arm, near, far in sorted(spokes[0], key=lambda one: not one[0].asked):
        text = f"{arm.name} 0" if arm.known_zero else arm.name
        words += ground.take(_beside(text, "b" if arm.asked else "s", near, far))
    for push, tail, tip in spokes[1]:
        words += ground.take(_beyond(push.text, tip, tail)) if push.text else ()
    for name, at in zip(picture.names, joints, strict=True):
        words += ground.take(_around(name, at)) if name else ()
    return words


def _beside(text: str, look: str, near: Point, far: Point) -> Iterator[Words]:
    along = ((far[0] - near[0]), (far[1] - near[1]))
    length = hypot(*along) or 1.0
    along = along[0] / length, along[1] / length
    yield from _beyond(text, near, far, look)
    for share in (0.7, 0.5, 0.9):
        middle = step(near, along, share * length)
        half = (abs(along[1]) * width_of(text, look) + abs(along[0]) * (RISE + FALL)) / 2 + 4
        for x, y in across(middle, along, half):
            yield (Word(text, x, y + 4, look, "middle"),)


def _beyond(text: str, near: Point, far: Point, look: str = "b") -> Iterator[Words]:
    """Places beyond the far end of a spoke."""
    along = far[0] - near[0], far[1] - near[1]
    length = hypot(*along) or 1.0
    along = along[0] / length, along[1] / length
    room = (abs(along[0]) * width_of(text, look) + abs(along[1]) * (RISE + FALL)) / 2 + 4
    for aside in (0, 8, -8, 16, -16):
        x, y = step(step(far, along, room), (-along[1], along[0]), aside)
        yield (Word(text, x, y + 4, look, "middle"),)


def _around(name: str, at: Point) -> Iterator[Words]:
    half = width_of(name, "b") / 2 + RING + 3
    for right, down in (
        (0, -11),
        (0, 18),
        (-half, -7),
        (half, -7),
        (-half, 13),
        (half, 13),
        (-half, 4),
        (half, 4),
    ):
        yield (Word(name, at[0] + right, at[1] + down, "b", "middle"),)


def _name_centre(picture: PartPicture, ground: Ground, view: View, size: tuple[float, float]) -> list[Word]:
    """The centre's name beside it; where it lies outside, at the edge nearest to it."""
    if picture.centre is None or not picture.centre_name:
        return []
    x, y = view.place(picture.centre)
    text = picture.centre_name
    half = width_of(text) / 2 + EDGE
    at = min(max(x, half), size[0] - half), min(max(y, 14.0), size[1] - 10)
    places = [(0, -9), (0, 18), (0, -24), (0, 30), (-30, -14), (30, -14), (-30, 22), (30, 22)]
    moved = ((min(max(at[0] + dx, half), size[0] - half), at[1] + dy) for dx, dy in places)
    return list(ground.take((Word(text, px, py, "s", "middle"),) for px, py in moved))


def _draw_arm(arm: CutArm, near: Point, far: Point) -> Markup:
    look = "z" if arm.known_zero else "plain"
    cls = f"arm {look} asked" if arm.asked else f"arm {look}"
    return element("g", [draw_line("line", near, far)], {"class": cls})


def _rings(joints: list[Point]) -> list[Markup]:
    return [draw_ring("joint", at, RING) for at in joints] if len(joints) <= RINGED else []
