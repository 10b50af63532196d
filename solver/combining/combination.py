"""A combination: load cases, at most one travelling crossing and any lanes alone, each with its factor."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Purpose = Literal["both", "strength", "service", "nothing"]


@dataclass(frozen=True)
class Combination:
    """Factors by the name of a load case, of the crossing that travels, if any, and of lanes alone.

    A lane alone is a crossing whose train is nothing but a lane: it does not travel. purpose: what it counts
    for: resistances (strength), movements (service), both, or nothing.
    """

    name: str
    cases: Mapping[str, float]
    crossing: str | None = None
    crossing_factor: float = 1.0
    lanes: Mapping[str, float] = field(default_factory=dict)
    purpose: Purpose = "both"

    def counts_for(self, purpose: Purpose) -> bool:
        """Whether it counts for strength, or for service."""
        return self.purpose in ("both", purpose)

    @property
    def stands_still(self) -> bool:
        """Whether nothing in it moves or is placed where it is adverse: load cases only."""
        return self.crossing is None and not self.lanes
