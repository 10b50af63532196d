"""Travel: where the loads of a train stand at each of its positions, laid out once for all rows."""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from solver.chords import Chord, lever_parts, lever_shares
from solver.crossings import Crossing, Direction
from solver.tolerances import SAME_POSITION
from solver.trains import Train, last_load

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Travel:
    """One direction of one train of a crossing as weights on a chord's influence ordinates.

    A row with ordinates y (its response to a unit downward load at each chord joint) answers the train
    on piece p, a distance t past breaks[p], with the sum over k of t^k * (y @ weights[k, :, p]). breaks
    (b,) [m] are positions of the train's front at which an axle or the end of a strip is over a joint,
    ascending; weights (degree + 1, joints, b - 1) [N], [N/m], [N/m^2]: degree 1, with strips 2; loaded
    (b - 1,) tells on which pieces some axle or strip is on the chord.
    At `jumps` (j,) [m], where an axle is exactly over an end joint, the answer is y @ at[:, j] and may
    differ from both sides; at (joints, j) [N]. At all other breaks both sides agree.
    `number` is the train's place among those of the crossing.
    """

    crossing: Crossing
    number: int
    chord: Chord
    direction: Direction
    breaks: Array
    weights: Array
    jumps: Array
    at: Array
    loaded: NDArray[np.bool_]

    @property
    def empty_at(self) -> float:
        """The least position at which nothing is on the chord [m]; an endless strip never leaves it."""
        endless = any(not isfinite(strip.end) for strip in self.train.strips)
        return float(self.breaks[-1] if endless and self.direction == "backward" else self.breaks[0])

    @property
    def train(self) -> Train:
        """The train that travels."""
        return self.crossing.trains[self.number]


def travel(crossing: Crossing, chord: Chord, direction: Direction, number: int = 0) -> Travel:
    """Lay out one direction of a train: from its first load at the near end to its last at the far end."""
    train = crossing.trains[number]
    sign = 1.0 if direction == "forward" else -1.0
    breaks = _breaks(train, chord, sign)
    middles = (breaks[:-1] + breaks[1:]) / 2
    weights = np.zeros((3 if train.strips else 2, len(chord.joints), len(middles)))
    loaded = np.zeros(len(middles), dtype=bool)
    for axle in train.axles:
        offset, load = sign * axle.distance, crossing.moving_factor * axle.load
        _add_axle(chord, breaks[:-1] - offset, middles - offset, load, weights)
        loaded |= (middles - offset > 0) & (middles - offset < chord.length)
    for strip in train.strips:
        load = sign * crossing.moving_factor * strip.load
        for distance, edge in ((strip.start, load), (strip.end, -load)):
            offset = sign * distance
            add_edge(chord, breaks[:-1] - offset, middles - offset, edge, weights)
        ends = np.sort([middles - sign * strip.start, middles - sign * strip.end], axis=0)
        loaded |= (ends[0] < chord.length) & (ends[1] > 0)
    jumps, at = _over_ends(crossing, train, chord, sign, breaks)
    return Travel(crossing, number, chord, direction, breaks, weights, jumps, at, loaded)


def merged(positions: Array) -> Array:
    """Sort positions and make one of those that are one on paper (the least of each)."""
    positions = np.sort(positions)
    if not len(positions):
        return positions
    apart = np.diff(positions) > SAME_POSITION * max(np.ptp(positions), abs(positions).max())
    return np.asarray(positions[np.concatenate([[True], apart])])


def reach_of(train: Train, chord: Chord, direction: Direction) -> tuple[float, float]:
    """Between which positions of its front [m] a train has met the chord and not yet left it, low and high.

    With a second train it is as long as that one needs at its least distance.
    """
    start, end = train.first_load, chord.length + train.last_load
    if train.second is not None:
        behind = train.follow_distance + last_load(train.second.axles, train.second.strips)
        end = max(end, chord.length + behind)
    return (start, end) if direction == "forward" else (chord.length - end, chord.length - start)


