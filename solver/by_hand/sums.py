"""What stands on the board: loads, unknowns, what is known of them, and sums of forces and moments.

Unknowns are numbered in rows: members in the file's order, then held directions. An unknown is its force
over the member's length [N/m] (of a reaction: over the length of its direction as written), so that all
stays in fractions.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from solver.exact_algebra import dot, wrench
from solver.truss import ExactVector, Truss

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Term:
    """An unknown in an equation: its row, exact factor of its force over its length, and that if known.

    `known`: force over length [N/m] as found before; None for what the equation is about.
    """

    row: int
    factor: Fraction
    known: Fraction | None


@dataclass(frozen=True)
class Load:
    """A load's component in an equation: joint, axis (0 to 2), arm ([m], or a number) and load [N]."""

    joint: int
    axis: int
    arm: Fraction
    load: Fraction


@dataclass(frozen=True)
class Equation:
    """Terms and loads that add up to nothing.

    `movement`: of a rigid body, in which the forces do no work: a shift, then a turning about the origin
    (one number in the plane, anticlockwise; three in space).
    """

    movement: ExactVector
    terms: tuple[Term, ...]
    loads: tuple[Load, ...]


@dataclass(frozen=True)
class Found:
    """What a step finds: the row of a member or a reaction, its force [N] (tension +), and exactly that
    over the member's length [N/m] (of a reaction: over the length of its direction)."""

    row: int
    force: float
    per_length: Fraction


class Board:
    """One truss under one load; `known` grows step by step."""

    def __init__(self, truss: Truss, joint_loads: Array) -> None:
        self.truss = truss
        self.known: dict[int, Fraction] = {}
        self.held = [(s.joint, direction) for s in truss.supports for direction in s.directions]
        self.loads = [tuple(Fraction(repr(float(c))) for c in load) for load in joint_loads]
        self.rows_at: list[list[int]] = [list(members) for members in truss.members_at]
        for number, (joint, _) in enumerate(self.held):
            self.rows_at[joint].append(len(truss.members) + number)

    def pull(self, row: int, joint: int) -> ExactVector:
        """The force of a row on a joint, per its unknown."""
        if row >= len(self.truss.members):
            return self.held[row - len(self.truss.members)][1]
        vector = self.truss.exact_vectors[row]
        return vector if self.truss.members[row].first == joint else tuple(-c for c in vector)

    def unknown_at(self, joint: int) -> list[int]:
        """Rows at a joint that are not known."""
        return [row for row in self.rows_at[joint] if row not in self.known]

    def rows_on(self, part: Iterable[int]) -> list[tuple[int, int]]:
        """Rows that act on a body of joints from outside, each with its joint there, ascending."""
        inside = set(part)
        members = self.truss.members
        return sorted(
            (row, joint)
            for joint in inside
            for row in self.rows_at[joint]
            if row >= len(members) or not {members[row].first, members[row].second} <= inside
        )

    def wrench(self, row: int, joint: int) -> ExactVector:
        """The force of a row on a joint with its moment about the origin, per its unknown."""
        return wrench(self.truss.coordinates[joint], self.pull(row, joint))

    def write(self, movement: ExactVector, part: Sequence[int]) -> Equation:
        """The equation of a movement of a body of joints."""
        acting = [(row, dot(movement, self.wrench(row, joint))) for row, joint in self.rows_on(part)]
        terms = tuple(Term(row, factor, self.known.get(row)) for row, factor in acting if factor)
        return Equation(movement, terms, tuple(self._loads_in(movement, part)))

    def _loads_in(self, movement: ExactVector, part: Sequence[int]) -> Iterable[Load]:
        size = self.truss.dimension
        for joint in sorted(part):
            for axis in range(size):
                load = self.loads[joint][axis]
                unit = tuple(Fraction(int(axis == other)) for other in range(size))
                arm = dot(movement, wrench(self.truss.coordinates[joint], unit)) if load else Fraction(0)
                if arm:
                    yield Load(joint, axis, arm, load)

    def find(self, row: int, per_length: Fraction) -> Found:
        """Enter an unknown as known."""
        self.known[row] = per_length
        bars = len(self.truss.members)
        if row < bars:
            length = float(self.truss.lengths[row])
        else:
            direction = self.held[row - bars][1]
            length = sqrt(dot(direction, direction))
        return Found(row, float(per_length) * length, per_length)


def left_over(equation: Equation) -> Fraction:
    """What loads and known forces add up to in an equation."""
    loads = sum((load.arm * load.load for load in equation.loads), Fraction(0))
    known = (term.factor * term.known for term in equation.terms if term.known is not None)
    return sum(known, loads)
