"""Piecewise polynomials, held against numpy.polynomial on a fine grid and against pencil and paper."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.polynomial import Polynomial

from solver.polynomials import PiecewisePolynomials

BREAKS = np.array([0.0, 1.0, 3.0, 4.5])
ALL = np.ones(3, dtype=bool)


def one_row(pieces: list[list[float]], at: dict[float, float] | None = None) -> PiecewisePolynomials:
    coefficients = np.array(pieces, dtype=float).T[:, None, :]
    jumps = at or {}
    return PiecewisePolynomials(
        BREAKS,
        coefficients,
        np.array(list(jumps), dtype=float),
        np.array([list(jumps.values())], dtype=float),
    )


def test_limits_at_the_right_end_of_pieces_follow_from_the_coefficients() -> None:
    family = one_row([[1, 2, 3], [0, -1, 0.5], [4, 0, 0]])
    assert family.ends[0].tolist() == [6.0, 0.0, 4.0]


def test_extremes_of_a_straight_line_lie_at_its_ends() -> None:
    family = one_row([[0, 2], [2, -3], [-4, 1]])
    assert (family.smallest[0], family.largest[0]) == (-4.0, 2.0)


def test_the_vertex_of_a_parabola_inside_its_piece_is_an_extreme() -> None:
    family = one_row([[0, 0, 0], [0, 4, -2], [0, 0, 0]])
    assert family.largest[0] == pytest.approx(2.0, abs=1e-15)
    assert family.first_at_least(np.array([2.0]))[0] == 2.0
    assert family.smallest[0] == 0.0


def test_the_vertex_of_a_valley_inside_its_piece_is_found_from_above() -> None:
    family = one_row([[0, 0, 0], [0, -4, 2], [0, 0, 0]])
    assert family.first_at_most(np.array([-2.0]))[0] == 2.0
    # a piece whose end, and not its vertex, comes down far enough
    slope = one_row([[0, 0, 0], [0, 4, -3], [-4, 0, 0]])
    assert slope.first_at_most(np.array([-4.0]))[0] == 3.0


def test_the_vertex_of_a_parabola_outside_its_piece_is_none() -> None:
    family = one_row([[0, -4, 1], [-3, 0, 0], [-3, 0, 0]])
    assert family.smallest[0] == -3.0


def test_a_value_at_a_break_counts_though_both_sides_stay_below() -> None:
    family = one_row([[0, 0], [0, 0], [0, 0]], at={1.0: 5.0, 3.0: -7.0})
    assert (family.smallest[0], family.largest[0]) == (-7.0, 5.0)
    assert family.first_at_least(np.array([5.0]))[0] == 1.0
    assert family.first_at_most(np.array([-7.0]))[0] == 3.0


def test_the_least_position_comes_first_whichever_side_of_a_break_reaches() -> None:
    family = one_row([[0, 2], [0, 1], [2, 0]])
    assert family.first_at_least(np.array([2.0]))[0] == 1.0
    assert family.first_at_least(np.array([0.0]))[0] == 0.0
    assert family.first_at_most(np.array([0.0]))[0] == 0.0
    assert family.first_at_least(np.array([2.1]))[0] == np.inf


def test_lengths_within_a_band_of_straight_lines_by_hand() -> None:
    family = one_row([[0, 2], [2, -1], [0, 0]])
    # rises 0..2 over 1, falls 2..0 over 2, lies at 0 over 1.5
    within = family.length_within(np.array([0]), np.array([0.5]), np.array([1.0]), ALL)
    assert within[0] == pytest.approx(0.25 + 0.5, abs=1e-15)
    flat = family.length_within(np.array([0]), np.array([0.0]), np.array([0.0]), ALL)
    assert flat[0] == pytest.approx(1.5, abs=1e-15)


def test_only_counted_pieces_count() -> None:
    family = one_row([[0, 0], [0, 0], [0, 0]])
    counted = np.array([True, False, True])
    within = family.length_within(np.array([0]), np.array([-1.0]), np.array([1.0]), counted)
    assert within[0] == 2.5
    rows, pieces = family.flat_pieces(0.0, counted)
    assert (rows.tolist(), pieces.tolist()) == ([0, 0], [0, 2])


coefficient = st.floats(-3, 3).map(lambda value: round(value, 2))


@given(
    st.lists(st.lists(coefficient, min_size=3, max_size=3), min_size=3, max_size=3),
    coefficient,
    st.floats(0, 3).map(lambda value: round(value, 2)),
)
def test_extremes_and_lengths_agree_with_a_fine_grid(
    pieces: list[list[float]], bottom: float, height: float
) -> None:
    family = one_row(pieces)
    steps = 4000
    values, weights = [], []
    for piece, width in zip(pieces, np.diff(BREAKS), strict=True):
        places = (np.arange(steps) + 0.5) / steps * width
        values.append(Polynomial(piece)(places))
        weights.append(np.full(steps, width / steps))
    sampled, weight = np.concatenate(values), np.concatenate(weights)
    slack = 1e-2
    assert family.largest[0] >= sampled.max() - 1e-12
    assert family.largest[0] <= sampled.max() + slack
    assert family.smallest[0] <= sampled.min() + 1e-12
    assert family.smallest[0] >= sampled.min() - slack
    inside = weight[(sampled >= bottom) & (sampled <= bottom + height)].sum()
    # Each piece crosses each bound at most twice and each crossing is off by at most one step.
    exact = family.length_within(np.array([0]), np.array([bottom]), np.array([bottom + height]), ALL)[0]
    assert exact == pytest.approx(inside, abs=4 * 3 * 2.0 / steps)
