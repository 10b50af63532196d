"""Movements without a member: as fractions, verified, and the work of loads in them."""

from __future__ import annotations

from fractions import Fraction
from itertools import islice

import numpy as np
import pytest
from sympy import prevprime

from solver.removal import remove_each
from solver.state import take_loads
from solver.statics import examine
from solver.stiffness import Stiffness
from solver.virtual_work import _primes, exact_movement, examine_virtual_work, is_movement_without
from tests.building import build_truss

JOINTS = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3)}
TRUSS = build_truss(JOINTS, ["A-B", "B-C", "A-D", "C-D", "B-D"], {"A": "xy", "C": "y"})


def test_the_primes_are_the_largest_below_two_to_the_31st() -> None:
    expected, last = [], 2**31
    for _ in range(12):
        last = prevprime(last)
        expected.append(last)
    assert list(islice(_primes(12), 12)) == expected


def test_without_a_rafter_the_movement_is_that_of_two_levers() -> None:
    # Without A-D the tie stays level with its ends: B and D go down together about C, D swings about C.
    movement = exact_movement(examine(TRUSS), TRUSS.member_index("A-D"))
    assert movement is not None
    a, b, c, d = movement
    assert a == (0, 0) and c[1] == 0 and b[0] == 0 and c[0] == 0
    assert b[1] == d[1] != 0
    # C-D keeps its length: 4 right and 3 down from D to C
    assert 4 * (c[0] - d[0]) - 3 * (c[1] - d[1]) == 0


def test_a_movement_is_refused_that_stretches_another_member_or_lifts_a_support() -> None:
    member = TRUSS.member_index("A-D")
    movement = exact_movement(examine(TRUSS), member)
    assert movement is not None
    assert is_movement_without(TRUSS, member, movement)
    stretched = (movement[0], (movement[1][0] + Fraction(1), movement[1][1]), *movement[2:])
    lifted = (*movement[:2], (movement[2][0], movement[2][1] + Fraction(1)), movement[3])
    still = tuple((Fraction(0), Fraction(0)) for _ in movement)
    assert not any(is_movement_without(TRUSS, member, other) for other in (stretched, lifted, still))


def test_the_force_is_the_work_of_the_loads_over_the_growth() -> None:
    stiffness, statics = Stiffness(TRUSS), examine(TRUSS)
    state = take_loads(stiffness, np.array([[0, 0], [0, -7.0], [0, 0], [3.0, -2.0]]))
    moves = remove_each(statics).moves
    for member in range(len(TRUSS.members)):
        work = examine_virtual_work(stiffness, statics, state, member, moves[member])
        assert work.exact is not None
        assert state.forces[member] * work.elongation == pytest.approx(work.total)
        assert np.linalg.norm(work.movement, axis=1).max() == pytest.approx(1.0)
