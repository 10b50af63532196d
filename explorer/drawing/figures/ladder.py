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

APART = 6.0
"""Room between rungs that stand under different heads, with a line in its middle [px]."""

TOP = 13.0
"""Room for the numbers over the stiles, where there is a ratio [px]."""

GAP = 5.0
"""From words to the stile [px]."""

LEAST_FOR_BARS = 28.0
"""Room that bars keep beside words of any length [px]."""

INK = "n"
"""The look of a name in ink that is not bold."""

UNKNOWN = 8.0
"""Length of the hollow beginning of a bar that nobody knows [px]."""

MOST = 2.0
"""A ratio beyond this is drawn as a cut bar, so that 1.00 stays where it can be seen."""


@dataclass(frozen=True)
class Rung:
    """A limit: its name, its ratio (demand over limit, 1 is full) or None, and what is written for it.

    unknown: without a ratio though one was asked for; drawn as a hollow beginning of a bar. under: the head
    that it stands under, apart from the rungs before it.
    """

    name: str
    text: str
    ratio: float | None = None
    governs: bool = False
    unknown: bool = False
    under: str = ""


@dataclass(frozen=True)
class Ladder:
    """Rungs in their order, ten at most; `full` stands over the stile at 1."""

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


def draw_ladder(ladder: Ladder) -> Markup:
    """Draw bars between two stiles; beside what has no ratio the first stile goes on broken."""
    measured = [rung for rung in ladder.rungs if rung.ratio is not None]
    others = [rung for rung in ladder.rungs if rung.ratio is None]
    stiles = _stiles(measured, others)
    strokes: list[Markup] = []
    words = _letter_scale(ladder, stiles) if measured else []
    bottom = begun = stiles.top
    head = ""
    for rung in ladder.rungs:
        if rung.under != head:
            head = rung.under
            strokes += [*_draw_stiles(stiles, begun, bottom), _draw_apart(bottom + APART / 2)]
            words.append(Word(cut(head, WIDTH - 2), 1, bottom + APART + PITCH / 2 + 4, whole=head))
            bottom = begun = bottom + APART + PITCH
        if rung.ratio is None:
            strokes += _draw_stiles(stiles, begun, bottom)
            # Two words too long for one line take two, and the stile stands back.
            if _is_long(stiles.nought, rung):
                bottom += PITCH
            else:
                strokes += _draw_broken(stiles.nought, bottom, rung)
            words += _letter_other(stiles, rung, bottom + PITCH / 2 + 4)
            begun = bottom + PITCH
        else:
            strokes += _draw_rung(stiles, rung, bottom + PITCH / 2)
            words += _letter_measured(stiles, rung, bottom + PITCH / 2 + 4)
        bottom += PITCH
    strokes += _draw_stiles(stiles, begun, bottom)
    content = [*strokes, *map(draw_word, [word for word in words if word.text])]
    return draw_sheet("ladder", ladder.label, content, max(HEIGHT, bottom + 2))


def _draw_apart(height: float) -> Markup:
    """A line between rungs that stand apart."""
    return draw_line("apart", (0.0, height), (WIDTH, height))


def _stiles(measured: list[Rung], others: list[Rung]) -> _Stiles:
    """Choose the place at which fewest words run out of their side; the leftmost of them, for the bars."""
    values = max((width_of(rung.text, _look(rung)) for rung in measured), default=0.0)
    most = WIDTH - (values + LEAST_FOR_BARS + 2 * GAP if measured else 30.0)
    asked = {
        2 + width_of(rung.name, look) + GAP for rung in [*measured, *others] for look in {_look(rung), INK}
    }
    places = sorted({max(24.0, min(place, most)) for place in asked}) or [24.0]
    nought = min(places, key=lambda place: _count_long(place, measured, others))
    end = WIDTH - min(values, WIDTH - nought - 30) - GAP
    longest = min(MOST, max([1.0] + [rung.ratio or 0.0 for rung in measured]))
    return _Stiles(nought, nought + (end - nought) / longest, end, TOP if measured else 2.0)


def _count_long(nought: float, measured: list[Rung], others: list[Rung]) -> int:
    """How many words are too long; one that would be cut weighs more than one that takes a second line."""
    cut_short = sum(width_of(rung.name, _name_look(rung, nought)) > nought - GAP - 1 for rung in measured)
    return 10 * cut_short + sum(_is_long(nought, rung) for rung in others)


def _is_long(nought: float, rung: Rung) -> bool:
    before, after = width_of(rung.name), width_of(rung.text)
    return before > nought - GAP - 1 or after > WIDTH - 1 - nought - _gap(rung)


def _gap(rung: Rung) -> float:
    """From the stile to the word beside it [px]."""
    return GAP + (UNKNOWN if rung.unknown else 0.0)


def _look(rung: Rung) -> str:
    return "b" if rung.governs else "s"


def _name_look(rung: Rung, nought: float) -> str:
    """Bold for what governs; where there is no room for that, ink alone."""
    look = _look(rung)
    return INK if look == "b" and width_of(rung.name, look) > nought - GAP - 1 else look


def _draw_stiles(stiles: _Stiles, top: float, foot: float) -> list[Markup]:
    """Both stiles beside a run of bars; nothing where there is none."""
    if foot <= top:
        return []
    return [draw_line("stile", (x, top), (x, foot)) for x in (stiles.nought, stiles.full)]


def _letter_scale(ladder: Ladder, stiles: _Stiles) -> list[Word]:
    place = min(stiles.full, WIDTH - width_of(ladder.full) / 2)
    nought = Word(ladder.nought, stiles.nought, stiles.top - 3, "s", "middle")
    full = Word(ladder.full, place, stiles.top - 3, "s", "middle")
    return [nought, full] if full.box.left >= nought.box.right + 2 else [nought]


def _draw_broken(x: float, top: float, rung: Rung) -> list[Markup]:
    """A piece of the stile, short of its neighbours; from it a hollow beginning of what is unknown."""
    piece = draw_line("stile", (x, top + 2), (x, top + PITCH - 2))
    if not rung.unknown:
        return [piece]
    return [draw_rectangle("unknown", x, top + 4, (UNKNOWN, PITCH - 8)), piece]


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
    look, own = _look(rung), _name_look(rung, stiles.nought)
    name = cut(rung.name, stiles.nought - GAP - 1, own)
    value = cut(rung.text, WIDTH - stiles.end - GAP, look)
    return [
        Word(name, stiles.nought - GAP, line, own, "end", rung.name),
        Word(value, WIDTH, line, look, "end", rung.text),
    ]


def _letter_other(stiles: _Stiles, rung: Rung, line: float) -> list[Word]:
    """Write a name and its word on both sides of the stile; or on two lines that end below one another."""
    if not _is_long(stiles.nought, rung):
        name = Word(rung.name, stiles.nought - GAP, line, "s", "end")
        return [name, Word(rung.text, stiles.nought + _gap(rung), line)]
    return [
        Word(cut(rung.name, WIDTH - 2), 1, line - PITCH, whole=rung.name),
        Word(cut(rung.text, WIDTH - 2), WIDTH - 1, line, "s", "end", rung.text),
    ]