def moving_points(train: Train) -> list[float]:
    """Distances behind the front of every axle and of every end of a strip that has one [m]."""
    ends = [d for strip in train.strips for d in (strip.start, strip.end) if isfinite(d)]
    return [axle.distance for axle in train.axles] + ends


def _breaks(train: Train, chord: Chord, sign: float) -> Array:
    return merged((chord.positions[:, None] + sign * np.array(moving_points(train))).ravel())


def _over_ends(
    crossing: Crossing, train: Train, chord: Chord, sign: float, breaks: Array
) -> tuple[Array, Array]:
    """Where an axle is exactly over an end joint, and the weights there, (joints, jumps)."""
    offsets = sign * np.array([axle.distance for axle in train.axles])
    jumps = merged((chord.positions[[0, -1], None] + offsets).ravel())
    # The same place merged twice may differ by a rounding: a jump lies exactly at its break.
    if len(jumps):
        jumps = breaks[np.abs(jumps[:, None] - breaks).argmin(axis=1)]
    at = np.zeros((len(chord.joints), len(jumps)))
    for axle in train.axles:
        at += crossing.moving_factor * axle.load * lever_parts(chord, jumps - sign * axle.distance)
    for column, place in enumerate(jumps):
        for strip in train.strips:
            start, end = sorted((place - sign * strip.start, place - sign * strip.end))
            at[:, column] += crossing.moving_factor * strip.load * lever_shares(chord, start, end)
    return jumps, at


def _add_axle(chord: Chord, places: Array, middles: Array, load: float, weights: Array) -> None:
    """Add one axle, at `places` where pieces start, on those whose middle it passes inside the chord."""
    x = chord.positions
    pieces = np.flatnonzero((middles > 0) & (middles < chord.length))
    panels = np.searchsorted(x, middles[pieces], side="right") - 1
    length = x[panels + 1] - x[panels]
    share = np.clip((places[pieces] - x[panels]) / length, 0.0, 1.0)
    weights[0, panels, pieces] += load * (1 - share)
    weights[0, panels + 1, pieces] += load * share
    weights[1, panels, pieces] -= load / length
    weights[1, panels + 1, pieces] += load / length


def add_edge(chord: Chord, places: Array, middles: Array, load: float, weights: Array) -> None:
    """Add `load` per metre on everything from the chord's start to an edge that moves with the train.

    The edge stands at `places` where pieces start and passes `middles` at their middles. Over a panel
    from x to x + h the stringer brings u - u^2 / 2h of a load on its first u metres to its left joint
    and u^2 / 2h to its right one (moments about its ends).
    """
    x = chord.positions
    areas = cumulative_areas(chord)
    panels = np.clip(np.searchsorted(x, middles, side="right") - 1, -1, len(x) - 1)
    passed = np.flatnonzero(panels >= 0)
    weights[0][:, passed] += load * areas[:, panels[passed]]
    pieces = np.flatnonzero((panels >= 0) & (panels < len(x) - 1))
    left = panels[pieces]
    length = x[left + 1] - x[left]
    past = np.clip(places[pieces] - x[left], 0.0, length)
    for joint, parts in (
        (left, (past - past**2 / (2 * length), 1 - past / length, -1 / (2 * length))),
        (left + 1, (past**2 / (2 * length), past / length, 1 / (2 * length))),
    ):
        for power, part in enumerate(parts):
            weights[power, joint, pieces] += load * part


def cumulative_areas(chord: Chord) -> Array:
    """Return the area from the first joint to each as weights on ordinates, (joints, joints) [m]."""
    halves = np.diff(chord.positions) / 2
    steps = np.zeros((len(chord.joints), len(halves)))
    panels = np.arange(len(halves))
    steps[panels, panels] = halves
    steps[panels + 1, panels] = halves
    return np.concatenate([np.zeros((len(chord.joints), 1)), np.cumsum(steps, axis=1)], axis=1)
