"""Crossings: one train travelling along one chord, and where its axles stand at each of its positions."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.chords import Chord
from solver.tolerances import SAME_POSITION
from solver.trains import Train

Array = NDArray[np.float64]
Direction = Literal["forward", "backward"]


@dataclass(frozen=True)
class Crossing:
    """A train on a chord; axle loads count `factor` x (1 + `impact`); `counts` weighs the zero share."""

    name: str
    train: Train
    chord: str
    directions: tuple[Direction, ...]
    factor: float = 1.0
    impact: float = 0.0
    counts: float = 1.0

    @property
    def axle_factor(self) -> float:
        """What each axle load is multiplied by."""
        return self.factor * (1 + self.impact)


@dataclass(frozen=True)
class Travel:
    """One direction of a crossing as weights on a chord's influence ordinates.

    A row with ordinates y (its response to a unit downward load at each chord joint) answers the train
    on piece p, a distance t past breaks[p], with y @ starts[:, p] + t * y @ slopes[:, p]. breaks (b,) [m]
    are positions of the train's front at which an axle is over a joint, ascending; starts and slopes
    (joints, b - 1) [N], [N/m]; loaded (b - 1,) tells on which pieces some axle is on the chord.
    At `jumps` (j,) [m], where an axle is exactly over an end joint, the answer is y @ at[:, j] and may
    differ from both sides; at (joints, j) [N]. At all other breaks both sides agree.
    """

    direction: Direction
    breaks: NDArray[np.float64]
    starts: NDArray[np.float64]
    slopes: NDArray[np.float64]
    jumps: NDArray[np.float64]
    at: NDArray[np.float64]
    loaded: NDArray[np.bool_]


def travel(crossing: Crossing, chord: Chord, direction: Direction) -> Travel:
    """Lay out one direction of a crossing: from its first axle at the near end to its last at the far end."""
    sign = 1.0 if direction == "forward" else -1.0
    distances = np.array([axle.distance for axle in crossing.train.axles])
    loads = crossing.axle_factor * np.array([axle.load for axle in crossing.train.axles])
    breaks = _merged((chord.positions[:, None] + sign * distances).ravel())
    middles = (breaks[:-1] + breaks[1:]) / 2
    starts = np.zeros((len(chord.joints), len(middles)))
    slopes = np.zeros_like(starts)
    jumps = _merged((chord.positions[[0, -1], None] + sign * distances).ravel())
    # The same place merged twice may differ by a rounding: a jump lies exactly at its break.
    jumps = breaks[np.abs(jumps[:, None] - breaks).argmin(axis=1)]
    at = np.zeros((len(chord.joints), len(jumps)))
    for distance, load in zip(distances, loads, strict=True):
        offset = sign * distance
        _add_axle(chord, breaks[:-1] - offset, middles - offset, load, (starts, slopes))
        _add_standing(chord, jumps - offset, load, at)
    on_chord = (middles[:, None] - sign * distances > 0) & (
        middles[:, None] - sign * distances < chord.length
    )
    return Travel(direction, breaks, starts, slopes, jumps, at, np.asarray(on_chord.any(axis=1)))


def _merged(positions: NDArray[np.float64]) -> NDArray[np.float64]:
    """Sorted positions, those that are one on paper made one (the least of each)."""
    positions = np.sort(positions)
    apart = np.diff(positions) > SAME_POSITION * max(np.ptp(positions), abs(positions).max())
    return np.asarray(positions[np.concatenate([[True], apart])])


def _add_axle(chord: Chord, places: Array, middles: Array, load: float, into: tuple[Array, Array]) -> None:
    """Add one axle, at `places` where pieces start, on those whose middle it passes inside the chord."""
    starts, slopes = into
    x = chord.positions
    pieces = np.flatnonzero((middles > 0) & (middles < chord.length))
    panels = np.searchsorted(x, middles[pieces], side="right") - 1
    length = x[panels + 1] - x[panels]
    share = np.clip((places[pieces] - x[panels]) / length, 0.0, 1.0)
    starts[panels, pieces] += load * (1 - share)
    starts[panels + 1, pieces] += load * share
    slopes[panels, pieces] -= load / length
    slopes[panels + 1, pieces] += load / length


def _add_standing(chord: Chord, places: NDArray[np.float64], load: float, at: NDArray[np.float64]) -> None:
    """Add one axle standing at each of `places`; over an end joint, to within rounding, it counts."""
    x = chord.positions
    near = 4 * SAME_POSITION * max(float(abs(places).max()), chord.length)
    on_chord = np.flatnonzero((places >= -near) & (places <= chord.length + near))
    inside = np.clip(places[on_chord], 0.0, chord.length)
    panels = np.minimum(np.searchsorted(x, inside, side="right") - 1, len(x) - 2)
    share = (inside - x[panels]) / (x[panels + 1] - x[panels])
    at[panels, on_chord] += load * (1 - share)
    at[panels + 1, on_chord] += load * share


def joint_loads_at(
    crossing: Crossing, chord: Chord, direction: Direction, position: float
) -> NDArray[np.float64]:
    """Return the downward load [N] at each chord joint with the train's front at `position` [m].

    An axle exactly over an end joint counts; one off the chord does not.
    """
    sign = 1.0 if direction == "forward" else -1.0
    loads = np.zeros((len(chord.joints), 1))
    for axle in crossing.train.axles:
        place = np.array([position - sign * axle.distance])
        _add_standing(chord, place, crossing.axle_factor * axle.load, loads)
    return loads[:, 0]
