"""Exact rank and dependence, against sympy on matrices of fractions."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
import sympy

from solver.exact import PRIMES, Columns, eliminate, residues
from solver.statics import examine, mechanism_basis, self_stress_basis
from tests.building import build_truss


def columns_of(matrix: list[list[int]], prime: int) -> Columns:
    dense = np.array(matrix, dtype=np.int64).T % prime
    rows = np.tile(np.arange(len(matrix)), (dense.shape[0], 1))
    return Columns(rows, dense, len(matrix), prime)


@pytest.mark.parametrize("prime", PRIMES)
def test_both_primes_are_prime(prime: int) -> None:
    assert sympy.isprime(prime)
    assert prime < 2**31


def test_residues_keep_the_ratios_of_a_vector_of_fractions() -> None:
    a, b = residues([Fraction(3, 7), Fraction(-22, 5)], 10007)
    assert a * -22 * 7 % 10007 == b * 3 * 5 % 10007


@pytest.mark.parametrize("seed", range(20))
def test_rank_equals_that_of_a_computer_algebra_system(seed: int) -> None:
    random = np.random.default_rng(seed)
    rank = int(random.integers(1, 6))
    left, right = random.integers(-9, 10, (6, rank)), random.integers(-9, 10, (rank, 8))
    matrix = (left @ right).tolist()
    elimination = eliminate(columns_of(matrix, PRIMES[0]), random)
    assert elimination.rank == sympy.Matrix(matrix).rank()


def test_solving_and_null_vectors_satisfy_their_equations() -> None:
    random = np.random.default_rng(1)
    matrix = random.integers(-9, 10, (5, 9)).tolist()
    columns = columns_of(matrix, PRIMES[1])
    elimination = eliminate(columns, random)
    right = random.integers(0, 1000, (5, 2))
    x = elimination.solve(right.copy())
    weighted = columns.transposed_times(x) * elimination.weights[:, None] % columns.prime
    assert (columns.times(weighted) == right).all()
    dependency = elimination.dependency(random)
    assert not columns.times(dependency[:, None]).any()
    assert dependency.any()
    flat = columns_of([row + row for row in [[1, 2], [2, 4], [0, 1]]], PRIMES[0])
    null = eliminate(flat, random).null_vectors(1, random)
    assert null.any()
    assert not flat.transposed_times(null).any()


def test_a_square_on_two_supports_counts_one_too_few() -> None:
    joints = {"A": (0, 0), "B": (1, 0), "C": (1, 1), "D": (0, 1)}
    truss = build_truss(joints, ["A-B", "B-C", "C-D", "D-A"], {"A": "xy", "B": "y"})
    statics = examine(truss)
    assert (statics.rank, statics.mechanisms, statics.self_stress_states) == (7, 1, 0)
    assert statics.static_indeterminacy == -1
    assert [truss.joint_names[joint] for joint in statics.moving_joints] == ["C", "D"]
    movement = mechanism_basis(truss)[:, 0].reshape(4, 2)
    assert movement[:, 1] == pytest.approx(np.zeros(4), abs=1e-15)
    assert movement[2, 0] == pytest.approx(movement[3, 0])


def test_a_square_with_both_diagonals_has_the_self_stress_of_the_textbook() -> None:
    joints = {"A": (0, 0), "B": (1, 0), "C": (1, 1), "D": (0, 1)}
    members = ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D"]
    truss = build_truss(joints, members, {"A": "xy", "B": "y"})
    statics = examine(truss)
    assert (statics.mechanisms, statics.self_stress_states) == (0, 1)
    state = self_stress_basis(truss)[:, 0]
    assert state[:6] / state[0] == pytest.approx([1, 1, 1, 1, -(2**0.5), -(2**0.5)])
    assert not statics.needed.any()
