"""Loads on the plate: arrows at joints under a case or combination, the axles of a train, reactions."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.labels import text_width
from explorer.drawing.symbols import draw_arrow, hang, hang_from_above
from explorer.drawing.view import Direction, look
from explorer.markup import Markup, element
from solver.truss import Truss

Array = NDArray[np.float64]
Telling = Callable[[float], str]
"""How a force [N] is told: three significant digits in the reader's unit."""

SHORTEST, LONGEST = 12.0, 30.0
BESIDE = np.array([26.0, 0.0])
"""How far a load steps aside from a reaction [px], inwards: the reaction's letters stand outside."""
CLEAR = 24.0
"""An upright arrow keeps this far from its joint [px], where the joint's name stands."""


@dataclass(frozen=True)
class JointLoads:
    """Loads at joints (joints, dimension) [N] as a reader sees them."""

    truss: Truss
    loads: Array
    direction: Direction
    tell: Telling


def draw_joint_loads(given: JointLoads, pixels: Array) -> Markup:
    """Draw each joint's load as an arrow, length by load, its number at the free end."""
    seen = look(given.loads, given.direction)
    sizes = np.linalg.norm(given.loads, axis=1)
    largest = float(sizes.max(initial=0.0))
    arrows = [
        _draw_load(int(joint), pixels, seen[joint], (float(sizes[joint]), largest), given)
        for joint in np.flatnonzero(sizes > 1e-9 * largest)
    ]
    return element("g", arrows, {"class": "loads"})


def _draw_load(
    joint: int, pixels: Array, seen: Array, sizes: tuple[float, float], given: JointLoads
) -> Markup:
    size, largest = sizes
    shown = float(np.hypot(*seen))
    unit = np.array([seen[0], -seen[1]]) / shown if shown else np.array([0.0, 0.0])
    length = (SHORTEST + (LONGEST - SHORTEST) * size / largest) * (shown / size)
    clear = 9.0 + (CLEAR - 9.0) * abs(unit[1])
    pulls = _blocked(given.truss, pixels, joint, -unit) and not _blocked(given.truss, pixels, joint, unit)
    near, far = unit * clear, unit * (clear + length)
    if pulls and any(support.joint == joint for support in given.truss.supports):
        # Below a support stands its reaction: the load steps aside.
        aside = BESIDE * _inwards(pixels, joint)
        near, far = near + aside, far + aside
    tail, tip = (near, far) if pulls else (-far, -near)
    free = tip if pulls else tail
    text = given.tell(size)
    outward = free + np.array([0.0, 9.0 if free[1] > 0 else -9.0]) * (abs(unit[1]) > 0.5)
    outward = outward + np.array([(text_width(text) / 2 + 2) * np.sign(free[0]), 0.0]) * (abs(unit[1]) <= 0.5)
    gaps = np.abs(np.delete(pixels, joint, axis=0) - pixels[joint]).max(axis=1)
    needed = text_width(text) / float(gaps.min()) if len(gaps) and gaps.min() > 0 else 64.0
    number = element(
        "text", text, {"x": float(outward[0]), "y": float(outward[1]) + 4, "data-from": round(needed, 3)}
    )
    turning = (
        ",".join(f"{value:.4g}" for value in given.loads[joint] / size)
        if len(given.loads[joint]) == 3
        else None
    )
    return hang(
        [draw_arrow(tail, tip), number], pixels[joint], {"class": "load", "data-j": joint, "data-v": turning}
    )


def _inwards(pixels: Array, joint: int) -> float:
    """The side of a joint on which the truss lies: 1 to the right, -1 to the left."""
    return 1.0 if pixels[joint, 0] < pixels[:, 0].mean() else -1.0


def _blocked(truss: Truss, pixels: Array, joint: int, toward: Array) -> bool:
    """Whether a bar leaves the joint within some 25 degrees of a direction on the plate."""
    for index in truss.members_at[joint]:
        member = truss.members[index]
        other = member.second if member.first == joint else member.first
        along = pixels[other] - pixels[joint]
        length = float(np.hypot(*along))
        if length and float(along @ toward) / length > 0.9:
            return True
    return False


@dataclass(frozen=True)
class AxleMarks:
    """Axles of a train: distances behind its front [m], loads that act [N]; radius of a wheel [px].

    seconds: distance and load of each axle of a second train.
    """

    crossing: str
    distances: tuple[float, ...]
    loads: tuple[float, ...]
    radius: float
    scale: float
    tell: Telling
    seconds: tuple[tuple[float, float], ...] = ()


def draw_train(axles: AxleMarks, places: Array) -> Markup:
    """Draw a train as axle marks and load arrows at points of its road (axles, 2) [px].

    Never a vehicle: wheels, one thin line that joins them, arrows by load with their numbers.
    """
    loads = [*axles.loads, *(load for _, load in axles.seconds)]
    largest = max(loads, key=abs, default=1.0)
    marks = [_draw_axle(axles, number, places[number], largest) for number in range(len(axles.loads))]
    behind = [_draw_second(axles, pair, largest) for pair in axles.seconds]
    attributes = {"class": "train", "data-crossing": axles.crossing, "data-radius": axles.radius}
    line = [_draw_frame(axles, places)] if len(marks) else []
    # Uniform loads change their length as they move: a page draws them into this place.
    bands = element("g", (), {"class": "bands"})
    return element("g", [bands, *line, *marks, *behind], attributes)


