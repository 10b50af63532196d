"""Placement: what stands where on a chord at one moment, and how it reaches the joints.

A train may stand as it is, or be arranged as is worst for one quantity: relieving axles left out, its lane
on the adverse stretches, its second train where that adds most.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.adverse import worst_second
from solver.chords import Chord, lever_parts, lever_shares
from solver.crossings import Crossing, Direction
from solver.influence import stretches_above, tidy_ordinates
from solver.response import Rows
from solver.tolerances import SAME_POSITION
from solver.trains import Train
from solver.travel import reach_of

Array = NDArray[np.float64]
Kind = Literal["axle", "strip", "lane"]


@dataclass(frozen=True)
class Arrangement:
    """For which quantity loads are arranged: its ordinates on each chord, and which sign is sought.

    With a sign of 0 for none: a lane then lies over the whole of its chord.
    """

    influence: Mapping[str, Array]
    sign: float


@dataclass(frozen=True)
class Standing:
    """Where a train's front stands [m] and which way it faces.

    `number`: which train of a set. `second`: the front of its second train [m]; infinite where there is
    none now, None where it follows at the least distance, or as is worst for the arrangement. `side`:
    where an axle is exactly over an end joint, 0 counts it, -1 and 1 are the limits just before the
    position and just after it; `second_side` likewise for the second train.
    """

    direction: Direction
    position: float
    number: int = 0
    second: float | None = None
    arrangement: Arrangement | None = None
    side: int = 0
    second_side: int = 0


@dataclass(frozen=True)
class Placed:
    """One load on a chord, all factors in: an axle [N] at `start`, or a strip or lane [N/m] on a stretch [m].

    `second`: it belongs to the second train.
    """

    kind: Kind
    load: float
    start: float
    end: float
    second: bool = False


def arrange_for(rows: Rows, row: int, sign: float) -> Arrangement:
    """Arrange loads for one row of a kind: what makes `sign` x row largest."""
    return Arrangement({chord: part[row] for chord, part in rows.influence.items()}, sign)


EVERYWHERE = Arrangement({}, 0.0)
"""For no quantity: a lane lies over the whole of its chord."""


def place_train(crossing: Crossing, chord: Chord, standing: Standing, factor: float) -> list[Placed]:
    """Place a travelling train, its second and its lane; `factor` is that of the combination.

    Loads off the chord are left out; without an arrangement the lane is nowhere.
    """
    train = crossing.trains[standing.number]
    sign = 1.0 if standing.direction == "forward" else -1.0
    moving = factor * crossing.moving_factor
    placed = list(_moving(train, chord, sign, (standing.position, moving), False))
    placed = [one for one in placed if _counts(chord, one, standing.side)]
    front = second_front(crossing, chord, standing, factor)
    if front is not None and np.isfinite(front):
        followed = _moving(train, chord, sign, (front, moving), True)
        placed += [one for one in followed if _counts(chord, one, standing.second_side)]
    if standing.arrangement is None:
        return placed
    adverse = _adverse(standing.arrangement, chord, factor)
    on = any(not one.second for one in placed)
    if train.relieving_left_out:
        placed = [one for one in placed if one.kind != "axle" or _ordinate(chord, adverse, one.start) > 0]
    return placed + _lane(crossing, chord, standing, (adverse, on), factor)


def place_lane(
    crossing: Crossing, chord: Chord, arrangement: Arrangement | None, factor: float
) -> list[Placed]:
    """Place a lane alone on the stretches that are adverse for an arrangement; nowhere without one."""
    return [] if arrangement is None else lane_stretches(crossing, chord, arrangement, factor)


def lane_stretches(
    crossing: Crossing, chord: Chord, arrangement: Arrangement, factor: float, number: int = 0
) -> list[Placed]:
    """Return the adverse stretches of the lane of a crossing's train with nothing in its way."""
    adverse = _adverse(arrangement, chord, factor)
    load = factor * crossing.lane_loads[number]
    return [Placed("lane", load, start, end) for start, end in stretches_above(chord.positions, adverse)]


def settled(crossing: Crossing, chord: Chord, standing: Standing, factor: float, line: Array) -> Standing:
    """Return the standing on that side of its position on which it brings most to a row.

    `line` (joints,) is what a load brings to what is sought, its sign in. Sides differ only where an axle
    is exactly over an end joint, or where nothing is on the chord on one of them and the lane is free.
    """
    train = crossing.trains[standing.number]
    front = second_front(crossing, chord, standing, factor)
    sign = 1.0 if standing.direction == "forward" else -1.0
    fronts = [(standing.position, False)] + ([(front, True)] if front is not None else [])
    # Left out ones too: the lane is clear of a train whose axle is over an end joint, whatever it brings.
    stands = [one for place, second in fronts for one in _moving(train, chord, sign, (place, 1.0), second)]
    if not any(_at_an_end(chord, one) for one in stands):
        return standing
    nearest = front is not None and abs(abs(standing.position - front) - train.follow_distance) <= 1e-9
    sides = [(0, 0), (-1, 0), (1, 0)]
    if front is not None:
        # At the least distance the second train cannot be farther on than the first allows.
        sides += [(0, -1), (-1, -1), (1, -1), (1, 1)] + ([] if nearest else [(0, 1), (-1, 1)])
    choices = [replace(standing, side=side, second_side=other) for side, other in sides]

    def brought(choice: Standing) -> float:
        return float(line @ joint_loads(chord, place_train(crossing, chord, choice, factor)))

    return max(choices, key=brought)


