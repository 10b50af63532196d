"""Chords: lines of joints that loads lie on or travel along, and how a load between joints reaches them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from solver.tolerances import SAME_POSITION
from solver.truss import Truss


@dataclass(frozen=True)
class Chord:
    """A line of joints (indices). Positions are plan distances [m] summed from the first joint."""

    name: str
    joints: tuple[int, ...]
    positions: NDArray[np.float64]
    vectors: NDArray[np.float64]

    @property
    def length(self) -> float:
        """Plan distance from the first to the last joint [m]."""
        return float(self.positions[-1])


def make_chord(name: str, joints: tuple[int, ...], truss: Truss) -> Chord:
    """Lay a chord along `joints` of `truss`; `vectors` (panels, dimension) [m] run from joint to joint.

    In the plane the plan distance of a panel is its horizontal extent, in space its horizontal length.
    """
    steps = [
        [float(b - a) for a, b in zip(truss.coordinates[i], truss.coordinates[j], strict=True)]
        for i, j in pairwise(joints)
    ]
    vectors = np.array(steps).reshape(-1, truss.dimension)
    plan = np.hypot.reduce(vectors[:, :-1], axis=1)
    return Chord(name, joints, np.concatenate([[0.0], np.cumsum(plan)]), vectors)


def lever_shares(chord: Chord, start: float, end: float) -> NDArray[np.float64]:
    """Return what each joint carries of a load of 1 per plan distance on [start, end], (joints,) [m].

    Each panel is a simply supported stringer: the part of the load on it goes to its two joints by
    the lever rule, as its whole placed at its own middle.
    """
    shares = np.zeros(len(chord.joints))
    x = chord.positions
    low = np.clip(start, x[:-1], x[1:])
    high = np.clip(end, x[:-1], x[1:])
    loaded = high - low
    to_right = ((low + high) / 2 - x[:-1]) / np.diff(x)
    np.add.at(shares, np.arange(len(x) - 1), loaded * (1 - to_right))
    np.add.at(shares, np.arange(1, len(x)), loaded * to_right)
    return shares


def lever_parts(chord: Chord, places: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return what each joint carries of a unit load at each of `places` [m], (joints, places).

    Exactly over an end joint, to within rounding, a load counts; off the chord it does not.
    """
    x = chord.positions
    parts = np.zeros((len(x), len(places)))
    near = 4 * SAME_POSITION * max(float(abs(places).max(initial=0.0)), chord.length)
    on_chord = np.flatnonzero((places >= -near) & (places <= chord.length + near))
    inside = np.clip(places[on_chord], 0.0, chord.length)
    panels = np.minimum(np.searchsorted(x, inside, side="right") - 1, len(x) - 2)
    share = (inside - x[panels]) / (x[panels + 1] - x[panels])
    parts[panels, on_chord] += 1 - share
    parts[panels + 1, on_chord] += share
    return parts
