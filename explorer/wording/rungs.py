"""The rungs of the ladder of limits: every limit in its order, with a ratio or with the reason for none."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import isnan

import numpy as np

from explorer.wording.asked import Asked
from explorer.wording.checks import has_unknown_strength, tell_ratio
from solver.checks.check import KEYS, Check

NOT_CHECKED = "not checked"
NOT_KNOWN = "not known"
SLENDERNESS = "slenderness"
IN_COMPRESSION = "slenderness in compression"
WHOLE = "the whole truss"
OF_WHOLE = ("deflection",)
"""Limits that are no member's own."""

PROP_NOT_ASKED = "never compressed in itself; as a prop it may be pushed: not asked"


@dataclass(frozen=True)
class RungTold:
    """A limit: its name, what is written for it in a word or two and in full, and its checks, if any.

    governing: the check that asks most of this rung; None where nothing is known or asked. beside: what of
    it is not asked, beneath its checks.
    """

    name: str
    text: str
    full: str = ""
    checks: tuple[Check, ...] = ()
    governing: Check | None = None
    beside: str = ""

    @property
    def known(self) -> bool:
        """Whether what was asked could be answered."""
        return self.text != NOT_KNOWN

    @property
    def of_whole(self) -> bool:
        """Whether it is a limit of the whole truss."""
        return self.name in OF_WHOLE

    @property
    def ratio(self) -> float | None:
        """The utilisation that is drawn; None where something is unknown or nothing is asked."""
        return self.governing.utilisation if self.governing else None


def list_rungs(asked: Asked) -> tuple[RungTold, ...]:
    """List the member's limits in the order of the ladder, then its joints; last those of the whole truss."""
    checks = asked.answers.checks
    by_name: dict[str, list[Check]] = {}
    for key in KEYS:
        own = [check for check in (*checks.each[asked.member], *checks.whole) if check.key == key]
        by_name.setdefault(SLENDERNESS if key.startswith(SLENDERNESS) else key, []).extend(own)
    rungs = [_rung(asked, name, tuple(own)) for name, own in by_name.items()]
    if is_pushed_as_prop_alone(asked):
        rungs = [_with_prop_not_asked(rung) if rung.name == SLENDERNESS else rung for rung in rungs]
    joints = RungTold("joints", NOT_CHECKED, f"joints {tell_joints(asked)}: not checked")
    return (
        *(rung for rung in rungs if not rung.of_whole),
        joints,
        *(rung for rung in rungs if rung.of_whole),
    )


def is_pushed_as_prop_alone(asked: Asked) -> bool:
    """Whether a slenderness in compression is set, and this member is compressed only as a prop, if at all.

    What codes and the study set is asked of members that are compressed themselves.
    """
    rules, own = asked.answers.study.rules, asked.checks
    recommended = any(rule.force == "compression" for rule in rules.recommendations)
    is_set = recommended or rules.limits.slenderness[0] is not None
    compressed = bool(asked.answers.losses.before.borne[1][asked.member])
    return is_set and not compressed and any(check.key == "prop force" and check.demand for check in own)


def _with_prop_not_asked(rung: RungTold) -> RungTold:
    if rung.checks:
        return replace(rung, beside=f"{IN_COMPRESSION}: {PROP_NOT_ASKED}")
    return replace(rung, text="not asked", full=f"{IN_COMPRESSION}: {PROP_NOT_ASKED}")


def tell_joints(asked: Asked) -> str:
    """Name the two joints of the member."""
    member = asked.answers.study.truss.members[asked.member]
    return f"{asked.joint(member.first)} and {asked.joint(member.second)}"


def _rung(asked: Asked, name: str, checks: tuple[Check, ...]) -> RungTold:
    unknown = any(isnan(check.utilisation) for check in checks)
    # What the study does not ask for is drawn all the same.
    known = [check for check in checks if not isnan(check.utilisation)]
    most = max(known, key=lambda check: check.utilisation, default=None)
    if most is None or (unknown and most.holds):
        text, full = (NOT_KNOWN, "") if unknown else _without(asked, name)
        return RungTold(name, text, full, checks)
    if name in ("tension", "compression") and not most.demand:
        return RungTold(name, *_no_force(asked, name), checks)
    return RungTold(name, tell_ratio(most.utilisation).replace("under ", "<"), "", checks, most)


def _no_force(asked: Asked, name: str) -> tuple[str, str]:
    """Say that no combination for strength pulls or pushes a member, or that none does at all."""
    place = ("tension", "compression").index(name)
    if asked.answers.losses.before.borne[place][asked.member]:
        return "not for strength", f"no {name} in the combinations for strength"
    return "never", f"never in {name}"


def _without(asked: Asked, name: str) -> tuple[str, str]:
    """Say why there is no check of this name."""
    if name == "another's loss":
        return _without_loss(asked)
    if name == "prop force":
        return "none", "no prop force: by joints and bars in line it holds no compressed bar across"
    if name == "prop stiffness":
        held = any(check.key == "prop force" for check in asked.checks)
        told = "the rule for the force asks for none" if held else "it is no prop"
        return "not asked" if held else "none", f"no prop stiffness: {told}"
    where = " for its force" if name == SLENDERNESS else ""
    return "no limit", f"no limit of {name} is set{where}"


def _without_loss(asked: Asked) -> tuple[str, str]:
    answers = asked.answers
    borne = ~answers.removals.mechanism
    borne[asked.member] = False
    if not borne.any():
        return "no path", "another's loss: the loss of any other one leaves a mechanism"
    limits = answers.losses.before.resistances
    if has_unknown_strength(answers, asked.member) or any(np.isnan(part[asked.member]) for part in limits):
        return NOT_KNOWN, "another's loss: a resistance is not known"
    return "not harder", "another's loss: no single one that the truss survives asks more of it"
