"""The drawing of a task on paper: the truss with its loads, without forces or with them.

A page thins its lettering out and lets the reader come nearer. Paper cannot, and who answers in writing
needs the name of every joint: so a truss is laid out here at the size it is printed, larger or seen from
elsewhere where that keeps names clear, and every joint is lettered.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.bars import PLAIN, SHORT_OF_JOINT, ZERO, Paint, paint_force
from explorer.drawing.labels import FOOT, LINE, ROOM, text_width
from explorer.drawing.lettering import ALONG_BAR
from explorer.drawing.loads import LONGEST, SHORTEST
from explorer.drawing.scene import Scene, draw_scene, write_value
from explorer.drawing.symbols import draw_arrow, hang, hang_from_above
from explorer.drawing.view import Direction, Frame, Margins, fit, look
from explorer.markup import Markup, element
from explorer.wording.reasons import Reasoning

Array = NDArray[np.float64]
PAPER = 688.0
"""Width of a drawing [px]: of A4, 14 mm left free on both sides."""
SIDE = 64.0
HEIGHTS = (170.0, 230.0, 300.0, 370.0, 460.0)
"""The truss is at most so high [px]; the later ones where names or forces have no room before."""
ROOMLESS = 0.2
"""A layout is taken as it is where at most this share of the members has no room for a force."""
LONG_FORCE = "C 0.00"
"""As wide as a force is written: how a task is laid out must not hang on what its members bear."""
VIEWS = tuple(Direction(azimuth, above) for above in (14.0, 24.0) for azimuth in (-62.0, -48.0, -76.0, -34.0))
AROUND = np.radians(np.arange(-90.0, 270.0, 15.0))
AWAY = (0.0, 5.0, 10.0, 18.0, 28.0)
"""A name stands so much farther from its joint than it must [px]."""
RING = 5.0
CROWDED = 8.0
"""A bar that passes a joint nearer than this seems to end there [px]."""
WORST = 100.0
"""Meeting one thing weighs as much as standing this far away [px]."""
ASIDE = (0.0, 12.0, -12.0, 17.0, -17.0, 24.0, -24.0)
"""A load whose line is taken by bars stands so far beside it [px]."""
TIP = 9.5
"""An arrow in line with its joint keeps so far from its middle [px]."""
STRAY = 4
"""A name or an arrow that is nearer to another joint is as bad as one that meets so many things."""
FORESHORTENED = 0.3
"""A load of which less is seen is no arrow any more."""
SHORTEST_STUMP = 5.0
"""So much of a bar is seen on either side of its value [px]."""


@dataclass(frozen=True)
class Obstacles:
    """What lettering keeps off: segments (n, 2, 2) and boxes (m, 2, 2), each a middle and half sizes [px]."""

    segments: Array
    boxes: Array

    def met(self, middles: Array, half: Array, own: int = -1) -> NDArray[np.int64]:
        """How many a box of half sizes (2,) would meet at each of its middles (k, 2); `own` not counted."""
        crossed = _cross(self.segments, middles, half + ROOM)
        if own >= 0:
            crossed[:, own] = False
        apart = np.abs(middles[:, None] - self.boxes[None, :, 0])
        covered = (apart < half + ROOM + self.boxes[None, :, 1]).all(axis=2)
        return np.asarray(crossed.sum(axis=1) + covered.sum(axis=1))

    def and_box(self, middle: Array, half: Array) -> Obstacles:
        """These and one box more."""
        return Obstacles(self.segments, np.concatenate([self.boxes, [[middle, half]]]))


@dataclass(frozen=True)
class Arrow:
    """A load at a joint (index): from `tail` to `tip`, its size written at `place` [px]."""

    joint: int
    text: str
    tail: Array
    tip: Array
    place: Array


@dataclass(frozen=True)
class Layout:
    """How a task lies on paper: its frame and view, where each joint's name stands (joints, 2) [px].

    `taken`: what further lettering keeps off; bars come first among its segments. `flaws`: what names and
    arrows meet, bars that pass a joint as if they ended there, loads that are seen end on.
    """

    told: Reasoning
    frame: Frame
    direction: Direction
    places: Array
    arrows: tuple[Arrow, ...]
    taken: Obstacles
    flaws: int

    @property
    def pixels(self) -> Array:
        """Joints on paper, (joints, 2) [px]."""
        return self.frame.place(look(self.told.answers.study.truss.joint_coordinates, self.direction))


@dataclass(frozen=True)
class Picture:
    """A drawing, and the members (indices) whose values found no room in it."""

    drawing: Markup
    unwritten: tuple[int, ...] = ()


def lay_task(told: Reasoning) -> Layout:
    """Lay a task out: the smallest of a few sizes, and in space of a few views, that keeps names clear.

    It also has room for the forces of most members; where no size has, the one with most room is taken.
    """
    truss = told.answers.study.truss
    views = VIEWS if truss.dimension == 3 else VIEWS[:1]
    layouts: list[Layout] = []
    for height in HEIGHTS:
        for view in views:
            layouts.append(_lay(told, view, height))
            if layouts[-1].flaws:
                continue
            if _lacking(layouts[-1]) <= ROOMLESS * len(truss.members):
                return layouts[-1]
            # Seen from here names are clear: more room is found nearer, not from elsewhere.
            views = (view,)
            break
    fewest = min(layout.flaws for layout in layouts)
    return min((layout for layout in layouts if layout.flaws == fewest), key=_lacking)


def _lacking(layout: Layout) -> int:
    """How many members have no room for a force."""
    members = layout.told.answers.study.truss.members
    return len(_write_values(layout, [LONG_FORCE] * len(members))[1])


def draw_task(layout: Layout, label: str) -> Markup:
    """Draw the truss with joint names and loads; no member shows what it bears."""
    return _draw(layout, [Paint(PLAIN)] * len(layout.told.state.forces), [], label)


def draw_answer(layout: Layout, zeros: Collection[int], label: str) -> Picture:
    """Draw the truss with the force of every member; those in `zeros` (indices) are thin and broken."""
    forces, told = layout.told.state.forces, layout.told
    largest = float(np.abs(forces).max(initial=0.0))
    paints = [
        Paint(ZERO) if m in zeros else paint_force(float(f), told.band, largest) for m, f in enumerate(forces)
    ]
    values = [
        "0" if m in zeros else f"{'T' if f > 0 else 'C'} {told.teller.brief(float(f))}"
        for m, f in enumerate(forces)
    ]
    texts, unwritten = _write_values(layout, values)
    return Picture(_draw(layout, paints, texts, label), unwritten)


def _lay(told: Reasoning, view: Direction, height: float) -> Layout:
    truss = told.answers.study.truss
    seen = look(truss.joint_coordinates, view)
    frame = fit(seen, PAPER, height + 2 * SIDE, Margins(SIDE, SIDE, SIDE, SIDE))
    pixels = frame.place(seen)
    bars = pixels[truss.ends]
    # Every bar passes the two joints that it truly ends at.
    crowded = _cross(bars, pixels, np.array([CROWDED, CROWDED])).sum() - 2 * len(bars)
    arrows, taken, met = _place_loads(told, pixels, view, _obstruct(told, pixels, view))
    flaws, places = int(crowded) + met, []
    for joint, name in enumerate(truss.joint_names):
        half = _half(name)
        place, met = _place_name(truss.ends, pixels, joint, half, taken)
        taken, flaws = taken.and_box(place, half), flaws + met
        places.append(place)
    return Layout(told, frame, view, np.array(places), arrows, taken, flaws)


def _half(text: str) -> Array:
    return np.array([text_width(text) / 2, LINE / 2])


def _place_name(
    ends: NDArray[np.int64], pixels: Array, joint: int, half: Array, taken: Obstacles
) -> tuple[Array, int]:
    """The best place around a joint for its name, and how much it meets there.

    What it meets counts most, then how far it is from the joint, then how near to a bar it points.
    """
    units = np.column_stack([np.cos(AROUND), np.sin(AROUND)])
    away = np.array(AWAY)
    offsets = (units * (half + RING))[None] + units[None] * away[:, None, None]
    middles = pixels[joint] + offsets.reshape(-1, 2)
    here = ends[(ends == joint).any(axis=1)]
    along = pixels[here.sum(axis=1) - joint] - pixels[joint]
    length = np.maximum(np.hypot(*along.T), 1e-9)
    toward = (units @ (along.T / length)).max(axis=1)
    met = taken.met(middles, half) + STRAY * _strays(middles, pixels, joint)
    # Rounding keeps equals equal on every machine: the first of them is taken.
    cost = np.round(WORST * met + (away[:, None] + 4 * toward[None]).reshape(-1), 6)
    chosen = int(cost.argmin())
    return middles[chosen], int(met[chosen])


def _obstruct(told: Reasoning, pixels: Array, view: Direction) -> Obstacles:
    """Bars, joints and supports."""
    truss = told.answers.study.truss
    boxes = [(at, np.full(2, RING)) for at in pixels]
    hanging = hang_from_above(truss, pixels)
    for support in truss.supports:
        held = look(np.array([[float(c) for c in d] for d in support.directions]), view)
        middle, half = FOOT[0] * (-1.0 if support.joint in hanging else 1.0), FOOT[1]
        if len(held) == 1 and held[0].any():
            right, up = held[0] if (held[0][1], held[0][0]) >= (0, 0) else -held[0]
            middle = FOOT[0][1] * np.array([-right, up]) / np.hypot(right, up)
            half = FOOT[1] if abs(up) > abs(right) else FOOT[1][::-1]
        boxes.append((pixels[support.joint] + middle, half))
    return Obstacles(pixels[truss.ends], np.array(boxes))


def _place_loads(
    told: Reasoning, pixels: Array, view: Direction, taken: Obstacles
) -> tuple[tuple[Arrow, ...], Obstacles, int]:
    """Place the loads' arrows; return them, what is taken then, and how many flaws they have."""
    loads = told.state.joint_loads
    seen = look(loads, view) * np.array([1.0, -1.0])
    sizes = np.linalg.norm(loads, axis=1)
    arrows, flaws = [], 0
    for joint in map(int, np.flatnonzero(sizes)):
        share = float(np.hypot(*seen[joint]) / sizes[joint])
        length = share * (SHORTEST + (LONGEST - SHORTEST) * float(sizes[joint] / sizes.max()))
        unit = seen[joint] / max(float(np.hypot(*seen[joint])), 1e-9)
        text = told.teller.load(float(sizes[joint]))
        arrow, met = _place_load((joint, text), pixels, (unit, length), taken)
        line = np.concatenate([taken.segments, [[arrow.tail, arrow.tip]]])
        taken = Obstacles(line, taken.boxes).and_box(arrow.place, _half(text))
        arrows.append(arrow)
        flaws += met + (share < FORESHORTENED)
    return tuple(arrows), taken, flaws


