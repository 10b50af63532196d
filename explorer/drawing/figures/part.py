"""A part cut free: its members, the members cut, the loads on it, and the point or direction that decides."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import atan2, degrees, hypot

from explorer.drawing.figures.arms import Push, Spoke, draw_push, lay_push, spread, unit
from explorer.drawing.figures.miniature import View, fit
from explorer.drawing.figures.placing import Ground, Words
from explorer.drawing.figures.strokes import (
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
from explorer.markup import Markup, element

Line = tuple[Point, Point]
TALL = 0.72
"""Height of the picture as a part of its width."""

ARM, PUSH = 0.16, 0.1
"""Lengths of cut members and of loads' arrows as parts of the width."""

LEAST_PUSH, RING, POINTER = 22.0, 3.6, 16.0
"""Least length of a load's arrow, radius of a joint, length of the arrow to a far centre [px]."""

EDGE = 4.0
LABEL = RISE + FALL + 3
"""Room that a label takes beyond an end [px]."""

GROUND = 7.0
"""Room that a piece of ground takes beyond the foot of a reaction [px]."""

RINGED = 30
"""Rings at up to so many joints; more would hide the members."""

ALONG = 8.0
"""Within this angle two lines from one joint lie along one another [degrees]."""


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


@dataclass(frozen=True)
class _Laid:
    """Everything in its place [px]; `centre`: where it lies, seen or not; `pointer`: the way to it."""

    size: Point
    joints: list[Point]
    lines: list[Line]
    arms: list[tuple[CutArm, Line]]
    pushes: list[tuple[PartPush, Spoke, bool]]
    centre: Point | None
    pointer: Line | None


def draw_part(picture: PartPicture, width: float = WIDTH) -> Markup:
    """Draw the part; a label that finds no room is left out, for the words beside the picture name it."""
    laid = _lay_out(picture, (width, TALL * width))
    deciding = _deciding(picture, laid)
    words = _letter(picture, laid, _ground(laid, deciding))
    strokes = [
        *draw_lines("thin", laid.lines),
        *draw_lines("axis", deciding),
        *[_draw_arm(arm, line) for arm, line in laid.arms],
        *[draw_push(_push(push), spoke, inwards) for push, spoke, inwards in laid.pushes],
        *_draw_centre(laid),
        *_rings(laid.joints),
    ]
    return draw_sheet("part", picture.label, [*strokes, *map(draw_word, words)], laid.size[1], width)


def _lay_out(picture: PartPicture, size: Point) -> _Laid:
    """Make the part as large as its arms and arrows leave room; the centre is inside where it is near."""
    near = picture.centre is not None and _is_near(picture.points, picture.centre)
    inside = (*picture.points, picture.centre) if near and picture.centre else picture.points
    margins = [LABEL + EDGE] * 4 if near or not picture.centre else [LABEL + EDGE + POINTER] * 4
    for _ in range(4):
        box = Box(margins[0], margins[1], size[0] - margins[2], size[1] - margins[3])
        laid = _place(picture, fit(inside, box), size)
        # At least a quarter of the sheet is left to the part itself.
        margins = [
            min(margin + lack, 0.375 * whole)
            for margin, lack, whole in zip(margins, _lacks(laid), (*size, *size), strict=True)
        ]
    return laid


def _is_near(points: tuple[Point, ...], centre: Point) -> bool:
    """Whether the centre lies no farther from the part than the part is large."""
    sides = [(min(x), max(x)) for x in zip(*points, strict=True)]
    size = max(high - low for low, high in sides)
    return all(low - size <= c <= high + size for (low, high), c in zip(sides, centre, strict=True))


def _place(picture: PartPicture, view: View, size: Point) -> _Laid:
    joints = [view.place(point) for point in picture.points]
    lines = [(joints[a], joints[b]) for a, b in picture.members]
    taken = _directions(picture, joints)
    arms = [
        (arm, _arm(joints[arm.joint], angle, ARM * size[0]))
        for arm, angle in zip(picture.arms, _spread(picture.arms), strict=True)
    ]
    reach = max(LEAST_PUSH, PUSH * size[0]) / 0.8
    pushes = []
    for push in picture.pushes:
        spoke, inwards = lay_push(_push(push), taken[push.joint], joints[push.joint], (reach, reach))
        taken[push.joint].append(push.angle + 180 if inwards else push.angle)
        pushes.append((push, spoke, inwards))
    centre = view.place(picture.centre) if picture.centre else None
    pointer = None if centre is None or _inside(centre, size) else _pointer(joints, centre, size)
    return _Laid(size, joints, lines, arms, pushes, centre, pointer)


def _arm(joint: Point, angle: float, length: float) -> Line:
    along = unit(angle)
    return step(joint, along, RING + 2), step(joint, along, length)


def _directions(picture: PartPicture, joints: list[Point]) -> list[list[float]]:
    """At each joint the directions [degrees] in which members lead away."""
    taken: list[list[float]] = [[] for _ in joints]
    for pair in picture.members:
        for a, b in (pair, pair[::-1]):
            taken[a].append(degrees(atan2(joints[a][1] - joints[b][1], joints[b][0] - joints[a][0])))
    for arm in picture.arms:
        taken[arm.joint].append(arm.angle)
    return taken


