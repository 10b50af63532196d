"""Picture 5, what stops it being lighter: a ladder of limits, and what is no ratio as words beneath."""

from __future__ import annotations

from dataclasses import dataclass

from explorer.drawing.figures.strokes import (
    HEIGHT,
    WIDTH,
    draw_line,
    draw_polygon,
    draw_rectangle,
    draw_sheet,
)
from explorer.drawing.figures.words import Word, cut, draw_word, width_of
from explorer.markup import Markup

PITCH = 13.0
"""From rung to rung [px]."""

TOP = 13.0
"""Room for the numbers over the stiles, where there is a ratio [px]."""

GAP = 5.0
"""From words to the stile [px]."""

LEAST_FOR_BARS = 36.0
"""Room that bars keep beside words of any length [px]."""

MOST = 2.0
"""A ratio beyond this is drawn as a cut bar, so that 1.00 stays where it can be seen."""


@dataclass(frozen=True)
class Rung:
    """A limit: its name, its ratio (demand over limit, 1 is full) or None, and what is written for it."""

    name: str
    text: str
    ratio: float | None = None
    governs: bool = False


@dataclass(frozen=True)
class Ladder:
    """Up to eight rungs in their order; those without a ratio go below those with one."""

    label: str
    rungs: tuple[Rung, ...]
    nought: str = "0"
    full: str = "1.00"


@dataclass(frozen=True)
class _Stiles:
    """Where ratios 0 and 1 lie, where the longest bar may end, and the first rung's height [px]."""

    nought: float
    full: float
    end: float
    top: float

    def line(self, index: int) -> float:
        return self.top + PITCH * (index + 0.5)


def draw_ladder(ladder: Ladder) -> Markup:
    """Draw bars between two stiles; the stile goes on broken beside what has no ratio."""
    measured = [rung for rung in ladder.rungs if rung.ratio is not None]
    others = [rung for rung in ladder.rungs if rung.ratio is None]
    stiles = _stiles(measured, others)
    strokes, words = _draw_stiles(ladder, stiles, len(measured)) if measured else ([], [])
    for index, rung in enumerate(measured):
        strokes += _draw_rung(stiles, rung, stiles.line(index))
        words += _letter_measured(stiles, rung, stiles.line(index) + 4)
    bottom = stiles.top + PITCH * len(measured)
    for rung in others:
        # Two words too long for one line take two, and the stile stands back.
        if _is_long(stiles.nought, rung):
            bottom += PITCH
        else:
            strokes.append(_draw_broken_stile(stiles.nought, bottom))
        words += _letter_other(stiles, rung, bottom + PITCH / 2 + 4)
        bottom += PITCH
    content = [*strokes, *map(draw_word, [word for word in words if word.text])]
    return draw_sheet("ladder", ladder.label, content, max(HEIGHT, bottom + 2))


def _stiles(measured: list[Rung], others: list[Rung]) -> _Stiles:
    """Choose the place at which fewest words run out of their side; the leftmost of them, for the bars."""
    values = max((width_of(rung.text, _look(rung)) for rung in measured), default=0.0)
    most = WIDTH - (values + LEAST_FOR_BARS + 2 * GAP if measured else 30.0)
    asked = {2 + width_of(rung.name, _look(rung)) + GAP for rung in [*measured, *others]}
    places = sorted({max(24.0, min(place, most)) for place in asked}) or [24.0]
    nought = min(places, key=lambda place: _count_long(place, measured, others))
    end = WIDTH - min(values, WIDTH - nought - 30) - GAP
    longest = min(MOST, max([1.0] + [rung.ratio or 0.0 for rung in measured]))
    return _Stiles(nought, nought + (end - nought) / longest, end, TOP if measured else 2.0)


def _count_long(nought: float, measured: list[Rung], others: list[Rung]) -> int:
    """How many words are too long; one that would be cut weighs more than one that takes a second line."""
    cut_short = sum(width_of(rung.name, _look(rung)) > nought - GAP - 1 for rung in measured)
    return 10 * cut_short + sum(_is_long(nought, rung) for rung in others)


def _is_long(nought: float, rung: Rung) -> bool:
    before, after = width_of(rung.name), width_of(rung.text)
    return before > nought - GAP - 1 or after > WIDTH - 1 - nought - GAP


def _look(rung: Rung) -> str:
    return "b" if rung.governs else "s"


def _draw_stiles(ladder: Ladder, stiles: _Stiles, ratios: int) -> tuple[list[Markup], list[Word]]:
    foot = stiles.top + PITCH * ratios
    strokes = [draw_line("stile", (x, stiles.top), (x, foot)) for x in (stiles.nought, stiles.full)]
    place = min(stiles.full, WIDTH - width_of(ladder.full) / 2)
    nought = Word(ladder.nought, stiles.nought, stiles.top - 3, "s", "middle")
    full = Word(ladder.full, place, stiles.top - 3, "s", "middle")
    return strokes, [nought, full] if full.box.left >= nought.box.right + 2 else [nought]


def _draw_broken_stile(x: float, top: float) -> Markup:
    return draw_line("stile", (x, top + 2), (x, top + PITCH - 2))


def _draw_rung(stiles: _Stiles, rung: Rung, line: float) -> list[Markup]:
    whole = max(0.0, rung.ratio or 0.0) * (stiles.full - stiles.nought)
    length = min(whole, stiles.end - stiles.nought)
    half, cls = (4.5, "held governs") if rung.governs else (2.5, "held")
    strokes = [
        draw_line("rung", (stiles.nought, line), (stiles.full, line)),
        draw_rectangle(cls, stiles.nought, line - half, (length, 2 * half)),
    ]
    if whole > length + 0.01:
        x = stiles.end - 9
        corners = [(x, line + 6), (x + 3, line - 6), (x + 6, line - 6), (x + 3, line + 6)]
        strokes.append(draw_polygon("cut", corners))
    return strokes


def _letter_measured(stiles: _Stiles, rung: Rung, line: float) -> list[Word]:
    look = _look(rung)
    name, value = (
        cut(rung.name, stiles.nought - GAP - 1, look),
        cut(rung.text, WIDTH - stiles.end - GAP, look),
    )
    return [
        Word(name, stiles.nought - GAP, line, look, "end", rung.name),
        Word(value, WIDTH, line, look, "end", rung.text),
    ]


def _letter_other(stiles: _Stiles, rung: Rung, line: float) -> list[Word]:
    """Write a name and its word on both sides of the stile; or on two lines that end below one another."""
    if not _is_long(stiles.nought, rung):
        name = Word(rung.name, stiles.nought - GAP, line, "s", "end")
        return [name, Word(rung.text, stiles.nought + GAP, line)]
    return [
        Word(cut(rung.name, WIDTH - 2), 1, line - PITCH, whole=rung.name),
        Word(cut(rung.text, WIDTH - 2), WIDTH - 1, line, "s", "end", rung.text),
    ]
