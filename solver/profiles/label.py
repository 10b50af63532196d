"""What a profile is called, and in which way it cannot be made."""

from __future__ import annotations

from dataclasses import dataclass

from solver.errors import InputError
from solver.profiles.profile import Making


@dataclass(frozen=True)
class Label:
    """The name of a size, the table it stands in, and how the bar is made."""

    size: str
    table: str
    making: Making


def need(holds: bool, culprit: str, wrong: str) -> None:
    """Raise InputError about the dimension `culprit` where something does not hold (or is not a number)."""
    if not holds:
        raise InputError(wrong, [culprit])


def need_positive(**dimensions: float) -> None:
    """Raise InputError about the first dimension that is not above 0 and finite."""
    for name, value in dimensions.items():
        need(0 < value < float("inf"), name, "must be greater than 0")