def _place_load(
    what: tuple[int, str], pixels: Array, lying: tuple[Array, float], taken: Obstacles
) -> tuple[Arrow, int]:
    """Place one arrow: onto its joint or away from it, in line or beside; and how much it meets there.

    `what`: its joint and its size as told; `lying`: its direction on paper and its length [px].
    """
    (joint, text), (unit, length) = what, lying
    half, across = _half(text), np.array([-unit[1], unit[0]])
    found: list[tuple[float, int, Arrow]] = []
    # Beside its joint an arrow comes level with it where nothing lies there: so it is nearest to it.
    for aside, gap, pulls in product(ASIDE, (0.0, TIP), (False, True)):
        if not aside and not gap:
            continue
        outward = unit if pulls else -unit
        near = pixels[joint] + aside * across + gap * outward
        far = near + length * outward
        place = far + outward * (2.0 + float(np.abs(outward) @ half))
        # Bars count once, however many of the arrow's points they cover.
        met = int(taken.met(np.linspace(near, far, 7), np.ones(2)).max()) + int(
            taken.met(place[None], half)[0]
        )
        met += STRAY * int(_strays(near[None], pixels, joint)[0])
        cost = round(WORST * met + abs(aside) + (gap if aside else 0.0) + 2.0 * pulls, 6)
        tail, tip = (near, far) if pulls else (far, near)
        found.append((cost, met, Arrow(joint, text, tail, tip, place)))
    _, met, arrow = min(found, key=lambda one: one[0])
    return arrow, met


