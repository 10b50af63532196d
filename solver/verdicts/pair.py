"""Together with another idle member it keeps the truss from being a mechanism."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find an idle member that is in series with other idle ones; how many."""
    if not evidence.idle(member):
        return None
    others = tuple(m for m in evidence.losses.sharing.in_series(member) if evidence.idle(m))
    return Ground("pair", float(len(others)), members=others) if others else None
