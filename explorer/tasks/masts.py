"""Space trusses of equal storeys or panels: masts, girders of three chords, grids of pyramids."""

from __future__ import annotations

from dataclasses import replace

from explorer.tasks.draws import Draws
from explorer.tasks.form import Bar, Form, Point

PLANS: dict[int, tuple[tuple[int, int], ...]] = {
    3: ((-3, -2), (3, -2), (0, 4)),
    4: ((-3, -3), (3, -3), (3, 3), (-3, 3)),
}
"""Corners of a mast by the number of its sides, in half metres."""
STOREYS = {1: (1, 1), 2: (1, 2), 3: (1, 3)}


def draw_mast(draws: Draws, level: int) -> Form:
    """A mast of three or four sides on its feet; at times with a peak, at times out from a wall."""
    sides = draws.one_of((3, 3, 4))
    storeys = draws.between(*STOREYS[level])
    form = _prism(draws, sides, storeys)
    feet = dict.fromkeys([f"{'ABCD'[side]}0" for side in range(sides)], "xyz")
    form = replace(form, kind="mast", supports=feet)
    if sides == 3 and draws.happens(50):
        top = [f"{'ABC'[side]}{storeys}" for side in range(3)]
        peak = (0, 0, form.joints[top[0]][-1] + draws.between(4, 7))
        bars = form.bars + tuple((name, "P") for name in top)
        form = replace(form, joints={**form.joints, "P": peak}, bars=bars)
    return replace(_laid_down(form), kind="bracket in space") if draws.happens(30) else form


def draw_space_girder(draws: Draws, level: int) -> Form:
    """A girder of three chords along x: a mast laid down, with its first ring, on six held directions."""
    panels = draws.between(*STOREYS[level])
    form = _prism(draws, 3, panels)
    ring: tuple[Bar, ...] = (("A0", "B0"), ("B0", "C0"), ("A0", "C0"))
    supports = {"A0": "xyz", f"A{panels}": "yz", "B0": "z"}
    form = _laid_down(replace(form, bars=form.bars + ring))
    return replace(form, kind="girder of three chords", supports=supports)


def draw_pyramids(draws: Draws, level: int) -> Form:
    """A row of pyramids: a space grid of square bays, each braced in plan, their peaks in line."""
    bays = draws.between(*{1: (1, 1), 2: (1, 2), 3: (2, 4)}[level])
    half, height = draws.between(2, 4), draws.between(3, 6)
    joints: dict[str, Point] = {}
    bars: list[Bar] = []
    for i in range(bays + 1):
        joints |= {f"A{i}": (2 * half * i, 0, 0), f"B{i}": (2 * half * i, 2 * half, 0)}
        bars.append((f"A{i}", f"B{i}"))
    for i in range(1, bays + 1):
        joints[f"U{i}"] = (2 * half * i - half, half, height)
        base = (f"A{i - 1}", f"B{i - 1}", f"A{i}", f"B{i}")
        bars += [
            (base[0], base[2]),
            (base[1], base[3]),
            draws.one_of(((base[0], base[3]), (base[1], base[2]))),
        ]
        bars += [(corner, f"U{i}") for corner in base]
        bars += [(f"U{i - 1}", f"U{i}")] if i > 1 else []
    supports = {"A0": "xyz", f"A{bays}": "yz", "B0": "z"}
    return Form("row of pyramids", joints, tuple(bars), supports)


def _prism(draws: Draws, sides: int, storeys: int) -> Form:
    """Legs, a diagonal a face and storey, and rings above the feet; upright, still without supports."""
    rise, size = draws.between(4, 8), draws.between(1, 2) if sides == 3 else 1
    corners = "ABCD"[:sides]
    joints: dict[str, Point] = {}
    for storey in range(storeys + 1):
        for corner, (x, y) in zip(corners, PLANS[sides], strict=True):
            joints[f"{corner}{storey}"] = (size * x, size * y, rise * storey)
    bars: list[Bar] = []
    for storey in range(1, storeys + 1):
        bars += [(f"{corner}{storey - 1}", f"{corner}{storey}") for corner in corners]
        for one, other in zip(corners, corners[1:] + corners[0], strict=True):
            low, high = (one, other) if draws.happens(50) else (other, one)
            bars += [(f"{low}{storey - 1}", f"{high}{storey}"), (f"{one}{storey}", f"{other}{storey}")]
    return Form("prism", joints, tuple(bars), {})


def _laid_down(form: Form) -> Form:
    """The same with its legs along x; of three the last is the upper one."""
    lowest = min(point[1] for point in form.joints.values())
    return replace(form, joints={n: (z, x, y - lowest) for n, (x, y, z) in form.joints.items()})
