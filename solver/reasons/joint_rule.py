"""Joint inspection: at a joint, a member whose direction nothing else there can balance must be zero.

Cross it out and look again, until nothing changes. The rule is that of any statics text, put so that it
covers loads, supports and space: a member is zero if its direction is not in the span of the other
unknowns at one of its joints (members not yet known zero, held directions) and of the load there.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.tolerances import DIRECTION, NO_LOAD
from solver.truss import Truss

Array = NDArray[np.float64]

ONLY_MEMBER = "one member at an unloaded joint"
TWO_MEMBERS = "two members not in line at an unloaded joint"
THREE_MEMBERS = "three members with two in line at an unloaded joint"
OTHERS_IN_LINE = "all others in one line"
OTHERS_IN_PLANE = "all others in one plane"
LOAD_IN_LINE = "load in line with the others"
LOAD_IN_PLANE = "load in one plane with the others"
SUPPORT = "support stands in for a member"
RULES = (
    ONLY_MEMBER,
    TWO_MEMBERS,
    THREE_MEMBERS,
    OTHERS_IN_LINE,
    OTHERS_IN_PLANE,
    LOAD_IN_LINE,
    LOAD_IN_PLANE,
    SUPPORT,
)
"""The words that name a finding, for tables and pages."""


@dataclass(frozen=True)
class Finding:
    """A member (index) found zero at a joint (index) in a step, by a rule, thanks to earlier findings."""

    step: int
    joint: int
    member: int
    rule: str
    because: tuple[int, ...]


class JointRule:
    """The rule on one truss; what it has seen at a joint is remembered for the next loads.

    `inspect` may be called for any number of load cases. `reactions_known`: supports are no unknowns, for
    their reactions stand among the joint loads.
    """

    def __init__(self, truss: Truss, *, reactions_known: bool = False) -> None:
        self.truss = truss
        self._held = {
            support.joint: _unit([[float(c) for c in direction] for direction in support.directions])
            for support in truss.supports
            if not reactions_known
        }
        self._seen: dict[tuple[int, tuple[int, ...], bytes], tuple[tuple[int, str], ...]] = {}

    def inspect(
        self, joint_loads: Array, largest_contribution: Array, known: Collection[int] = ()
    ) -> tuple[Finding, ...]:
        """Return all findings, step by step, members within a step in the file's order.

        joint_loads (joints, dimension) [N]; largest_contribution (joints,) [N] is what a joint load is
        weighed against: what is left of contributions that cancel on paper is no load. `known`: members
        crossed out before the first step.
        """
        loads = _load_directions(joint_loads, largest_contribution)
        findings: list[Finding] = []
        crossed_out: set[int] = set(known)
        joints = set(range(len(self.truss.joint_names)))
        while joints:
            step = findings[-1].step + 1 if findings else 1
            found = self._look(sorted(joints), crossed_out, loads, step)
            findings += found
            crossed_out |= {finding.member for finding in found}
            members = [self.truss.members[finding.member] for finding in found]
            joints = {end for member in members for end in (member.first, member.second)}
        return tuple(findings)

    def stands_alone(self, member: int, joint: int, live: Collection[int]) -> bool:
        """Whether a member's direction is outside the span of all other unknowns at one of its joints.

        `live`: members not known to be zero. Then the load on the joint decides what the member bears.
        """
        others = [
            self.truss.directions[other]
            for other in self.truss.members_at[joint]
            if other != member and other in live
        ]
        basis = span_basis([*others, *self._held.get(joint, ())])
        return bool(np.linalg.norm(outside(self.truss.directions[member], basis)) >= DIRECTION)

    def _look(
        self, joints: list[int], crossed_out: set[int], loads: dict[int, Array], step: int
    ) -> list[Finding]:
        """Find what is visible now; the first joint in the file's order that shows a member counts."""
        shown: dict[int, Finding] = {}
        for joint in joints:
            here = self.truss.members_at[joint]
            live = tuple(member for member in here if member not in crossed_out)
            because = tuple(member for member in here if member in crossed_out)
            for member, rule in self._zeros_at(joint, live, loads.get(joint)):
                shown.setdefault(member, Finding(step, joint, member, rule, because))
        return [shown[member] for member in sorted(shown)]

    def _zeros_at(self, joint: int, live: tuple[int, ...], load: Array | None) -> tuple[tuple[int, str], ...]:
        """Members among `live` that nothing else at the joint can balance, each with its rule."""
        key = (joint, live, b"" if load is None else load.tobytes())
        if key not in self._seen:
            self._seen[key] = tuple(self._find_zeros(joint, live, load))
        return self._seen[key]

    def _find_zeros(self, joint: int, live: tuple[int, ...], load: Array | None) -> Iterator[tuple[int, str]]:
        extra = [*self._held.get(joint, ()), *([] if load is None else [load])]
        for member in live:
            others = [self.truss.directions[other] for other in live if other != member] + extra
            basis = span_basis(others)
            rest = outside(self.truss.directions[member], basis)
            if np.linalg.norm(rest) >= DIRECTION:
                yield member, _rule(len(others), len(basis), joint in self._held, load is not None)


def _load_directions(joint_loads: Array, largest_contribution: Array) -> dict[int, Array]:
    """Unit vectors of the loads by joint, without those that are none."""
    sizes = np.linalg.norm(joint_loads, axis=1)
    loaded = np.flatnonzero(sizes > NO_LOAD * largest_contribution)
    return {int(joint): joint_loads[joint] / sizes[joint] for joint in loaded}


def _rule(others: int, rank: int, supported: bool, loaded: bool) -> str:
    """The words of the trade for what shows a member to be zero; `rank`: of all others together."""
    if supported:
        return SUPPORT
    if loaded:
        return LOAD_IN_LINE if rank == 1 else LOAD_IN_PLANE
    if rank == 0:
        return ONLY_MEMBER
    if others == 1:
        return TWO_MEMBERS
    if rank == 1:
        return THREE_MEMBERS if others == 2 else OTHERS_IN_LINE
    return OTHERS_IN_PLANE


def _unit(vectors: list[list[float]]) -> Array:
    array = np.array(vectors)
    return np.asarray(array / np.linalg.norm(array, axis=1)[:, None])


def span_basis(vectors: list[Array]) -> list[Array]:
    """An orthonormal basis of the span; what adds less than DIRECTION adds nothing."""
    basis: list[Array] = []
    for vector in vectors:
        rest = outside(vector, basis)
        size = np.linalg.norm(rest)
        if size >= DIRECTION:
            rest = outside(rest / size, basis)
            basis.append(rest / np.linalg.norm(rest))
    return basis


def outside(vector: Array, basis: list[Array]) -> Array:
    """What is left of a vector outside an orthonormal basis; projected twice to lose rounding."""
    for _ in range(2):
        for direction in basis:
            vector = vector - (vector @ direction) * direction
    return vector
