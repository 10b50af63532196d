"""Equations of a body of joints, one after the other, in each of which one unknown is left."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations

from solver.by_hand.sums import Board, Equation, Found, left_over
from solver.exact_algebra import cross, dot, leave_one
from solver.truss import ExactVector

Opened = tuple[tuple[Equation, ...], tuple[Found, ...]]


def open_body(board: Board, part: Sequence[int], wanted: Sequence[int], centres: Sequence[int]) -> Opened:
    """Write equations that find the `wanted` rows on a body of joints, and enter what they find.

    wanted: rows that equilibrium of this body gives. Sums along the axes first, then moments about the
    joints `centres`, at last whatever movement leaves one unknown.
    """
    wrenches = {r: board.wrench(r, joint) for r, joint in board.rows_on(part) if r not in board.known}
    simple = list(simple_movements(board, centres))
    missing = list(wanted)
    equations: list[Equation] = []
    found: list[Found] = []
    while missing:
        row, movement = _choose(wrenches, missing, simple)
        equation = board.write(movement, part)
        equations.append(equation)
        found.append(board.find(row, -left_over(equation) / dot(movement, wrenches[row])))
        missing.remove(row)
        del wrenches[row]
    return tuple(equations), tuple(found)


def _choose(
    wrenches: dict[int, ExactVector], missing: list[int], simple: list[ExactVector]
) -> tuple[int, ExactVector]:
    """The first movement in which one unknown does work, and that is missing; with its row."""
    for movement in simple:
        working = [row for row, wrench in wrenches.items() if dot(movement, wrench)]
        if len(working) == 1 and working[0] in missing:
            return working[0], movement
    row = missing[0]
    movement_left = leave_one(wrenches[row], [w for other, w in wrenches.items() if other != row])
    assert movement_left is not None, "what is wanted is determined"
    return row, movement_left


def simple_movements(board: Board, centres: Sequence[int]) -> Iterator[ExactVector]:
    """Shifts along the axes, then turnings about joints; in space about lines through them."""
    size = board.truss.dimension
    units = [tuple(Fraction(int(axis == other)) for other in range(size)) for axis in range(size)]
    still = (Fraction(0),) * (1 if size == 2 else 3)
    for unit in units:
        yield (*unit, *still)
    points = [board.truss.coordinates[joint] for joint in centres]
    if size == 2:
        for x, y in points:
            yield y, -x, Fraction(1)
        return
    for point in points:
        for unit in units:
            yield _turning(unit, point)
    for first, second in combinations(points, 2):
        yield _turning(tuple(b - a for a, b in zip(first, second, strict=True)), first)


def _turning(axis: ExactVector, point: ExactVector) -> ExactVector:
    """The movement that turns about an axis through a point in space."""
    return (*(-c for c in cross(axis, point)), *axis)
