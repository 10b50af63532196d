"""Its zero is a coincidence of stiffnesses."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find an idle member whose zero in a load case goes if one area grows; the change of force."""
    takeovers = evidence.takeovers
    if not takeovers.change[member] or not evidence.idle(member):
        return None
    stiffer, under = int(takeovers.stiffer[member]), int(takeovers.under[member])
    return Ground("coincidence", float(takeovers.change[member]), under, members=(stiffer,))
