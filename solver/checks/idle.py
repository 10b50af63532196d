"""Members that look idle and hold something: no load but own weight reaches them, and yet they are props."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from solver.cases import LoadCase
from solver.checks.check import Check
from solver.losses.before import Before
from solver.tolerances import is_zero


def find_idle(before: Before, each: Sequence[Sequence[Check]]) -> tuple[int, ...]:
    """Return members (indices) that bear nothing but own weight of members, and hold a compressed joint.

    Load cases alone and crossings count that some combination for strength takes up, at every position.
    """
    reached = _reached(before)
    return tuple(
        member
        for member, checks in enumerate(each)
        if not reached[member] and any(check.key.startswith("prop") for check in checks)
    )


def _reached(before: Before) -> NDArray[np.bool_]:
    """Members that bear something of a load that is not own weight alone, (members,)."""
    study, every = before.study, before.every
    strength = [load for load in study.asked if load.counts_for("strength")]
    taken = {name for load in strength for name in (*load.cases, *load.lanes, load.crossing)}
    columns = [
        column
        for column, load in enumerate(study.alone)
        if load.name in taken and not (load.name in study.cases and _is_weight(study.cases[load.name]))
    ]
    ends = (every.smallest[:, columns], every.largest[:, columns])
    still = [is_zero(end, before.every_scale[columns]) for end in ends]
    return np.asarray(~(still[0] & still[1]).all(axis=1))


def _is_weight(case: LoadCase) -> bool:
    """Whether a case is own weight of members and nothing else."""
    others = (case.joints, case.lines, case.settlement, case.misfit)
    return bool(case.self_weight) and not any(others) and case.temperature is None
