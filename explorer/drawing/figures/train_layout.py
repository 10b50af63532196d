"""A train as it is to be drawn: its loads, where they lie on the road, how high they reach."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

WIDTH, EDGE = 420.0, 25.0
"""Width of the picture, room at both sides [px]."""

BESIDE = 62.0
"""How far what has no end goes on beyond the rest at least [px]."""

WIDEST = 44.0
"""A short train is drawn at so many pixels a metre, in the middle."""

LONGEST, SHORTEST = 46.0, 12.0
"""Lengths of the arrow of the heaviest axle, and of one too light to be drawn by its load [px]."""

HIGHEST, LOWEST = 20.0, 5.0
"""The same for the heights of uniform loads [px]."""

OVER_ARROWS, OVER_BANDS = 38.0, 18.0
"""Room for numbers over the longest arrow, or over the highest band where there are no axles [px]."""

Axles = tuple[tuple[float, float], ...]
Strip = tuple[float, float | None, float]
Strips = tuple[Strip, ...]
Telling = Callable[[float], str]


@dataclass(frozen=True)
class Following:
    """A second train: its axles and strips, and the least distance [m] from the first's last load to its
    own first one.
    """

    axles: Axles
    strips: Strips
    gap: float


@dataclass(frozen=True)
class TrainPicture:
    """Axles (distance behind the front [m], load [N]), strips (from, to or None where endless [m], [N/m]), a
    lane [N/m] with the stretch [m] in which it never lies, a second train.

    The three ways of telling write a size with its unit behind a blank. `label`: the picture in words.
    """

    label: str
    tell_load: Telling
    tell_uniform: Telling
    tell_length: Telling
    axles: Axles = ()
    strips: Strips = ()
    lane: float | None = None
    clear: tuple[float, float] | None = None
    second: Following | None = None


@dataclass(frozen=True)
class Convoy:
    """Loads of one train where they are drawn: distances behind the first train's front [m]."""

    axles: Axles
    strips: Strips

    @property
    def places(self) -> list[float]:
        """Where loads start and end, from the front on."""
        ends = [end for start, far, _ in self.strips for end in (start, far) if end is not None]
        return sorted({*(distance for distance, _ in self.axles), *ends})


@dataclass(frozen=True)
class Road:
    """Where the front stands and how high the road lies [px], pixels per metre; the heaviest axle [N] and
    uniform load [N/m].
    """

    front: float
    level: float
    scale: float
    axle: float
    uniform: float

    def x(self, distance: float) -> float:
        """Return the place of a distance behind the front [px]."""
        return self.front - distance * self.scale

    def tail(self, load: float) -> float:
        """Return the height at which the arrow of an axle starts [px]."""
        return self.level - 1.5 - max(SHORTEST, LONGEST * load / self.axle)

    def top(self, load: float) -> float:
        """Return the height up to which a uniform load reaches [px]."""
        return self.level - max(LOWEST, HIGHEST * load / self.uniform)

    def band(self, strip: Strip) -> tuple[float, float, float]:
        """Return the left, right and upper edge of a strip [px]; an endless one starts at the left edge."""
        start, end, load = strip
        return (0.0 if end is None else self.x(end)), self.x(start), self.top(load)


def line_up(train: TrainPicture) -> list[Convoy]:
    """Return the first train, and the second where it may stand nearest behind; only what has loads."""
    first = Convoy(train.axles, train.strips)
    if train.second is None:
        return [first] if first.places else []
    own = Convoy(train.second.axles, train.second.strips)
    behind = max(first.places, default=0.0) + train.second.gap - min(own.places, default=0.0)
    axles = tuple((distance + behind, load) for distance, load in own.axles)
    strips = tuple((a + behind, None if b is None else b + behind, load) for a, b, load in own.strips)
    return [one for one in (first, Convoy(axles, strips)) if one.places]


def lay_road(train: TrainPicture, convoys: Sequence[Convoy]) -> Road:
    """As long as the loads, which stand in the middle; what has no end goes on to the picture's edge."""
    places = [place for convoy in convoys for place in convoy.places] + list(train.clear or ())
    low, high = min(places, default=0.0), max(places, default=0.0)
    strips = [strip for convoy in convoys for strip in convoy.strips]
    loads = [load for convoy in convoys for _, load in convoy.axles]
    ahead = BESIDE if train.lane else EDGE
    behind = BESIDE if train.lane or any(end is None for _, end, _ in strips) else EDGE
    room = WIDTH - ahead - behind
    scale = min(WIDEST, room / (high - low)) if high > low else WIDEST
    front = WIDTH - ahead - (room - (high - low) * scale) / 2 + low * scale
    level = LONGEST + OVER_ARROWS if loads else HIGHEST + OVER_BANDS
    uniform = max([load for _, _, load in strips] + [train.lane or 0.0])
    return Road(front, level, scale, max(loads, default=0.0) or 1.0, uniform or 1.0)
