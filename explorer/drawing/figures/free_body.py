"""Picture 3, why is it zero: the joint alone, what acts on it, and the sums that decide."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from explorer.drawing.figures.arms import (
    HEAD_HALF,
    RING,
    Arm,
    Push,
    Spoke,
    draw_arm,
    draw_push,
    lay_arm,
    lay_push,
    spread,
    unit,
)
from explorer.drawing.figures.placing import Ground, Words
from explorer.drawing.figures.strokes import HEIGHT, WIDTH, draw_line, draw_ring, draw_sheet, step
from explorer.drawing.figures.words import FALL, LINE, RISE, Box, Point, Word, cut, draw_word, width_of, wrap
from explorer.markup import Markup

EDGE = 2.0
ROOMS = ((4, 92.0, (58.0, 38.0)), (6, 132.0, (48.0, 46.0)), (999, 180.0, (36.0, 54.0)))
"""For up to so many things at the joint: the drawing's height, and how far arms reach across and up [px].

The more there is, the more room labels need outside of the arms.
"""

WIDE_HEIGHT, WIDE_REACH = 0.66, (0.36, 0.25)
"""Of a wide picture: its height, and how far arms reach across and up, as parts of its width."""

Label = tuple[tuple[str, str], ...]
"""Lines that belong together, each a text and its look."""


@dataclass(frozen=True)
class FreeBody:
    """A joint cut free.

    `axis`: the direction across which only the member in question acts, degrees as in `Arm`, or None.
    `joint`: its name; `note`: a few words beside it; `sums`: lines under the picture.
    """

    label: str
    arms: tuple[Arm, ...]
    pushes: tuple[Push, ...] = ()
    axis: float | None = None
    joint: str = ""
    note: str = ""
    sums: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Placed:
    """All spokes of a body in their places, and how high the drawing is [px]."""

    arms: list[tuple[Arm, Spoke]]
    pushes: list[tuple[Push, Spoke, bool]]
    axis: list[tuple[Point, Point]]
    middle: Point
    height: float


def draw_free_body(body: FreeBody, width: float = WIDTH) -> Markup:
    """Draw arms around a ring; a label that finds no room stands in a list beneath, never on another.

    `width` [px]: a larger picture has longer arms and the same lettering.
    """
    placed = _lay_out(body, width)
    strokes = [draw_line("axis", a, b) for a, b in placed.axis]
    strokes += [draw_arm(arm, spoke) for arm, spoke in placed.arms]
    strokes += [draw_push(push, spoke, inwards) for push, spoke, inwards in placed.pushes]
    strokes.append(draw_ring("joint", placed.middle, RING))
    words, left_over = _letter(body, placed)
    below, bottom = _write_below(left_over, body.sums, placed.height, width)
    content = [*strokes, *map(draw_word, [*words, *below])]
    return draw_sheet("free-body", body.label, content, max(HEIGHT, bottom), width)


def _lay_out(body: FreeBody, width: float) -> _Placed:
    count = len(body.arms) + len(body.pushes)
    height, axes = next((height, axes) for most, height, axes in ROOMS if count <= most)
    if width > WIDTH:
        height, axes = WIDE_HEIGHT * width, (WIDE_REACH[0] * width, WIDE_REACH[1] * width)
    middle = width / 2, height / 2
    angles = spread([arm.angle for arm in body.arms], [arm.asked for arm in body.arms])
    arms = [
        (arm, lay_arm(arm.look, angle, middle, axes)) for arm, angle in zip(body.arms, angles, strict=True)
    ]
    taken, pushes = list(angles), []
    for push in body.pushes:
        spoke, inwards = lay_push(push, taken, middle, axes)
        taken.append(push.angle + 180 if inwards else push.angle)
        pushes.append((push, spoke, inwards))
    axis = [] if body.axis is None else _lay_axis(body.axis, [spoke for _, spoke in arms], middle)
    return _Placed(arms, pushes, axis, middle, height)


def _lay_axis(angle: float, arms: list[Spoke], middle: Point) -> list[tuple[Point, Point]]:
    """The deciding axis from edge to edge; along an arm it goes on only beyond it."""
    pieces = []
    for along in (unit(angle), unit(angle + 180)):
        beside = [arm for arm in arms if arm.along[0] * along[0] + arm.along[1] * along[1] > 0.999]
        start = step(beside[0].far, along, 3) if beside else step(middle, along, RING)
        sides = [
            (room - EDGE) / abs(part)
            for room, part in ((middle[0], along[0]), (middle[1], along[1]))
            if abs(part) > 1e-9
        ]
        pieces.append((start, step(middle, along, min(sides))))
    return pieces


def _letter(body: FreeBody, placed: _Placed) -> tuple[list[Word], list[Label]]:
    """Place all labels, the member in question first; other orders are tried where room is short.

    Where no such order leaves room for the joint's name, that comes first: it has the fewest places.
    """
    labels, name = _labels(body, placed), ((body.joint, "b"),)
    best: tuple[list[Word], list[Label]] = ([], [label for label, _ in labels])
    turned = [[*labels[:1], *labels[1 + t :], *labels[1 : 1 + t]] for t in range(max(1, len(labels) - 1))]
    for order in [*turned, *(sorted(one, key=lambda pair: pair[0] != name) for one in turned)]:
        ground = _ground(placed)
        words: list[Word] = []
        left_over: list[Label] = []
        for label, spoke in order:
            found = ground.take(_places(label, spoke, placed.middle, ground.edge))
            words += found
            # In a list a name alone would not say what it names.
            left_over += [] if found else [(*label, ("the joint", "s"))] if label == name else [label]
        if _rank(left_over) < _rank(best[1]):
            best = words, left_over
        if not left_over:
            break
    return best


def _rank(left_over: list[Label]) -> tuple[bool, int]:
    """Orders what found no room: the joint's name weighs most, then how many labels there are."""
    return any(label[-1] == ("the joint", "s") for label in left_over), len(left_over)


