"""A check: one thing that a member is held against."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

import numpy as np

from solver.resistance.steps import Kind, Step

Key = Literal[
    "tension",
    "compression",
    "slenderness in tension",
    "slenderness in compression",
    "prop force",
    "prop stiffness",
    "another's loss",
    "deflection",
    "depth",
]
KEYS: tuple[Key, ...] = get_args(Key)
"""Every key, in the order of the ladder of limits."""

OF_STRENGTH: tuple[Key, ...] = ("tension", "compression", "prop force", "prop stiffness", "another's loss")
"""Checks that ask whether something breaks, buckles or lets go."""


@dataclass(frozen=True)
class Check:
    """What is asked of a member and what it has, in SI of `kind`; forces and lengths are sizes.

    by: whose rule it is. utilisation: demand over limit, or limit over demand of what must be at least so
    much; NaN where the limit is not known, and `refused` names why. combination: in which of those asked the
    demand governs, -1 in none; position [m] and direction (0 forward, 1 backward, -1 without a train) as of a
    peak. others: members (indices) that it is about, as those it holds. joint: where, -1 at none; axis: along
    which one it moves there (0 for x), -1 along none. unchecked: what the rule leaves out. steps: to the
    limit, then to the demand. asked: whether the study asks for it; else it is told and counts for nothing.
    """

    key: Key
    by: str
    demand: float
    limit: float
    utilisation: float
    kind: Kind = "force"
    combination: int = -1
    position: float = np.nan
    direction: int = -1
    joint: int = -1
    axis: int = -1
    others: tuple[int, ...] = ()
    steps: tuple[Step, ...] = ()
    refused: tuple[str, ...] = ()
    unchecked: tuple[str, ...] = ()
    asked: bool = True

    @property
    def holds(self) -> bool:
        """Whether it is met, but for a rounding; never where the limit is not known."""
        return self.utilisation <= 1 + 1e-9


def hardest(checks: tuple[Check, ...]) -> Check | None:
    """Return the check asked of the largest utilisation, None where none is known; of equals the first.

    Where strength is not enough that comes before limits of slenderness, depth or deflection.
    """
    known = [check for check in checks if check.asked and not np.isnan(check.utilisation)]
    weak = [check for check in known if check.key in OF_STRENGTH and not check.holds]
    return max(weak or known, key=lambda check: check.utilisation, default=None)
