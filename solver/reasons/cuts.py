"""The method of sections: a few members are cut, and one equation about what they set free has one unknown.

On the joints of a body set free by a cut act the forces of the cut members along their lines, the loads and
the reactions of supports there. A member is zero if its line is not in the span of the lines of the other
unknowns and of the total load, force and moment taken together: it is the joint rule for a larger body.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.reasons.cut_search import Mask, Separation, find_separations
from solver.reasons.joint_rule import outside, span_basis
from solver.reasons.turning import Turning, choose_movement, name_movement, wrenches
from solver.tolerances import DIRECTION, NO_LOAD
from solver.truss import Support, Truss

Array = NDArray[np.float64]
MOST_MEMBERS = {2: 3, 3: 6}
"""Members cut at most, in the plane and in space: as many as a body has equations."""


@dataclass(frozen=True)
class Cut:
    """The proof that `member` (an index) is zero.

    `members`: all that are cut, in the file's order, `member` among them; `known`: those of them known to be
    zero before, which are no unknowns; `part`: the joints of the body looked at; `turning`: the movement of
    that body in which neither other unknowns nor the loads do work, but `member` would.
    """

    member: int
    members: tuple[int, ...]
    known: tuple[int, ...]
    part: tuple[int, ...]
    turning: Turning


class Cuts:
    """All cuts of one truss through few members; what geometry alone decides is remembered.

    `reactions_known`: supports are no unknowns, for their reactions stand among the joint loads. `complete`
    tells whether all cuts through so few members were found (see `solver.reasons.cut_search` for how large a
    truss may be); a cut that was not found proves nothing, those found are sound all the same.
    """

    def __init__(self, truss: Truss, reactions_known: bool) -> None:
        self.separations, self.complete = find_separations(truss, MOST_MEMBERS[truss.dimension])
        points = _points_from_first_joint(truss)
        supports = () if reactions_known else truss.supports
        bodies = [
            _Body(truss, points, supports, separation, part)
            for separation in self.separations
            for part in (separation.side, separation.other)
        ]
        self._through: list[list[_Body]] = [[] for _ in truss.members]
        for body in sorted(bodies, key=lambda body: body.rank):
            for member in body.members:
                self._through[member].append(body)

    def prove(
        self,
        members: Sequence[int],
        known: Collection[int],
        joint_loads: Array,
        largest_contribution: Array,
    ) -> dict[int, Cut]:
        """Return a proof for each of `members` (indices) that some cut shows to be zero.

        known: members known to be zero before; joint_loads (joints, dimension) [N], reactions included if
        they are known; largest_contribution (joints,) [N], what each is weighed against. Of several proofs
        that with the fewest unknown members, then the fewest cut, then the smallest body is taken.
        """
        zero = frozenset(known)
        loads = _Loads(joint_loads, largest_contribution)
        proofs = (self._prove(member, zero, loads) for member in members)
        return {proof.member: proof for proof in proofs if proof}

    def _prove(self, member: int, zero: frozenset[int], loads: _Loads) -> Cut | None:
        if member in zero:
            return None
        # The order among equals stays that of the rank.
        for body in sorted(self._through[member], key=lambda body: len(set(body.members) - zero)):
            turning = body.show(member, tuple(m for m in body.members if m not in zero), loads)
            if turning:
                known = tuple(m for m in body.members if m in zero)
                return Cut(member, body.members, known, tuple(body.joints.tolist()), turning)
        return None


class _Loads:
    """Joint loads, and the total on each body, worked out once."""

    def __init__(self, joint_loads: Array, largest_contribution: Array) -> None:
        self._joint_loads = joint_loads
        self._largest = largest_contribution
        self._totals: dict[_Body, tuple[Array, float] | None] = {}

    def on(self, body: _Body) -> tuple[Array, float] | None:
        """The unit wrench of the total load and its share of all that goes into it; None where it is none."""
        if body not in self._totals:
            self._totals[body] = self._total(body)
        return self._totals[body]

    def _total(self, body: _Body) -> tuple[Array, float] | None:
        loads = self._joint_loads[body.joints]
        total = wrenches(body.arms, loads).sum(axis=0)
        # A load counts by itself and by its lever arm; each sum is as uncertain as what goes into it.
        levers = np.hypot(1.0, np.linalg.norm(body.arms, axis=1))
        contributions = float(self._largest[body.joints] @ levers)
        size = float(np.linalg.norm(total))
        return None if size <= NO_LOAD * contributions else (total / size, min(1.0, size / contributions))


class _Body:
    """What a cut sets free on one of its sides, `part` (joints,); `supports` are those whose reactions count.

    Its wrenches are (force, moment about a reference point over a unit), so that both parts are forces: the
    point is in the middle of the joints at which members are cut, the unit [m] is their mean length.
    """

    def __init__(
        self,
        truss: Truss,
        points: Array,
        supports: Sequence[Support],
        separation: Separation,
        part: Mask,
    ) -> None:
        self.members = separation.members
        self.part = part
        self._truss, self._points = truss, points
        self._supports = [support for support in supports if part[support.joint]]
        held = sum(len(support.directions) for support in self._supports)
        sizes = int(part.sum()), int(separation.side.sum()), int(separation.other.sum())
        self.rank = (min(sizes) == 1, len(self.members), held, sizes[0], bool(part[0]), self.members)
        """What comes first among proofs with equally many unknown members."""
        self._seen: dict[tuple[int, tuple[int, ...]], tuple[list[Array], Array] | None] = {}

    @cached_property
    def joints(self) -> NDArray[np.int64]:
        """The joints of the body, ascending."""
        return np.flatnonzero(self.part)

    @cached_property
    def arms(self) -> Array:
        """Lever arms of the body's joints about the reference, in units, (its joints, dimension)."""
        return np.asarray((self._points[self.joints] - self._reference) / self._unit)

    def show(self, member: int, live: tuple[int, ...], loads: _Loads) -> Turning | None:
        """The movement that shows `member` to be zero while `live` may bear; None where there is none."""
        key = member, live
        if key not in self._seen:
            self._seen[key] = self._outside_others(member, live)
        geometry = self._seen[key]
        if geometry is None:
            return None
        basis, rest = geometry
        load = loads.on(self)
        clear = DIRECTION
        if load and np.linalg.norm(outside(load[0], basis)) >= DIRECTION:
            # The smaller the sum, the less certain its direction: the member must stand out from it more.
            basis = span_basis([*basis, load[0]])
            rest, clear = outside(rest, basis), DIRECTION / load[1]
        if np.linalg.norm(rest) < clear:
            return None
        ends = self._points[self._truss.ends[list(self.members)].ravel()]
        movement = choose_movement(basis, rest, (ends - self._reference) / self._unit)
        return name_movement(movement, rest, self._truss.joint_coordinates[0] + self._reference, self._unit)

    def _outside_others(self, member: int, live: tuple[int, ...]) -> tuple[list[Array], Array] | None:
        """A basis of the other unknowns, and what is left of the member outside them; None for nothing."""
        others = [self._wrenches[other] for other in live if other != member]
        basis = span_basis([*others, *self._held])
        rest = outside(self._wrenches[member], basis)
        return (basis, rest) if np.linalg.norm(rest) >= DIRECTION else None

    @cached_property
    def _own_ends(self) -> NDArray[np.int64]:
        """The joint of the body at which each cut member is attached, (cut members,)."""
        ends = self._truss.ends[list(self.members)]
        return np.where(self.part[ends[:, 0]], ends[:, 0], ends[:, 1])

    @cached_property
    def _reference(self) -> Array:
        return np.asarray(self._points[self._own_ends].mean(axis=0))

    @cached_property
    def _unit(self) -> float:
        return float(self._truss.lengths[list(self.members)].mean())

    @cached_property
    def _wrenches(self) -> dict[int, Array]:
        """The unit wrench of tension in each cut member."""
        members = list(self.members)
        outward = np.where(self.part[self._truss.ends[members, 0]], 1.0, -1.0)
        pulls = self._truss.directions[members] * outward[:, None]
        return dict(zip(members, self._unit_wrenches(self._own_ends, pulls), strict=True))

    @cached_property
    def _held(self) -> list[Array]:
        """The unit wrenches of the reactions that count."""
        pairs = [(support.joint, direction) for support in self._supports for direction in support.directions]
        if not pairs:
            return []
        forces = np.array([[float(c) for c in direction] for _, direction in pairs])
        return list(self._unit_wrenches(np.array([joint for joint, _ in pairs]), forces))

    def _unit_wrenches(self, joints: NDArray[np.int64], forces: Array) -> Array:
        arms = (self._points[joints] - self._reference) / self._unit
        together = wrenches(arms, forces)
        return np.asarray(together / np.linalg.norm(together, axis=1)[:, None])


def _points_from_first_joint(truss: Truss) -> Array:
    """Joints as seen from the first [m], (joints, dimension), exact first: a far origin costs no digits."""
    first = truss.coordinates[0]
    return np.array([[float(c - o) for c, o in zip(x, first, strict=True)] for x in truss.coordinates])
