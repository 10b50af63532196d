"""What a train can add at most to each row at each of its positions, standing as is worst for that row.

Axles that relieve are left out, the lane keeps clear of the train, a second train follows as is worst: all
of these turn on the signs of the row's own influence line, so each row has breaks of its own.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import inf, isfinite

import numpy as np
from numpy.typing import NDArray

from solver.influence import areas_above, areas_under, tidy_ordinates, turns
from solver.polynomials import PiecewisePolynomials
from solver.sums import added, extended, mirrored, moved, running_largest, value_at
from solver.tolerances import SAME_POSITION, TIE
from solver.trains import Axle, Strip, Train, first_load, last_load
from solver.travel import Travel, merged, reach_of

Array = NDArray[np.float64]


@dataclass(frozen=True)
class _Line:
    """Influence lines of rows on a chord that the train travels forward on.

    jumps: some row has an ordinate at an end joint.
    """

    positions: Array
    ordinates: Array
    turns: Array
    jumps: bool

    @property
    def length(self) -> float:
        return float(self.positions[-1])

    @cached_property
    def slopes(self) -> Array:
        return np.asarray(np.diff(self.ordinates, axis=1) / np.diff(self.positions))


@dataclass(frozen=True)
class _Mover:
    """A point load [N], or an edge with `load` [N/m] on everything behind it; where only the part of the
    line above zero counts, `above`.
    """

    distance: float
    load: float
    edge: bool
    above: bool


def largest_family(travel: Travel, ordinates: Array) -> PiecewisePolynomials:
    """Return the largest answer of each row (rows, joints of the chord) at each position of the front.

    It contains axles, strips and the second train, and of the lane what its clear stretch takes away from
    the whole adverse area. The family begins and ends where some load reaches and leaves the chord.
    """
    length = travel.chord.length
    backward = travel.direction == "backward"
    x, y = travel.chord.positions, tidy_ordinates(ordinates)
    if backward:
        x, y = length - x[::-1], y[:, ::-1]
    line = _Line(x, y, turns(x, y), bool(y[:, [0, -1]].any()))
    family = _with_second(travel, line)
    return mirrored(family, length) if backward else family


def smallest_family(travel: Travel, ordinates: Array) -> PiecewisePolynomials:
    """Return the smallest answer of each row at each position of the front, likewise."""
    largest = largest_family(travel, -ordinates)
    return PiecewisePolynomials(largest.breaks, -largest.coefficients, largest.jumps, -largest.at)


def worst_second(train: Train, positions: Array, ordinates: Array, nearest: float) -> float:
    """Return where the front of a second train adds most to one row, at `nearest` [m] or farther behind.

    The first train travels forward; ordinates (joints,). Minus infinity where it adds nothing anywhere.
    """
    y = ordinates[None, :]
    follower = _follower(train, _Line(positions, y, turns(positions, y), bool(y[:, [0, -1]].any())), 1.0)
    start = float(follower.breaks.min())
    # On paper it may meet the chord just as the first stands where it does.
    if abs(nearest - start) <= 4 * SAME_POSITION * max(abs(nearest), float(positions[-1])):
        nearest = start
    level = value_at(running_largest(follower), np.array([nearest]))[0]
    if nearest < start or level[0] <= 0:
        return -inf
    level *= 1 - TIE
    return float(min(follower.first_at_least(level)[0], nearest))


def _with_second(travel: Travel, line: _Line) -> PiecewisePolynomials:
    train, factor = travel.train, travel.crossing.moving_factor
    movers = [*_loads(train.axles, train.strips, factor, train.relieving_left_out), *_clear(travel)]
    reach = reach_of(train, travel.chord, "forward")
    first = _family(line, movers, reach)
    if train.second is None:
        return first
    followed = moved(running_largest(_follower(train, line, factor)), train.follow_distance)
    start = min(reach[0], float(followed.breaks.min()))
    end = max(reach[1], float(followed.breaks.max()))
    top = followed.coefficients[0, :, -1]
    return added(extended(first, start, end), extended(followed, start, end, top))


def _follower(train: Train, line: _Line, factor: float) -> PiecewisePolynomials:
    """What the second train alone brings at each position of its own front."""
    second = train.second
    if second is None:
        raise ValueError(f"the train {train.name} has no second train")
    reach = first_load(second.axles, second.strips), line.length + last_load(second.axles, second.strips)
    return _family(line, _loads(second.axles, second.strips, factor, train.relieving_left_out), reach)


def _loads(axles: tuple[Axle, ...], strips: tuple[Strip, ...], factor: float, above: bool) -> list[_Mover]:
    points = [_Mover(axle.distance, factor * axle.load, False, above) for axle in axles]
    edges = [
        _Mover(distance, load, True, False)
        for strip in strips
        for distance, load in ((strip.start, factor * strip.load), (strip.end, -factor * strip.load))
        if isfinite(distance)
    ]
    return points + edges


def _clear(travel: Travel) -> list[_Mover]:
    """What the lane loses where it keeps clear of the train: its adverse area between two moving edges."""
    lane = travel.train.lane
    if lane is None or lane.clear is None:
        return []
    load = travel.crossing.lane_factor * lane.load
    return [_Mover(lane.clear[0], -load, True, True), _Mover(lane.clear[1], load, True, True)]


def _family(line: _Line, movers: list[_Mover], reach: tuple[float, float]) -> PiecewisePolynomials:
    """Add up what some movers bring, piece by piece, each row with breaks at its own turns of sign.

    Rows that turn nowhere need none of their own: they are laid out together, which is much quicker.
    """
    turning = np.any(~np.isnan(line.turns), axis=1, keepdims=True)[:, 0]
    if not any(mover.above for mover in movers) or turning.all() or not turning.any():
        return _lay_out(line, movers, reach)
    steady = _Line(line.positions, line.ordinates[~turning], line.turns[~turning][:, :0], line.jumps)
    other = _Line(line.positions, line.ordinates[turning], line.turns[turning], line.jumps)
    return _joined(turning, _lay_out(steady, movers, reach), _lay_out(other, movers, reach))


def _joined(
    turning: NDArray[np.bool_], steady: PiecewisePolynomials, other: PiecewisePolynomials
) -> PiecewisePolynomials:
    """Put rows on common breaks and rows on breaks of their own into one family, in their order."""
    count, pieces = len(turning), other.coefficients.shape[2]
    breaks = np.empty((count, pieces + 1))
    parts = np.zeros((3, count, pieces))
    at = np.empty((count, steady.at.shape[1]))
    own = steady.coefficients.shape[2]
    breaks[turning] = other.breaks
    breaks[~turning, : own + 1] = steady.breaks
    breaks[~turning, own + 1 :] = steady.breaks[..., -1:]
    parts[:, turning] = other.coefficients
    parts[:, ~turning, :own] = steady.coefficients
    # What is left over are pieces of no width, at the value with which the last one ends.
    parts[0, ~turning, own:] = steady.ends[:, -1:]
    at[turning], at[~turning] = other.at, steady.at
    return PiecewisePolynomials(breaks, parts, steady.jumps, at)


def _lay_out(line: _Line, movers: list[_Mover], reach: tuple[float, float]) -> PiecewisePolynomials:
    breaks = _breaks(line, movers, reach)
    parts = np.zeros((3, len(line.ordinates), breaks.shape[1] - 1))
    for mover in movers:
        _add(line, mover, breaks - mover.distance, parts)
    jumps, at = _over_ends(line, movers, reach)
    return PiecewisePolynomials(breaks if len(breaks) > 1 else breaks[0], parts, jumps, at)


def _breaks(line: _Line, movers: list[_Mover], reach: tuple[float, float]) -> Array:
    """Positions at which something passes a joint, (1, b), or also a turn of a row's sign, (rows, b)."""
    start, end = reach
    passed = (line.positions[:, None] + np.array([mover.distance for mover in movers])).ravel()
    near = 4 * SAME_POSITION * max(abs(start), abs(end))
    inside = passed[(passed > start + near) & (passed < end - near)]
    common = merged(np.concatenate([[start], inside, [end]]))
    above = [mover.distance for mover in movers if mover.above]
    if not above or not line.turns.shape[1]:
        return common[None, :]
    own = (line.turns[:, :, None] + np.array(above)).reshape(len(line.turns), -1)
    own = np.clip(np.nan_to_num(own, nan=end), start, end)
    return np.sort(np.hstack([np.broadcast_to(common, (len(own), len(common))), own]), axis=1)


