"""A combination: load cases, at most one travelling crossing and any lanes alone, each with its factor."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Combination:
    """Factors by the name of a load case, of the crossing that travels, if any, and of lanes alone.

    A lane alone is a crossing whose train is nothing but a lane: it does not travel.
    """

    name: str
    cases: Mapping[str, float]
    crossing: str | None = None
    crossing_factor: float = 1.0
    lanes: Mapping[str, float] = field(default_factory=dict)

    @property
    def stands_still(self) -> bool:
        """Whether nothing in it moves or is placed where it is adverse: load cases only."""
        return self.crossing is None and not self.lanes
