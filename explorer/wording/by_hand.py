"""The order by hand as it stands on a board: a title, equations, and what they give, step by step.

Tension is positive, unknown members pull at their joints; moments turn anticlockwise. Forces and lengths
are in the reader's units; ratios stay fractions where the geometry is rational.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import isqrt, sqrt

import numpy as np
from numpy.typing import NDArray

from explorer.wording.cuts import name_line
from explorer.wording.numbers import MINUS, NO_BREAK, Teller, count, listed, several, significant, trimmed
from solver.by_hand import Equation, Found, HandOrder, Step, Term
from solver.by_hand.sums import Board
from solver.exact_algebra import cross, dot
from solver.reasons.cuts import MOST_MEMBERS
from solver.tolerances import ZERO
from solver.truss import ExactVector, Truss

Array = NDArray[np.float64]
DIGITS = 4
LARGEST_DENOMINATOR = 99
"""Ratios with larger denominators are written as decimals."""

ARROWS = {
    (1, 0): "→",
    (-1, 0): "←",
    (0, 1): "↑",
    (0, -1): "↓",
    (1, 1): "↗",
    (-1, 1): "↖",
    (-1, -1): "↙",
    (1, -1): "↘",
}
Item = tuple[bool, str]
"""What is added (True) or subtracted, without its sign."""


@dataclass(frozen=True)
class WrittenStep:
    """A step in words: its title, a line for each equation, and each force found.

    `checks`: of a joint the sums that were not needed, with everything known in them.
    """

    title: str
    lines: tuple[str, ...]
    results: tuple[str, ...]
    checks: tuple[str, ...] = ()


def write_by_hand(
    truss: Truss, order: HandOrder, joint_loads: Array, teller: Teller
) -> tuple[WrittenStep, ...]:
    """Write all steps, and at the end plainly where equilibrium alone ends.

    joint_loads (joints, dimension) [N]: those that the order was found under.
    """
    chalk = _Chalk(truss, order, teller)
    steps = [
        WrittenStep(
            _title(truss, step),
            tuple(chalk.line(equation, step) for equation in step.equations),
            tuple(chalk.result(found) for found in step.found),
            tuple(filter(None, (chalk.check(equation, step) for equation in equations))),
        )
        for step, equations in zip(order.steps, _unused_sums(truss, order, joint_loads), strict=True)
    ]
    end = tuple(_ends(truss, order))
    return (*steps, WrittenStep(_last_title(order), end, ())) if end else tuple(steps)


def _unused_sums(truss: Truss, order: HandOrder, joint_loads: Array) -> Iterator[list[Equation]]:
    """For each step the sums along axes that it left unused at a joint of which all is known then."""
    board, size = Board(truss, joint_loads), truss.dimension
    used: set[tuple[int, ExactVector]] = set()
    for step in order.steps:
        board.known |= {found.row: found.per_length for found in step.found}
        used |= {(step.joint, equation.movement) for equation in step.equations}
        unused: list[Equation] = []
        if step.kind == "joint" and not board.unknown_at(step.joint):
            shifts = [_shift(size, axis) for axis in range(size)]
            unused = [board.write(s, (step.joint,)) for s in shifts if (step.joint, s) not in used]
        yield unused


def _shift(size: int, axis: int) -> ExactVector:
    """The movement along an axis, without a turning."""
    return tuple(Fraction(int(axis == place)) for place in range(3 if size == 2 else 6))


def _title(truss: Truss, step: Step) -> str:
    if step.kind == "whole":
        return f"The whole truss: {_unknowns(step)}"
    if step.kind == "joint":
        return f"Joint {truss.joint_names[step.joint]}: {_unknowns(step)}"
    cut = listed([truss.members[member].name for member in step.cut], most=9)
    part = listed([truss.joint_names[joint] for joint in step.part], most=9)
    return f"Cut through {cut}; the part with {part}"


def _unknowns(step: Step) -> str:
    """How many unknowns act, and how many of them the step finds where it does not find all."""
    unknowns = several(len(step.unknowns), "unknown", "unknowns")
    found = len(step.found)
    return unknowns if found == len(step.unknowns) else f"{count(found)} of {unknowns}"


def _last_title(order: HandOrder) -> str:
    """Where equilibrium alone ends, or where only the way step by step does; unknowns and equations left."""
    reactions = order.unknowns - len(order.left) - len(order.together)
    of_them = f" ({count(reactions)} of them {'a reaction' if reactions == 1 else 'reactions'})"
    unknowns = several(order.unknowns, "unknown", "unknowns") + (of_them if reactions else "")
    ends = "Here equilibrium alone ends" if order.left else "Here the way step by step ends"
    return f"{ends}: {unknowns}, {several(order.equations, 'equation', 'equations')}"


def _ends(truss: Truss, order: HandOrder) -> Iterator[str]:
    if order.left:
        named = listed([truss.members[member].name for member in order.left], most=12)
        yield (
            f"Equilibrium alone does not give {named}: the truss is statically indeterminate there, and how "
            "the load divides depends on how stiff the members are."
        )
    if order.together:
        most = MOST_MEMBERS[truss.dimension]
        named = listed([truss.members[member].name for member in order.together], most=12)
        yield (
            f"No single joint and no cut through so few unknown members as {count(most)} opens {named}: "
            "equilibrium gives them, but by more equations at once."
        )


class _Chalk:
    """Writes equations of one order."""

    def __init__(self, truss: Truss, order: HandOrder, teller: Teller) -> None:
        self._truss, self._teller = truss, teller
        self._held = [(s.joint, direction) for s in truss.supports for direction in s.directions]
        forces = [abs(found.force) for step in order.steps for found in step.found]
        loads = [abs(float(x.load)) for step in order.steps for e in step.equations for x in e.loads]
        self._band = ZERO * max([*forces, *loads], default=0.0)

    def result(self, found: Found) -> str:
        """A force with its unit; of a member with its kind."""
        name = self._name(found.row)
        if abs(found.force) <= self._band:
            return f"{name} = 0"
        sign = MINUS if found.force < 0 else ""
        text = f"{name} = {sign}{self._force(found.force)}{NO_BREAK}{self._teller.units.label('force')}"
        if found.row >= len(self._truss.members):
            return text
        return f"{text}, {'tension' if found.force > 0 else 'compression'}"

    def line(self, equation: Equation, step: Step) -> str:
        """One equation: what is summed, then everything that adds up to nothing."""
        heading, square, turns = self._heading(equation, step)
        unknown = [self._unknown(term, square, turns) for term in equation.terms if term.known is None]
        given = [*self._loads(equation, square, turns), *self._known(equation, square, turns)]
        items = [*unknown, *given] if turns else [*given, *unknown]
        flipped = heading.startswith("across") and not unknown[0][0]
        return f"{heading}  {_add((plus != flipped, text) for plus, text in items)} = 0"

    def check(self, equation: Equation, step: Step) -> str:
        """An equation in which everything is known; nothing where all of it is zero."""
        line = self.line(equation, step)
        return "" if line.endswith("   = 0") else line

    def _unknown(self, term: Term, square: Fraction, turns: bool) -> Item:
        factor = self._factor(term.factor, square * self._length_square(term.row), turns)
        return term.factor > 0, _times(factor, self._name(term.row))

    def _known(self, equation: Equation, square: Fraction, turns: bool) -> Iterator[Item]:
        """What is known already, members and reactions, without zeros."""
        for term in equation.terms:
            if term.known is None:
                continue
            length = self._length_square(term.row)
            force = float(term.known) * sqrt(length)
            if abs(force) > self._band:
                factor = self._factor(term.factor, square * length, turns)
                yield (term.factor > 0) == (force > 0), _times(factor, self._force(force))

    def _loads(self, equation: Equation, square: Fraction, turns: bool) -> Iterator[Item]:
        """Loads of one size together, arms first: `(4 + 8) · 10`; of equal shares how many: `3 · 10`."""
        arms: dict[tuple[bool, str], list[str]] = {}
        for load in equation.loads:
            if abs(load.load) > self._band:
                key = (load.arm > 0) == (load.load > 0), self._force(float(load.load))
                arms.setdefault(key, []).append(self._factor(load.arm, square, turns))
        for (plus, force), factors in arms.items():
            if len(factors) == 1:
                yield plus, _times(factors[0], force)
            elif len(set(factors)) == 1 and not turns:
                yield plus, f"{len(factors)} · {_times(factors[0], force)}"
            else:
                yield plus, f"({' + '.join(factor or '1' for factor in factors)}) · {force}"

    def _heading(self, equation: Equation, step: Step) -> tuple[str, Fraction, bool]:
        """What is summed; the square of the movement's size; whether moments are."""
        size = self._truss.dimension
        shift, turning = equation.movement[:size], equation.movement[size:]
        square = sum((c * c for c in turning), Fraction(0))
        if square:
            return (*((self._about_point if size == 2 else self._about_line)(shift, turning), square), True)
        square = sum((c * c for c in shift), Fraction(0))
        if square == 1 and set(shift) <= {0, 1}:
            return ("→", "↑")[shift.index(1)] if size == 2 else f"{'xyz'[shift.index(1)]}:", square, False
        return f"{self._across(shift, step)}:", square, False

    def _across(self, shift: ExactVector, step: Step) -> str:
        square = [m for m in step.cut if not dot(self._truss.exact_vectors[m], shift)]
        named = listed([self._truss.members[member].name for member in square])
        return f"across {named}" if named else f"along {_vector(shift)}"

    def _about_point(self, shift: ExactVector, turning: ExactVector) -> str:
        point = (-shift[1] / turning[0], shift[0] / turning[0])
        if point in self._truss.coordinates:
            return f"about {self._truss.joint_names[self._truss.coordinates.index(point)]}:"
        return f"about the point {self._place(point)}:"

    def _about_line(self, shift: ExactVector, axis: ExactVector) -> str:
        """The axis by joints on it; the movement may go along it too."""
        along = dot(shift, axis)
        screw = "along and " if along else ""
        square = dot(axis, axis)
        point = tuple(c / square for c in cross(axis, shift))
        on = [
            joint
            for joint, place in enumerate(self._truss.coordinates)
            if not any(cross(axis, tuple(a - b for a, b in zip(place, point, strict=True))))
        ]
        if len(on) > 1:
            first, last = name_line(self._truss, on)
            return f"{screw}about the line {first} to {last}:"
        where = self._truss.joint_names[on[0]] if on else self._place(point)
        if not any(axis[:2]):
            return f"{screw}about the vertical through {where}:"
        return f"{screw}about the line through {where} along {_vector(axis)}:"

    def _place(self, point: ExactVector) -> str:
        return ", ".join(self._teller.position(float(c)).replace("-", MINUS) for c in point)

    def _factor(self, value: Fraction, square: Fraction, turns: bool) -> str:
        """The size of value / sqrt(square); arms in the reader's unit of length; nothing for one."""
        root = _root(square)
        if turns:
            value = value / self._teller.units.factors["length"]
        if root is None:
            return _decimal(abs(float(value)) / sqrt(square))
        return _ratio(abs(value / root), decimal_first=turns)

    def _force(self, force: float) -> str:
        return _decimal(abs(self._teller.value("force", force)))

    def _length_square(self, row: int) -> Fraction:
        bars = len(self._truss.members)
        vector = self._truss.exact_vectors[row] if row < bars else self._held[row - bars][1]
        return dot(vector, vector)

    def _name(self, row: int) -> str:
        """A member by its name, a reaction by its joint and direction."""
        bars = len(self._truss.members)
        if row < bars:
            return self._truss.members[row].name
        joint, direction = self._held[row - bars]
        name = self._truss.joint_names[joint]
        if self._truss.dimension == 2:
            arrows = [_arrow(other) for place, other in self._held if place == joint]
            arrow = _arrow(direction)
            return f"{name}{arrow}" if arrows.count(arrow) == 1 else f"{name}{arrow}{_vector(direction)}"
        axes = [axis for axis, c in zip("xyz", direction, strict=True) if c]
        return (
            f"{name}({axes[0]})" if len(axes) == 1 and sum(direction) > 0 else f"{name}{_vector(direction)}"
        )


