"""Influence lines and what moving loads bring at most to them, in fractions: nothing sampled or rounded.

Everything is worked out from the lever rule alone: straight between ordinates, areas as trapezia and
triangles. Ordinates off a line are 0.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import pairwise


@dataclass(frozen=True)
class Line:
    """Ordinates at ascending positions."""

    positions: tuple[Fraction, ...]
    ordinates: tuple[Fraction, ...]

    @property
    def length(self) -> Fraction:
        """Where the last joint lies."""
        return self.positions[-1]

    @cached_property
    def turns(self) -> tuple[Fraction, ...]:
        """Where the line passes through zero between two joints."""
        found = []
        for (start, end), (one, other) in zip(
            pairwise(self.positions), pairwise(self.ordinates), strict=True
        ):
            if one * other < 0:
                found.append(start + (end - start) * one / (one - other))
        return tuple(found)

    @cached_property
    def kinks(self) -> tuple[Fraction, ...]:
        """The joints and the turns, in order."""
        return tuple(sorted({*self.positions, *self.turns}))

    def at(self, place: Fraction) -> Fraction:
        """The ordinate at a place."""
        if not self.positions[0] <= place <= self.length:
            return Fraction(0)
        panel = min(bisect_right(self.positions, place), len(self.positions) - 1) - 1
        start, end = self.positions[panel], self.positions[panel + 1]
        one, other = self.ordinates[panel], self.ordinates[panel + 1]
        return one + (other - one) * (place - start) / (end - start)

    def area(self, start: Fraction, end: Fraction, above: bool = False) -> Fraction:
        """The area from `start` to `end`; with `above` only that of the stretches above zero."""
        low, high = max(start, self.positions[0]), min(end, self.length)
        if low >= high:
            return Fraction(0)
        cuts = sorted({low, high, *(x for x in self.kinks if low < x < high)})
        parts = [(b - a) * (self.at(a) + self.at(b)) / 2 for a, b in pairwise(cuts)]
        return sum((part for part in parts if part > 0 or not above), Fraction(0))

    def above(self) -> Fraction:
        """The whole area above zero."""
        return self.area(self.positions[0], self.length, above=True)

    def turned_over(self) -> Line:
        """The line with all signs changed: its largest answers are the smallest of this one, negative."""
        return Line(self.positions, tuple(-y for y in self.ordinates))

    def reversed(self) -> Line:
        """The line as loads meet it that come from the far end."""
        places = tuple(self.length - x for x in reversed(self.positions))
        return Line(places, tuple(reversed(self.ordinates)))


def line(positions: Sequence[object], ordinates: Sequence[object]) -> Line:
    """A line from numbers that are fractions, or decimals as written."""
    return Line(*(tuple(Fraction(str(v)) for v in row) for row in (positions, ordinates)))


def axles_on(
    influence: Line, axles: Iterable[tuple[Fraction, Fraction]], front: Fraction, above: bool = False
) -> Fraction:
    """What axles (distance behind the front, load) bring; with `above` those that relieve are left out."""
    parts = [load * influence.at(front - distance) for distance, load in axles]
    return sum((part for part in parts if part > 0 or not above), Fraction(0))


def largest(value: Callable[[Fraction], Fraction], breaks: Iterable[Fraction]) -> Fraction:
    """The largest of a continuous function that is at most a parabola between neighbouring breaks.

    A parabola through its values m at the middle, a and b at the ends of a piece, u from -1 to 1, is
    m + (b - a) u / 2 + (a - 2 m + b) u^2 / 2.
    """
    points = sorted(set(breaks))
    ends = [value(point) for point in points]
    found = list(ends)
    for (start, end), (a, b) in zip(pairwise(points), pairwise(ends), strict=True):
        m = value((start + end) / 2)
        bend = a - 2 * m + b
        if bend < 0 and abs(b - a) < -2 * bend:
            found.append(m - (b - a) ** 2 / (8 * bend))
    return max(found)


def passing(influence: Line, distances: Iterable[Fraction], turns: bool = False) -> set[Fraction]:
    """Fronts at which something at one of the distances behind it is over a joint, or over a turn too."""
    places = influence.kinks if turns else influence.positions
    return {place + distance for place in places for distance in distances}
