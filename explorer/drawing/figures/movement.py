"""Picture 4, what if it were gone: the member as dots, and the joints that then move."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot
from statistics import median

from explorer.drawing.figures.miniature import View, fit
from explorer.drawing.figures.placing import Ground, Words
from explorer.drawing.figures.strokes import (
    HEIGHT,
    WIDTH,
    draw_arrow,
    draw_lines,
    draw_ring,
    draw_sheet,
    step,
    toward,
    write,
)
from explorer.drawing.figures.words import Box, Point, Word, draw_word, width_of
from explorer.markup import Markup, element, number

Line = tuple[Point, Point]
EDGE = 6.0
LEAST_TAKE = 0.05
"""Below a twentieth of the most, what a member takes over is not drawn."""
WHOLE = 12
"""A truss of up to so many joints is shown as a whole."""

AMPLITUDE, OF_WIDTH = 0.35, 0.1
"""The largest movement as a part of the middle length of a member, and of all that is shown; the larger
counts: it is to be seen, not to scale."""

STUB = 0.22
"""How much is shown of a member that goes on outside the picture."""

RINGED = 30
"""Rings at up to so many joints; more would hide the members."""


@dataclass(frozen=True)
class Movement:
    """A truss seen flat, and how it can move without one member.

    `points`: (right, up) of each joint; `members`: pairs of joints; `gone`: the member taken out;
    `moves`: (right, up) by which each joint moves, to any scale, (0, 0) where it stays; `name`: what to
    write at the joint that moves most.
    """

    label: str
    points: tuple[Point, ...]
    members: tuple[tuple[int, int], ...]
    gone: int
    moves: tuple[Point, ...]
    name: str = ""


@dataclass(frozen=True)
class Standing:
    """A truss seen flat that stands without the member `gone`.

    takes: for each member what it takes over of a force there, tension positive, the most being 1.
    """

    label: str
    points: tuple[Point, ...]
    members: tuple[tuple[int, int], ...]
    gone: int
    takes: tuple[float, ...] = ()


@dataclass(frozen=True)
class _Scene:
    """What is shown, in pixels: joints before and after (by index), and the members between them."""

    before: dict[int, Point]
    after: dict[int, Point]
    members: list[tuple[int, int]]
    gone: tuple[int, int]
    stubs: list[Line]

    def moves(self, joint: int) -> bool:
        return hypot(*_difference(self.before[joint], self.after[joint])) > 0.01


def draw_movement(movement: Movement) -> Markup:
    """Draw the truss with what moves in its end position.

    Each moving line and ring carries `data-from` and `data-to` [px] for the page, which moves them out
    and back; without that, or for readers who want less motion, the end position stands.
    """
    scene, name = _lay_out_with_name(movement)
    moving = [pair for pair in scene.members if any(map(scene.moves, pair))]
    still = [pair for pair in scene.members if pair not in set(moving)]
    strokes = [
        *draw_lines("stub", scene.stubs),
        *draw_lines("plain", [_between(scene.before, pair) for pair in still]),
        *draw_lines("zero", [_between(scene.before, pair) for pair in moving]),
        *draw_lines("ghost", [_between(scene.before, scene.gone)]),
        *_draw_arrow(scene),
        *_draw_still_rings(scene),
        _draw_moving(scene, moving),
        *map(draw_word, name),
    ]
    return draw_sheet("movement", movement.label, strokes)


def draw_standing(standing: Standing) -> Markup:
    """Draw the truss with the member as dots; nothing moves."""
    moves = tuple((0.0, 0.0) for _ in standing.points)
    scene = _lay_out(Movement(standing.label, standing.points, standing.members, standing.gone, moves), EDGE)
    strokes = [
        *draw_lines("stub", scene.stubs),
        *draw_lines("plain", [_between(scene.before, pair) for pair in scene.members]),
        *_draw_takes(scene, standing),
        *draw_lines("ghost", [_between(scene.before, scene.gone)]),
        *_draw_still_rings(scene),
    ]
    return draw_sheet("movement standing", standing.label, strokes)


def _draw_takes(scene: _Scene, standing: Standing) -> list[Markup]:
    """Lines over the members that take over something to be seen, as wide as it is much."""
    lines = []
    for member, take in enumerate(standing.takes):
        pair = standing.members[member]
        if member == standing.gone or abs(take) < LEAST_TAKE or not set(pair) <= set(scene.before):
            continue
        (x1, y1), (x2, y2) = _between(scene.before, pair)
        place = {"x1": number(x1), "y1": number(y1), "x2": number(x2), "y2": number(y2)}
        # Compression is hollow: a narrower line of the ground over the line.
        for look in ("takes t",) if take > 0 else ("takes c", "takes hollow"):
            lines.append(
                element("line", attributes={"class": look, **place, "style": f"--f:{abs(take):.2f}"})
            )
    return lines


def _lay_out_with_name(movement: Movement) -> tuple[_Scene, Words]:
    """Lay out as large as it goes; smaller if only that gives room to the name."""
    for edge in (EDGE, EDGE + 10):
        scene = _lay_out(movement, edge)
        name = _letter(movement.name, scene)
        if name:
            return scene, name
    return _lay_out(movement, EDGE), ()


def _lay_out(movement: Movement, edge: float) -> _Scene:
    shown = _shown(movement)
    pairs = [pair for index, pair in enumerate(movement.members) if index != movement.gone]
    inside = [pair for pair in pairs if set(pair) <= shown]
    gone = movement.members[movement.gone]
    moved = _moved(movement, [*inside, gone])
    stubs = [_stub(movement.points, pair, shown) for pair in pairs if len(set(pair) & shown) == 1]
    # A stub at a joint that moves would show a member torn off: such joints have all neighbours shown.
    corners = [point for joint in shown for point in (movement.points[joint], moved[joint])]
    corners += [point for stub in stubs for point in stub]
    view = fit(tuple(corners), Box(edge, edge, WIDTH - edge, HEIGHT - edge))
    return _Scene(
        {joint: view.place(movement.points[joint]) for joint in shown},
        {joint: view.place(moved[joint]) for joint in shown},
        inside,
        gone,
        [_placed(view, stub) for stub in stubs],
    )


def _shown(movement: Movement) -> set[int]:
    """Joints to show: of a large truss those that move, those of the member, and their neighbours."""
    joints = {joint for pair in movement.members for joint in pair}
    if len(joints) <= WHOLE:
        return joints
    core = {joint for joint in joints if any(movement.moves[joint])} | set(movement.members[movement.gone])
    return core | {joint for pair in movement.members if set(pair) & core for joint in pair}


def _moved(movement: Movement, pairs: list[tuple[int, int]]) -> list[Point]:
    largest = max(hypot(*move) for move in movement.moves)
    lengths = [hypot(*_difference(*_between(movement.points, pair))) for pair in pairs]
    across = [movement.points[joint][0] for pair in pairs for joint in pair]
    wanted = max(AMPLITUDE * median(lengths), OF_WIDTH * (max(across) - min(across)))
    scale = wanted / largest if largest else 0.0
    return [
        (x + scale * right, y + scale * up)
        for (x, y), (right, up) in zip(movement.points, movement.moves, strict=True)
    ]


def _stub(points: tuple[Point, ...], pair: tuple[int, int], shown: set[int]) -> Line:
    first, second = pair if pair[0] in shown else pair[::-1]
    start, end = points[first], points[second]
    return start, (start[0] + STUB * (end[0] - start[0]), start[1] + STUB * (end[1] - start[1]))


def _placed(view: View, line: Line) -> Line:
    return view.place(line[0]), view.place(line[1])


def _between(points: dict[int, Point] | tuple[Point, ...], pair: tuple[int, int]) -> Line:
    return points[pair[0]], points[pair[1]]


def _difference(a: Point, b: Point) -> Point:
    return b[0] - a[0], b[1] - a[1]


def _draw_arrow(scene: _Scene) -> list[Markup]:
    """One arrow, at the joint that moves most, from ring to ring."""
    joint = _most(scene)
    if joint is None:
        return []
    start, end = scene.before[joint], scene.after[joint]
    along = toward(start, end)
    if hypot(*_difference(start, end)) < 12:
        return []
    return [draw_arrow(step(start, along, 4), step(end, along, -4))]


def _most(scene: _Scene) -> int | None:
    """The joint that moves most: of equals the first, so that rounding decides nothing."""
    sizes = {joint: hypot(*_difference(scene.before[joint], scene.after[joint])) for joint in scene.before}
    largest = max(sizes.values())
    if largest <= 0.01:
        return None
    return min(joint for joint, size in sizes.items() if size >= largest * (1 - 1e-9))


def _radius(scene: _Scene) -> float:
    return 3.0 if len(scene.before) <= WHOLE + 4 else 2.0 if len(scene.before) <= RINGED else 0.0


def _draw_still_rings(scene: _Scene) -> list[Markup]:
    radius = _radius(scene)
    if not radius:
        return []
    return [
        draw_ring("joint faint" if scene.moves(joint) else "joint", scene.before[joint], radius)
        for joint in sorted(scene.before)
    ]


def _draw_moving(scene: _Scene, moving: Iterable[tuple[int, int]]) -> Markup:
    lines = [_moving_line(scene, pair) for pair in moving]
    radius = _radius(scene)
    joints = [joint for joint in sorted(scene.before) if radius and scene.moves(joint)]
    rings = [_moving_ring(scene, joint, radius) for joint in joints]
    return element("g", [*lines, *rings], {"class": "moving"})


def _moving_line(scene: _Scene, pair: tuple[int, int]) -> Markup:
    old, new = _between(scene.before, pair), _between(scene.after, pair)
    attributes: dict[str, object] = {
        "class": "moved",
        "x1": float(new[0][0]),
        "y1": float(new[0][1]),
        "x2": float(new[1][0]),
        "y2": float(new[1][1]),
        "data-from": ",".join(map(write, old)),
        "data-to": ",".join(map(write, new)),
    }
    return element("line", attributes=attributes)


def _moving_ring(scene: _Scene, joint: int, radius: float) -> Markup:
    old, new = scene.before[joint], scene.after[joint]
    attributes: dict[str, object] = {
        "class": "joint",
        "cx": float(new[0]),
        "cy": float(new[1]),
        "r": radius,
        "data-from": write(old),
        "data-to": write(new),
    }
    return element("circle", attributes=attributes)


def _letter(name: str, scene: _Scene) -> Words:
    """Write the name of the joint that moves most where nothing else is drawn; else leave it to the text."""
    joint = _most(scene)
    if joint is None or not name:
        return ()
    ground = Ground(Box(1, 1, WIDTH - 1, HEIGHT - 1))
    for pair in [*scene.members, scene.gone]:
        ground.lines += [(*_between(points, pair), 2.0) for points in (scene.before, scene.after)]
    ground.lines += [(*stub, 2.0) for stub in scene.stubs]
    ground.lines.append((scene.before[joint], scene.after[joint], 4.0))
    rings = [point for points in (scene.before, scene.after) for point in points.values()]
    ground.boxes += [Box(x - 4, y - 4, x + 4, y + 4) for x, y in rings]
    return ground.take(_around(name, scene.after[joint]))


def _around(name: str, at: Point) -> Iterable[Words]:
    half = width_of(name, "b") / 2
    for far in (6.0, 10.0, 16.0, 24.0):
        for right, down in ((0, 1), (1, 0), (-1, 0), (1, 1), (-1, 1), (0, -1), (1, -1), (-1, -1)):
            x, y = at[0] + right * (half + far), at[1] + down * (far + 5) + 3
            yield (Word(name, x, y, "b", "middle"),)
