"""Without it another member exceeds its resistance."""

from __future__ import annotations

from solver.tolerances import TIE
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member whose loss overloads another; the worst utilisation then."""
    loss = evidence.losses.each[member]
    if loss.outcome != "overload" or loss.stable is None or loss.stable.worst is None:
        return None
    over = [one for one in loss.stable.over if one.how != "already"]
    most = max(one.utilisation for one in over)
    # Of those that tie the first in the file's order.
    first = next(one for one in over if one.utilisation >= most * (1 - TIE))
    over.sort(key=lambda one: one is not first)
    worst = loss.stable.worst
    # The load is known of the worst of all only, which may be one that was over before.
    known = worst.member == first.member
    before = len(evidence.forces.scales) - len(evidence.study.asked)
    under = worst.combination + before if known else -1
    return Ground("overload", first.utilisation, under, members=tuple(one.member for one in over))
