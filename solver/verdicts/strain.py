"""A temperature, settlement or misfit of the study puts a force into it."""

from __future__ import annotations

import numpy as np

from solver.tolerances import is_zero
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member that such a case of the study wakes; the largest force in one alone."""
    forces = evidence.causes.strain[member]
    forces = np.where(is_zero(forces, evidence.forces.scales[: len(forces)]), 0.0, forces)
    if not forces.any():
        return None
    most = int(np.abs(forces).argmax())
    return Ground("strain", float(forces[most]), most, loads=tuple(np.flatnonzero(forces).tolist()))