def _labels(body: FreeBody, placed: _Placed) -> list[tuple[Label, Spoke | None]]:
    """What is to be lettered, with the spoke it belongs to; None: it belongs to the joint itself."""
    labels: list[tuple[Label, Spoke | None]] = []
    for arm, spoke in sorted(placed.arms, key=lambda one: not one[0].asked):
        force = (arm.force, arm.look if arm.look in ("t", "c") else "b" if arm.asked else "s")
        labels.append((((arm.name, "b" if arm.asked else "s"), force), spoke))
    labels += [(((push.text, "b"),), spoke) for push, spoke, _ in placed.pushes]
    labels += [(((body.note, "s"),), None), (((body.joint, "b"),), None)]
    written = [(tuple(line for line in label if line[0]), spoke) for label, spoke in labels]
    return [(label, spoke) for label, spoke in written if label]


def _ground(placed: _Placed) -> Ground:
    ground = Ground(Box(EDGE, 1, 2 * placed.middle[0] - EDGE, placed.height - 1))
    x, y = placed.middle
    ground.boxes.append(Box(x - RING, y - RING, x + RING, y + RING).wider(1))
    for arm, spoke in placed.arms:
        ground.lines.append((spoke.near, spoke.far, 4.0 if arm.look in ("t", "c") else 2.0))
        if arm.look in ("t", "c"):
            head = spoke.far if arm.look == "t" else spoke.near
            ground.boxes.append(Box(*head, *head).wider(HEAD_HALF))
    for push, spoke, _ in placed.pushes:
        ground.lines.append((spoke.near, spoke.far, 3.5))
        if push.support:
            ground.boxes.append(Box(*spoke.far, *spoke.far).wider(7.5))
    ground.lines += [(a, b, 1.5) for a, b in placed.axis]
    return ground


