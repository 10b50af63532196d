"""Random statically determinate trusses, plane and space, against arithmetic that rounds nothing.

Forces come from joint equilibrium in fractions by Gauss-Jordan elimination written for these checks
(fractions_by_hand.py), and for a few from sympy, a general library for algebra. A truss grows by
joints on two (three) new members and by joints put into a member, which makes it complex; no new joint is
flat, so that no digits are lost to the form itself.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import cache
from typing import Any

import numpy as np
import pytest
import sympy  # type: ignore[import-untyped]

from solver.answers import answer
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.published.fractions_by_hand import exact_forces
from tests.published.record import agree_exactly, agree_relatively, published

FLAT = 0.2
"""Least determinant of the unit vectors of the new members at a joint."""
INCLINED: Mapping[int, Mapping[str, Any]] = {
    2: {"0": "xy", "1": [(3, 4)]},
    3: {"0": "xyz", "1": [(1, 8, 4), (8, 1, 4)], "2": [(2, 3, 6)]},
}
"""Supports off the axes for the first triangle: whole numbers, so that the fractions stay exact."""


def start(dimension: int) -> tuple[list[tuple[int, ...]], list[tuple[int, int]]]:
    points = [(0, 0, 0), (9, 1, 2), (3, 8, 1)]
    return [point[:dimension] for point in points], [(0, 1), (0, 2), (1, 2)]


def steep(points: Sequence[tuple[int, ...]], new: tuple[int, ...], others: Sequence[int]) -> bool:
    vectors = np.array([np.subtract(points[other], new) for other in others], dtype=float)
    lengths = np.linalg.norm(vectors, axis=1)
    return bool(lengths.min() > 0 and abs(np.linalg.det(vectors / lengths[:, None])) > FLAT)


@cache
def random_truss(dimension: int, joints: int, seed: int) -> Truss:
    """A determinate truss of `joints` joints at whole numbers, about a third put into a member."""
    random = np.random.default_rng(seed)
    points, members = start(dimension)
    while len(points) < joints:
        around = points[int(random.integers(len(points)))]
        new = tuple(int(c + step) for c, step in zip(around, random.integers(-9, 10, dimension), strict=True))
        others = [int(i) for i in random.choice(len(points), min(dimension, len(points)), replace=False)]
        if random.random() < 1 / 3:
            _split(random, points, members, new, others)
        elif new not in points and steep(points, new, others):
            members += [(other, len(points)) for other in others]
            points.append(new)
    names = {str(i): point for i, point in enumerate(points)}
    return build_truss(names, [f"{a}-{b}" for a, b in members], INCLINED[dimension])


def _split(
    random: np.random.Generator,
    points: list[tuple[int, ...]],
    members: list[tuple[int, int]],
    new: tuple[int, ...],
    others: list[int],
) -> None:
    """Take a member away and tie the new joint to its ends and to `others`, one tie more than usual."""
    place = int(random.integers(len(members)))
    first, second = members[place]
    third = [other for other in others if other not in (first, second)][: len(points[0]) - 1]
    ends = [first, second, *third]
    if new in points or len(ends) < len(points[0]) + 1:
        return
    if not all(steep(points, new, [*third, end]) for end in (first, second)):
        return
    members.pop(place)
    members += [(end, len(points)) for end in ends]
    points.append(new)


def random_loads(truss: Truss, seed: int) -> list[dict[int, tuple[Fraction, ...]]]:
    """Three cases: one joint, a few joints, every joint; thousandths, as a file may write them."""
    random = np.random.default_rng(seed + 1000)
    joints = len(truss.joint_names)
    cases = []
    for count in (1, 3, joints):
        chosen = random.choice(joints, count, replace=False)
        values = random.integers(-9999, 10000, (count, truss.dimension))
        cases.append(
            {
                int(j): tuple(Fraction(int(v), 1000) for v in row)
                for j, row in zip(chosen, values, strict=True)
            }
        )
    return cases


def named_loads(truss: Truss, case: Mapping[int, Sequence[Fraction]]) -> dict[str, list[float]]:
    return {truss.joint_names[joint]: [float(c) for c in load] for joint, load in case.items()}


def computed(truss: Truss, cases: Sequence[Mapping[int, Sequence[Fraction]]]) -> Any:
    """The solver's forces, (members, cases)."""
    named = [
        load_case(
            truss, f"case {i}", **{truss.joint_names[j]: [float(c) for c in v] for j, v in case.items()}
        )
        for i, case in enumerate(cases)
    ]
    return answer(build_study(truss, named)).responses.forces.cases


