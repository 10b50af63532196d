"""What a member must bear and how stiff the truss must be there, for holding compressed bars in place.

It is asked also where the member's own force is zero throughout. Rules for bracing are written for braces of
columns and beams; asked of the web members of a truss they are stretched, which each rule says of itself.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.checks.check import Check
from solver.checks.held import Held, find_held
from solver.checks.offered import Across, find_across
from solver.losses.before import Before
from solver.propping.demand import Demand, Rule
from solver.propping.rules import AISC_ASD, AISC_LRFD, EUROCODE
from solver.propping.winter import TwoPercent, Winter
from solver.stiffness import Stiffness

OF_STANDARD: dict[str, tuple[Rule, ...]] = {
    "AISC 360-22, LRFD": AISC_LRFD[:1],
    "AISC 360-22, ASD": AISC_ASD[:1],
    # It says nothing of the stiffness of single props.
    "EN 1993-1-1:2005": (*EUROCODE[:1], Winter()),
}
"""Rules for single props by the standard of a study."""

OTHERWISE: tuple[Rule, ...] = (TwoPercent(), Winter())

LEAST_SHARE = 1e-9
"""A member that takes less than this of a force across is no prop of that joint."""


def rules_of(before: Before) -> tuple[Rule, ...]:
    """The rules for props that go with a study's standard."""
    standard = before.study.rules.standard
    return OF_STANDARD.get(standard.name if standard else "", OTHERWISE)


def check_props(before: Before, stiffness: Stiffness) -> dict[int, tuple[Check, ...]]:
    """Return by member (index) the checks of what it holds: of each rule the joint that asks most."""
    held = list(find_held(before))
    offered = find_across(stiffness, held)
    found: dict[int, dict[tuple[str, str], Check]] = {}
    for one, given in zip(held, offered, strict=True):
        for rule in rules_of(before):
            demand = rule.demand(one.point)
            for member in one.holders:
                if given.shares[member] <= LEAST_SHARE:
                    continue
                own = found.setdefault(member, {})
                for check in _checks(before, one, given, (rule, demand), member):
                    key = (check.key, check.by)
                    if key not in own or _harder(check, own[key]):
                        own[key] = check
    return {member: tuple(checks.values()) for member, checks in found.items()}


def _harder(one: Check, other: Check) -> bool:
    """Whether a check asks more than another; one that cannot be answered before any that can."""
    if np.isnan(other.utilisation):
        return False
    return bool(np.isnan(one.utilisation) or one.utilisation > other.utilisation)


def _checks(
    before: Before, held: Held, offered: Across, asked: tuple[Rule, Demand], member: int
) -> Sequence[Check]:
    rule, demand = asked
    beside = held.bars[held.point.place - 1 : held.point.place + 1]
    unchecked = (*((demand.stretched,) if demand.stretched else ()), *demand.unchecked)
    checks = []
    if demand.force is not None:
        force = float(offered.shares[member]) * demand.force
        limit, utilisation, refused = beside_its_own(before, member, force)
        left_out = (*unchecked, *_left_out(before, member))
        checks.append(
            Check(
                "prop force", rule.name, force, limit, utilisation, joint=held.joint, others=beside,
                steps=demand.force_steps, refused=(*demand.refused, *refused), unchecked=left_out,
            )
        )  # fmt: skip
    if demand.stiffness is not None:
        ratio = demand.stiffness / offered.stiffness
        checks.append(
            Check(
                "prop stiffness", rule.name, demand.stiffness, offered.stiffness, ratio, "none",
                joint=held.joint, others=beside, steps=demand.stiffness_steps, refused=demand.refused,
                unchecked=unchecked,
            )
        )  # fmt: skip
    return checks


def _left_out(before: Before, member: int) -> tuple[str, ...]:
    """What the resistances leave out that a prop's force is held against."""
    resisting = before.resisting
    texts = (*resisting.compression[member].unchecked, *resisting.tension[member].unchecked)
    return tuple(dict.fromkeys(texts))


def beside_its_own(before: Before, member: int, force: float) -> tuple[float, float, tuple[str, ...]]:
    """What is left of a resistance beside the member's own peak [N], and the utilisation of both together.

    The bow may lie to either side: the worse of tension and compression counts.
    """
    worst: tuple[float, float] | None = None
    for demands, resistances in zip(before.demands, before.resistances, strict=True):
        own, most = float(demands[member]), float(resistances[member])
        if np.isnan(most):
            return np.nan, np.nan, ("a resistance is not known",)
        if worst is None or (own + force) / most > worst[1]:
            worst = (max(most - own, 0.0), (own + force) / most)
    assert worst is not None
    return *worst, ()