def _add(items: Iterable[Item]) -> str:
    """Put signs between items, and a minus before the first where it is one."""
    text = ""
    for plus, item in items:
        sign = ("" if plus else MINUS) if not text else (" + " if plus else f" {MINUS} ")
        text += sign + item
    return text


def _times(factor: str, what: str) -> str:
    return f"{factor} · {what}" if factor else what


def _decimal(value: float) -> str:
    return trimmed(significant(value, DIGITS))


def _ratio(value: Fraction, *, decimal_first: bool) -> str:
    """A fraction as a ratio, or, of an arm, as a decimal where that is exact; nothing for one."""
    decimal = _decimal(float(value))
    if value == 1:
        return "1" if decimal_first else ""
    exact = "e" not in decimal and Fraction(decimal) == value
    if value.denominator == 1 or value.denominator > LARGEST_DENOMINATOR or (decimal_first and exact):
        return decimal
    return f"{value.numerator}/{value.denominator}"


def _root(square: Fraction) -> Fraction | None:
    """The square root if it is rational."""
    root = Fraction(isqrt(square.numerator), isqrt(square.denominator))
    return root if root * root == square else None


def _arrow(direction: ExactVector) -> str:
    x, y = ((c > 0) - (c < 0) for c in direction)
    return ARROWS[x, y]


def _vector(vector: ExactVector) -> str:
    return f"({', '.join(_decimal(float(c)).replace('-', '−') for c in vector)})"
