"""Grounds of a whole study: the evidence gathered, and every member's grounds found in it."""

from __future__ import annotations

import numpy as np

from solver.losses.whole import Losses
from solver.peaks import Forces
from solver.progress import Progress, silent
from solver.removal import Removals
from solver.stiffness import Stiffness
from solver.verdicts.causes import find_causes
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import Ground
from solver.verdicts.leaning import lean
from solver.verdicts.takeovers import find_takeovers
from solver.verdicts.verdict import give_grounds


def find_grounds(
    stiffness: Stiffness, forces: Forces, removals: Removals, losses: Losses, progress: Progress = silent
) -> tuple[tuple[Ground, ...], ...]:
    """Return every ground for each member, the weightiest first."""
    before = losses.before
    study, responses = before.study, before.responses
    stable = np.flatnonzero(~removals.mechanism)
    evidence = Evidence(
        study=study,
        responses=responses,
        forces=forces,
        removals=removals,
        losses=losses,
        causes=find_causes(study, stiffness, responses),
        leaning=lean(study, stiffness, responses, before.ways),
        takeovers=find_takeovers(before, stiffness, stable, progress),
    )
    return give_grounds(evidence)
