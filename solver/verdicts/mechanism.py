"""Without it the truss is a mechanism."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member that the geometry needs; how many joints move without it."""
    mechanism = evidence.losses.each[member].mechanism
    if mechanism is None:
        return None
    joints = evidence.removals.moves[member]
    push = mechanism.driven or mechanism.carried_away
    column, standing = (push.column, push.standing) if push else (-1, None)
    return Ground("mechanism", float(len(joints)), column, standing, joints=joints)
