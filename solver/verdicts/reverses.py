"""Its force changes sign over the combinations."""

from __future__ import annotations

from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member that the combinations asked both pull and push; the smaller of the two peaks.

    loads: where peak tension and peak compression occur, which may be one and the same. A load alone does
    not count where combinations are given: permanent load may never let the force turn.
    """
    forces = evidence.forces
    tension, compression = (float(side.values[member]) for side in (forces.tension, forces.compression))
    if not (tension and compression):
        return None
    places = tuple(int(side.combinations[member]) for side in (forces.tension, forces.compression))
    return Ground("reverses", tension if tension <= compression else -compression, loads=places)