def _places(label: Label, spoke: Spoke | None, middle: Point, edge: Box) -> Iterator[Words]:
    """Places beside the spoke, from its end inwards, then beyond its end; or around the joint."""
    if spoke is None:
        half = _size(label)[0] / 2
        # A name far from its joint would look like another's.
        fars = (8.0, 14.0) if label[0][1] == "b" else (8.0, 14.0, 20.0, 28.0)
        for far, (right, down) in product(fars, ((-1, 1), (1, 1), (1, -1), (-1, -1))):
            yield _stack(label, (middle[0] + right * (half + far), middle[1] + down * (far + 5)), edge)
        for far, (right, down) in product(fars, ((1, 0), (-1, 0), (0, -1), (0, 1))):
            yield _stack(label, (middle[0] + right * (half + far), middle[1] + down * (far + 5)), edge)
        return
    level = abs(spoke.along[1]) < 0.3
    for share in (0.7, 0.9, 0.5, 1.0, 0.35):
        at = tuple(a + (b - a) * share for a, b in zip(spoke.near, spoke.far, strict=True))
        for sign in (1, -1):
            if level and len(label) == 2:
                yield _beside(label[1:], spoke, at, sign, edge) + _beside(label[:1], spoke, at, -sign, edge)
        for sign in (1, -1):
            yield _beside(label, spoke, at, sign, edge)
    width, height = _size(label)
    beyond = abs(spoke.along[0]) * width / 2 + abs(spoke.along[1]) * height / 2 + 4
    normal = (-spoke.along[1], spoke.along[0])
    for more, aside in ((0, 0), (0, 8), (0, -8), (8, 0), (4, 16), (4, -16), (14, 8), (14, -8)):
        yield _stack(label, step(step(spoke.far, spoke.along, beyond + more), normal, aside), edge)


def _beside(label: Label, spoke: Spoke, at: tuple[float, ...], sign: int, edge: Box) -> Words:
    """Return a label beside a spoke, first on the upper side, else on the right."""
    normal = (spoke.along[1], -spoke.along[0])
    if (normal[1], -normal[0]) > (1e-9, 0) or (abs(normal[1]) <= 1e-9 and normal[0] < 0):
        normal = (-normal[0], -normal[1])
    width, height = _size(label)
    away = abs(normal[0]) * width / 2 + abs(normal[1]) * height / 2 + spoke.half + 2
    return _stack(label, step((at[0], at[1]), normal, sign * away), edge)


def _size(label: Label) -> Point:
    return max(width_of(text, look) for text, look in label), RISE + FALL + LINE * (len(label) - 1)


def _stack(label: Label, middle: Point, edge: Box) -> Words:
    """Return the lines of a label around a middle, moved inside the edge."""
    width, height = _size(label)
    x = min(max(middle[0], edge.left + width / 2), edge.right - width / 2)
    top = min(max(middle[1] - height / 2, edge.top), edge.bottom - height)
    return tuple(
        Word(text, x, top + RISE + LINE * index, look, "middle") for index, (text, look) in enumerate(label)
    )


def _write_row(label: Label, line: float, room: float) -> list[Word]:
    """Write a name at the left and its force at the right, on one line where both find room."""
    text, look = label[0]
    words = [Word(cut(text, room, look), EDGE, line, look, "start", text)]
    for text, look in label[1:]:
        line += 0 if words[0].box.right + width_of(text, look) + 4 <= room + EDGE else LINE
        words.append(Word(cut(text, room, look), room + EDGE, line, look, "end", text))
    return words


def _write_below(
    labels: list[Label], sums: tuple[str, ...], top: float, width: float
) -> tuple[list[Word], float]:
    """Write what found no room, then the sums: two short ones on one line; and where that ends [px]."""
    words: list[Word] = []
    room = width - 2 * EDGE
    for label in labels:
        row = _write_row(label, top + 10, room)
        words += row
        top = row[-1].y - 10 + LINE
    if len(sums) == 2 and width_of(sums[0]) + width_of(sums[1], "b") + 8 <= room:
        return [
            *words,
            Word(sums[0], EDGE, top + 14),
            Word(sums[1], width - EDGE, top + 14, "b", "end"),
        ], top + 20
    for index, text in enumerate(sums):
        look = "b" if index and index == len(sums) - 1 else "s"
        for line in wrap(text, room, look):
            words.append(Word(line, EDGE, top + 14, look))
            top += LINE
    return words, top + 8
