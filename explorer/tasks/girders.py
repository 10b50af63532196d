"""Girders of two chords, and what is made of them: roofs, cantilevers, towers."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from explorer.tasks.draws import Draws
from explorer.tasks.form import Bar, Form, Point, turned, upside_down

WIDTHS = (4, 5, 6, 8)
"""Panels of 2 to 4 m, in half metres."""
PANELS = {1: (2, 4), 2: (3, 5), 3: (3, 8)}
PATTERNS = ("Pratt", "Howe", "Warren", "parallel")
KINDS = {
    "Pratt": "Pratt girder",
    "Howe": "Howe girder",
    "Warren": "Warren girder with verticals",
    "parallel": "girder with parallel diagonals",
}
TURNED_OVER = {"Pratt": "Howe", "Howe": "Pratt"}
"""What a pattern becomes when its girder is turned over."""


def draw_girder(draws: Draws, level: int) -> Form:
    """A girder on two supports, straight or bowed, its ends upright or sloped; at times overhanging."""
    panels = draws.between(*PANELS[level])
    heights = _heights(draws, panels)
    pattern = draws.one_of(PATTERNS)
    crossed = _crossed_panel(draws, heights, level)
    form = make_girder(heights, draws.one_of(WIDTHS), _risings(pattern, panels), crossed)
    overhangs = level > 1 and panels > 3 and draws.happens(35)
    left, right = (draws.below(2), panels - 1) if overhangs else (0, panels)
    supports = {f"L{left}": "xy", f"L{right}": "y"}
    form = replace(form, kind=KINDS[pattern], supports=supports)
    if draws.happens(70):
        return form
    return replace(upside_down(form), kind=KINDS[TURNED_OVER.get(pattern, pattern)])


def draw_warren(draws: Draws, level: int) -> Form:
    """A girder of triangles without verticals, its upper joints over the middles of the panels."""
    least, most = PANELS[level]
    panels, half, height = draws.between(least, most - 1), draws.between(2, 4), draws.between(3, 8)
    lower = [f"L{i}" for i in range(panels + 1)]
    upper = [f"U{i}" for i in range(1, panels + 1)]
    joints: dict[str, Point] = {name: (2 * half * i, 0) for i, name in enumerate(lower)}
    joints |= {name: (2 * half * i + half, height) for i, name in enumerate(upper)}
    zigzag = [name for pair in zip(lower, upper, strict=False) for name in pair] + lower[-1:]
    overhangs = level > 1 and panels > 3 and draws.happens(40)
    supports = {"L0": "xy", f"L{panels - 1 if overhangs else panels}": "y"}
    bars = _line(lower) + _line(upper) + _line(zigzag)
    form = Form("Warren girder without verticals", joints, bars, supports)
    return upside_down(form) if draws.happens(40) else form


def draw_roof(draws: Draws, level: int) -> Form:
    """A gable roof or a pent roof with verticals, on two supports."""
    pattern = draws.one_of(PATTERNS[:3])
    if draws.happens(30):
        kind, panels, rise = "pent roof", draws.between(3, 4), draws.between(1, 2)
        heights = [rise * (panels - i) for i in range(panels + 1)]
    else:
        kind, panels = "gable roof", 4 if level == 1 else draws.one_of((4, 6))
        rise = draws.between(1 if panels == 6 else 2, 12 // panels)
        heights = [rise * min(i, panels - i) for i in range(panels + 1)]
    form = make_girder(heights, draws.one_of(WIDTHS), _risings(pattern, panels), None)
    return replace(form, kind=f"{kind} with verticals", supports={"L0": "xy", f"L{panels}": "y"})


def draw_fan(draws: Draws, level: int) -> Form:
    """A Fink roof, or a fan roof: two fans of webs, and a tie between their feet."""
    if level == 1 or draws.happens(50):
        half, rise, parts = draws.one_of((6, 8, 10, 12)), draws.one_of((4, 6, 8)), 2
    else:
        half, rise, parts = draws.one_of((6, 9, 12)), 6, 3
    return _make_fan(half, rise, parts, foot=2 * half // 3)


def _make_fan(half: int, rise: int, parts: int, foot: int) -> Form:
    """Rafters of so many `parts`; webs fan out from two joints of the tie, `foot` from its ends."""
    steps = [(half * i // parts, rise * i // parts) for i in range(parts + 1)]
    outline: list[Point] = [*steps, *((2 * half - x, y) for x, y in steps[-2::-1])]
    top = ["L0", *(f"U{i}" for i in range(1, 2 * parts)), "L3"]
    joints = dict(zip(top, outline, strict=True))
    joints |= {"L1": (foot, 0), "L2": (2 * half - foot, 0)}
    webs: list[Bar] = [("L1", f"U{i}") for i in range(1, parts + 1)]
    webs += [(f"U{i}", "L2") for i in range(parts, 2 * parts)]
    bars = _line(["L0", "L1", "L2", "L3"]) + _line(top) + tuple(webs)
    return Form("Fink roof" if parts == 2 else "fan roof", joints, bars, {"L0": "xy", "L3": "y"})


def draw_cantilever(draws: Draws, level: int) -> Form:
    """A bracket held at a wall, of even depth or tapering, its end upright or a point."""
    form, wall = _draw_bracket(draws, level)
    return replace(form, kind="cantilever", supports={"L0": "xy", "U0": wall})


def draw_tower(draws: Draws, level: int) -> Form:
    """A bracket stood on end: a plane tower on two feet."""
    form, wall = _draw_bracket(draws, level)
    feet = {"L0": "xy", "U0": "y" if wall == "x" else wall}
    form = turned(form, "tower", feet)
    names = {name: ("A" if name[0] == "L" else "B") + name[1:] for name in form.joints}
    return replace(
        form,
        joints={names[name]: point for name, point in form.joints.items()},
        bars=tuple((names[a], names[b]) for a, b in form.bars),
        supports={names[name]: held for name, held in form.supports.items()},
    )


def _draw_bracket(draws: Draws, level: int) -> tuple[Form, str]:
    """A girder along x, and how its upper joint at the wall is held: with a bar between both, a roller."""
    panels = draws.between(2, min(PANELS[level][1], 6))
    depth, taper = draws.between(3, 8), draws.below(2)
    heights = [depth - taper * i for i in range(panels)]
    heights = [max(height, 2) for height in heights] + [
        0 if draws.happens(50) else max(heights[-1] - taper, 2)
    ]
    crossed = _crossed_panel(draws, heights, level)
    form = make_girder(heights, draws.one_of(WIDTHS), _risings(draws.one_of(PATTERNS), panels), crossed)
    if draws.happens(40):
        return form, "x"
    return replace(form, bars=tuple(bar for bar in form.bars if bar != ("L0", "U0"))), "xy"


def make_girder(heights: Sequence[int], width: int, rising: Sequence[bool], crossed: int | None) -> Form:
    """Chords, verticals and a diagonal a panel; still without supports.

    heights at the joints of the lower chord, 0 at an end where both chords meet; `rising`: whether a
    panel's diagonal rises along x; the panel `crossed` has both diagonals.
    """
    lower = [f"L{i}" for i in range(len(heights))]
    upper = [f"U{i}" if height else f"L{i}" for i, height in enumerate(heights)]
    joints: dict[str, Point] = {name: (width * i, 0) for i, name in enumerate(lower)}
    joints |= {upper[i]: (width * i, height) for i, height in enumerate(heights) if height}
    verticals = tuple((lower[i], upper[i]) for i, height in enumerate(heights) if height)
    diagonals: list[Bar] = []
    for i, rises in enumerate(rising):
        if heights[i] and heights[i + 1]:
            both: list[Bar] = [(lower[i], upper[i + 1]), (upper[i], lower[i + 1])]
            diagonals += both if i == crossed else [both[0] if rises else both[1]]
    bars = _line(lower) + _line(upper) + verticals + tuple(diagonals)
    return Form("girder", joints, bars, {}, crossings=0 if crossed is None else 1)


def _heights(draws: Draws, panels: int) -> list[int]:
    """Heights of an even or a bowed upper chord; 0 at an end that is sloped."""
    height, bow = draws.between(3, 8), int(draws.happens(25))
    heights = [min(8, height + bow * min(i, panels - i)) for i in range(panels + 1)]
    ends = draws.one_of(((0, 0), (0, 0), (1, 1), (0, 1), (1, 0)))
    if panels == 2 and ends == (0, 0):
        ends = (1, 1)
    return [heights[0] * ends[0], *heights[1:-1], heights[-1] * ends[1]]


def _risings(pattern: str, panels: int) -> list[bool]:
    """Whether each panel's diagonal rises along x: in a Pratt girder they fall toward the middle."""
    left = [2 * i < panels - 1 for i in range(panels)]
    return {
        "Pratt": [not half for half in left],
        "Howe": left,
        "Warren": [i % 2 == 0 for i in range(panels)],
        "parallel": [False] * panels,
    }[pattern]


def _crossed_panel(draws: Draws, heights: Sequence[int], level: int) -> int | None:
    """At times at level 3, a panel with both diagonals."""
    whole = [i for i in range(len(heights) - 1) if heights[i] and heights[i + 1]]
    return draws.one_of(whole) if level == 3 and whole and draws.happens(30) else None


def _line(names: Sequence[str]) -> tuple[Bar, ...]:
    return tuple(pairwise(names))
