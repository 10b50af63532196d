"""Tension and compression against the resistance of the member."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from solver.checks.bending import NOT_CHECKED as BENDING
from solver.checks.check import Check, Key
from solver.losses.before import Before
from solver.resistance.steps import Strength
from solver.sweep import Governing


def check_strength(
    before: Before, governing: tuple[Governing, Governing], member: int, bent: bool = False
) -> Iterator[Check]:
    """Hold peak tension and compression over the combinations for strength against their resistances.

    governing: where each peak occurs, tension first, by combination asked. bent: loaded between its joints.
    """
    beside = (BENDING,) if bent else ()
    keys: tuple[Key, Key] = ("tension", "compression")
    resisting = before.resisting
    strengths = (resisting.tension[member], resisting.compression[member])
    for key, strength, demands, place in zip(keys, strengths, before.demands, governing, strict=True):
        demand = float(demands[member])
        asks = demand > 0
        yield Check(
            key=key,
            by=_by(before, strength),
            demand=demand,
            limit=np.nan if strength.value is None else strength.value,
            utilisation=_utilisation(demand, strength),
            combination=int(place.combinations[member]) if asks else -1,
            position=float(place.positions[member]) if asks else np.nan,
            direction=int(place.directions[member]) if asks else -1,
            steps=strength.steps,
            refused=strength.refused,
            unchecked=(*strength.unchecked, *beside),
        )


def _utilisation(demand: float, strength: Strength) -> float:
    """What bears nothing needs nothing, whatever is known of its resistance."""
    if not demand:
        return 0.0
    return np.nan if strength.value is None else demand / strength.value


def _by(before: Before, strength: Strength) -> str:
    """Whose rule: given with the group where that is what the steps say, else the study's standard."""
    if strength.steps and strength.steps[0].clause == "given with the group":
        return "given with the group"
    standard = before.study.rules.standard
    return standard.name if standard else ""
