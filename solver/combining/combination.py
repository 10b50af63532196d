"""A combination: load cases and at most one travelling crossing, each with its factor."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class Combination:
    """Factors by the name of a load case, and of the crossing that travels, if any."""

    name: str
    cases: Mapping[str, float]
    crossing: str | None = None
    crossing_factor: float = 1.0
