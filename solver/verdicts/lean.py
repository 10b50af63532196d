"""Gravity loads that lean a little wake it."""

from __future__ import annotations

from solver.tolerances import ZERO
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find an idle member that vertical loads wake when they lean; the largest force."""
    leaning = evidence.leaning
    scales = evidence.forces.scales[: leaning.forces.shape[1]]
    if not evidence.idle(member) or (leaning.upright[member] > ZERO * scales).any():
        return None
    forces = leaning.share * leaning.forces[member]
    most = int(forces.argmax())
    return Ground("lean", float(forces[most]), most) if forces[most] > ZERO * scales[most] else None
