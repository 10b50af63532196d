"""The lettering of a part cut free: each label at its own line or joint, or in a list beneath."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from math import hypot

from explorer.drawing.figures.part_layout import (
    CENTRE,
    EDGE,
    CutArm,
    Laid,
    Line,
    PartPicture,
    PartPush,
    shaft,
)
from explorer.drawing.figures.placing import Ground, Words
from explorer.drawing.figures.strokes import step, toward
from explorer.drawing.figures.words import FALL, LINE, RISE, Box, Point, Word, cut, width_of

FARTHEST = 16.0
"""Farther from its own line or point a label would look like another's [px]."""

NEARER = 1.0
"""By so much a label is nearer to its own than to another [px]."""

BETWEEN = 5.0
"""Room between two labels on one line, which else read as one [px]."""

Row = tuple[str, str]
"""A text and its look."""


@dataclass
class Lettering:
    """What was placed, what found no room, and whether the centre carries its name."""

    words: list[Word] = field(default_factory=list)
    left_over: list[Row] = field(default_factory=list)
    centre_named: bool = True


def letter(picture: PartPicture, laid: Laid, deciding: list[Line]) -> Lettering:
    """Place the member asked first, then the centre, the loads, the other members; joints last.

    Names of joints that find no room are left out: in a list they would say nothing.
    """
    ground, done = _ground(laid, deciding), Lettering()
    arms = sorted(laid.arms, key=lambda one: not one[0].asked)
    for arm, line in arms:
        if arm.asked:
            _place(done, ground, _arm_text(arm), _arm_places(arm, line, laid, ground.edge))
    if laid.centre and picture.centre_name:
        text = picture.centre_name, "s"
        done.centre_named = _place(done, ground, text, _centre_places(text, laid, ground.edge))
    for push, line in _shafts(laid):
        text = f"{picture.names[push.joint]} {push.text}".strip(), "b"
        if push.text:
            _place(done, ground, text, _push_places(push, line, laid, ground.edge))
    for arm, line in arms:
        if not arm.asked:
            _place(done, ground, _arm_text(arm), _arm_places(arm, line, laid, ground.edge))
    for index, name in enumerate(picture.names):
        done.words += _take(ground, _joint_places(name, index, laid, ground.edge)) if name else ()
    return done


def is_clear(laid: Laid, deciding: list[Line]) -> bool:
    """Whether the arrow to a far centre lies on nothing."""
    if laid.pointer is None:
        return True
    (x1, y1), (x2, y2) = laid.pointer
    box = Box(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)).wider(8)
    drawn = [*laid.lines, *deciding, *(line for _, line in laid.arms), *(line for _, line in _shafts(laid))]
    return not any(box.crossed_by(a, b) for a, b in drawn)


def write_below(rows: list[Row], size: Point) -> tuple[list[Word], float]:
    """Write what found no room under the picture, as many on a line as fit; and where that ends [px]."""
    words: list[Word] = []
    left, line, room = EDGE, size[1] + RISE, size[0] - 2 * EDGE
    for text, look in rows:
        written = cut(text, room, look)
        width = width_of(written, look)
        if left > EDGE and left + width > size[0] - EDGE:
            left, line = EDGE, line + LINE
        words.append(Word(written, left, line, look, "start", text))
        left += width + 2 * BETWEEN
    return words, line + FALL + EDGE if words else size[1]


def _place(done: Lettering, ground: Ground, row: Row, places: Iterable[Words]) -> bool:
    """Take the first free place, else put the text on the list."""
    found = _take(ground, places)
    done.words += found
    done.left_over += [] if found or not row[0] else [row]
    return bool(found)


def _take(ground: Ground, places: Iterable[Words]) -> Words:
    found = ground.take(places)
    ground.boxes += [
        Box(b.left - BETWEEN, b.top, b.right + BETWEEN, b.bottom) for b in (w.box for w in found)
    ]
    return found


def _ground(laid: Laid, deciding: list[Line]) -> Ground:
    ground = Ground(Box(EDGE, EDGE, laid.size[0] - EDGE, laid.size[1] - EDGE))
    ground.lines += [(a, b, 1.5) for a, b in laid.lines]
    ground.lines += [(near, far, 2.5) for _, (near, far) in laid.arms]
    ground.lines += [(spoke.near, spoke.far, 3.5) for _, spoke, _ in laid.pushes]
    ground.lines += [(a, b, 1.0) for a, b in deciding]
    ground.lines += [(*laid.pointer, 3.5)] if laid.pointer else []
    ground.boxes += [Box(*spoke.far, *spoke.far).wider(7.5) for push, spoke, _ in laid.pushes if push.support]
    ground.boxes += [Box(*at, *at).wider(max(1.0, laid.ring)) for at in laid.joints]
    if laid.centre and not laid.pointer:
        ground.boxes.append(Box(*laid.centre, *laid.centre).wider(CENTRE))
    return ground


def _shafts(laid: Laid) -> list[tuple[PartPush, Line]]:
    return [(push, (spoke.near, shaft(push, spoke)[1])) for push, spoke, _ in laid.pushes]


def _arm_text(arm: CutArm) -> Row:
    return (f"{arm.name} 0" if arm.known_zero else arm.name), ("b" if arm.asked else "s")


