"""What losses are held against: the peaks of the whole truss under the combinations asked."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.losses.after import After, Kind
from solver.losses.peaks_after import Intact, PeaksAfter
from solver.resisting import Resisting
from solver.response import Responses
from solver.study import Study
from solver.sweep import Ways
from solver.tolerances import is_zero

Array = NDArray[np.float64]
MOVED = 0.1
"""Deflections below this share of the largest are compared with this share of it (our choice)."""


@dataclass(frozen=True)
class Before:
    """A study with the extremes of its rows under the combinations asked, and their scales [N].

    every: forces under each load alone and each combination, with their scales; resisting: what members
    resist. The study's own limit of
    zero plays no part here: forces up to it are counted as they are.
    """

    study: Study
    ways: Ways
    responses: Responses
    intact: Mapping[Kind, Intact]
    scales: Array
    every: Intact
    every_scale: Array
    resisting: Resisting

    def of(self, kind: Kind) -> Intact:
        """Extremes of one kind of rows, (rows, combinations)."""
        return self.intact[kind]

    def peaks_after(self, after: After, kind: Kind) -> PeaksAfter:
        """Get ready to seek peaks of one kind of rows after a block of losses."""
        lost, members = self.of("forces"), after.releases.members
        return PeaksAfter(
            self.ways,
            after,
            kind,
            self.of(kind),
            Intact(lost.smallest[members], lost.largest[members]),
            self.weights,
            self.scales if kind == "forces" else None,
        )

    def strengths_after(self, after: After) -> PeaksAfter:
        """Get ready to seek forces after a block of losses, 0 where a combination is not for strength."""
        if self.for_strength.all():
            return self.peaks_after(after, "forces")
        lost, members = self.of("forces"), after.releases.members
        units = np.where(self.for_strength, 1.0, np.inf)
        return PeaksAfter(
            self.ways,
            after,
            "forces",
            Intact(lost.smallest / units, lost.largest / units),
            Intact(lost.smallest[members] / units, lost.largest[members] / units),
            self.weights / units,
            self.scales,
            units,
        )

    def movements_after(self, after: After) -> PeaksAfter:
        """Get ready to seek deflections after a block of losses, each over `moved` of its combination."""
        lost, members, units = self.of("forces"), after.releases.members, self.moved
        own = self.of("deflections")
        return PeaksAfter(
            self.ways,
            after,
            "deflections",
            Intact(own.smallest / units, own.largest / units),
            Intact(lost.smallest[members] / units, lost.largest[members] / units),
            self.weights / units,
            None,
            units,
        )

    @cached_property
    def deflections(self) -> Array:
        """The largest absolute deflection along an axis under each combination, (combinations,) [m]."""
        own = self.of("deflections")
        return np.asarray(np.maximum(np.abs(own.smallest), np.abs(own.largest)).max(axis=0, initial=0.0))

    @cached_property
    def moved(self) -> Array:
        """What a deflection after a loss is compared with, (combinations,) [m].

        The largest under the same combination, or MOVED of the largest under any: one under which hardly
        anything moved shall not stand for many times more of next to nothing. 1 where nothing moves at all.
        """
        most = float(self.deflections.max(initial=0.0))
        return np.maximum(self.deflections, MOVED * most) if most else np.ones(len(self.deflections))

    @cached_property
    def weights(self) -> Array:
        """How often own weight counts in each combination, (combinations,)."""
        cases = self.study.cases
        return np.array(
            [
                sum(factor * cases[name].self_weight for name, factor in combination.cases.items())
                for combination in self.study.asked
            ]
        )

    @cached_property
    def resistances(self) -> tuple[Array, Array]:
        """Resistances in tension and in compression [N], (members,) each; NaN where there is none."""
        return self.resisting.values

    @cached_property
    def for_strength(self) -> NDArray[np.bool_]:
        """Which combinations are held against resistances, (combinations,)."""
        return np.array([load.counts_for("strength") for load in self.study.asked])

    @cached_property
    def tension(self) -> Array:
        """Peak tension of each member [N], at least 0, (members,)."""
        return self._peaks(self.of("forces").largest)

    @cached_property
    def compression(self) -> Array:
        """Peak compression of each member [N], at least 0, (members,)."""
        return self._peaks(-self.of("forces").smallest)

    @cached_property
    def demands(self) -> tuple[Array, Array]:
        """Peak tension and compression of each member over the combinations for strength [N]."""
        own = self.of("forces")
        ends = (own.largest, -own.smallest)
        tension, compression = (self._peaks(np.where(self.for_strength, end, 0.0)) for end in ends)
        return tension, compression

    @cached_property
    def borne(self) -> tuple[Array, Array]:
        """Peak tension and compression of each member over the combinations for strength or service [N]."""
        own = self.of("forces")
        counted = [load.counts_for("strength") or load.counts_for("service") for load in self.study.asked]
        ends = (own.largest, -own.smallest)
        tension, compression = (self._peaks(np.where(np.array(counted), end, 0.0)) for end in ends)
        return tension, compression

    def _peaks(self, values: Array) -> Array:
        return np.asarray(np.where(is_zero(values, self.scales), 0.0, values).max(axis=1).clip(0.0))

    @cached_property
    def peaks(self) -> Array:
        """The larger peak of each member [N], (members,)."""
        return np.asarray(np.maximum(self.tension, self.compression))

    @cached_property
    def utilisations(self) -> Array:
        """Demands over resistances, the larger of the two that are known, (members,); NaN without either."""
        (pulled, pushed), (tension, compression) = self.demands, self.resistances
        return np.asarray(np.fmax(pulled / tension, pushed / compression))

    @property
    def largest_force(self) -> float:
        """The largest peak [N]."""
        return float(self.peaks.max(initial=0.0))

    @cached_property
    def largest_deflection(self) -> float:
        """The largest absolute deflection along an axis [m]."""
        return float(self.deflections.max(initial=0.0))