def _add(line: _Line, mover: _Mover, places: Array, parts: Array) -> None:
    """Add one mover, which stands at `places` (1 or rows, b) where pieces start and end."""
    x = line.positions
    starts, middles = places[:, :-1], (places[:, :-1] + places[:, 1:]) / 2
    panels = np.searchsorted(x, middles, side="right") - 1
    inside = (panels >= 0) & (panels < len(x) - 1)
    panel = np.clip(panels, 0, len(x) - 2)
    past = np.clip(starts - x[panel], 0.0, np.diff(x)[panel])
    left, slope = _gathered(line.ordinates, panel), _gathered(line.slopes, panel)
    value = left + slope * past
    counted = inside
    if mover.above:
        counted = inside & (left + slope * (middles - x[panel]) > 0)
    if not mover.edge:
        parts[0] += np.where(counted, mover.load * value, 0.0)
        parts[1] += np.where(counted, mover.load * slope, 0.0)
        return
    area = areas_above(x, line.ordinates) if mover.above else areas_under(x, line.ordinates)
    before = _gathered(area, np.clip(panels, 0, len(x) - 1))
    within = past * (left + value) / 2
    if mover.above:
        divisor = np.where(slope != 0, slope, 1.0)
        within = np.where(left < 0, value**2 / (2 * divisor), within)
        # Where the line has passed below zero within its panel, all that lies above it is behind.
        before = np.where(inside & ~counted & (left > 0), _gathered(area, panel + 1), before)
    parts[0] += np.where(panels >= 0, mover.load * (before + np.where(counted, within, 0.0)), 0.0)
    parts[1] += np.where(counted, mover.load * value, 0.0)
    parts[2] += np.where(counted, mover.load / 2 * slope, 0.0)


