"""Every single loss of a study, each with its outcome; and who shares with whom."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.losses.before import Before
from solver.losses.mechanisms import Mechanism, examine_mechanisms
from solver.losses.outcome import Outcome, judge_mechanism, judge_stable
from solver.losses.peaks_after import Intact
from solver.losses.sharing import Sharing, find_sharing
from solver.losses.stable import Stable, examine_stable
from solver.peaks import Extremes, Forces
from solver.progress import Progress, silent
from solver.removal import Removals
from solver.resisting import resist
from solver.response import Responses
from solver.statics import Statics
from solver.stiffness import Stiffness
from solver.sweep import Sweep
from solver.tolerances import ZERO

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Turned:
    """A reaction (row) with a sign after a loss that it had not before, and its value then [N]."""

    row: int
    how: Literal["lifts off", "reverses"]
    value: float


@dataclass(frozen=True)
class Loss:
    """What follows from losing one member (index): `mechanism` or `stable` tells more, whichever it is."""

    member: int
    outcome: Outcome
    mechanism: Mechanism | None = None
    stable: Stable | None = None
    turned: tuple[Turned, ...] = ()


@dataclass(frozen=True)
class Losses:
    """Every member's loss, in the file's order; who shares with whom; what they are held against."""

    each: tuple[Loss, ...]
    sharing: Sharing
    before: Before


def hold_against(
    responses: Responses, forces: Forces, reactions: Extremes | None, deflections: Extremes | None
) -> Before:
    """Gather what losses are held against; what is None is not asked for."""
    swept = forces.sweep
    ways = swept.motions.ways
    asked = slice(len(swept.combinations) - len(ways.study.asked), None)
    return Before(
        study=ways.study,
        ways=ways,
        responses=responses,
        intact={
            "forces": Intact(swept.smallest[:, asked], swept.largest[:, asked]),
            **({"reactions": _intact(reactions.sweep)} if reactions else {}),
            **({"deflections": _intact(deflections.sweep)} if deflections else {}),
        },
        scales=forces.asked_scales,
        every=_intact(swept),
        every_scale=forces.scales,
        resisting=resist(ways.study),
    )


def examine_losses(
    before: Before,
    stiffness: Stiffness,
    geometry: tuple[Statics, Removals],
    shares: Array,
    progress: Progress = silent,
) -> Losses:
    """Lose each member, one at a time, under everything that the study contains.

    shares (members,): redundancy shares.
    """
    statics, removals = geometry
    lost = [(int(member), removals.moves[member]) for member in np.flatnonzero(removals.mechanism)]
    found: dict[int, Loss] = {}
    for member, mechanism in examine_mechanisms(before, stiffness, lost, progress):
        found[member] = Loss(member, judge_mechanism(mechanism), mechanism)
    for member, stable in examine_stable(
        before, stiffness, np.flatnonzero(~removals.mechanism), progress=progress
    ):
        found[member] = Loss(member, judge_stable(stable), None, stable, _turned(before, stable))
    each = tuple(found[member] for member in range(len(before.study.truss.members)))
    return Losses(each, find_sharing(statics, shares), before)


def _intact(swept: Sweep) -> Intact:
    return Intact(swept.smallest, swept.largest)


def _turned(before: Before, stable: Stable) -> tuple[Turned, ...]:
    """Reactions with a sign after a loss that they did not have before."""
    intact = before.of("reactions")
    band = ZERO * before.largest_force
    was = np.stack([-intact.smallest.min(axis=1), intact.largest.max(axis=1)])
    now = np.stack([-stable.reactions[0], stable.reactions[1]])
    upward = [
        float(direction[-1]) for support in before.study.truss.supports for direction in support.directions
    ]
    turned = []
    for side, row in np.argwhere((was <= band) & (now > band)).tolist():
        sign = -1.0 if side == 0 else 1.0
        how: Literal["lifts off", "reverses"] = "lifts off" if sign * upward[row] < 0 else "reverses"
        turned.append(Turned(row, how, sign * float(now[side, row])))
    return tuple(turned)
