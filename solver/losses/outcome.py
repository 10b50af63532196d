"""Outcomes of losses: one word each, the first that fits."""

from __future__ import annotations

from typing import Literal

from solver.losses.mechanisms import Mechanism
from solver.losses.stable import Stable

Outcome = Literal["unpropped", "falls", "tips", "loose", "overload", "carried", "stands"]


def judge_mechanism(found: Mechanism) -> Outcome:
    """Return what a loss that leaves a mechanism is called.

    A piece that lost a prop holds as a beam, unless more than its own weight asks it to bend.
    """
    if found.unpropped and not found.pushed and found.carried_away:
        return "unpropped"
    if found.driven:
        return "falls"
    return "tips" if found.carried_away else "loose"


def judge_stable(found: Stable) -> Outcome:
    """Return what a loss that leaves no mechanism is called; strength that is not proved is no strength."""
    if any(over.how != "already" for over in found.over):
        return "overload"
    return "stands" if found.unproven or found.over else "carried"
