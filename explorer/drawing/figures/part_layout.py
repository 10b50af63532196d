"""A part cut free, laid out: where its joints, arms, arrows and deciding lines lie [px]."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, degrees, hypot
from statistics import median

from explorer.drawing.figures.arms import Push, Spoke, lay_push, spread, unit
from explorer.drawing.figures.miniature import View, fit
from explorer.drawing.figures.strokes import step, toward
from explorer.drawing.figures.words import FALL, RISE, Box, Point, width_of

Line = tuple[Point, Point]
ARM, PUSH = 0.16, 0.1
"""Lengths of cut members and of loads' arrows as parts of the width."""

LEAST_ARM, MEMBERS_LONG = 28.0, 0.8
"""Where members are short a cut one is no longer than this part of them, and no shorter than so much [px]:
what lies beyond it is to be seen.
"""

LEAST_PUSH, RING, POINTER = 22.0, 3.6, 16.0
"""Least length of a load's arrow, radius of a joint, length of the arrow to a far centre [px]."""

CENTRE = RING + 3
"""Radius of the ring around the centre, so that a joint there is seen inside it [px]."""

OF_MEMBER, LEAST_RING = 0.22, 1.2
"""A ring is no larger than this part of the shortest member, and none is drawn below this radius [px]."""

EDGE = 4.0
LABEL = RISE + FALL + 3
"""Room that a label takes beyond an end [px]."""

GROUND = 8.0
"""Room that a piece of ground takes beyond the foot of a reaction [px]."""

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
class Laid:
    """Everything in its place [px].

    `centre`: where it lies, seen or not; `pointer`: an arrow towards one that is not seen; `ring`: radius
    of the joints, 0 where they lie too close for rings.
    """

    size: Point
    joints: list[Point]
    lines: list[Line]
    arms: list[tuple[CutArm, Line]]
    pushes: list[tuple[PartPush, Spoke, bool]]
    centre: Point | None
    pointer: Line | None
    ring: float


def lay_out(picture: PartPicture, size: Point) -> Laid:
    """Make the part as large as its arms and arrows leave room; the centre is inside where it is near."""
    near = picture.centre is not None and _is_near(picture.points, picture.centre)
    inside = (*picture.points, picture.centre) if near and picture.centre else picture.points
    margins = [LABEL + EDGE] * 4 if near or not picture.centre else [LABEL + EDGE + POINTER] * 4
    for _ in range(4):
        box = Box(margins[0], margins[1], size[0] - margins[2], size[1] - margins[3])
        laid = _place(picture, fit(inside, box), size)
        # At least a fifth of the sheet is left to the part itself.
        margins = [
            min(margin + lack, 0.4 * whole)
            for margin, lack, whole in zip(margins, _lacks(laid), (*size, *size), strict=True)
        ]
    return laid


def _is_near(points: tuple[Point, ...], centre: Point) -> bool:
    """Whether the centre lies no farther from the part than the part is large."""
    sides = [(min(x), max(x)) for x in zip(*points, strict=True)]
    size = max(high - low for low, high in sides)
    return all(low - size <= c <= high + size for (low, high), c in zip(sides, centre, strict=True))


def _place(picture: PartPicture, view: View, size: Point) -> Laid:
    joints = [view.place(point) for point in picture.points]
    lines = [(joints[a], joints[b]) for a, b in picture.members]
    taken, length = _directions(picture, joints), _arm_length(lines, size[0])
    arms = [
        (arm, _arm(joints[arm.joint], angle, length))
        for arm, angle in zip(picture.arms, _spread(picture.arms), strict=True)
    ]
    reach = max(LEAST_PUSH, PUSH * size[0]) / 0.8
    pushes = []
    for push in picture.pushes:
        spoke, inwards = lay_push(as_push(push), taken[push.joint], joints[push.joint], (reach, reach))
        taken[push.joint].append(push.angle + 180 if inwards else push.angle)
        pushes.append((push, spoke, inwards))
    centre = view.place(picture.centre) if picture.centre else None
    seen = centre is None or _inside(centre, size, EDGE + CENTRE)
    pointer = None if centre is None or seen else _pointer(joints, centre, size)
    return Laid(size, joints, lines, arms, pushes, centre, pointer, _ring(lines))


def _ring(lines: list[Line]) -> float:
    """Rings are smaller where members are short: they must not hide them."""
    shortest = min((hypot(b[0] - a[0], b[1] - a[1]) for a, b in lines), default=RING / OF_MEMBER)
    radius = min(RING, OF_MEMBER * shortest)
    return radius if radius >= LEAST_RING else 0.0


