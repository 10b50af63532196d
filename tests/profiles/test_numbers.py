"""Numbers and names as the trade writes them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.document.units import METRIC, US
from explorer.sections.numbers import (
    AREAS,
    INCH,
    LENGTHS,
    SECOND_MOMENTS,
    read_number,
    spell,
    write_length,
)


@pytest.mark.parametrize(
    ("text", "value"),
    [("6.3", "63/10"), ("5", "5"), (".5", "1/2"), ("1/4", "1/4"), ("2-1/2", "5/2"), (" 2 1/2 ", "5/2")],
)
def test_numbers_are_read_exactly(text: str, value: str) -> None:
    assert read_number(text) == Fraction(value)


@pytest.mark.parametrize("text", ["", "five", "-5", "1/0", "5 mm", "1e3", "6,3", "2--1/2", "1" * 21, "٣"])
def test_what_is_no_number_is_none(text: str) -> None:
    assert read_number(text) is None


@given(st.integers(1, 640))
def test_a_length_in_sixty_fourths_of_an_inch_is_read_as_it_was_written(sixty_fourths: int) -> None:
    value = Fraction(sixty_fourths, 64)
    assert read_number(write_length(value * INCH, "in")) == value


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("SHS 100x100x5", "shs100X100x5.0"),
        ("SHS 100\u00d7100\u00d75", "SHS 100 x 100 x 5"),
        ("L2.5X2.5X0.25", "L2-1/2X2-1/2X1/4"),
        ("HSS4.000X0.250", "hss 4 x 1/4"),
    ],
)
def test_ways_of_writing_a_name_make_no_difference(one: str, other: str) -> None:
    assert spell(one) == spell(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("SHS 100x100x5", "SHS 100x100x5.1"),
        ("CHS 21.3x2", "CHS 2x1.32"),
        ("L 100x10x1", "L 100x101"),
        ("2L 80x80x8", "L 80x80x8"),
    ],
)
def test_different_names_stay_different(one: str, other: str) -> None:
    assert spell(one) != spell(other)


def test_units_are_those_of_a_study() -> None:
    assert {LENGTHS["mm"], AREAS["mm2"], SECOND_MOMENTS["mm4"]} == {
        METRIC.factors[kind] for kind in ("small_length", "area", "second_moment")
    }
    assert {LENGTHS["in"], AREAS["in2"], SECOND_MOMENTS["in4"]} == {
        US.factors[kind] for kind in ("small_length", "area", "second_moment")
    }
