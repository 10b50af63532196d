"""Held joints: where bars in line are compressed, and which members hold the joint between them across."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import numpy as np
import scipy.linalg
from numpy.typing import NDArray

from solver.lengths import holders_at
from solver.losses.before import Before
from solver.losses.props import bars_of
from solver.propping.demand import HeldPoint
from solver.tolerances import DIRECTION
from solver.truss import Truss

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Held:
    """A joint between bars in line (indices) of which one at least is compressed in some combination.

    bars: the whole line, a declared piece or the two that meet; across: unit vectors across it, one in the
    plane, two in space, (1 or 2, dimension); holders: the members at the joint that are not in line. point:
    lengths, and each bar's own peak compression, which need not all occur together: no less than any one
    combination asks.
    """

    joint: int
    bars: tuple[int, ...]
    holders: tuple[int, ...]
    across: Array
    point: HeldPoint


def find_held(before: Before) -> Iterator[Held]:
    """Yield every held joint, joint by joint."""
    truss = before.study.truss
    pushed = before.demands[1]
    for joint in range(len(truss.joint_names)):
        for bars, place in _lines_through(truss, joint):
            beside = bars[place - 1 : place + 1]
            if not pushed[list(beside)].any():
                continue
            compressions = tuple(float(pushed[bar]) for bar in bars)
            lengths = tuple(float(truss.lengths[bar]) for bar in bars)
            holders = holders_at(truss, joint, beside[0])
            point = HeldPoint(lengths, compressions, place)
            yield Held(joint, bars, holders, _across(truss, beside[0]), point)


def _lines_through(truss: Truss, joint: int) -> Iterator[tuple[tuple[int, ...], int]]:
    """Lines of bars that pass through a joint, each with the joint's place along it."""
    within: set[int] = set()
    for piece in truss.pieces:
        if joint in piece.joints[1:-1]:
            bars = tuple(bars_of(truss, piece))
            within |= set(bars)
            yield bars, piece.joints.index(joint)
    for one, two in combinations(truss.members_at[joint], 2):
        if not {one, two} <= within and _in_line(truss, joint, one, two):
            yield (one, two), 1


def _in_line(truss: Truss, joint: int, one: int, two: int) -> bool:
    """Whether two bars leave a joint in opposite directions."""
    ways = [truss.directions[bar] * (1.0 if truss.ends[bar, 0] == joint else -1.0) for bar in (one, two)]
    return bool(np.linalg.norm(ways[0] + ways[1]) <= DIRECTION)


def _across(truss: Truss, bar: int) -> Array:
    """Unit vectors across a bar, one in the plane, two in space, (dimension - 1, dimension)."""
    return np.asarray(scipy.linalg.null_space(truss.directions[bar][None, :]).T)
