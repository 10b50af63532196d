"""Known slips of those who inspect joints by hand: why a member that works was taken to be zero.

Geometry and statics only. Each joint slip is the joint rule with one thing forgotten, so it is named only
where forgetting just that would have shown the member.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from solver.reasons.joint_rule import Finding, JointRule
from solver.state import State
from solver.truss import Truss

LOADED_JOINT = "load on the joint forgotten"
FORGOTTEN_SUPPORT = "support forgotten"
SYMMETRY = "mirrored from the other half"
FOLLOWED = "followed from a member that works"
ZERO_TAKEN_FOR_REMOVABLE = "zero taken for removable"
STANDS_WITHOUT = "stands without it"
KINDS = (
    LOADED_JOINT,
    FORGOTTEN_SUPPORT,
    SYMMETRY,
    FOLLOWED,
    ZERO_TAKEN_FOR_REMOVABLE,
    STANDS_WITHOUT,
)


@dataclass(frozen=True)
class Slip:
    """What led astray about a member (index).

    joint: where something was forgotten; other: the mirror image, or the member it was followed from; -1
    where there is none. rule: the words of the joint rule that was misapplied, of `joint_rule.RULES`.
    """

    kind: str
    member: int
    joint: int = -1
    other: int = -1
    rule: str = ""


@dataclass(frozen=True)
class Marking:
    """The members (indices) marked as zero in a state, and those that are; `rule` of the truss."""

    rule: JointRule
    state: State
    zeros: frozenset[int]
    marked: frozenset[int]

    @cached_property
    def without_loads(self) -> dict[int, Finding]:
        """What single joints would show of members that work if the loads on them were forgotten."""
        nothing = np.zeros_like(self.state.joint_loads)
        found = self.rule.inspect(nothing, np.zeros(len(nothing)), self.zeros)
        return _at_first_sight(found)

    @cached_property
    def without_supports(self) -> dict[int, Finding]:
        """The same if the supports were forgotten and the loads kept."""
        unheld = JointRule(self.rule.truss, reactions_known=True)
        found = unheld.inspect(self.state.joint_loads, self.state.largest_contribution, self.zeros)
        return _at_first_sight(found)

    def taking_for_granted(self, members: Iterable[int]) -> dict[int, Finding]:
        """The same if `members` were zero too, nothing forgotten."""
        known = self.zeros.union(members)
        found = self.rule.inspect(self.state.joint_loads, self.state.largest_contribution, known)
        return _at_first_sight(found)

    @cached_property
    def mirrors(self) -> tuple[dict[int, int], ...]:
        """The mirrors of the truss."""
        return find_mirrors(self.rule.truss)

    @cached_property
    def slips(self) -> dict[int, Slip]:
        """The slip of each member wrongly marked, the first that fits, where one does.

        A chain of marks that follow from wrong ones must begin at one that another slip explains: two members
        of which each follows from the other explain nothing.
        """
        wrong = sorted(self.marked - self.zeros)
        looks = (_loaded_joint, _forgotten_support, _symmetry)
        slips = {
            m: slip for m in wrong if (slip := next(filter(None, (look(self, m) for look in looks)), None))
        }
        while following := _following(self, wrong, slips):
            slips |= following
        return slips


def slip_of(marking: Marking, member: int) -> Slip | None:
    """Return the first slip that explains why a member that works was marked; None where none does."""
    return marking.slips.get(member)


def slip_about_need(member: int, needed: bool, marked: bool, zero: bool) -> Slip | None:
    """Return the slip about whether the truss is a mechanism without a member; None where there is none.

    needed: it is; marked: it was said to be; zero: the member bears nothing in the state looked at.
    """
    if marked and not needed:
        return Slip(STANDS_WITHOUT, member)
    if needed and not marked and zero:
        return Slip(ZERO_TAKEN_FOR_REMOVABLE, member)
    return None


def find_mirrors(truss: Truss) -> tuple[dict[int, int], ...]:
    """Return for each mirror that maps the truss onto itself the image of every member.

    Mirrors stand upright in the middle of the joints' extent: one in the plane, in space one square to x
    and one square to y. Joints match by their exact coordinates.
    """
    found = (_mirrored(truss, axis) for axis in range(truss.dimension - 1))
    return tuple(images for images in found if images)


def _at_first_sight(findings: tuple[Finding, ...]) -> dict[int, Finding]:
    """Findings of the first step by member: in later ones, one thing forgotten would rest on another."""
    return {finding.member: finding for finding in findings if finding.step == 1}


# Where forces carry few digits a member may pass for working though its joint shows it to be zero with all in
# view: then nothing was forgotten.


def _loaded_joint(marking: Marking, member: int) -> Slip | None:
    finding = marking.without_loads.get(member)
    if finding is None or not marking.state.loaded[finding.joint]:
        return None
    return Slip(LOADED_JOINT, member, joint=finding.joint, rule=finding.rule)


def _forgotten_support(marking: Marking, member: int) -> Slip | None:
    finding = marking.without_supports.get(member)
    if finding is None or finding.joint not in (support.joint for support in marking.rule.truss.supports):
        return None
    return Slip(FORGOTTEN_SUPPORT, member, joint=finding.joint, rule=finding.rule)


def _symmetry(marking: Marking, member: int) -> Slip | None:
    images = (images[member] for images in marking.mirrors)
    image = next((image for image in images if image in marking.zeros), None)
    return None if image is None else Slip(SYMMETRY, member, other=image)


def _following(marking: Marking, wrong: list[int], slips: Mapping[int, Slip]) -> dict[int, Slip]:
    """Of the wrong marks without a slip those that joints would show if all with one were zero."""
    shown = marking.taking_for_granted(slips)
    following = {}
    for member in wrong:
        finding = None if member in slips else shown.get(member)
        granted = [other for other in finding.because if other in slips] if finding else []
        if finding and granted:
            following[member] = Slip(FOLLOWED, member, finding.joint, granted[0], finding.rule)
    return following


def _mirrored(truss: Truss, axis: int) -> dict[int, int]:
    """The image of every member across the middle of an axis; empty where something has none."""
    along = [point[axis] for point in truss.coordinates]
    twice_middle = min(along) + max(along)
    places = {point: joint for joint, point in enumerate(truss.coordinates)}
    images = [
        places.get((*point[:axis], twice_middle - point[axis], *point[axis + 1 :]))
        for point in truss.coordinates
    ]
    members: dict[frozenset[int | None], int] = {
        frozenset((m.first, m.second)): index for index, m in enumerate(truss.members)
    }
    pairs = [(index, members.get(ends)) for index, ends in enumerate(_ends(truss, images))]
    found = {index: image for index, image in pairs if image is not None}
    return found if len(found) == len(truss.members) else {}


def _ends(truss: Truss, images: list[int | None]) -> Iterator[frozenset[int | None]]:
    for member in truss.members:
        yield frozenset((images[member.first], images[member.second]))
