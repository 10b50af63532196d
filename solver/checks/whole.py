"""All checks of all members, each member's in the order of the ladder."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from solver.checks.after_loss import check_after_losses, check_mechanisms
from solver.checks.bending import loaded_between
from solver.checks.check import KEYS, Check, hardest
from solver.checks.idle import find_idle
from solver.checks.moving import check_deflections
from solver.checks.propping import check_props
from solver.checks.slender import check_depth, check_slenderness
from solver.checks.strength import check_strength
from solver.losses.before import Before
from solver.peaks import Forces
from solver.progress import Progress, silent
from solver.removal import Removals
from solver.stiffness import Stiffness
from solver.sweep import Governing, Sweep


@dataclass(frozen=True)
class Checks:
    """each: the checks of every member, in the file's order; whole: those of the truss as a whole.

    idle: members (indices) that no load but own weight reaches, and that hold a compressed joint in place.
    """

    each: tuple[tuple[Check, ...], ...]
    whole: tuple[Check, ...]
    idle: tuple[int, ...] = ()

    def hardest(self, member: int) -> Check | None:
        """The check of a member that asks most, None where none is known."""
        return hardest(self.each[member])


def check_members(
    before: Before,
    stiffness: Stiffness,
    swept: tuple[Forces, Sweep | None],
    removals: Removals,
    progress: Progress = silent,
) -> Checks:
    """Hold every member against all that the study asks of it.

    swept: forces, and deflections to tell where a train stands at the largest ones; None where that is not
    asked for.
    """
    forces, deflections = swept
    governing = _governing(before, forces)
    props = check_props(before, stiffness)
    stable = np.flatnonzero(~removals.mechanism)
    lost = check_after_losses(before, stiffness, stable, progress)
    bent = loaded_between(before.study)
    each = []
    for member in range(len(before.study.truss.members)):
        checks = [
            *check_strength(before, governing, member, member in bent),
            *check_slenderness(before, member),
            *props.get(member, ()),
            *([lost[member]] if member in lost else []),
            *check_depth(before, member),
        ]
        each.append(tuple(sorted(checks, key=lambda check: KEYS.index(check.key))))
    whole = [*check_mechanisms(before, removals), *check_deflections(before, deflections)]
    return Checks(tuple(each), tuple(whole), find_idle(before, each))


def _governing(before: Before, forces: Forces) -> tuple[Governing, Governing]:
    """Where peak tension and compression over the combinations for strength occur, by combination asked."""
    swept, asked = forces.sweep, len(before.study.asked)
    ends = (swept.largest, -swept.smallest)
    found = []
    for end, sign in zip(ends, (1.0, -1.0), strict=True):
        demands = np.full(end.shape, -np.inf)
        own = end[:, -asked:]
        demands[:, -asked:] = np.where(before.for_strength & (own > 0), own, 0.0)
        governing = swept.govern(demands, sign)
        found.append(_of_asked(governing, end.shape[1] - asked))
    return found[0], found[1]


def _of_asked(governing: Governing, first: int) -> Governing:
    """Count combinations among those asked."""

    return replace(governing, combinations=governing.combinations - first)
