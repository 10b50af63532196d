"""Crossings: one train, or the worst of several, travelling along one chord."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from solver.trains import Train

Direction = Literal["forward", "backward"]


@dataclass(frozen=True)
class Crossing:
    """A train on a chord, or a set of trains of which the worst is taken.

    Axles and strips count `factor` x (1 + `impact`), the lane `factor` x (1 + `lane_impact`); `counts`
    weighs the zero share. `called`: the name of the train or of the set, as the study writes it.
    """

    name: str
    trains: tuple[Train, ...]
    chord: str
    directions: tuple[Direction, ...]
    factor: float = 1.0
    impact: float = 0.0
    counts: float = 1.0
    lane_impact: float = 0.0
    called: str = ""

    @property
    def moving_factor(self) -> float:
        """What each axle and strip load is multiplied by."""
        return self.factor * (1 + self.impact)

    @property
    def lane_factor(self) -> float:
        """What the lane load is multiplied by."""
        return self.factor * (1 + self.lane_impact)

    @property
    def travels(self) -> bool:
        """Whether a train of it moves; one of nothing but a lane does not."""
        return any(train.travels for train in self.trains)

    @property
    def lane_loads(self) -> tuple[float, ...]:
        """The lane load of each train, all factors in [N/m]; 0 without one."""
        return tuple(self.lane_factor * train.lane.load if train.lane else 0.0 for train in self.trains)
