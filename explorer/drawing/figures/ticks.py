"""Picture 1 without a train: one tick a load case, hollow and grey where the member is zero."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.drawing.figures.strokes import draw_line, draw_rectangle, draw_sheet
from explorer.drawing.figures.words import LINE, Point, Word, cut, draw_word, width_of
from explorer.markup import Markup

LEFT, RIGHT = 4.0, 164.0
LOWEST = 109.0
"""Base line of the lowest words."""

HOLLOW = 6.0
"""Height of the tick of a case in which the member is zero."""

LEAST = 1.5
"""A force too small to be seen still shows that it is one [px]."""


@dataclass(frozen=True)
class CaseTick:
    """A load case and the member's force in it, tension positive; 0 is zero by the study's rule."""

    name: str
    force: float


@dataclass(frozen=True)
class CaseTicks:
    """The load cases in the file's order, any unit of force; the peaks as they are to be written."""

    label: str
    cases: tuple[CaseTick, ...]
    tension_peak: str = ""
    compression_peak: str = ""


@dataclass(frozen=True)
class _Ground:
    """Where ticks stand: the axis [px], and the room [px] for the whole range of forces, both ways."""

    axis: float
    room: float
    whole: float
    pitch: float

    def middle(self, index: int) -> float:
        return LEFT + self.pitch * (index + 0.5)

    def end(self, force: float) -> float:
        """Return the height at which a tick ends; tension goes up."""
        size = max(LEAST, abs(force) / self.whole * self.room)
        return self.axis - size if force > 0 else self.axis + size


def draw_case_ticks(picture: CaseTicks) -> Markup:
    """Draw tension upwards and solid, compression downwards and hollow, zero as a hollow grey tick."""
    names = _letter_names(picture.cases)
    rows = len({word.y for word in names})
    ground = _lay_out(picture.cases, LOWEST - 8 - LINE * rows)
    strokes = [draw_line("axis-line", (LEFT, ground.axis), (RIGHT, ground.axis))]
    if rows == 2:
        strokes += [_lead(ground, index) for index in range(1, len(picture.cases), 2)]
    strokes += [_draw_tick(ground, index, case.force) for index, case in enumerate(picture.cases)]
    words = [*names, *_letter_peaks(picture, ground)]
    return draw_sheet("ticks", picture.label, [*strokes, *map(draw_word, words)])


def _lay_out(cases: Sequence[CaseTick], bottom: float) -> _Ground:
    up = max([case.force for case in cases] + [0.0])
    down = max([-case.force for case in cases] + [0.0])
    # The side that no force needs keeps room for a hollow tick.
    top = 18.0 if up else 8.0
    bottom -= LINE if down else HOLLOW / 2
    pitch = (RIGHT - LEFT) / max(1, len(cases))
    if not up and not down:
        return _Ground((top + bottom) / 2, 0.0, 1.0, pitch)
    room, whole = bottom - top, up + down
    return _Ground(top + up / whole * room, room, whole, pitch)


def _draw_tick(ground: _Ground, index: int, force: float) -> Markup:
    width = min(12.0, 0.6 * ground.pitch)
    left = ground.middle(index) - width / 2
    if not force:
        return draw_rectangle("tick z", left, ground.axis - HOLLOW / 2, (width, HOLLOW))
    end = ground.end(force)
    size: Point = (width, abs(end - ground.axis))
    return draw_rectangle("tick t" if force > 0 else "tick c", left, min(end, ground.axis), size)


def _lead(ground: _Ground, index: int) -> Markup:
    middle = ground.middle(index)
    return draw_line("lead", (middle, ground.axis + HOLLOW / 2), (middle, LOWEST - 9))


def _letter_names(cases: Sequence[CaseTick]) -> list[Word]:
    """All names on one line, or on two by turns, or none: names of some would look like a choice."""
    for rows in (1, 2):
        lines = [LOWEST - LINE * (rows - 1 - index % rows) for index in range(len(cases))]
        words = [_name(case, index, len(cases), lines[index]) for index, case in enumerate(cases)]
        if _apart(words):
            return words
    return []


def _name(case: CaseTick, index: int, count: int, line: float) -> Word:
    half = width_of(case.name) / 2
    middle = LEFT + (RIGHT - LEFT) / count * (index + 0.5)
    return Word(case.name, max(LEFT + half, min(RIGHT - half, middle)), line, "s", "middle")


def _apart(words: Sequence[Word]) -> bool:
    boxes = [word.box.wider(1.5) for word in words]
    inside = all(box.left >= LEFT - 1.6 and box.right <= RIGHT + 1.6 for box in boxes)
    return inside and not any(
        boxes[i].overlaps(boxes[j])
        for i in range(len(boxes))
        for j in range(i + 1, len(boxes))
        if words[i].y == words[j].y
    )


def _letter_peaks(picture: CaseTicks, ground: _Ground) -> list[Word]:
    words = []
    for sign, text, look in ((1, picture.tension_peak, "t"), (-1, picture.compression_peak, "c")):
        forces = [sign * case.force for case in picture.cases]
        if not text or not forces or max(forces) <= 0:
            continue
        largest = max(forces)
        short = cut(text, RIGHT - LEFT)
        half = width_of(short) / 2
        x = min(max(ground.middle(forces.index(largest)), LEFT + half), RIGHT - half)
        end = ground.end(sign * largest)
        words.append(Word(short, x, end - 4 if sign > 0 else end + 11, look, "middle", text))
    return words
