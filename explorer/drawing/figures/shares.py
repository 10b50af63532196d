"""Picture 1, when is it zero: the force sorted over a train's way, with its flat foot."""

from __future__ import annotations

from dataclasses import dataclass

from explorer.drawing.figures.strokes import draw_line, draw_polygon, draw_rectangle, draw_sheet
from explorer.drawing.figures.words import Box, Point, Word, cut, draw_word, width_of
from explorer.markup import Markup

LEFT, RIGHT, TOP, BASE = 6.0, 162.0, 24.0, 88.0
BAND = 6.0
"""Height of a band of zero [px], the same everywhere."""

FOOT_LINE = 106.0
"""Base line of the words under the axis."""

ROOM = 3.0
"""Least room between two words on one line."""


@dataclass(frozen=True)
class ShareCurve:
    """How much of a way a member works, and how hard.

    `tension`, `compression`: points (share of the whole way, size of the force) along which the force
    falls, the shares counted from 0 in each; any unit of force. `zero`: the share at the end along which
    it is zero; the three parts make up the whole way. The peaks and `foot`, the share at which zero
    starts, as they are to be written. `label`: the whole picture in words.
    """

    label: str
    tension: tuple[Point, ...] = ()
    compression: tuple[Point, ...] = ()
    zero: float = 0.0
    tension_peak: str = ""
    compression_peak: str = ""
    foot: str = ""
    none: str = "zero"
    whole: str = "all of the way"
    whole_short: str = "all"


@dataclass(frozen=True)
class _Part:
    """A curve in its place [px], falling to the right, with its peak as written."""

    look: str
    points: tuple[Point, ...]
    peak: str

    def top_over(self, box: Box) -> float:
        """Return how high the curve reaches between a box's sides, as a height [px] counted downwards."""
        left = max(box.left, self.points[0][0])
        if left > box.right:
            return BASE
        later = [point for point in self.points if point[0] >= left]
        before = [point for point in self.points if point[0] <= left]
        if not later:
            return BASE
        (x0, y0), (x1, y1) = before[-1], later[0]
        return min(y1, y0) if x1 == x0 else y0 + (y1 - y0) * (left - x0) / (x1 - x0)


def draw_share_curve(curve: ShareCurve) -> Markup:
    """Draw the harder kind of force first, then the other, then the stretch of zero as a solid band."""
    parts = _lay_out(curve)
    foot = _across(1 - curve.zero)
    strokes = [draw_polygon(f"area {part.look}", _outline(part)) for part in parts]
    if parts:
        strokes.append(draw_line("axis-line", (LEFT, TOP - 6), (LEFT, BASE)))
    strokes.append(draw_line("axis-line", (LEFT, BASE), (foot, BASE)))
    if curve.zero > 0:
        strokes.append(draw_rectangle("band", foot, BASE - BAND / 2, (RIGHT - foot, BAND)))
        strokes.append(draw_line("axis-line", (foot, BASE - BAND / 2), (foot, BASE + 8)))
    peaks = _letter_peaks(parts)
    words = [*peaks, *_letter_zero(curve, parts, peaks), *_letter_axis(curve, foot)]
    return draw_sheet("shares", curve.label, [*strokes, *map(draw_word, words)])


def _across(share: float) -> float:
    return LEFT + (RIGHT - LEFT) * min(1.0, max(0.0, share))


def _lay_out(curve: ShareCurve) -> list[_Part]:
    given = [("t", curve.tension, curve.tension_peak), ("c", curve.compression, curve.compression_peak)]
    working = [one for one in given if any(force > 0 for _, force in one[1])]
    working.sort(key=lambda one: -max(force for _, force in one[1]))
    parts: list[_Part] = []
    start = 0.0
    for look, points, peak in working:
        largest = max(force for _, force in working[0][1])
        pixels = tuple(
            (_across(start + share), BASE - (BASE - TOP) * force / largest) for share, force in points
        )
        parts.append(_Part(look, pixels, peak))
        start += points[-1][0]
    return parts


def _outline(part: _Part) -> list[Point]:
    return [(part.points[0][0], BASE), *part.points, (part.points[-1][0], BASE)]


def _letter_peaks(parts: list[_Part]) -> list[Word]:
    words: list[Word] = []
    for part in parts:
        if not part.peak:
            continue
        x, y = part.points[0]
        text = cut(part.peak, RIGHT - LEFT - 6)
        start = x + 6 if not words else x
        places = [
            Word(text, start, y - 4, part.look, whole=part.peak),
            Word(text, RIGHT, y - 4, part.look, "end", part.peak),
            Word(text, RIGHT, TOP - 4 - 11, part.look, "end", part.peak),
        ]
        words.append(next((word for word in places if _is_free(word, words, parts)), places[-1]))
    return words


def _is_free(word: Word, words: list[Word], parts: list[_Part]) -> bool:
    box = word.box
    return (
        box.right <= RIGHT
        and not any(box.overlaps(other.box) for other in words)
        and all(part.top_over(box) >= box.bottom for part in parts)
    )


def _letter_zero(curve: ShareCurve, parts: list[_Part], peaks: list[Word]) -> list[Word]:
    """The word over the band: in its middle, else at its end, as far as the curve leaves room for it."""
    if curve.zero <= 0:
        return []
    width = width_of(curve.none)
    middle = min((_across(1 - curve.zero) + RIGHT) / 2, RIGHT - width / 2)
    word = Word(curve.none, middle, BASE - 10, "s", "middle")
    return [word] if width <= RIGHT - LEFT and _is_free(word, peaks, parts) else []


def _letter_axis(curve: ShareCurve, foot: float) -> list[Word]:
    """Nought and all at the ends, and where zero starts: the word at the end gives way to that."""
    start = Word("0", LEFT, FOOT_LINE)
    marks = [start]
    if 0 < curve.zero < 1 and curve.foot:
        text = cut(curve.foot, RIGHT - start.box.right - ROOM)
        half = width_of(text) / 2
        middle = min(max(foot, start.box.right + ROOM + half), RIGHT - half)
        marks.append(Word(text, middle, FOOT_LINE, "s", "middle", curve.foot))
    for text in (curve.whole, curve.whole_short):
        end = Word(text, RIGHT, FOOT_LINE, "s", "end")
        if end.box.left >= marks[-1].box.right + ROOM:
            return [*marks, end]
    return marks
