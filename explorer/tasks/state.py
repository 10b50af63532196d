"""What a task's truss does under its load: which members are zero, and which of them inspection shows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.errors import MechanismError
from solver.reasons.joint_rule import Finding, JointRule
from solver.redundancy import condition
from solver.sensitivity import examine_sensitivity
from solver.statics import Statics, examine
from solver.stiffness import Stiffness
from solver.tolerances import is_zero
from solver.truss import Truss

Array = NDArray[np.float64]
NEARLY_ZERO = 0.0137
"""A force that is none of zero is at least this share of the largest: a task has no doubtful members.

The odd number keeps clear of the shares that whole loads and rational directions give, so that no
machine's rounding decides whether a truss is taken.
"""
MOST_FORCE = 20.0
"""Member force per unit joint load: sound trusses of these sizes stay below."""


@dataclass(frozen=True)
class State:
    """A truss under its load: which members are zero, and the steps of joint inspection.

    joint_loads (joints, dimension) [N].
    """

    rule: JointRule
    joint_loads: Array
    zeros: frozenset[int]

    @property
    def truss(self) -> Truss:
        """The truss that bears the load."""
        return self.rule.truss

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """What joint inspection shows, step by step."""
        return self.rule.inspect(self.joint_loads, np.abs(self.joint_loads).max(axis=1))

    @cached_property
    def shown(self) -> frozenset[int]:
        """Members that joint inspection shows to be zero."""
        return frozenset(finding.member for finding in self.findings)

    @property
    def hidden(self) -> frozenset[int]:
        """Zero members that joint inspection does not show."""
        return self.zeros - self.shown


class Bench:
    """A truss ready to be looked at under any number of loads. Raises MechanismError where none is fair.

    That is where it cannot stand, or has more than one state of self-stress.
    """

    def __init__(self, truss: Truss) -> None:
        self._statics = examine(truss)
        if self._statics.mechanisms or self._statics.static_indeterminacy > 1:
            raise MechanismError("the truss cannot stand, or too many members share its load")
        self._stiffness = Stiffness(truss)
        self._rule = JointRule(truss)

    def look_at(self, loads: Array) -> Iterator[State | None]:
        """Look at each of some loads, (loads, joints, dimension) [N]; None where it makes no fair task.

        No fair task has a force that is nearly zero, or a zero that hangs on the members' stiffness.
        """
        forces = self._stiffness.respond(loads.reshape(len(loads), -1).T).forces
        for column, load in enumerate(loads):
            zero = _clear_zeros(forces[:, column], load)
            if zero is None or _hangs_on_stiffness(zero, self._statics):
                yield None
            else:
                yield State(self._rule, load, frozenset(np.flatnonzero(zero).tolist()))

    @cached_property
    def is_sound(self) -> bool:
        """Whether the truss is far from a mechanism, also with its joints a little off."""
        largest = condition(self._stiffness)
        return largest <= MOST_FORCE and not examine_sensitivity(self._stiffness, largest).near_critical


def _clear_zeros(forces: Array, loads: Array) -> NDArray[np.bool_] | None:
    """Which forces are zero; None where another is too near to it."""
    largest = float(np.abs(forces).max())
    zero = is_zero(forces, max(largest, float(np.abs(loads).max())))
    working = np.abs(forces[~zero])
    return zero if len(working) and working.min() > NEARLY_ZERO * largest else None


def _hangs_on_stiffness(zero: NDArray[np.bool_], statics: Statics) -> bool:
    """Whether a zero member is part of a state of self-stress: equilibrium alone does not decide it."""
    return bool((zero & ~statics.needed).any())
