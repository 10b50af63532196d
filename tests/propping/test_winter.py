"""Rigid links: closed forms of one prop and of unequal bars, limits, and what a bow does."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.errors import InputError
from solver.propping.critical import Beam, needed_stiffness
from solver.propping.demand import HeldPoint
from solver.propping.winter import (
    TwoPercent,
    Winter,
    WinterPanel,
    ideal_in_line,
    ideal_stiffness,
    prop_force,
)
from tests.propping.lines import Line, lines, middle


def test_one_prop_between_unequal_bars_needs_the_sum_of_their_pushes() -> None:
    # equilibrium of the hinge: beta d = P1 d / L1 + P2 d / L2
    assert ideal_in_line((90e3, 120e3), (3.0, 2.0)) == pytest.approx(90e3 / 3 + 120e3 / 2, rel=1e-14)


def test_two_props_between_unequal_bars_need_the_larger_root_of_their_quadratic() -> None:
    # G = [[a + b, -b], [-b, b + c]] with a, b, c = 1, 4, 2: roots of x² - 11 x + 14 = 0
    found = ideal_in_line((2.0, 4.0, 6.0), (2.0, 1.0, 3.0))
    assert found == pytest.approx((11 + (11**2 - 4 * 14) ** 0.5) / 2, rel=1e-14)


def test_a_pulled_bar_takes_off_what_the_prop_beside_it_needs() -> None:
    assert ideal_in_line((100.0, -40.0), (1.0, 1.0)) == pytest.approx(60.0)
    assert ideal_in_line((100.0, -150.0), (1.0, 1.0)) == 0.0


@given(st.integers(1, 60))
def test_the_closed_form_is_the_chain_of_equal_links(braces: int) -> None:
    bars = braces + 1
    chain = ideal_in_line((7.0,) * bars, (2.0,) * bars)
    assert chain == pytest.approx(ideal_stiffness(7.0, 2.0, braces), rel=1e-12)


def test_more_props_need_more_each_and_tend_to_four() -> None:
    factors = np.array([ideal_stiffness(1.0, 1.0, braces) for braces in range(1, 400)])
    assert (np.diff(factors) > 0).all()
    assert 4 - 1e-4 < factors[-1] < 4


@settings(max_examples=60, deadline=None)
@given(lines())
def test_rigid_links_never_ask_less_than_the_elastic_beam_needs(line: Line) -> None:
    forces = tuple(-compression for compression in line.compressions)
    beam = Beam(line.lengths, line.bending, forces)
    needed = needed_stiffness(beam, tuple(range(1, len(line.lengths))))
    assert needed is not None
    chain = ideal_in_line(line.compressions, line.lengths)
    assert needed <= chain * (1 + 1e-9) + 1e-9 * max(map(abs, line.compressions))


def test_a_prop_no_stiffer_than_the_ideal_does_not_hold() -> None:
    for offered in (1.0, 0.5, 0.0):
        with pytest.raises(InputError, match="does not hold"):
            prop_force(1.0, offered, 0.01)


def test_the_stiffer_the_prop_the_smaller_its_force_down_to_that_of_a_firm_one() -> None:
    forces = [prop_force(1e6, times * 1e6, 0.004) for times in (1.01, 1.5, 2, 5, 100, inf)]
    assert forces == sorted(forces, reverse=True)
    assert forces[-1] == pytest.approx(1e6 * 0.004)


def test_a_bow_of_the_longer_bar_and_twice_the_ideal_stiffness_are_told_in_four_lines() -> None:
    asked = Winter().demand(middle((90e3, 120e3), (3.0, 2.0)))
    ideal = 30e3 + 60e3
    assert asked.stiffness == pytest.approx(2 * ideal)
    assert asked.force == pytest.approx(2 * ideal * 3.0 / 500)
    assert [step.result.value for step in asked.steps] == pytest.approx(
        [ideal, 2 * ideal, 0.006, asked.force]
    )
    assert [q.value for q in asked.steps[0].given] == pytest.approx([30e3, 60e3])


def test_a_line_of_equal_bars_is_told_by_the_closed_form_with_its_number_of_props() -> None:
    step = Winter().demand(HeldPoint((2.0,) * 4, (50e3,) * 4, place=2)).steps[0]
    assert "cos" in step.formula
    assert [q.value for q in step.given] == [50e3, 2.0, 3]


def test_the_end_of_a_line_is_held_like_a_panel() -> None:
    end = HeldPoint((2.0, 3.0), (50e3, 80e3), place=0)
    assert Winter().demand(end).stiffness == WinterPanel().demand(end).stiffness == pytest.approx(50e3)


def test_a_joint_that_a_pulled_bar_holds_asks_no_force() -> None:
    asked = Winter().demand(middle((100.0, -150.0), (1.0, 1.0)))
    assert (asked.force, asked.stiffness) == (0.0, 0.0)


def test_lines_alike_on_the_same_prop_add_up() -> None:
    for rule in (Winter(), WinterPanel(), TwoPercent()):
        one, three = rule.demand(middle()), rule.demand(middle(alike=3))
        assert one.force is not None and three.force == pytest.approx(3 * one.force)
        if one.stiffness is not None:
            assert three.stiffness == pytest.approx(3 * one.stiffness)


def test_the_two_per_cent_rule_is_a_custom_that_asks_no_stiffness() -> None:
    asked = TwoPercent().demand(middle(in_plane=False))
    assert asked.force == pytest.approx(2400.0)
    assert asked.stiffness is None
    assert asked.stretched.startswith("common practice")
    assert asked.unchecked == ("stiffness of the prop",)