def _gathered(table: Array, columns: NDArray[np.int64]) -> Array:
    """Entries of each row of a table at columns common to all rows (1, n), or at its own (rows, n)."""
    if len(columns) == 1:
        return np.asarray(table[:, columns[0]])
    flat = columns + np.arange(len(table))[:, None] * table.shape[1]
    return np.asarray(table.ravel().take(flat))


def _over_ends(line: _Line, movers: list[_Mover], reach: tuple[float, float]) -> tuple[Array, Array]:
    """Where an axle is exactly over an end joint, and the answer there, (rows, jumps); none where no row
    answers to a load at an end joint.
    """
    distances = np.array([mover.distance for mover in movers if not mover.edge and line.jumps])
    jumps = np.clip(merged((line.positions[[0, -1], None] + distances).ravel()), *reach)
    at = np.zeros((len(line.ordinates), len(jumps)))
    near = 4 * SAME_POSITION * max(abs(reach[0]), abs(reach[1]), line.length)
    for mover in movers if len(jumps) else ():
        places = jumps - mover.distance
        if mover.edge:
            # An edge stands still here: a piece of no width at each jump, between two of them nothing.
            whole = np.zeros((3, len(at), 2 * len(jumps) - 1))
            _add(line, mover, np.repeat(places, 2)[None, :], whole)
            at += whole[0, :, ::2]
            continue
        on_chord = (places >= -near) & (places <= line.length + near)
        panel = np.clip(np.searchsorted(line.positions, places) - 1, 0, len(line.positions) - 2)
        past = np.clip(places - line.positions[panel], 0.0, np.diff(line.positions)[panel])
        ordinate = line.ordinates[:, panel] + line.slopes[:, panel] * past
        at += np.where(on_chord, mover.load * (ordinate.clip(0.0) if mover.above else ordinate), 0.0)
    return jumps, at
