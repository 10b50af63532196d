"""Without it the truss sags more."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground

GROWN = 1.1
"""A tenth more (our choice)."""


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member whose loss makes the largest deflection under one combination grow to GROWN or more."""
    stable = evidence.losses.each[member].stable
    if stable is None or stable.moved is None or not stable.moved.share >= GROWN:
        return None
    asked = len(evidence.study.asked)
    column = len(evidence.forces.scales) - asked + stable.moved.combination
    return Ground("deflection", stable.moved.share, column)
