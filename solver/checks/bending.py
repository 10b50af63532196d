"""Members that are loaded between their joints: what bends them is no part of a truss, and no check."""

from __future__ import annotations

from itertools import pairwise

from solver.study import Study

NOT_CHECKED = "loaded between its joints: bending not checked"


def loaded_between(study: Study) -> frozenset[int]:
    """Return the members (indices) along chords that loads lie on or travel along."""
    chords = {line.chord for case in study.cases.values() for line in case.lines}
    chords |= {crossing.chord for crossing in study.crossings.values()}
    steps = {frozenset(step) for name in chords for step in pairwise(study.chords[name].joints)}
    ends = study.truss.ends.tolist()
    return frozenset(index for index, pair in enumerate(ends) if frozenset(pair) in steps)
