"""What each member takes over when another is lost, and how its zero hangs on the stiffness of others.

Of a redundancy matrix R (von Scheven, Ramm & Bischoff 2021): a share a more of member j's area changes the
force of member r by a R_jr n_j / (1 + a (1 - R_jj)) (Sherman & Morrison 1950, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.losses.after import After, Pairs, look_after
from solver.losses.before import Before
from solver.losses.releases import Releases
from solver.progress import Progress, blocks, silent
from solver.reasons.reason import GROWTH
from solver.stiffness import Stiffness
from solver.tolerances import TIE, ZERO

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
AT_ONCE = 256
LEAST = 0.05
"""A twentieth of what the lost one bore: less is no help to speak of (our choice)."""


@dataclass(frozen=True)
class Takeovers:
    """For each member, (members,) each.

    taken [N]: the most by which its larger peak rises when one other, `lost`, goes, if that is LEAST of that
    one's peak or more. change [N]: by how much its force changes under load case `under` (column), in which
    it is zero, where the area of member `stiffer` grows by GROWTH; 0 where no case does that.
    """

    taken: Array
    lost: Indices
    change: Array
    stiffer: Indices
    under: Indices


def find_takeovers(
    before: Before, stiffness: Stiffness, members: Indices, progress: Progress = silent
) -> Takeovers:
    """Look through the losses of all `members` (indices) that the truss stands without."""
    count = len(before.study.truss.members)
    nothing, none = np.zeros(count), np.full(count, -1)
    found = Takeovers(nothing.copy(), none.copy(), nothing.copy(), none.copy(), none.copy())
    for part in blocks(len(members), AT_ONCE, "what takes over", progress):
        after = look_after(before.study, stiffness, before.responses, members[part])
        _take(found, before, after)
        _stiffen(found, before, after.releases)
    return found


def _take(found: Takeovers, before: Before, after: After) -> None:
    """Keep what rises clearly more than before; of equals the first lost in the file's order."""
    peaks, lost = before.peaks_after(after, "forces"), after.releases.members
    least = np.maximum(LEAST * before.peaks[lost], ZERO * before.largest_force)
    values = np.full(peaks.high.shape, -np.inf)
    open_ = _rises(before, peaks.coarse())
    open_[lost, np.arange(len(lost))] = -np.inf
    while True:
        floor = np.maximum(values.max(axis=1), found.taken) * (1 - TIE)
        open_[(open_ < floor[:, None]) | (open_ < least)] = -np.inf
        rows = np.flatnonzero(open_.max(axis=1, initial=-np.inf) > -np.inf)
        if not len(rows):
            break
        pairs = Pairs(rows, open_[rows].argmax(axis=1))
        fine = _rises(before, peaks.fine(pairs), rows)
        worth = (fine >= floor[rows]) & (fine >= least[pairs.losses])
        open_[pairs.rows, pairs.losses] = -np.inf
        pairs = Pairs(rows[worth], pairs.losses[worth])
        peaks.work_out(pairs)
        ends = peaks.high[pairs.rows, pairs.losses], peaks.low[pairs.rows, pairs.losses]
        rises = _rises(before, ends, pairs.rows)
        values[pairs.rows, pairs.losses] = np.where(rises >= least[pairs.losses], rises, -np.inf)
    best = values.max(axis=1, initial=-np.inf)
    place = (values >= best[:, None] * (1 - TIE)).argmax(axis=1)
    rows = np.flatnonzero(best > found.taken * (1 + TIE))
    found.taken[rows], found.lost[rows] = best[rows], lost[place[rows]]


def _rises(before: Before, ends: tuple[Array, Array], rows: Indices | None = None) -> Array:
    """By how much larger peaks rise where rows reach these largest and smallest values [N]."""
    was = before.peaks[:, None] if rows is None else before.peaks[rows]
    return np.asarray(np.maximum(ends[0], -ends[1]) - was)


def _stiffen(found: Takeovers, before: Before, releases: Releases) -> None:
    """Keep the largest change of a zero, over the load cases alone that stand still."""
    forces, scales = before.responses.forces.cases, before.every_scale[: len(before.study.cases)]
    factors = -releases.forces * (releases.shares * GROWTH / (1 + GROWTH * (1 - releases.shares)))
    factors[releases.members, np.arange(len(releases.members))] = 0.0
    for case, scale in enumerate(scales.tolist()):
        zero = np.abs(forces[:, case]) <= ZERO * scale
        changes = np.abs(factors * forces[releases.members, case])
        best = np.where(zero, changes.max(axis=1, initial=0.0), 0.0)
        place = (changes >= best[:, None] * (1 - TIE)).argmax(axis=1)
        rows = np.flatnonzero(best > np.maximum(found.change * (1 + TIE), ZERO * scale))
        found.change[rows] = best[rows]
        found.stiffer[rows] = releases.members[place[rows]]
        found.under[rows] = case