def _arm_length(lines: list[Line], width: float) -> float:
    if not lines:
        return ARM * width
    usual = median(hypot(b[0] - a[0], b[1] - a[1]) for a, b in lines)
    return min(ARM * width, max(LEAST_ARM, MEMBERS_LONG * usual))


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


def as_push(push: PartPush) -> Push:
    """Return the load or reaction as it is drawn at a joint alone."""
    return Push(push.angle, push.text, push.support)


def shaft(push: PartPush, spoke: Spoke) -> Line:
    """The line of an arrow, with the ground under a support's."""
    return spoke.near, step(spoke.far, spoke.along, GROUND if push.support else 0.0)


def _lacks(laid: Laid) -> list[float]:
    """How far arms, arrows and the room of their labels reach beyond the edge: left, top, right, bottom."""
    ends = [_named_end(arm, line, laid.size[0]) for arm, line in laid.arms] + [
        shaft(push, spoke)[1] for push, spoke, _ in laid.pushes
    ]
    boxes = [Box(x - LABEL, y - LABEL, x + LABEL, y + LABEL) for x, y in ends]
    right, bottom = laid.size[0] - EDGE, laid.size[1] - EDGE
    over = [(EDGE - box.left, EDGE - box.top, box.right - right, box.bottom - bottom) for box in boxes]
    return [max(0.0, *sides) for sides in zip(*over, strict=True)] or [0.0] * 4


def _named_end(arm: CutArm, line: Line, width: float) -> Point:
    """The end of a cut member; of a short one farther, by what its name needs that stands beyond it."""
    (x1, y1), (x2, y2) = line
    if hypot(x2 - x1, y2 - y1) > LEAST_ARM or ARM * width < LEAST_ARM:
        return line[1]
    along = toward(*line)
    room = min(ARM * width, max(0.0, width_of(arm.name, "b") + 6 - LABEL))
    return x2 + along[0] * room, y2


def _pointer(joints: list[Point], centre: Point, size: Point) -> Line:
    """An arrow at the edge, from the middle of the part towards a centre that lies outside."""
    x, y = zip(*joints, strict=True)
    middle = (min(x) + max(x)) / 2, (min(y) + max(y)) / 2
    along = toward(middle, centre)
    tip = step(middle, along, _to_edge(middle, along, size))
    return step(tip, along, -POINTER), tip


def other_pointers(laid: Laid) -> list[Line]:
    """Places for the arrow to a far centre, the one from the middle first, then along the edge."""
    if laid.pointer is None:
        return []
    tail, tip = laid.pointer
    level = abs(tip[0] - tail[0]) > abs(tip[1] - tail[1])
    side, room = (0.0, 1.0) if level else (1.0, 0.0), laid.size[1] if level else laid.size[0]
    lines = []
    for far in range(0, int(room), 8):
        for aside in (far, -far):
            line = step(tail, side, aside), step(tip, side, aside)
            lines += [line] if all(_inside(end, laid.size, EDGE) for end in line) else []
    return lines


def _to_edge(at: Point, along: Point, size: Point) -> float:
    """How far it is from a point on the sheet to its edge."""
    ways = [
        ((whole - EDGE if part > 0 else EDGE) - here) / part
        for here, part, whole in zip(at, along, size, strict=True)
        if abs(part) > 1e-9
    ]
    return max(0.0, min(ways))


def _inside(point: Point, size: Point, room: float) -> bool:
    return all(room - 1e-6 <= here <= whole - room + 1e-6 for here, whole in zip(point, size, strict=True))


def lay_deciding(picture: PartPicture, laid: Laid) -> list[Line]:
    """The direction of the sum at the member asked, or the lines of the other members to the centre."""
    if laid.centre is not None:
        others = [(arm, line) for arm, line in laid.arms if not arm.asked and not arm.known_zero]
        found = [_to_centre(laid.joints[arm.joint], line, laid) for arm, line in others]
        return [line for line in found if line]
    asked = next((arm for arm in picture.arms if arm.asked), None)
    if picture.across is None or asked is None:
        return []
    return _sum_lines(asked.joint, picture, laid)


def _to_centre(joint: Point, line: Line, laid: Laid) -> Line | None:
    """From a cut member, or from its joint where the centre lies behind it, to the centre or the edge."""
    assert laid.centre is not None
    along, far = toward(joint, laid.centre), hypot(laid.centre[0] - joint[0], laid.centre[1] - joint[1])
    if far <= 2 * RING:
        return None
    ahead = along[0] * (line[1][0] - joint[0]) + along[1] * (line[1][1] - joint[1])
    start = max(RING, ahead + 2)
    end = min(far, _to_edge(joint, along, laid.size))
    return (step(joint, along, start), step(joint, along, end)) if end > start else None


def _sum_lines(joint: int, picture: PartPicture, laid: Laid) -> list[Line]:
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