def _spread(arms: tuple[CutArm, ...]) -> list[float]:
    """Directions of cut members, those at one joint moved apart where one hides another."""
    angles = [arm.angle for arm in arms]
    for joint in {arm.joint for arm in arms}:
        here = [index for index, arm in enumerate(arms) if arm.joint == joint]
        moved = spread([angles[index] for index in here], [arms[index].asked for index in here])
        for index, angle in zip(here, moved, strict=True):
            angles[index] = angle
    return angles


def _push(push: PartPush) -> Push:
    return Push(push.angle, push.text, push.support)


def _shaft(push: PartPush, spoke: Spoke) -> Line:
    """The line of an arrow, with the ground under a support's."""
    return spoke.near, step(spoke.far, spoke.along, GROUND if push.support else 0.0)


def _lacks(laid: _Laid) -> list[float]:
    """How far arms, arrows and the room of their labels reach beyond the edge: left, top, right, bottom."""
    ends = [line[1] for _, line in laid.arms] + [_shaft(push, spoke)[1] for push, spoke, _ in laid.pushes]
    boxes = [Box(x - LABEL, y - LABEL, x + LABEL, y + LABEL) for x, y in ends]
    right, bottom = laid.size[0] - EDGE, laid.size[1] - EDGE
    over = [(EDGE - box.left, EDGE - box.top, box.right - right, box.bottom - bottom) for box in boxes]
    return [max(0.0, *sides) for sides in zip(*over, strict=True)] or [0.0] * 4


def _pointer(joints: list[Point], centre: Point, size: Point) -> Line:
    """An arrow at the edge, from the middle of the part towards a centre that lies outside."""
    x, y = zip(*joints, strict=True)
    middle = (min(x) + max(x)) / 2, (min(y) + max(y)) / 2
    along = toward(middle, centre)
    tip = step(middle, along, _to_edge(middle, along, size))
    return step(tip, along, -POINTER), tip


def _to_edge(at: Point, along: Point, size: Point) -> float:
    """How far it is from a point on the sheet to its edge."""
    ways = [
        ((whole - EDGE if part > 0 else EDGE) - here) / part
        for here, part, whole in zip(at, along, size, strict=True)
        if abs(part) > 1e-9
    ]
    return max(0.0, min(ways))


def _inside(point: Point, size: Point) -> bool:
    return EDGE <= point[0] <= size[0] - EDGE and EDGE <= point[1] <= size[1] - EDGE


def _deciding(picture: PartPicture, laid: _Laid) -> list[Line]:
    """The direction of the sum at the member asked, or the lines of the other members to the centre."""
    if laid.centre is not None:
        others = [(arm, line) for arm, line in laid.arms if not arm.asked and not arm.known_zero]
        found = [_to_centre(laid.joints[arm.joint], line, laid) for arm, line in others]
        return [line for line in found if line]
    asked = next((arm for arm in picture.arms if arm.asked), None)
    if picture.across is None or asked is None:
        return []
    return _sum_lines(asked.joint, picture, laid)


def _to_centre(joint: Point, line: Line, laid: _Laid) -> Line | None:
    """From a cut member, or from its joint where the centre lies behind it, to the centre or the edge."""
    assert laid.centre is not None
    along, far = toward(joint, laid.centre), hypot(laid.centre[0] - joint[0], laid.centre[1] - joint[1])
    if far <= 2 * RING:
        return None
    ahead = along[0] * (line[1][0] - joint[0]) + along[1] * (line[1][1] - joint[1])
    start = max(RING, ahead + 2)
    end = min(far, _to_edge(joint, along, laid.size))
    return (step(joint, along, start), step(joint, along, end)) if end > start else None


def _sum_lines(joint: int, picture: PartPicture, laid: _Laid) -> list[Line]:
    """Both ways from the joint, beyond a cut member that leads there, and not along a member inside."""
    assert picture.across is not None
    at = laid.joints[joint]
    ends = [laid.joints[b if a == joint else a] for a, b in picture.members if joint in (a, b)]
    pieces = []
    for angle in (picture.across, picture.across + 180):
        along = unit(angle)
        beside = [line[1] for arm, line in laid.arms if arm.joint == joint and _lies(at, line[1], angle)]
        start = hypot(beside[0][0] - at[0], beside[0][1] - at[1]) + 3 if beside else RING
        end = min(0.3 * laid.size[0], _to_edge(at, along, laid.size))
        if end > start:
            pieces.append(
                (any(_lies(at, end, angle) for end in ends), (step(at, along, start), step(at, along, end)))
            )
    free = [line for hidden, line in pieces if not hidden]
    return free or [line for _, line in pieces]


def _lies(at: Point, end: Point, angle: float) -> bool:
    found = degrees(atan2(at[1] - end[1], end[0] - at[0]))
    return abs((found - angle + 180) % 360 - 180) < ALONG


