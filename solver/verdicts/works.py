"""Loads of the study put a force into it."""

from __future__ import annotations

from solver.tolerances import is_zero
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground


def find(evidence: Evidence, member: int) -> Ground | None:
    """Find a member that bears force under some load other than own weight and strains.

    The number is its larger peak over the combinations asked, or under a load alone where that is in none;
    `loads` are all loads alone that put a force into it.
    """
    alone = range(len(evidence.study.alone))
    waking = tuple(column for column in alone if evidence.under(member, column))
    if not any(_by_load(evidence, member, column) for column in waking):
        return None
    forces = evidence.forces
    tension, compression = (float(side.values[member]) for side in (forces.tension, forces.compression))
    if not (tension or compression):
        most = max(waking, key=lambda column: abs(evidence.under(member, column)))
        return Ground("works", evidence.under(member, most), most, loads=waking)
    governing = forces.tension if tension >= compression else forces.compression
    number = tension if tension >= compression else -compression
    return Ground("works", number, int(governing.combinations[member]), loads=waking)


def _by_load(evidence: Evidence, member: int, column: int) -> bool:
    """Whether what a load alone puts into a member is more than own weight and strains."""
    load = evidence.study.alone[column]
    if load.name not in evidence.study.cases:
        return True
    return not is_zero(float(evidence.causes.load[member, column]), evidence.forces.scales[column])
