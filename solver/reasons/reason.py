"""What a reason is: its kind, and the proof that goes with it.

For every member one reason, the first that fits: where its force is zero a proof of that, else what it
answers. Kinds are the words of the tables.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import Finding

JOINT_INSPECTION = "joint inspection"
KNOWN_REACTION = "known reaction"
CUT = "cut"
VIRTUAL_WORK = "virtual work"
INDETERMINATE = "indeterminate"
NOT_ZERO = "not zero"
KINDS = (JOINT_INSPECTION, KNOWN_REACTION, CUT, VIRTUAL_WORK, INDETERMINATE, NOT_ZERO)

Cause = Literal["load", "temperature", "misfit", "settlement"]
GROWTH = 0.1
"""By how much an area grows to show that a zero hangs on it, as a share of the area."""


@dataclass(frozen=True)
class Movement:
    """Without the member the truss moves in exactly one way, in which these joints (indices) move.

    Of a zero force the loads do no work in it; of another their work is the force times what the place of
    the member grows or shrinks.
    """

    moves: tuple[int, ...]


@dataclass(frozen=True)
class Indeterminate:
    """A zero that equilibrium alone does not give.

    always: zero whatever the stiffnesses, by an `exact` test or else by stiffnesses drawn at random.
    Otherwise they meet in it: growing the area of member `grown` (index) by GROWTH puts `change` [N] into
    the member, more than growing any other does.
    """

    always: bool
    exact: bool
    grown: int = -1
    change: float = 0.0


@dataclass(frozen=True)
class Seen:
    """Not zero, as a joint (index) shows: across everything else there it alone answers the load.

    reaction: what it answers there is a known reaction rather than a load.
    """

    joint: int
    reaction: bool = False


@dataclass(frozen=True)
class Brought:
    """Not zero: of all causes this one brings most of the force's sign, `force` [N].

    joint: of the load, -1 for a cause of another kind.
    """

    cause: Cause
    joint: int
    force: float


Proof = Finding | Cut | Movement | Indeterminate | Seen | Brought


@dataclass(frozen=True)
class Reason:
    """Why a member (index) bears what it bears in one state: a kind of KINDS, and its proof."""

    member: int
    kind: str
    proof: Proof
