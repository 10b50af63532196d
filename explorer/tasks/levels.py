"""The three levels of difficulty: what a task of each must show, and what it must not."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.tasks.state import State
from solver.reasons.joint_rule import LOAD_IN_LINE, LOAD_IN_PLANE, SUPPORT
from solver.tolerances import DIRECTION

LEVELS = (1, 2, 3)
LEVEL_WORDS = {
    1: "every zero shows at a joint, in at most two steps",
    2: "chains of steps, loads and supports at joints, and a loaded joint as a trap",
    3: "at least one zero that no joint shows: look at the whole truss, or cut it",
}
MEMBERS = {(1, False): (7, 15), (2, False): (11, 25), (3, False): (13, 35)} | {
    (1, True): (6, 15),
    (2, True): (9, 24),
    (3, True): (12, 36),
}
"""Least and most members by level and whether in space."""
CHAIN = 3
"""So many steps make a chain."""


def suits(state: State, level: int) -> bool:
    """Tell whether a truss and its load make a task of the level."""
    return {1: _suits_first, 2: _suits_second, 3: _suits_third}[level](state)


def _suits_first(state: State) -> bool:
    """At least two zeros, at most a third of the members, all shown in at most two steps."""
    few = 2 <= len(state.zeros) <= len(state.truss.members) // 3
    return few and not state.hidden and _steps(state) < CHAIN


def _suits_second(state: State) -> bool:
    """Three to ten zeros, all shown; a chain or a rule that minds loads or supports; and a trap."""
    if not 3 <= len(state.zeros) <= min(10, len(state.truss.members) // 2) or not trapped(state):
        return False
    minds = any(finding.rule in (LOAD_IN_LINE, LOAD_IN_PLANE, SUPPORT) for finding in state.findings)
    return not state.hidden and (minds or _steps(state) >= CHAIN)


def _suits_third(state: State) -> bool:
    """At least one zero that inspection shows and one that it does not, at most half of the members."""
    some = 2 <= len(state.zeros) <= len(state.truss.members) // 2
    return some and bool(state.shown and state.hidden)


def _steps(state: State) -> int:
    return max((finding.step for finding in state.findings), default=0)


def trapped(state: State) -> set[int]:
    """Members that a loaded joint makes work where the same joint without a load would show them zero.

    In the plane a joint of three members, two of them in line; in space one of at least four members,
    all but one in a plane or a line.
    """
    supported = {support.joint for support in state.truss.supports}
    loaded = set(np.flatnonzero(np.abs(state.joint_loads).max(axis=1) > 0).tolist())
    return {
        member
        for joint in loaded - supported
        for member in state.truss.members_at[joint]
        if member not in state.zeros and _stands_out(state, member, state.truss.members_at[joint])
    }


def has_unlike_pair(state: State) -> bool:
    """Tell whether of two members that mirror one another across the middle of the first axis one is zero.

    The trap of symmetry: the other one works.
    """
    points = state.truss.joint_coordinates
    place = {tuple(point): joint for joint, point in enumerate(points.tolist())}
    both_ends = float(points[:, 0].min() + points[:, 0].max())
    image = [place.get((both_ends - x, *rest), -1) for x, *rest in points.tolist()]
    ends = [frozenset(pair) for pair in state.truss.ends.tolist()]
    mirrored = {frozenset(image[joint] for joint in pair) for pair in (ends[i] for i in state.zeros)}
    return any(pair in mirrored for member, pair in enumerate(ends) if member not in state.zeros)


def _stands_out(state: State, member: int, here: tuple[int, ...]) -> bool:
    """Whether one of the members at a joint leaves the line or plane in which all others lie."""
    directions = state.truss.directions
    others = directions[[other for other in here if other != member]]
    enough = len(here) == 3 if state.truss.dimension == 2 else len(here) > 3
    return enough and _rank(others) < min(_rank(directions[list(here)]), state.truss.dimension)


def _rank(vectors: NDArray[np.float64]) -> int:
    return int(np.linalg.matrix_rank(vectors, tol=DIRECTION))
