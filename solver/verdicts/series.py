"""Others cannot be spared once it is gone."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member with others in series; how many."""
    others = evidence.losses.sharing.in_series(member)
    return Ground("series", float(len(others)), members=others) if others else None