def _strays(points: Array, pixels: Array, joint: int) -> NDArray[np.bool_]:
    """Which points (k, 2) [px] have another joint nearer than, or as near as, the one they belong to."""
    apart = np.hypot(*np.moveaxis(points[:, None] - pixels[None], 2, 0))
    others = np.delete(apart, joint, axis=1).min(axis=1, initial=np.inf)
    return np.asarray(others <= apart[:, joint] + 1e-6)


def _cross(segments: Array, middles: Array, half: Array) -> NDArray[np.bool_]:
    """Which segments (n, 2, 2) meet a box at each of its middles (k, 2); (k, n), by separating axes."""
    first = segments[None, :, 0] - middles[:, None]
    second = segments[None, :, 1] - middles[:, None]
    along = second - first
    beside = (np.minimum(first, second) > half) | (np.maximum(first, second) < -half)
    area = first[..., 0] * along[..., 1] - first[..., 1] * along[..., 0]
    reach = np.abs(along[..., 0]) * half[1] + np.abs(along[..., 1]) * half[0]
    return np.asarray(~(beside.any(axis=2) | (np.abs(area) > reach)))


def _write_values(layout: Layout, values: Sequence[str]) -> tuple[list[Markup], tuple[int, ...]]:
    """Write values in gaps of their own bars, and tell which members have no room for theirs."""
    ends = layout.pixels[layout.told.answers.study.truss.ends]
    lengths = np.hypot(*(ends[:, 1] - ends[:, 0]).T)
    taken, texts, unwritten = layout.taken, [], []
    for member in np.argsort(-np.round(lengths, 6), kind="stable"):
        half = _half(values[member])
        middles = _gaps(ends[member], half)
        free = middles[taken.met(middles, half, int(member)) == 0] if len(middles) else middles
        if not len(free):
            unwritten.append(int(member))
            continue
        taken = taken.and_box(free[0], half)
        texts.append(_write_value(values[member], free[0], half))
    return texts, tuple(sorted(unwritten))