def _arm_places(arm: CutArm, line: Line, laid: Laid, edge: Box) -> Iterator[Words]:
    text, look = _arm_text(arm)
    others = [_to_its_centre(one, other, laid) for one, other in laid.arms if one is not arm]
    others += [other for _, other in _shafts(laid)]
    beyond = [words[0] for words in _beyond(text, look, line)]
    beside = [words[0] for words in _beside(text, look, line, edge)]
    for word in (*beyond, *beside, *(_within(word, edge) for word in beyond)):
        if _belongs(word.box, line, others):
            yield (word,)


def _to_its_centre(arm: CutArm, line: Line, laid: Laid) -> Line:
    """A cut member with what shows its way on to the centre: a name beside that looks like its own."""
    if laid.centre is None or laid.pointer or arm.asked or arm.known_zero:
        return line
    along, ahead = toward(*line), toward(line[1], laid.centre)
    return (line[0], laid.centre) if along[0] * ahead[0] + along[1] * ahead[1] > 0.99 else line


def _push_places(push: PartPush, line: Line, laid: Laid, edge: Box) -> Iterator[Words]:
    """Beyond the far end of an arrow, then farther in rows, in line with it: loads may stand close."""
    others = [other for one, other in _shafts(laid) if one is not push] + [other for _, other in laid.arms]
    for words in _beyond(push.text, "b", line):
        moved = _within(words[0], edge)
        if _belongs(moved.box, line, others):
            yield (moved,)
    along, room = toward(*line), _ahead(push.text, "b", toward(*line)) + 4
    for more in (0.0, 12.0, 24.0):
        yield _at(push.text, "b", step(line[1], along, room + more))


def _centre_places(row: Row, laid: Laid, edge: Box) -> Iterator[Words]:
    assert laid.centre is not None
    at = laid.pointer[0] if laid.pointer else laid.centre
    for words in _around(*row, at, CENTRE):
        yield (_within(words[0], edge),)
    for down in (-18, 18, -24, 24):
        word = _within(_at(*row, (at[0], at[1] + down))[0], edge)
        if _gap(word.box, (at, at)) <= FARTHEST:
            yield (word,)


def _joint_places(name: str, index: int, laid: Laid, edge: Box) -> Iterator[Words]:
    own = laid.joints[index]
    others = [(at, at) for place, at in enumerate(laid.joints) if place != index]
    for words in _around(name, "b", own, laid.ring):
        word = _within(words[0], edge)
        if _belongs(word.box, (own, own), others):
            yield (word,)


def _belongs(box: Box, own: Line, others: list[Line]) -> bool:
    """Whether a label lies near to its own line and clearly farther from any other."""
    gap = _gap(box, own)
    return gap <= FARTHEST and all(_gap(box, other) >= gap + NEARER for other in others)


def _gap(box: Box, line: Line) -> float:
    """How far a box lies from a straight line between two points, 0 where they touch [px]."""
    if box.crossed_by(*line):
        return 0.0
    corners = [(x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    ends = [
        hypot(max(box.left - x, x - box.right, 0.0), max(box.top - y, y - box.bottom, 0.0)) for x, y in line
    ]
    return min(*ends, *(_away(corner, line) for corner in corners))


def _away(point: Point, line: Line) -> float:
    (x, y), (right, down) = line[0], (line[1][0] - line[0][0], line[1][1] - line[0][1])
    whole = right * right + down * down
    share = ((point[0] - x) * right + (point[1] - y) * down) / whole if whole else 0.0
    share = min(1.0, max(0.0, share))
    return hypot(point[0] - x - share * right, point[1] - y - share * down)


def _beside(text: str, look: str, line: Line, edge: Box) -> Iterator[Words]:
    along, length = toward(*line), hypot(line[1][0] - line[0][0], line[1][1] - line[0][1])
    normal = (-along[1], along[0])
    far = _half(text, look, normal) + 4
    for share in (0.7, 0.5, 0.9):
        for side in (far, -far):
            yield (
                _within(_at(text, look, step(step(line[0], along, share * length), normal, side))[0], edge),
            )


def _beyond(text: str, look: str, line: Line) -> Iterator[Words]:
    """Places beyond the far end of a line, a little aside of it where that is taken."""
    along = toward(*line)
    end = step(line[1], along, _ahead(text, look, along) + 4)
    for aside in (0, 8, -8, 16, -16):
        yield _at(text, look, step(end, (-along[1], along[0]), aside))


def _around(text: str, look: str, at: Point, radius: float) -> Iterator[Words]:
    half = width_of(text, look) / 2 + radius + 3
    for right, down in ((0, -12), (0, 13), (-1, -10), (1, -10), (-1, 10), (1, 10), (-1, 0), (1, 0)):
        yield _at(text, look, (at[0] + right * half, at[1] + down))


def _ahead(text: str, look: str, along: Point) -> float:
    """How far ahead the middle of a word stands whose edge is reached in a direction."""
    sides = (width_of(text, look) / 2, abs(along[0])), ((RISE + FALL) / 2, abs(along[1]))
    return min(half / part for half, part in sides if part > 1e-9)


def _half(text: str, look: str, along: Point) -> float:
    """Half of what a word takes in a direction."""
    return (abs(along[0]) * width_of(text, look) + abs(along[1]) * (RISE + FALL)) / 2


def _at(text: str, look: str, middle: Point) -> Words:
    return (Word(text, middle[0], middle[1] + 3, look, "middle"),)


def _within(word: Word, edge: Box) -> Word:
    """Return the word moved inside the edge."""
    half = width_of(word.text, word.look) / 2
    x = min(max(word.x, edge.left + half), edge.right - half)
    y = min(max(word.y, edge.top + RISE), edge.bottom - FALL)
    return Word(word.text, x, y, word.look, word.anchor)
