"""What the truss offers at a held joint against a force across the bars, in the direction that is worst."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.checks.held import Held
from solver.propping.stiffness import find_offered
from solver.stiffness import Stiffness

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Across:
    """stiffness [N/m]: the least over all directions across, infinite where supports take every force.

    shares (members,): the largest force in each member per newton across, whichever way that acts.
    """

    stiffness: float
    shares: Array


def find_across(stiffness: Stiffness, held: Sequence[Held]) -> tuple[Across, ...]:
    """Find what the truss offers at each held joint."""
    joints, ways = [], []
    for one in held:
        # In space the movement across is a matrix of two by two: a third direction gives what lies off it.
        third = [one.across.sum(axis=0)] if len(one.across) == 2 else []
        joints += [one.joint] * (len(one.across) + len(third))
        ways += [way.tolist() for way in (*one.across, *third)]
    offered = iter(find_offered(stiffness, joints, ways))
    found = []
    for one in held:
        along = [next(offered) for _ in one.across]
        gives = [1 / each.stiffness for each in along]
        shares = np.linalg.norm([each.shares for each in along], axis=0)
        most = gives[0]
        if len(gives) == 2:
            both = 1 / next(offered).stiffness - (gives[0] + gives[1]) / 2
            most = float(np.linalg.eigvalsh([[gives[0], both], [both, gives[1]]])[-1])
        found.append(Across(1 / most if most > 0 else np.inf, shares))
    return tuple(found)
