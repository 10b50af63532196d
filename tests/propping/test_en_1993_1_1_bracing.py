"""The initial bow and the deflection of the bracing that feeds it, by hand and in closed form."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import InputError
from solver.propping.demand import HeldPoint
from solver.propping.en_1993_1_1_bracing import InitialBow, Splice, initial_bow, reduction, settle

LINE = HeldPoint((2.0, 3.0, 1.0), (100e3, 250e3, 80e3), place=1, alike=2)


def test_a_joint_bears_half_of_the_bars_beside_it_under_the_largest_compression() -> None:
    # e0 = .866025 x 6 / 500 = 10.3923 mm; qd = 2 x 250 kN x 8 x e0 / 36 m² = 1154.70 N/m; x 2.5 m
    asked = InitialBow().demand(LINE)
    assert asked.force == pytest.approx(2886.75, abs=0.01)
    assert asked.stiffness is None
    assert "taken as 0" in asked.unchecked[0]


def test_the_steps_tell_reduction_bow_force_per_length_and_force() -> None:
    steps = InitialBow().demand(LINE).steps
    results = [step.result.value for step in steps]
    assert results == pytest.approx([0.866025, 0.0103923, 1154.70, 2886.75], rel=1e-5)


@given(st.floats(0.0, 0.95))
def test_the_rounds_settle_at_the_closed_form_of_a_bracing_that_deflects_in_proportion(grown: float) -> None:
    # q = a (e0 + f q) with a = 8 N / L²: q = a e0 / (1 - a f); grown = a f
    total, span, bow = 500e3, 6.0, 0.012
    each = 8 * total / span**2
    rounds = settle(total, span, bow, lambda q: grown / each * q)
    assert rounds[-1] == pytest.approx(each * bow / (1 - grown), rel=1e-8)
    assert rounds == sorted(rounds)


@pytest.mark.parametrize("grown", [1.0, 1.2, 50.0])
def test_a_bracing_that_deflects_more_at_every_round_is_refused(grown: float) -> None:
    each = 8 * 500e3 / 36
    with pytest.raises(InputError, match="too soft"):
        settle(500e3, 6.0, 0.012, lambda q: grown / each * q)


def test_the_deflection_under_external_loads_adds_to_the_bow() -> None:
    firm = settle(500e3, 6.0, 0.012, lambda q: 0.0)[-1]
    assert settle(500e3, 6.0, 0.012, lambda q: 0.006)[-1] == pytest.approx(1.5 * firm)


def test_with_a_deflection_the_first_and_the_last_round_are_told_and_nothing_is_left_out() -> None:
    each = 8 * 500e3 / 36
    asked = InitialBow(lambda q: 0.2 / each * q).demand(LINE)
    first, last = (step for step in asked.steps if "5.13" in step.clause)
    assert last.result.value == pytest.approx(first.result.value / 0.8, rel=1e-8)
    assert asked.unchecked == ()


def test_the_splice_is_asked_of_the_bars_beside_it_alone() -> None:
    # 2 x .866025 x 250 kN / 100 beside the middle bar, 80 kN at the far end
    assert Splice().demand(LINE).force == pytest.approx(4330.13, abs=0.01)
    end = HeldPoint(LINE.lengths, LINE.compressions, place=3, alike=2)
    assert Splice().demand(end).force == pytest.approx(1385.64, abs=0.01)


def test_more_members_lower_the_bow_of_each_towards_seven_tenths() -> None:
    bows = [initial_bow(members, 500.0) for members in (1, 2, 10, 10**9)]
    assert bows == sorted(bows, reverse=True)
    assert bows[-1] == pytest.approx(0.5**0.5)
    with pytest.raises(InputError):
        reduction(0)
