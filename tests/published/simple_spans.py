"""Simple spans as trusses of parallel chords, which measure the moments and shears of published tables.

Chord force times depth is the moment at a panel point, the end reaction is the end shear. Loads between
panel points act by the lever rule, so that a moment is true only at a panel point: one lies where the
largest moment is expected, which is sought here on a plain beam, apart from the solver.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from math import inf

import numpy as np
from scipy.optimize import minimize_scalar

from solver.answers import Answers, answer
from solver.chords import make_chord
from solver.crossings import Crossing
from solver.study import Study
from solver.trains import Train
from tests.published.forms import deck, pratt

TWELFTHS = tuple(k / 12 for k in range(13))


@dataclass(frozen=True)
class Factors:
    """What multiplies a crossing's loads."""

    share: float = 1.0
    impact: float = 0.0
    lane_impact: float = 0.0


@dataclass(frozen=True)
class Span:
    """A truss over a simple span, crossed both ways: points and depth in metres."""

    answers: Answers
    points: tuple[float, ...]
    depth: float

    def moment_at(self, place: float) -> float:
        """The largest moment at a panel point [N m]."""
        return float(self._moments()[int(np.abs(np.array(self.points) - place).argmin())])

    @property
    def moment(self) -> float:
        """The largest moment at any panel point [N m]."""
        return float(self._moments().max())

    @property
    def shear(self) -> float:
        """The larger end reaction [N]; held directions are L0 x, L0 y and the far end's y."""
        return float(self.answers.reactions.largest.values[1:].max())

    def _moments(self) -> np.ndarray:
        """By sections from the chord opposite each point: bottom ones pull, at the turn a top one pushes."""
        truss, forces = self.answers.study.truss, self.answers.forces
        last = len(self.points) - 1
        turn = _turn(self.points)
        moments = np.zeros(last + 1)
        for point in range(1, last):
            if point == turn:
                pushed = truss.member_index(f"U{point - 1}-U{point}")
                moments[point] = self.depth * forces.compression.values[pushed]
                continue
            left = point if point < turn else point - 1
            pulled = truss.member_index(f"L{left}-L{left + 1}")
            moments[point] = self.depth * forces.tension.values[pulled]
        return moments


def _turn(points: Sequence[float]) -> int:
    """The panel point towards which diagonals fall: that nearest to midspan."""
    inner = np.array(points[2:-2])
    return 2 + int(np.abs(inner - points[-1] / 2).argmin())


@cache
def cross(length: float, trains: tuple[Train, ...], factors: Factors = Factors(), *more: float) -> Span:
    """Let one train, or the worst of several, cross a span both ways; `more` panel points besides twelfths.

    The worst section of each train is a panel point, and so is its mirror image.
    """
    worst = [worst_section(train, length, factors) for train in trains]
    wanted = [*(length * part for part in TWELFTHS), *worst, *(length - x for x in worst), *more]
    points = _apart(wanted, length)
    depth = length / 8
    truss = pratt(points, depth, _turn(points), areas=0.01, modulus=2.1e11)
    chord = make_chord("deck", tuple(truss.joint_index(name) for name in deck(len(points) - 1)), truss)
    crossing = Crossing(
        "train",
        trains,
        "deck",
        ("forward", "backward"),
        factors.share,
        factors.impact,
        lane_impact=factors.lane_impact,
    )
    study = Study("span", truss, {"deck": chord}, {}, {"train": crossing})
    return Span(answer(study), tuple(points), depth)


def _apart(wanted: Sequence[float], length: float) -> list[float]:
    """Sorted points of which no two are nearer than 2e-4 of the span; midspan and ends stay."""
    kept: list[float] = []
    for point in sorted(wanted):
        if not kept or point - kept[-1] > 2e-4 * length:
            kept.append(point)
        elif point in (length / 2, length):
            kept[-1] = point
    return kept


def worst_section(train: Train, length: float, factors: Factors) -> float:
    """Where the largest moment of a beam under a train that goes forward occurs [m], by plain search."""
    places = np.linspace(0.25, 0.75, 101) * length
    moments = [beam_moment(train, length, float(x), factors) for x in places]
    best = int(np.argmax(moments))
    low, high = places[max(0, best - 1)], places[min(100, best + 1)]
    found = minimize_scalar(
        lambda x: -beam_moment(train, length, float(x), factors),
        bounds=(low, high),
        method="bounded",
        options={"xatol": 1e-7 * length},
    )
    return float(found.x)


def beam_moment(train: Train, length: float, x: float, factors: Factors) -> float:
    """The largest moment at a section of a beam while a train goes over it forward, nothing sampled.

    Between fronts at which something is over the section or an end the moment is at most a parabola:
    through its values m at the middle, a and b at the ends it is m + (b - a) u / 2 + (a - 2 m + b) u^2 / 2.
    """
    passing = [axle.distance for axle in train.axles]
    passing += [d for strip in train.strips for d in (strip.start, strip.end) if d < inf]
    passing += train.lane.clear if train.lane and train.lane.clear else ()
    fronts = np.unique([place + d for place in (0.0, x, length) for d in passing or [0.0]])
    ends = _moments_at(train, length, x, factors, fronts)
    m = _moments_at(train, length, x, factors, (fronts[:-1] + fronts[1:]) / 2)
    slope, bend = ends[1:] - ends[:-1], ends[:-1] - 2 * m + ends[1:]
    inside = np.abs(slope) < -2 * bend
    tops = m[inside] - slope[inside] ** 2 / (8 * bend[inside])
    return float(max(ends.max(), tops.max(initial=0.0)))


def _moments_at(train: Train, length: float, x: float, factors: Factors, fronts: np.ndarray) -> np.ndarray:
    """The moment at a section with the train's front at each of some places, the lane where it is adverse."""
    moving = factors.share * (1 + factors.impact)
    total = np.zeros(len(fronts))
    for axle in train.axles:
        total += moving * axle.load * _line(fronts - axle.distance, x, length)
    for strip in train.strips:
        total += moving * strip.load * _area_between(fronts, strip.start, strip.end, x, length)
    if train.lane:
        free = np.full(len(fronts), x * (length - x) / 2)
        if train.lane.clear:
            free -= _area_between(fronts, *train.lane.clear, x, length)
        total += factors.share * (1 + factors.lane_impact) * train.lane.load * free
    return total


def _area_between(fronts: np.ndarray, start: float, end: float, x: float, length: float) -> np.ndarray:
    """Area under the line on the stretch from `start` to `end` behind each front; an end may be infinite."""
    near, far = (np.clip(fronts - distance, 0.0, length) for distance in (start, end))
    return np.asarray(_area(near, x, length) - _area(far, x, length))


def _line(places: np.ndarray, x: float, length: float) -> np.ndarray:
    """Ordinates of the moment at x under a unit load; none off the beam."""
    inside = (places >= 0) & (places <= length)
    return np.where(inside, np.minimum(places * (length - x), x * (length - places)) / length, 0.0)


def _area(places: np.ndarray, x: float, length: float) -> np.ndarray:
    """Area under the line from the near end to each place."""
    before = np.minimum(places, x)
    after = np.maximum(places - x, 0.0)
    top = x * (length - x) / length
    area = before**2 * (length - x) / (2 * length) + after * top - after**2 * x / (2 * length)
    return np.asarray(area)