def _gaps(bar: Array, half: Array) -> Array:
    """Middles (k, 2) of a value's possible gaps in a bar (2, 2), the best first."""
    along = bar[1] - bar[0]
    length = float(np.hypot(*along))
    gap = float(np.min(half / np.maximum(np.abs(along) / length, 1e-9)))
    stump = SHORT_OF_JOINT + SHORTEST_STUMP
    shares = [s for s in ALONG_BAR if min(s, 1 - s) * length - gap >= stump]
    middles: Array = bar[0] + np.array(shares).reshape(-1, 1) * along
    return middles


def _write_value(text: str, at: Array, half: Array) -> Markup:
    gap = {
        "class": "gap",
        "x": -float(half[0]),
        "y": -float(half[1]),
        "width": float(2 * half[0]),
        "height": float(2 * half[1]),
    }
    kind = {"T": "t", "C": "c", "0": "z"}[text[0]]
    return hang([element("rect", attributes=gap), write_value(text)], at, {"class": f"value {kind}"})


def _draw(layout: Layout, paints: Sequence[Paint], values: Sequence[Markup], label: str) -> Markup:
    truss = layout.told.answers.study.truss
    scene = Scene(truss, layout.frame, layout.direction, paints)
    names = [
        hang([element("text", name, {"y": 4})], at, {"class": "name"})
        for name, at in zip(truss.joint_names, layout.places, strict=True)
    ]
    letters = element("g", [*values, *names], {"class": "letters"})
    content = [*draw_scene(scene, lettered=False), _draw_loads(layout), letters]
    boxes = layout.taken.boxes
    top, bottom = (
        (boxes[:, 0] - boxes[:, 1])[:, 1].min() - ROOM,
        (boxes[:, 0] + boxes[:, 1])[:, 1].max() + ROOM,
    )
    attributes = {
        "class": "truss",
        "viewBox": f"0 {top:.0f} {PAPER:.0f} {bottom - top:.0f}",
        "role": "img",
        "aria-label": label,
    }
    return element("svg", content, attributes)


def _draw_loads(layout: Layout) -> Markup:
    parts = []
    for arrow in layout.arrows:
        number = element("text", arrow.text, {"x": float(arrow.place[0]), "y": float(arrow.place[1]) + 4})
        parts.append(element("g", [draw_arrow(arrow.tail, arrow.tip), number], {"class": "load"}))
    return element("g", parts, {"class": "loads"})