def _ground(laid: _Laid, deciding: list[Line]) -> Ground:
    ground = Ground(Box(EDGE, EDGE, laid.size[0] - EDGE, laid.size[1] - EDGE))
    ground.lines += [(a, b, 1.5) for a, b in laid.lines]
    ground.lines += [(near, far, 2.5) for _, (near, far) in laid.arms]
    ground.lines += [(spoke.near, spoke.far, 3.5) for _, spoke, _ in laid.pushes]
    ground.lines += [(a, b, 1.0) for a, b in deciding]
    ground.lines += [(*laid.pointer, 3.5)] if laid.pointer else []
    ground.boxes += [Box(*spoke.far, *spoke.far).wider(7.5) for push, spoke, _ in laid.pushes if push.support]
    ground.boxes += [Box(*at, *at).wider(RING) for at in laid.joints]
    if laid.centre and not laid.pointer:
        ground.boxes.append(Box(*laid.centre, *laid.centre).wider(RING + 3))
    return ground


def _letter(picture: PartPicture, laid: _Laid, ground: Ground) -> list[Word]:
    """The member asked first, then the centre, the loads, the other members; joints last."""
    words: list[Word] = []
    arms = sorted(laid.arms, key=lambda one: not one[0].asked)
    words += [word for one in arms if one[0].asked for word in _name_arm(*one, ground)]
    if laid.centre and picture.centre_name:
        at = laid.pointer[0] if laid.pointer else laid.centre
        words += ground.take(_near_centre(picture.centre_name, at, ground.edge))
    for push, spoke, _ in laid.pushes:
        places = _beyond(push.text, "b", _shaft(push, spoke), ground.edge)
        words += ground.take(places) if push.text else ()
    words += [word for one in arms if not one[0].asked for word in _name_arm(*one, ground)]
    for name, joint in zip(picture.names, laid.joints, strict=True):
        words += ground.take(_around(name, "b", joint, ground.edge)) if name else ()
    return words


def _name_arm(arm: CutArm, line: Line, ground: Ground) -> Words:
    text, look = (f"{arm.name} 0" if arm.known_zero else arm.name), "b" if arm.asked else "s"
    return ground.take([*_beyond(text, look, line, ground.edge), *_beside(text, look, line, ground.edge)])


def _beside(text: str, look: str, line: Line, edge: Box) -> Iterator[Words]:
    along, length = toward(*line), hypot(line[1][0] - line[0][0], line[1][1] - line[0][1])
    half = (abs(along[1]) * width_of(text, look) + abs(along[0]) * (RISE + FALL)) / 2 + 4
    for share in (0.7, 0.5, 0.9):
        for side in (half, -half):
            yield _at(
                text, look, step(step(line[0], along, share * length), (-along[1], along[0]), side), edge
            )


def _beyond(text: str, look: str, line: Line, edge: Box) -> Iterator[Words]:
    """Places beyond the far end of a spoke, then farther in rows: loads may stand close together."""
    along = toward(*line)
    room = (abs(along[0]) * width_of(text, look) + abs(along[1]) * (RISE + FALL)) / 2 + 4
    for more in (0.0, 12.0, 24.0):
        for aside in (0, 8, -8, 16, -16) if not more else (0,):
            yield _at(text, look, step(step(line[1], along, room + more), (-along[1], along[0]), aside), edge)


def _around(text: str, look: str, at: Point, edge: Box) -> Iterator[Words]:
    """Places close around a joint: a name farther away would look like another's."""
    half = width_of(text, look) / 2 + RING + 3
    for right, down in ((0, -12), (0, 13), (-1, -10), (1, -10), (-1, 10), (1, 10), (-1, 0), (1, 0)):
        yield _at(text, look, (at[0] + right * half, at[1] + down), edge)


def _near_centre(text: str, at: Point, edge: Box) -> Iterator[Words]:
    """Places around the centre, then above and below it: there is one of it, so far is near enough."""
    yield from _around(text, "s", at, edge)
    for far in range(18, int(edge.bottom), 6):
        for down in (-far, far):
            if edge.top <= at[1] + down <= edge.bottom:
                yield _at(text, "s", (at[0], at[1] + down), edge)


def _at(text: str, look: str, middle: Point, edge: Box) -> Words:
    """Return a word around a middle, moved inside the edge."""
    half = width_of(text, look) / 2
    x = min(max(middle[0], edge.left + half), edge.right - half)
    y = min(max(middle[1] + 3, edge.top + RISE), edge.bottom - FALL)
    return (Word(text, x, y, look, "middle"),)


def _draw_arm(arm: CutArm, line: Line) -> Markup:
    look = "z" if arm.known_zero else "plain"
    cls = f"arm {look} asked" if arm.asked else f"arm {look}"
    return element("g", [draw_line("line", *line)], {"class": cls})


def _draw_centre(laid: _Laid) -> list[Markup]:
    if laid.pointer:
        return [element("g", [draw_arrow(*laid.pointer)], {"class": "pointer"})]
    return [draw_ring("frame", laid.centre, RING + 3)] if laid.centre else []


def _rings(joints: list[Point]) -> list[Markup]:
    return [draw_ring("joint", at, RING) for at in joints] if len(joints) <= RINGED else []
