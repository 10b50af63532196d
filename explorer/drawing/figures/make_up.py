"""What a force is made of: a bar stacked from zero, tension to the right, compression to the left."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from explorer.drawing.figures.strokes import draw_line, draw_rectangle, draw_sheet
from explorer.drawing.figures.words import LINE, Word, cut, draw_word, width_of
from explorer.markup import Markup

WIDTH, EDGE = 420.0, 4.0
BAR = 14.0
"""Height of a bar [px]."""

MOST = 8
"""Parts that are told one by one, the largest of them; the rest are put together."""

BESIDE = 11.0
"""From one number over narrow parts to the next [px]."""

MARK = 18.0
"""Room for the number before a part in the list [px]."""


@dataclass(frozen=True)
class Segment:
    """A part of a force: what brings it, its size [N], tension positive, and as it is written.

    `kind`: case, axle, strip, lane or second; a class of its stretch of the bar.
    """

    label: str
    value: float
    told: str
    kind: str = "case"


@dataclass(frozen=True)
class MakeUp:
    """A force and its parts in their order; `total` [N], tension positive, and as it is written.

    `tell`: how a force [N] is written; only what stands for several parts at once asks for it.
    """

    title: str
    parts: tuple[Segment, ...]
    total: float
    told: str
    tell: Callable[[float], str] | None = None


@dataclass(frozen=True)
class _Piece:
    """A stretch of a bar in its place [px], with what marks it in the list."""

    mark: str
    look: str
    left: float
    right: float
    kind: str

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2

    @property
    def is_wide(self) -> bool:
        """Whether its mark finds room inside."""
        return self.right - self.left >= width_of(self.mark, "b") + 3


@dataclass(frozen=True)
class _Scale:
    """Where zero lies [px], and pixels per newton."""

    zero: float
    unit: float


def draw_make_up(rows: tuple[MakeUp, ...]) -> Markup:
    """Draw each force as a stacked bar, all on one scale, with the list of its parts under it."""
    scale = _scale(rows)
    content: list[Markup] = []
    top = 0.0
    for row in rows:
        drawn, top = _draw_row(row, scale, top)
        content += drawn
        top += LINE
    label = "; ".join(_tell_row(row) for row in rows) or "no force"
    if not rows:
        content, top = [draw_word(Word(label, EDGE, LINE))], 2 * LINE
    return draw_sheet("make-up", label, content, top - LINE / 2, WIDTH)


def _tell_row(row: MakeUp) -> str:
    parts = ", ".join(f"{part.label} {part.told}" for part in row.parts)
    return f"{row.title}: {row.told}" + (f", from {parts}" if parts else "")


def _scale(rows: Sequence[MakeUp]) -> _Scale:
    """One scale for all rows; zero lies where the longest of both sides leave it."""
    values = [[*(part.value for part in row.parts)] for row in rows]
    right = max([sum(max(v, 0.0) for v in some) for some in values] + [row.total for row in rows] + [0.0])
    left = max([sum(max(-v, 0.0) for v in some) for some in values] + [-row.total for row in rows] + [0.0])
    room = WIDTH - 2 * EDGE
    if not left + right:
        return _Scale(WIDTH / 2, 0.0)
    return _Scale(EDGE + room * left / (left + right), room / (left + right))


def _told_and_rest(row: MakeUp) -> tuple[list[Segment], list[Segment]]:
    """Return the largest parts in their own order, and those that are put together."""
    order = sorted(range(len(row.parts)), key=lambda i: -abs(row.parts[i].value))
    kept = set(order[:MOST])
    parts = list(enumerate(row.parts))
    return [part for i, part in parts if i in kept], [part for i, part in parts if i not in kept]


def _draw_row(row: MakeUp, scale: _Scale, top: float) -> tuple[list[Markup], float]:
    """Title, marks over narrow parts, bar, sum, list; returned with the height at which it ends."""
    told, rest = _told_and_rest(row)
    title = Word(cut(row.title, WIDTH - 2 * EDGE, "b"), EDGE, top + LINE, "b", whole=row.title)
    pieces = _lay_pieces(told, rest, scale)
    marks = _spread([piece for piece in pieces if not piece.is_wide])
    bar = top + LINE + (20.0 if marks else 7.0)
    strokes = [_draw_piece(piece, bar) for piece in pieces]
    strokes += [draw_line("lead", (piece.middle, bar - 1), (x, bar - 5)) for piece, x in marks]
    words = [title]
    words += [Word(piece.mark, x, bar - 7, "b", "middle") for piece, x in marks]
    words += [_letter_inside(piece, bar) for piece in pieces if piece.is_wide]
    sum_strokes, sum_word = _draw_sum(row, scale, bar)
    strokes += sum_strokes
    words.append(sum_word)
    listed = _list(row, told, rest, bar + BAR + 13 + LINE + 3)
    end = max([word.y for word in listed] + [bar + BAR + 13]) + 3
    return [*strokes, *map(draw_word, [*words, *listed])], end


def _lay_pieces(told: Sequence[Segment], rest: Sequence[Segment], scale: _Scale) -> list[_Piece]:
    """What pulls goes on to the right of zero, what presses to the left, one after another.

    What is put together lies on both sides where it holds parts of both kinds.
    """
    stretches = [(str(i), part.value, part.kind) for i, part in enumerate(told, 1)]
    for sign in (1, -1):
        stretches.append(("…", sign * sum(max(sign * part.value, 0.0) for part in rest), "rest"))
    right = left = scale.zero
    pieces = []
    for mark, value, kind in stretches:
        if value > 0:
            pieces.append(_Piece(mark, "t", right, right + value * scale.unit, kind))
            right = pieces[-1].right
        elif value < 0:
            pieces.append(_Piece(mark, "c", left + value * scale.unit, left, kind))
            left = pieces[-1].left
    return pieces


def _spread(pieces: Sequence[_Piece]) -> list[tuple[_Piece, float]]:
    """Set marks over their parts, moved apart where they would stand on one another."""
    pieces = sorted(pieces, key=lambda piece: piece.middle)
    places: list[float] = []
    for piece in pieces:
        places.append(max([piece.middle] + [place + BESIDE for place in places[-1:]]))
    limit = WIDTH - EDGE
    for i in reversed(range(len(places))):
        places[i] = max(EDGE + BESIDE * i, min(places[i], limit - BESIDE * (len(places) - 1 - i)))
    return list(zip(pieces, places, strict=True))


def _draw_piece(piece: _Piece, top: float) -> Markup:
    cls = f"segment {piece.look} {piece.kind}"
    return draw_rectangle(cls, piece.left, top, (piece.right - piece.left, BAR))


def _letter_inside(piece: _Piece, top: float) -> Word:
    return Word(piece.mark, piece.middle, top + BAR - 3, "r" if piece.look == "t" else "b", "middle")


def _draw_sum(row: MakeUp, scale: _Scale, bar: float) -> tuple[list[Markup], Word]:
    """The force itself as an ink line under its parts, from zero to where they leave it, with its number.

    The number stands in a gap of the line; where that is too short, beyond its end or beyond zero.
    """
    line, end = bar + BAR + 9, scale.zero + row.total * scale.unit
    word = _letter_sum(row, (scale.zero, end), line + 4)
    strokes = [draw_line("zero-tick", (scale.zero, bar - 3), (scale.zero, line + 5))]
    if end == scale.zero:
        return strokes, word
    left, right = sorted((scale.zero, end))
    gap = (word.box.left - 4, word.box.right + 4) if word.anchor == "middle" else (right, right)
    stretches = [(left, gap[0]), (gap[1], right)]
    strokes += [draw_line("sum", (a, line), (b, line)) for a, b in stretches if b > a]
    strokes.append(draw_line("sum", (end, bar + BAR + 2), (end, line + 5)))
    return strokes, word


def _letter_sum(row: MakeUp, ends: tuple[float, float], line: float) -> Word:
    look = f"{_look(row.total)} n"
    text = cut(row.told, WIDTH / 3)
    zero, end = ends
    room = width_of(text) + 6
    if abs(end - zero) > room + 26:
        return Word(text, (zero + end) / 2, line, look, "middle", row.told)
    right, left = max(ends), min(ends)
    # The side of the force comes first; one of the two always has room, for the line is short.
    fits = right + room <= WIDTH - EDGE, left - room >= EDGE
    if (row.total >= 0 and fits[0]) or not fits[1]:
        return Word(text, right + 6, line, look, "start", row.told)
    return Word(text, left - 6, line, look, "end", row.told)


def _list(row: MakeUp, told: Sequence[Segment], rest: Sequence[Segment], line: float) -> list[Word]:
    """A line a part: its mark, what brings it, and its number in a column close by."""
    lines = [(str(i), part.label, part.told, part.value) for i, part in enumerate(told, 1)]
    if rest:
        total = sum(part.value for part in rest)
        lines.append(("…", f"and {len(rest)} more", row.tell(total) if row.tell else "", total))
    numbers = max((width_of(text) for _, _, text, _ in lines), default=0.0)
    room = WIDTH - 2 * EDGE - MARK - numbers - 14
    right = (
        EDGE
        + MARK
        + min(room, max((width_of(label) for _, label, _, _ in lines), default=0.0))
        + 14
        + numbers
    )
    words = []
    for i, (mark, label, text, value) in enumerate(lines):
        y = line + LINE * i
        words.append(Word(mark, EDGE + 9, y, "b", "end"))
        words.append(Word(cut(label, room), EDGE + MARK, y, whole=label))
        words.append(Word(text, right, y, _look(value), "end"))
    return [word for word in words if word.text]


def _look(value: float) -> str:
    return "t" if value > 0 else "c" if value < 0 else "s"
