"""A way to buckle, and which of several governs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.resistance.steps import Step


@dataclass(frozen=True)
class Mode:
    """A way to buckle: its elastic critical stress [Pa], slenderness, and the steps to them.

    unchecked: conditions of the rule that are taken for granted, told beside the number.
    """

    about: str
    stress: float
    slenderness: float
    steps: tuple[Step, ...]
    unchecked: tuple[str, ...] = ()


def order(modes: Sequence[Mode]) -> tuple[Mode, ...]:
    """Modes from the strongest to the weakest."""
    return tuple(sorted(modes, key=lambda mode: -mode.stress))


def steepest(modes: Sequence[Mode]) -> float:
    """The largest slenderness among `modes`."""
    return max(mode.slenderness for mode in modes)