def _draw_frame(axles: AxleMarks, places: Array) -> Markup:
    """The thin line that joins the wheels."""
    line = {
        "class": "frame-line",
        "x1": float(places[:, 0].min()) - 1.2 * axles.radius,
        "x2": float(places[:, 0].max()) + 1.2 * axles.radius,
        "y1": float(places[0, 1]) - 1.9 * axles.radius,
        "y2": float(places[0, 1]) - 1.9 * axles.radius,
    }
    return element("line", attributes=line)


def _draw_axle(axles: AxleMarks, number: int, place: Array, largest: float) -> Markup:
    load = axles.loads[number]
    text = axles.tell(load)
    distances = np.delete(np.array(axles.distances), number) - axles.distances[number]
    gap = float(np.abs(distances).min()) * axles.scale if len(distances) else np.inf
    needed = text_width(text) * 0.8 / gap if gap > 0 else 64.0
    told = element("text", text, {"y": -_arrow_length(load, largest) - 6, "data-from": round(needed, 3)})
    attributes = {"class": "axle", "data-d": axles.distances[number]}
    return hang([*_draw_wheel(axles, load, largest), told], place, attributes)


def _draw_second(axles: AxleMarks, pair: tuple[float, float], largest: float) -> Markup:
    """An axle of the second train; its number is that of the first, so it goes without."""
    distance, load = pair
    attributes = {"class": "axle second away", "data-d": distance}
    return hang(_draw_wheel(axles, load, largest), np.zeros(2), attributes)


def _arrow_length(load: float, largest: float) -> float:
    return SHORTEST + (LONGEST - SHORTEST) * abs(load / largest)


def _draw_wheel(axles: AxleMarks, load: float, largest: float) -> list[Markup]:
    length = _arrow_length(load, largest)
    wheel = element("circle", attributes={"class": "wheel", "cy": -axles.radius, "r": axles.radius})
    return [wheel, draw_arrow(np.array([0.0, -1.5 - length]), np.array([0.0, -1.5]))]


@dataclass(frozen=True)
class Reaction:
    """What a held direction gives: its size as told, whether against the direction, whether at all."""

    told: str
    against: bool
    acts: bool


def draw_reactions(
    truss: Truss, pixels: Array, direction: Direction, reactions: Sequence[Reaction] = ()
) -> Markup:
    """Draw an arrow along each held direction, pushing on the truss; without `reactions` a page writes.

    data-r: the row of the reaction. Supports that hold more than one direction have their arrows apart.
    """
    arrows: list[Markup] = []
    hanging = hang_from_above(truss, pixels)
    for support in truss.supports:
        for held in support.directions:
            vector = np.array([[float(c) for c in held]])
            vector = vector / np.linalg.norm(vector)
            # In space a support has three arrows on one another: only what pushes upwards has room.
            shown = truss.dimension == 2 or abs(vector[0, -1]) > 0.9
            seen = look(vector, direction)[0] if shown else np.zeros(2)
            row = len(arrows)
            given = reactions[row] if reactions else Reaction("", False, True)
            over = support.joint in hanging and abs(seen[1]) > 0.5
            # Letters on the outer side: within, the loads of the next joint are near.
            lying = _Lying(seen, over, -_inwards(pixels, support.joint))
            arrows.append(_draw_reaction((support.joint, row), pixels[support.joint], lying, given))
    return element("g", arrows, {"class": "reactions"})


@dataclass(frozen=True)
class _Lying:
    """A held direction as seen, whether it stands over its joint, and the side of its letters (-1 left)."""

    seen: Array
    over: bool
    side: float


def _draw_reaction(owner: tuple[int, int], at: Array, lying: _Lying, given: Reaction) -> Markup:
    seen = lying.seen
    unit = np.array([seen[0], -seen[1]])
    shown = float(np.hypot(*unit))
    upright = abs(unit[1]) > 0.5 * max(shown, 1e-9)
    near, far = (31.0, 55.0) if upright else (22.0, 46.0)
    unit = unit / shown if shown > 0.05 else np.zeros(2)
    hidden = not given.acts or not unit.any()
    cls = "reaction" + (" down" if given.against else "") + (" off" if hidden else "")
    attributes = {"class": cls, "data-j": owner[0], "data-r": owner[1]}
    if not unit.any():
        return hang([], at, attributes)
    tail = -unit * far
    anchor = "start" if lying.side > 0 else "end"
    place = {"x": float(tail[0]) + 7 * lying.side, "y": float(tail[1]) + 3, "text-anchor": anchor}
    if not upright:
        place = {"x": float(tail[0] - 7 * np.sign(unit[0])), "y": float(tail[1]) - 7, "text-anchor": "middle"}
    tip = -unit * near
    if lying.over:
        tail, tip = unit * near, unit * far
        place = {"x": 7 * lying.side, "y": float(tip[1]) + 3, "text-anchor": anchor}
    arrows = [draw_arrow(tail, tip), draw_arrow(tip, tail, "arrow back")]
    return hang([*arrows, element("text", given.told, place)], at, attributes)
