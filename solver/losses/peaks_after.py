"""Peaks after losses: bounds on all of them, and the exact ones of those few that matter.

After the loss of member r a row is itself plus a number times the row of r. Under one combination it can
then exceed neither its own extreme nor r's, each taken at its worst position: a bound that costs next to
nothing and is exact where nothing travels. Only rows whose bound could still matter are swept.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from solver.losses.after import After, Kind, Pairs
from solver.progress import silent
from solver.sweep import Sweep, Ways, sweep
from solver.tolerances import ZERO

Array = NDArray[np.float64]
Index = NDArray[np.int64] | slice
PAIRS = 4_000
"""Pairs of a row and a loss that are swept at once."""


@dataclass(frozen=True)
class Intact:
    """Extremes of rows before any loss under the combinations asked, (rows, combinations)."""

    smallest: Array
    largest: Array


@dataclass
class PeaksAfter:
    """Peaks of one kind of rows after each loss of a block, over the combinations asked.

    before: the rows' own extremes; lost: those of the lost members' forces, (c, combinations); weights
    (combinations,): how often own weight counts in each; scales (combinations,) [N] of zero, of forces only.
    units (combinations,): what is worked out is divided by these, as all of the above are already.
    high, low (rows, c): the largest and the smallest value, NaN until swept.
    """

    ways: Ways
    after: After
    kind: Kind
    before: Intact
    lost: Intact
    weights: Array
    scales: Array | None
    units: Array | float = 1.0
    high: Array = field(init=False)
    low: Array = field(init=False)

    def __post_init__(self) -> None:
        shape = (len(self.before.largest), len(self.after.releases.members))
        self.high, self.low = np.full(shape, np.nan), np.full(shape, np.nan)

    def coarse(self) -> tuple[Array, Array]:
        """Return bounds (upper of the largest, lower of the smallest), (rows, c), over all combinations."""
        self.work_out_anew()
        change = self.after.changes(self.kind)
        most, least = self.lost.largest.max(axis=1), self.lost.smallest.min(axis=1)
        upper = self.before.largest.max(axis=1)[:, None] + np.maximum(change * most, change * least)
        lower = self.before.smallest.min(axis=1)[:, None] + np.minimum(change * most, change * least)
        if self.weights.any():
            shift = self.after.shifts(self.kind)
            ends = np.stack([shift * self.weights.min(), shift * self.weights.max()])
            upper, lower = upper + ends.max(axis=0), lower + ends.min(axis=0)
        return self._known(upper, lower, (slice(None), slice(None)))

    def work_out_anew(self) -> None:
        """Sweep every row of the losses that are worked out anew: no bound from the update holds for them."""
        places = np.array(sorted(self.after.anew), dtype=np.int64)
        places = places[np.isnan(self.high[:, places]).any(axis=0)]
        every = Pairs.all_of(len(self.high), len(places))
        self.work_out(Pairs(every.rows, places[every.losses]))

    def fine(self, pairs: Pairs) -> tuple[Array, Array]:
        """Return the same bounds of some pairs from each combination by itself, (pairs,)."""
        change = self.after.changes(self.kind)[pairs.rows, pairs.losses][:, None]
        ends = change * self.lost.largest[pairs.losses], change * self.lost.smallest[pairs.losses]
        upper = self.before.largest[pairs.rows] + np.maximum(*ends)
        lower = self.before.smallest[pairs.rows] + np.minimum(*ends)
        if self.weights.any():
            shift = np.outer(self.after.shifts(self.kind)[pairs.rows, pairs.losses], self.weights)
            upper, lower = upper + shift, lower + shift
        return self._known(upper.max(axis=1), lower.min(axis=1), (pairs.rows, pairs.losses))

    def _known(self, upper: Array, lower: Array, where: tuple[Index, Index]) -> tuple[Array, Array]:
        """Bounds of some pairs, or the peaks themselves where they are worked out."""
        high, low = self.high[where], self.low[where]
        return np.where(np.isnan(high), upper, high), np.where(np.isnan(low), lower, low)

    def work_out(self, pairs: Pairs) -> None:
        """Sweep some pairs and keep their peaks."""
        for start in range(0, len(pairs.rows), PAIRS):
            part = Pairs(pairs.rows[start : start + PAIRS], pairs.losses[start : start + PAIRS])
            swept = self.sweep(part)
            band = self.bands(part.losses)
            low = np.where(np.abs(swept.smallest) <= band, 0.0, swept.smallest) / self.units
            high = np.where(np.abs(swept.largest) <= band, 0.0, swept.largest) / self.units
            self.high[part.rows, part.losses] = high.max(axis=1)
            self.low[part.rows, part.losses] = low.min(axis=1)

    def sweep(self, pairs: Pairs) -> Sweep:
        """Sweep some pairs under the combinations asked, one row a pair."""
        study = self.ways.study
        names = self.after.responses.case_names
        return sweep(self.ways, self.after.rows(self.kind, pairs), names, study.asked, silent)

    def bands(self, losses: NDArray[np.int64]) -> Array:
        """What counts as zero after each loss [N], (losses, combinations), 0 for what is no force.

        The scale is that of the whole truss, or the largest that the lost force becomes in another member.
        """
        if self.scales is None:
            return np.zeros((len(losses), 1))
        releases = self.after.releases
        largest = np.abs(releases.forces).max(axis=0, initial=0.0)[losses]
        lost = np.maximum(np.abs(self.lost.largest), np.abs(self.lost.smallest))[losses]
        return np.asarray(ZERO * np.maximum(self.scales, largest[:, None] * lost))
