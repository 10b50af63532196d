"""Every member against its resistance after the loss of any single other one."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from solver.checks.check import Check
from solver.losses.after import Pairs, look_after
from solver.losses.before import Before
from solver.losses.peaks_after import PeaksAfter
from solver.losses.seeking import known, seek_by_row
from solver.losses.stable import govern_after, missing_after, utilisation_after
from solver.progress import Progress, blocks, silent
from solver.removal import Removals
from solver.stiffness import Stiffness
from solver.tolerances import TIE

Indices = NDArray[np.int64]
AT_ONCE = 128


def check_after_losses(
    before: Before, stiffness: Stiffness, members: Indices, progress: Progress = silent
) -> dict[int, Check]:
    """Return by member (index) its hardest case after a loss of one of `members` that the truss survives.

    Only where that is harder than with all members there; told also where the study does not ask for it.
    Losses that leave a mechanism are told elsewhere: they are no question of resistance.
    """
    least = np.nan_to_num(before.utilisations)
    found: dict[int, Check] = {}
    for part in blocks(len(members), AT_ONCE, "resistances after each loss", progress):
        after = look_after(before.study, stiffness, before.responses, members[part])
        forces = before.strengths_after(after)
        values = known(seek_by_row(forces, utilisation_after(before, after), least))
        best = values.max(axis=1, initial=-np.inf)
        rows = np.flatnonzero(best > least * (1 + TIE))
        places = (values >= best[:, None] - TIE * np.abs(best[:, None])).argmax(axis=1)
        pairs = Pairs(rows, places[rows])
        for sign in (1.0, -1.0):
            own = np.flatnonzero(_governs(before, forces.high, forces.low, pairs) == sign)
            chosen = Pairs(pairs.rows[own], pairs.losses[own])
            if not len(own):
                continue
            where = govern_after(forces, chosen, sign)
            for place, (row, loss) in enumerate(
                zip(chosen.rows.tolist(), chosen.losses.tolist(), strict=True)
            ):
                demand = float(forces.high[row, loss] if sign > 0 else -forces.low[row, loss])
                limit = float(before.resistances[0 if sign > 0 else 1][row])
                found[row] = Check(
                    "another's loss", "the study", demand, limit, demand / limit,
                    combination=int(where.combinations[place]), position=float(where.positions[place]),
                    direction=int(where.directions[place]), others=(int(after.releases.members[loss]),),
                    asked=before.study.rules.limits.after_loss,
                )  # fmt: skip
        least = np.maximum(least, best)
        if before.study.rules.limits.after_loss:
            _add_unknown(found, before, forces)
    return found


def check_mechanisms(before: Before, removals: Removals) -> Iterator[Check]:
    """Say how many losses leave a mechanism, where the study asks that the truss bear any single one."""
    if before.study.rules.limits.after_loss:
        lost = np.flatnonzero(removals.mechanism).tolist()
        count = float(len(lost))
        yield Check(
            "another's loss", "the study", count, 0.0, np.inf if count else 0.0, "none", others=tuple(lost)
        )


def _add_unknown(found: dict[int, Check], before: Before, forces: PeaksAfter) -> None:
    """Put in members that bear a force after a loss for whose sign no resistance is known."""
    score = missing_after(before, forces.after)
    nothing = np.full(len(forces.high), np.finfo(float).tiny)
    values = known(seek_by_row(forces, score, nothing))
    for row in np.flatnonzero(values.max(axis=1, initial=-np.inf) > 0).tolist():
        loss = int(values[row].argmax())
        found[row] = Check(
            "another's loss", "the study", float(values[row, loss]), np.nan, np.nan,
            others=(int(forces.after.releases.members[loss]),), refused=("a resistance is not known",),
        )  # fmt: skip


def _governs(
    before: Before, high: NDArray[np.float64], low: NDArray[np.float64], pairs: Pairs
) -> NDArray[np.float64]:
    """1 where tension asks more of its resistance, -1 where compression does."""
    tension, compression = before.resistances
    pulled = known(high[pairs.rows, pairs.losses] / tension[pairs.rows])
    pushed = known(-low[pairs.rows, pairs.losses] / compression[pairs.rows])
    return np.where(pulled >= pushed, 1.0, -1.0)
