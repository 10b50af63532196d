"""Picture 2, how hard does it work: peaks on both sides of zero, and the resistances as an empty frame."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from explorer.drawing.figures.miniature import Miniature, draw_miniature
from explorer.drawing.figures.strokes import HEIGHT, draw_line, draw_rectangle, draw_sheet
from explorer.drawing.figures.words import LINE, Box, Word, cut, draw_word, width_of
from explorer.markup import Markup

LEFT, RIGHT = 4.0, 164.0
BAR, FRAME = 8.0, 14.0
"""Heights of a bar and of the frame around it [px]."""

LEAST = 2.5
"""A force too small to be seen still shows that it is one [px]."""

LEAST_FOR_BARS = 60.0
"""Numbers stand at the ends of bars where they leave the bars this much, else under them [px]."""

MINIATURE = 46.0
"""Height of the truss under the bars [px]."""


@dataclass(frozen=True)
class PeakRow:
    """Peaks under one thing: sizes of the greatest tension and compression (0: never), any unit.

    `permanent`: what is there without moving load, tension positive. The texts as they are to be written.
    """

    name: str
    tension: float = 0.0
    compression: float = 0.0
    tension_text: str = ""
    compression_text: str = ""
    permanent: float = 0.0


@dataclass(frozen=True)
class PeakPicture:
    """Up to three rows on one scale; resistances in the unit of the forces, None where not known."""

    label: str
    rows: tuple[PeakRow, ...]
    tension_resistance: float | None = None
    compression_resistance: float | None = None
    tension_resistance_text: str = ""
    compression_resistance_text: str = ""
    miniature: Miniature | None = None
    never: str = "0"
    resistance: str = "resistance"


@dataclass(frozen=True)
class _Scale:
    """Where zero lies [px], the room [px] for the whole range of forces, the frame's sides [px] or None."""

    zero: float
    room: float
    whole: float
    walls: tuple[float, float] | None

    def right(self, tension: float) -> float:
        return self.zero + (max(LEAST, tension / self.whole * self.room) if tension else 0.0)

    def left(self, compression: float) -> float:
        return self.zero - (max(LEAST, compression / self.whole * self.room) if compression else 0.0)


@dataclass
class _Column:
    """What has been drawn so far, and the height at which the next thing starts."""

    top: float
    strokes: list[Markup] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)


def draw_peaks(picture: PeakPicture) -> Markup:
    """Draw the rows, then the resistances as numbers, then the miniature; as high as that needs."""
    scale = _scale(picture)
    gap = 2.0 if picture.miniature or len(picture.rows) > 2 else 12.0
    column = _Column(2.0)
    for row in picture.rows:
        _add_row(column, scale, row, picture.never)
        column.top += gap
    if scale.walls:
        ends = _write_pair(picture.compression_resistance_text, picture.tension_resistance_text, column.top)
        column.words += [*ends, *_between(picture.resistance, ends)]
        column.top += _height(ends)
    if picture.miniature:
        box = Box(LEFT, column.top, RIGHT, column.top + MINIATURE)
        column.strokes.append(draw_miniature(picture.miniature, box))
        column.top += MINIATURE
    content = [*column.strokes, *map(draw_word, column.words)]
    return draw_sheet("peaks", picture.label, content, max(HEIGHT, column.top + 2))


def _scale(picture: PeakPicture) -> _Scale:
    """One scale for all rows; without a frame, the numbers beside the longest bars limit it."""
    resists = (picture.compression_resistance, picture.tension_resistance)
    framed = any(value is not None for value in resists)
    left = max([row.compression for row in picture.rows] + [resists[0] or 0.0])
    right = max([row.tension for row in picture.rows] + [resists[1] or 0.0])
    if not left + right:
        return _Scale((LEFT + RIGHT) / 2, 0.0, 1.0, None)
    before = _widest(row.compression_text for row in picture.rows if row.compression)
    after = _widest(row.tension_text for row in picture.rows if row.tension)
    if framed or RIGHT - LEFT - before - after < LEAST_FOR_BARS:
        before = after = 0.0
    room, whole = RIGHT - LEFT - before - after, left + right
    zero = LEFT + before + left / whole * room
    walls = (zero - (resists[0] or 0.0) / whole * room, zero + (resists[1] or 0.0) / whole * room)
    return _Scale(zero, room, whole, walls if framed else None)


def _widest(texts: Iterable[str]) -> float:
    return max((width_of(text) + 6 for text in texts if text), default=0.0)