def hold_columns(found: Any, expected: Any) -> None:
    for case in range(expected.shape[1]):
        agree_relatively(found[:, case], expected[:, case], 1e-12)


@published("fractions", "plane trusses of 8 to 30 joints, three loadings each, every force to 1e-12")
@pytest.mark.parametrize("seed", range(12))
def test_forces_of_random_plane_trusses_are_those_of_the_fractions(seed: int) -> None:
    truss = random_truss(2, 8 + 2 * seed, seed)
    cases = random_loads(truss, seed)
    hold_columns(computed(truss, cases), exact_forces(truss, cases))


@published("fractions", "space trusses of 6 to 17 joints, three loadings each, every force to 1e-12")
@pytest.mark.parametrize("seed", range(12))
def test_forces_of_random_space_trusses_are_those_of_the_fractions(seed: int) -> None:
    truss = random_truss(3, 6 + seed, seed)
    cases = random_loads(truss, seed)
    hold_columns(computed(truss, cases), exact_forces(truss, cases))


@published("fractions", "which forces are exactly zero, by the study's rule, in 24 trusses")
@pytest.mark.parametrize("dimension", [2, 3])
@pytest.mark.parametrize("seed", range(12))
def test_the_members_called_zero_are_those_that_are_zero_in_fractions(dimension: int, seed: int) -> None:
    truss = random_truss(dimension, 8 + 2 * seed if dimension == 2 else 6 + seed, seed)
    cases = random_loads(truss, seed)[:1]
    exact = exact_forces(truss, cases)[:, 0]
    case = load_case(truss, **named_loads(truss, cases[0]))
    shares = answer(build_study(truss, [case])).forces.zero_share
    agree_exactly(np.flatnonzero(shares == 1).tolist(), np.flatnonzero(exact == 0).tolist())


def by_algebra(truss: Truss, case: Mapping[int, Sequence[Fraction]]) -> list[float]:
    """Forces by sympy: joint equilibrium in rational numbers, lengths as roots, rounded at 30 digits."""
    columns = len(truss.members)
    rows: list[list[Any]] = [[sympy.Integer(0)] * truss.freedoms for _ in range(truss.freedoms)]
    for column, (member, vector) in enumerate(zip(truss.members, truss.exact_vectors, strict=True)):
        for axis, c in enumerate(vector):
            rows[member.first * truss.dimension + axis][column] = sympy.Rational(str(c))
            rows[member.second * truss.dimension + axis][column] = -sympy.Rational(str(c))
    for support in truss.supports:
        for direction in support.directions:
            for axis, c in enumerate(direction):
                rows[support.joint * truss.dimension + axis][columns] = sympy.Rational(str(c))
            columns += 1
    right = [sympy.Integer(0)] * truss.freedoms
    for joint, load in case.items():
        for axis, c in enumerate(load):
            right[joint * truss.dimension + axis] = -sympy.Rational(str(c))
    densities = sympy.Matrix(rows).LUsolve(sympy.Matrix(right))
    squares = [sum(sympy.Rational(str(c)) ** 2 for c in vector) for vector in truss.exact_vectors]
    return [float((q * sympy.sqrt(square)).evalf(30)) for q, square in zip(densities, squares, strict=False)]


@published("sympy_algebra", "small plane and space trusses, every force to 1e-12")
@pytest.mark.parametrize(("dimension", "joints", "seed"), [(2, 6, 1), (2, 9, 2), (3, 7, 3)])
def test_forces_of_small_random_trusses_are_those_of_computer_algebra(
    dimension: int, joints: int, seed: int
) -> None:
    truss = random_truss(dimension, joints, seed)
    case = random_loads(truss, seed)[1]
    agree_relatively(computed(truss, [case])[:, 0], by_algebra(truss, case), 1e-12)
