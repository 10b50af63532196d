"""It takes over when another is lost."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member that takes over a twentieth or more of what a lost one bore; the force."""
    takeovers = evidence.takeovers
    if not takeovers.taken[member]:
        return None
    return Ground("takeover", float(takeovers.taken[member]), members=(int(takeovers.lost[member]),))
