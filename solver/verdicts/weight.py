"""It carries its own weight, or what hangs on it."""

from __future__ import annotations

import numpy as np

from solver.tolerances import is_zero
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member into which own weight puts a force; the largest in one load case alone."""
    forces = evidence.causes.weight[member]
    forces = np.where(is_zero(forces, evidence.forces.scales[: len(forces)]), 0.0, forces)
    if not forces.any():
        return None
    most = int(np.abs(forces).argmax())
    return Ground("weight", float(forces[most]), most, loads=tuple(np.flatnonzero(forces).tolist()))
