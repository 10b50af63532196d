"""A duty is declared that the model cannot see."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member whose group has duties; how many."""
    duties = evidence.study.truss.members[member].group.duties
    return Ground("duty", float(len(duties))) if duties else None
