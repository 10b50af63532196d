"""A beam on elastic props: limits, laws and closed forms of its critical load."""

from __future__ import annotations

from math import cos, inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.errors import InputError
from solver.propping.critical import Beam, critical_factor, needed_stiffness
from tests.propping.lines import Line, lines

FIRM_ENDS = np.array([inf, 0.0, inf])


def beam_of(line: Line, elements: int = 8) -> Beam:
    return Beam(line.lengths, line.bending, tuple(-c for c in line.compressions), elements)


def on_props(beam: Beam, prop: float) -> float:
    """The critical factor on equal props between firm ends."""
    props = np.array([inf, *[prop] * (beam.joints - 2), inf])
    found = critical_factor(beam, props)
    assert found is not None
    return found


def test_without_props_a_beam_bears_its_euler_load() -> None:
    beam = Beam((2.0, 3.0), (7e5, 7e5), (-1e3, -1e3))
    assert critical_factor(beam, FIRM_ENDS) == pytest.approx(pi**2 * 7e5 / 25 / 1e3, rel=1e-5)


@pytest.mark.parametrize("braces", [1, 2, 3, 6])
def test_at_winters_ideal_stiffness_equal_bars_bear_the_load_of_the_firmly_held_beam(braces: int) -> None:
    # an elastic beam at the Euler load of its bars needs just what the rigid links need
    bars = braces + 1
    beam = Beam((1.0,) * bars, (1.0,) * bars, (-1.0,) * bars)
    ideal = (2 + 2 * cos(pi / bars)) * pi**2
    assert on_props(beam, ideal) == pytest.approx(pi**2, rel=1e-4)
    assert on_props(beam, 0.9 * ideal) < 0.99 * pi**2
    assert on_props(beam, 5 * ideal) == pytest.approx(on_props(beam, inf), rel=1e-9)


def test_a_long_beam_on_many_props_buckles_in_waves_of_the_elastic_foundation() -> None:
    # 2 sqrt(k EI) of a foundation k: M. Hetényi, Beams on Elastic Foundation, 1946 (from memory)
    bars, each = 48, 0.02
    beam = Beam((1.0,) * bars, (1.0,) * bars, (-1.0,) * bars, 4)
    assert on_props(beam, each) == pytest.approx(2 * sqrt(each), rel=5e-3)


@settings(max_examples=60, deadline=None)
@given(lines(), st.floats(0.0, 4.0), st.floats(0.0, 4.0))
def test_a_stiffer_prop_never_lowers_the_critical_load(line: Line, first: float, more: float) -> None:
    beam = beam_of(line)
    softer, stiffer = 10**first - 1, 10**first - 1 + 10**more
    assert on_props(beam, stiffer) >= on_props(beam, softer) * (1 - 1e-9)


@settings(max_examples=40, deadline=None)
@given(lines())
def test_props_of_great_stiffness_are_as_good_as_firm_ones(line: Line) -> None:
    beam = beam_of(line, 4)
    assert on_props(beam, 1e12) == pytest.approx(on_props(beam, inf), rel=1e-4)


@settings(max_examples=60, deadline=None)
@given(lines())
def test_on_the_needed_stiffness_the_forces_are_just_borne(line: Line) -> None:
    beam = beam_of(line)
    needed = needed_stiffness(beam, tuple(range(1, beam.joints - 1)))
    assert needed is not None
    if needed:
        assert on_props(beam, needed) == pytest.approx(1.0, rel=1e-6)
    else:
        assert on_props(beam, 0.0) >= 1 - 1e-9


def test_where_firm_props_do_not_suffice_no_stiffness_is_named() -> None:
    beam = Beam((1.0, 1.0), (1.0, 1.0), (-1.0, -1.0))
    assert needed_stiffness(beam, (1,), 1.01 * pi**2) is None
    assert needed_stiffness(beam, (1,), 0.99 * pi**2) is not None


def test_a_joint_without_a_prop_counts_as_not_held() -> None:
    beam = Beam((1.0,) * 4, (1.0,) * 4, (-1.0,) * 4)
    # held in the middle alone: two spans of 2 m, ideal 2 Pe / 2 m with Pe = pi² / 4
    assert needed_stiffness(beam, (2,), pi**2 / 4) == pytest.approx(pi**2 / 4, rel=1e-4)
    with pytest.raises(InputError):
        needed_stiffness(beam, (0,))


def test_a_pulled_or_idle_beam_never_buckles() -> None:
    for force in (5.0, 0.0):
        assert critical_factor(Beam((1.0, 1.0), (1.0, 1.0), (force, force)), FIRM_ENDS) is None


def test_a_rigid_column_on_an_elastic_top_leans_at_k_times_its_length() -> None:
    beam = Beam((2.0,), (1e9,), (-1.0,))
    assert critical_factor(beam, np.array([inf, 30.0])) == pytest.approx(30.0 * 2.0, rel=1e-5)


@pytest.mark.parametrize("props", [[0.0, 0.0, 0.0], [inf, 0.0, 0.0], [0.0, 5.0, 0.0]])
def test_a_beam_that_can_move_as_a_whole_is_refused(props: list[float]) -> None:
    with pytest.raises(InputError, match="as a whole"):
        critical_factor(Beam((1.0, 1.0), (1.0, 1.0), (-1.0, -1.0)), np.array(props))


@pytest.mark.parametrize("props", [[inf, 0.0], [inf, -1.0, inf], [inf, np.nan, inf]])
def test_props_that_do_not_fit_the_joints_are_refused(props: list[float]) -> None:
    with pytest.raises(InputError, match="every joint"):
        critical_factor(Beam((1.0, 1.0), (1.0, 1.0), (-1.0, -1.0)), np.array(props))


def test_a_matrix_of_props_does_what_single_ones_do() -> None:
    beam = Beam((1.0, 2.0, 1.5), (1.0, 3.0, 2.0), (-1.0, -2.0, 0.5))
    single = np.array([inf, 3.0, 0.7, inf])
    assert critical_factor(beam, np.diag(single)) == critical_factor(beam, single)


def test_a_link_between_two_joints_holds_them_against_moving_apart() -> None:
    # in the half-wave of three equal bars the inner joints move alike: a link between them does nothing
    beam = Beam((1.0,) * 3, (1.0,) * 3, (-1.0,) * 3)
    link = np.array([[1.0, -1.0], [-1.0, 1.0]]) * 100
    props = np.diag([inf, 0.0, 0.0, inf])
    props[1:3, 1:3] = link
    assert critical_factor(beam, props) == pytest.approx(pi**2 / 9, rel=1e-5)
