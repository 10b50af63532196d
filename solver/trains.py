"""Trains: loads that keep their distances from one another and move together."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isfinite


@dataclass(frozen=True)
class Axle:
    """A downward load [N] at a distance behind the train's front [m]."""

    distance: float
    load: float


@dataclass(frozen=True)
class Strip:
    """A uniform downward load [N per metre of plan] from `start` to `end` behind the front [m].

    An infinite `end` makes it endless.
    """

    start: float
    end: float
    load: float


@dataclass(frozen=True)
class Lane:
    """A uniform downward load [N per metre of plan], placed wherever it is adverse, of any length.

    `clear`: the stretch behind the train's front (from, to) [m] in which it is never placed; negative
    distances lie ahead of the front.
    """

    load: float
    clear: tuple[float, float] | None = None


@dataclass(frozen=True)
class Second:
    """A second train behind the first: its loads, and the least clear distance `gap` [m] from the first's
    last load to its own first one.
    """

    axles: tuple[Axle, ...]
    strips: tuple[Strip, ...]
    gap: float


@dataclass(frozen=True)
class Train:
    """Axles and strips that move together, with a lane beside them; `distance` 0 is the train's front.

    relieving_left_out: an axle that does not add to the quantity looked at is left out for it.
    """

    name: str
    axles: tuple[Axle, ...] = ()
    strips: tuple[Strip, ...] = ()
    lane: Lane | None = None
    relieving_left_out: bool = False
    second: Second | None = None

    @property
    def travels(self) -> bool:
        """Whether anything of it moves; a train of nothing but a lane does not."""
        return bool(self.axles or self.strips)

    @property
    def first_load(self) -> float:
        """Distance of the first load behind the front [m]."""
        return first_load(self.axles, self.strips)

    @property
    def last_load(self) -> float:
        """Distance of the last load behind the front [m]; of an endless strip that of its start."""
        return last_load(self.axles, self.strips)

    @property
    def follow_distance(self) -> float:
        """How far the second train's front lies at least behind the first's [m]; infinite without one."""
        if self.second is None:
            return inf
        return self.last_load + self.second.gap - first_load(self.second.axles, self.second.strips)

    @property
    def arranges(self) -> bool:
        """Whether it stands differently for one quantity than for another at the same position."""
        clear = self.lane is not None and self.lane.clear is not None
        return clear or self.second is not None or (self.relieving_left_out and bool(self.axles))

    @property
    def depends_on_the_row(self) -> bool:
        """Whether anything of it, its lane too, is placed otherwise for one quantity than for another."""
        return self.arranges or self.lane is not None


def first_load(axles: tuple[Axle, ...], strips: tuple[Strip, ...]) -> float:
    """Distance of the first of some loads behind the front [m]."""
    return min([axle.distance for axle in axles] + [strip.start for strip in strips])


def last_load(axles: tuple[Axle, ...], strips: tuple[Strip, ...]) -> float:
    """Distance of the last of some loads behind the front [m]; of an endless strip that of its start."""
    ends = [strip.end if isfinite(strip.end) else strip.start for strip in strips]
    return max([axle.distance for axle in axles] + ends)