def _add_row(column: _Column, scale: _Scale, row: PeakRow, never: str) -> None:
    top = column.top
    column.words.append(Word(cut(row.name, RIGHT - LEFT), LEFT, top + 9, whole=row.name))
    middle = top + 13 + FRAME / 2
    column.strokes += _draw_row(scale, row, middle)
    column.top = middle + FRAME / 2 + 2
    if not row.tension and not row.compression:
        column.words.append(_write_never(never, scale.zero, middle + 4))
        return
    beside, under = _letter_row(scale, row, middle + 4)
    lines = _write_pair(under[0], under[1], column.top)
    column.words += [*beside, *lines]
    column.top += _height(lines)


def _write_never(text: str, zero: float, line: float) -> Word:
    word = Word(text, zero + 6, line)
    return word if word.box.right <= RIGHT else Word(text, zero - 6, line, "s", "end")


def _draw_row(scale: _Scale, row: PeakRow, middle: float) -> list[Markup]:
    top = middle - BAR / 2
    strokes = []
    if scale.walls:
        left, right = scale.walls
        strokes.append(draw_rectangle("frame", left, middle - FRAME / 2, (right - left, FRAME)))
    else:
        strokes.append(draw_line("ground", (LEFT, middle), (RIGHT, middle)))
    if row.compression:
        left = scale.left(row.compression)
        strokes.append(draw_rectangle("peak c", left, top, (scale.zero - left, BAR)))
    if row.tension:
        strokes.append(
            draw_rectangle("peak t", scale.zero, top, (scale.right(row.tension) - scale.zero, BAR))
        )
    strokes += _draw_permanent(scale, row, top)
    strokes.append(draw_line("zero-tick", (scale.zero, middle - 9), (scale.zero, middle + 9)))
    return strokes


def _draw_permanent(scale: _Scale, row: PeakRow, top: float) -> list[Markup]:
    """The permanent part: a wash in the solid bar, a wall in the hollow one."""
    if row.permanent > 0 and row.tension:
        right = scale.right(min(row.permanent, row.tension))
        return [draw_rectangle("permanent t", scale.zero, top, (right - scale.zero, BAR))]
    if row.permanent < 0 and row.compression:
        left = scale.left(min(-row.permanent, row.compression))
        return [draw_line("permanent c", (left, top), (left, top + BAR))]
    return []


def _letter_row(scale: _Scale, row: PeakRow, line: float) -> tuple[list[Word], tuple[str, str]]:
    """Return a row's numbers beside its bars; or, if one finds no room there, all (C, T) to go under."""
    compression = row.compression_text if row.compression else ""
    tension = row.tension_text if row.tension else ""
    walls = scale.walls or (scale.zero, scale.zero)
    left, right = scale.left(row.compression), scale.right(row.tension)
    places = [
        [Word(compression, end - 5, line, "c", "end") for end in (left, min(left, walls[0])) if compression],
        [Word(tension, end + 5, line, "t") for end in (right, max(right, walls[1])) if tension],
    ]
    beside = [next((word for word in some if _stands_free(word, scale)), None) for some in places if some]
    found = [word for word in beside if word]
    return (found, ("", "")) if len(found) == len(beside) else ([], (compression, tension))


def _stands_free(word: Word, scale: _Scale) -> bool:
    box = word.box
    struck = any(box.left - 1 < wall < box.right + 1 for wall in scale.walls or ())
    return box.left >= LEFT - 2 and box.right <= RIGHT + 2 and not struck


def _write_pair(compression: str, tension: str, top: float) -> list[Word]:
    """Write compression at the left and tension at the right, on one line where both find room."""
    room = RIGHT - LEFT
    together = width_of(compression) + width_of(tension) + 6 <= room
    second = top + (9 if together or not compression else 9 + LINE)
    left = Word(cut(compression, room), LEFT, top + 9, "c", "start", compression)
    right = Word(cut(tension, room), RIGHT, second, "t", "end", tension)
    return [word for word in (left, right) if word.text]


def _between(text: str, ends: list[Word]) -> list[Word]:
    """Write what two numbers are between them, if they leave room."""
    if not ends:
        return []
    left = max([word.box.right for word in ends if word.anchor == "start"] + [LEFT])
    right = min([word.box.left for word in ends if word.anchor == "end"] + [RIGHT])
    if right - left < width_of(text) + 6:
        return []
    return [Word(text, (left + right) / 2, ends[0].y, "s", "middle")]


def _height(words: list[Word]) -> float:
    return LINE * len({word.y for word in words}) + (2 if words else 0)