def joint_loads(chord: Chord, placed: list[Placed]) -> Array:
    """Return the downward load [N] at each joint of a chord, by the lever rule, (joints,)."""
    loads = np.zeros(len(chord.joints))
    for one in placed:
        loads += brought_to_joints(chord, one)
    return loads


def brought_to_joints(chord: Chord, one: Placed) -> Array:
    """Return what one load brings to each joint of a chord [N], (joints,)."""
    if one.kind == "axle":
        return np.asarray(one.load * lever_parts(chord, np.array([one.start]))[:, 0])
    return np.asarray(one.load * lever_shares(chord, one.start, one.end))


def second_front(crossing: Crossing, chord: Chord, standing: Standing, factor: float) -> float | None:
    """Where the front of the second train stands [m]; None without one, infinite where it is far behind."""
    train = crossing.trains[standing.number]
    if train.second is None:
        return None
    if standing.second is not None:
        return standing.second
    forward = standing.direction == "forward"
    nearest = standing.position - train.follow_distance * (1.0 if forward else -1.0)
    if standing.arrangement is None:
        return nearest
    adverse = _adverse(standing.arrangement, chord, factor)
    if forward:
        return worst_second(train, chord.positions, adverse, nearest)
    mirrored = chord.length - chord.positions[::-1]
    return chord.length - worst_second(train, mirrored, adverse[::-1], chord.length - nearest)


def _adverse(arrangement: Arrangement, chord: Chord, factor: float) -> Array:
    """Ordinates of which the part above zero is adverse, (joints,)."""
    if arrangement.sign == 0:
        return np.ones(len(chord.joints))
    ordinates = tidy_ordinates(arrangement.influence[chord.name][None, :])[0]
    return np.asarray(ordinates * arrangement.sign * (1.0 if factor >= 0 else -1.0))


def _ordinate(chord: Chord, ordinates: Array, place: float) -> float:
    return float(np.interp(place, chord.positions, ordinates))


def _moving(
    train: Train, chord: Chord, sign: float, front: tuple[float, float], second: bool
) -> Iterator[Placed]:
    """The axles and strips of a train, or of its second, that are on the chord."""
    position, factor = front
    following = train.second if second else None
    axles, strips = (following.axles, following.strips) if following else (train.axles, train.strips)
    near = 4 * SAME_POSITION * max(abs(position), chord.length)
    for axle in axles:
        place = position - sign * axle.distance
        if -near <= place <= chord.length + near:
            yield Placed("axle", factor * axle.load, place, place, second)
    for strip in strips:
        ends = sorted((position - sign * strip.start, position - sign * strip.end))
        start, end = max(ends[0], 0.0), min(ends[1], chord.length)
        if end > start:
            yield Placed("strip", factor * strip.load, start, end, second)


def _lane(
    crossing: Crossing, chord: Chord, standing: Standing, known: tuple[Array, bool], factor: float
) -> list[Placed]:
    """The lane of a travelling train on its adverse stretches, clear of the train where it must be.

    `known`: the adverse ordinates, and whether anything of the train is on the chord. Before it comes and
    after it has left the lane is free of it, so also at an end of its way on the side where it is off.
    """
    adverse, on = known
    train = crossing.trains[standing.number]
    if train.lane is None:
        return []
    load = factor * crossing.lane_loads[standing.number]
    stretches = stretches_above(chord.positions, adverse)
    clear = train.lane.clear
    start, end = reach_of(train, chord, standing.direction)
    near = 4 * SAME_POSITION * max(abs(start), abs(end))
    at_an_end = not start + near < standing.position < end - near
    away = standing.position < start - near or standing.position > end + near
    if clear is not None and not away and (on or not at_an_end):
        sign = 1.0 if standing.direction == "forward" else -1.0
        bounds = sorted(standing.position - sign * distance for distance in clear)
        stretches = [part for stretch in stretches for part in _outside(stretch, (bounds[0], bounds[1]))]
    return [Placed("lane", load, *stretch) for stretch in stretches]


def _at_an_end(chord: Chord, one: Placed) -> bool:
    return _over_end(chord, one, 0.0) or _over_end(chord, one, chord.length)


def _over_end(chord: Chord, one: Placed, end: float) -> bool:
    near = 4 * SAME_POSITION * max(abs(one.start), chord.length)
    return one.kind == "axle" and abs(one.start - end) <= near


def _counts(chord: Chord, one: Placed, side: int) -> bool:
    """Whether a load is on the chord on one side of its position: places grow with it, both ways."""
    return side == 0 or not _over_end(chord, one, 0.0 if side < 0 else chord.length)


def _outside(stretch: tuple[float, float], clear: tuple[float, float]) -> Iterator[tuple[float, float]]:
    """The parts of a stretch outside a clear one."""
    for start, end in ((stretch[0], min(stretch[1], clear[0])), (max(stretch[0], clear[1]), stretch[1])):
        if end > start:
            yield start, end
