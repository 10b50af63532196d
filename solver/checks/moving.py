"""Deflections against the limits of the study: a check of the whole truss, told with every member."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from solver.checks.check import Check
from solver.checks.slender import THE_STUDY
from solver.losses.before import Before
from solver.sweep import Sweep


def check_deflections(before: Before, swept: Sweep | None = None) -> Iterator[Check]:
    """Hold the largest deflections over the combinations for service against their limits, one a limit.

    swept: the deflections along all ways, to tell where a train stands then; without it that is not told.
    """
    study, limits = before.study, before.study.rules.limits
    if limits.deflection is None and not limits.deflections:
        return
    own = before.of("deflections")
    counted = np.array([load.counts_for("service") for load in study.asked])
    sizes = np.where(counted, np.maximum(np.abs(own.smallest), np.abs(own.largest)), 0.0)
    dimension = study.truss.dimension
    asked = [(-1, limits.deflection)] if limits.deflection is not None else []
    for joint, limit in [*asked, *limits.deflections.items()]:
        first = 0 if joint < 0 else joint * dimension
        rows = sizes if joint < 0 else sizes[first : first + dimension]
        place, column = (int(one) for one in np.unravel_index(int(rows.argmax()), rows.shape))
        demand, row = float(rows[place, column]), first + place
        found = Check(
            "deflection", THE_STUDY, demand, limit or 0.0, demand / (limit or np.nan), "radius",
            combination=column if demand else -1, joint=row // dimension, axis=row % dimension,
        )  # fmt: skip
        yield found if swept is None or not demand else _placed(found, swept, (row, column), sizes)


def _placed(check: Check, swept: Sweep, at: tuple[int, int], sizes: NDArray[np.float64]) -> Check:
    """The check with the place of the train in which that row, under that combination, moves so far."""
    demands = np.full(sizes.shape, -np.inf)
    demands[at] = sizes[at]
    sign = 1.0 if swept.largest[at] >= -swept.smallest[at] else -1.0
    governing = swept.govern(demands, sign)
    row = at[0]
    position, direction = float(governing.positions[row]), int(governing.directions[row])
    return replace(check, position=position, direction=direction)
