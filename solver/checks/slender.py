"""Slenderness and depth: recommendations of codes and limits of the study, none of them a resistance."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from solver.checks.check import Check, Key
from solver.losses.before import Before
from solver.resistance.bar import Bar
from solver.resistance.directions import slenderness, untold
from solver.resistance.slenderness import Recommendation

THE_STUDY = "the study"
IN_COMPRESSION: Key = "slenderness in compression"
IN_TENSION: Key = "slenderness in tension"


def check_slenderness(before: Before, member: int) -> Iterator[Check]:
    """Hold length over radius of gyration against what codes recommend and what the study sets.

    Forces count in combinations for strength and for service. A member that is never compressed in any of
    them is not asked for its slenderness in compression. One that bears both counts as compressed, and with
    reversal as pulled. What a code does not ask of rods is not asked of them, nor of main members what it
    recommends for secondary ones.
    """
    study, bar = before.study, before.resisting.bars[member]
    pulled, pushed = (bool(part[member] > 0) for part in before.borne)
    ratio, secondary = slenderness(bar), study.truss.members[member].group.making.secondary
    limits: list[tuple[Key, str, float, str]] = []
    for rule in study.rules.recommendations:
        if _is_about(rule, bar, secondary) and _asks(rule, pulled, pushed):
            key = IN_COMPRESSION if rule.force == "compression" else IN_TENSION
            limits.append((key, rule.name, rule.most, rule.not_told))
    in_compression, in_tension = study.rules.limits.slenderness
    if in_compression is not None and pushed:
        limits.append((IN_COMPRESSION, THE_STUDY, in_compression, ""))
    if in_tension is not None and pulled:
        limits.append((IN_TENSION, THE_STUDY, in_tension, ""))
    for key, by, most, not_told in limits:
        refused = () if ratio is not None else ("no radius of gyration",)
        known = np.nan if ratio is None else ratio
        texts = (*untold(bar), not_told)
        unchecked = tuple(text for text in texts if text)
        yield Check(key, by, known, most, known / most, "none", refused=refused, unchecked=unchecked)


def _is_about(rule: Recommendation, bar: Bar, secondary: bool) -> bool:
    """Whether a recommendation is asked of members of this shape and rank."""
    if rule.eased or (bar.profile is not None and bar.profile.shape in rule.exempt):
        return False
    return rule.rank == "any" or (rule.rank == "secondary") == secondary


def _asks(rule: Recommendation, pulled: bool, pushed: bool) -> bool:
    """Whether a recommendation is asked under the forces that a member bears."""
    return {"compression": pushed, "tension": pulled and not pushed}.get(rule.force, pulled and pushed)


def check_depth(before: Before, member: int) -> Iterator[Check]:
    """Hold a member's length over its depth against the least that the study asks."""
    least = before.study.rules.limits.length_to_depth
    if least is None:
        return
    bar = before.resisting.bars[member]
    depth = bar.section.depth if bar.profile is None else bar.profile.depth
    if depth is None:
        refused = ("depth not known: neither a size nor a depth is given",)
        yield Check("depth", THE_STUDY, np.nan, least, np.nan, "none", refused=refused)
        return
    ratio = bar.length / depth
    yield Check("depth", THE_STUDY, ratio, least, least / ratio, "none")
