"""What a piece resists in compression once a loss has left it longer unbraced."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from solver.losses.before import Before
from solver.losses.props import bars_of
from solver.losses.whole import Loss
from solver.resistance.given import given_with
from solver.resistance.steps import Strength


@dataclass(frozen=True)
class Grown:
    """The bar of a piece (index) that asks most of its resistance at the grown unbraced length.

    demand [N]: its peak compression over the combinations for strength; before, after: its resistance at the
    length of now and at the grown one. A resistance given outright does not follow the length.
    """

    bar: int
    length: float
    demand: float
    before: Strength
    after: Strength

    @property
    def utilisation(self) -> float:
        """Demand over resistance at the grown length, NaN where that is not known."""
        return np.nan if self.after.value is None else self.demand / self.after.value


def find_grown(before: Before, losses: Sequence[Loss]) -> dict[int, Grown]:
    """Return by lost member (index) what the compressed piece resists that it leaves unpropped."""
    found = {}
    for loss in losses:
        unpropped = loss.mechanism.unpropped if loss.mechanism else None
        if unpropped is None:
            continue
        beside = {place + step for place in unpropped.moving for step in (-1, 0)}
        bars = [
            bar for place, bar in enumerate(bars_of(before.study.truss, unpropped.piece)) if place in beside
        ]
        grown = [_at_length(before, bar, unpropped.after) for bar in bars if before.demands[1][bar] > 0]
        if grown:
            found[loss.member] = max(grown, key=_asks)
    return found


def _at_length(before: Before, bar: int, length: float) -> Grown:
    """A bar of the piece at the grown length, in the plane."""
    group = before.study.truss.members[bar].group
    longer = replace(before.resisting.bars[bar], in_plane=length * group.making.effective[0])
    after = given_with(group, before.study.rules.standard).compression(longer)
    return Grown(bar, length, float(before.demands[1][bar]), before.resisting.compression[bar], after)


def _asks(grown: Grown) -> float:
    return np.inf if np.isnan(grown.utilisation) else grown.utilisation
