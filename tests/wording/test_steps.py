"""Steps in words: quantities to four digits in units they have, long numbers grouped, fractions whole."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.document.units import METRIC, US, UnitSystem
from explorer.wording.asked import Asked
from explorer.wording.checks import list_lines
from explorer.wording.numbers import NO_BREAK, Teller
from explorer.wording.steps import WORD_JOINER, tell_quantity
from solver.resistance.steps import Quantity
from tests.wording.test_questions import BUNDLED, known

SI = {
    "": 1.0,
    "kN": 1e3,
    "kip": 4448.2216152605,
    "m": 1.0,
    "ft": 0.3048,
    "mm": 1e-3,
    "in": 0.0254,
    "mm²": 1e-6,
    "in²": 0.0254**2,
    "mm⁴": 1e-12,
    "in⁴": 0.0254**4,
    "MPa": 1e6,
    "ksi": 4448.2216152605 / 0.0254**2,
    "kN/m": 1e3,
    "kip/ft": 4448.2216152605 / 0.3048,
}
"""Units as printed, in SI."""


def ungrouped(sentence: str) -> str:
    """A sentence in which long numbers are of one piece."""
    return re.sub(rf"(?<=\d){NO_BREAK}(?=\d{{3}}(?!\d))", "", sentence)


@pytest.mark.parametrize("units", [METRIC, US], ids=lambda units: str(units.name))
@pytest.mark.parametrize("name", BUNDLED)
def test_every_quantity_of_every_step_is_told_to_four_digits_in_a_unit_that_it_has(
    name: str, units: UnitSystem
) -> None:
    checks = known(name).answers.checks
    quantities = {
        quantity
        for check in (*(check for own in checks.each for check in own), *checks.whole)
        for step in check.steps
        for quantity in (*step.given, step.result)
    }
    assert quantities
    for quantity in quantities:
        symbol, value, unit = read_quantity(tell_quantity(quantity, Teller(units)))
        assert symbol == quantity.symbol.removesuffix(" [N/m]")
        assert value * SI[unit] == pytest.approx(quantity.value, rel=5.1e-4), quantity
        assert (unit in ("kN/m", "kip/ft")) == quantity.symbol.endswith("[N/m]")


def read_quantity(told: str) -> tuple[str, float, str]:
    """Symbol, value and unit of a quantity as told."""
    told = ungrouped(told.replace(WORD_JOINER, "").replace("\u2212", "-"))
    symbol, _, rest = told.rpartition(f"{NO_BREAK}={NO_BREAK}")
    value, _, unit = rest.partition(NO_BREAK)
    number, _, power = value.partition("·10")
    return (
        symbol,
        float(number) * 10.0 ** sum(10**n * "⁰¹²³⁴⁵⁶⁷⁸⁹".index(d) for n, d in enumerate(power[::-1])),
        unit,
    )


def test_a_stiffness_in_kips_is_a_force_per_foot() -> None:
    # 100 kN/m = 100e3 / 4448.2216 x 0.3048 = 6.852 kip/ft
    told = tell_quantity(Quantity("β_br [N/m]", 100e3), Teller(US))
    assert told.replace(NO_BREAK, " ") == "β_br = 6.852 kip/ft"


def test_long_numbers_of_steps_stand_in_groups_or_with_a_power_of_ten_that_a_prefix_has() -> None:
    # 18e6 mm4; 13548 kN/m in four digits; 210000 MPa; 5500 mm2 is no long number
    for quantity, written in (
        (Quantity("I", 18e-6, "second_moment"), "I = 18·10⁶ mm⁴"),
        (Quantity("β [N/m]", 13548e3), "β = 13 550 kN/m"),
        (Quantity("E", 210e9, "stress"), "E = 210 000 MPa"),
        (Quantity("A", 5500e-6, "area"), "A = 5500 mm²"),
    ):
        assert tell_quantity(quantity, Teller(METRIC)).replace(NO_BREAK, " ") == written


@given(st.floats(1, 1e11), st.sampled_from([1, -1]))
def test_a_number_of_steps_is_told_within_half_of_its_fourth_digit(size: float, sign: int) -> None:
    _, value, _ = read_quantity(tell_quantity(Quantity("x", sign * size), Teller(METRIC)))
    assert value == pytest.approx(sign * size, rel=5.1e-4)


@pytest.mark.parametrize("name", BUNDLED)
def test_no_line_of_steps_breaks_beside_a_slash(name: str) -> None:
    for member, own in enumerate(known(name).answers.checks.each):
        asked = Asked(known(name).answers, Teller(METRIC), member, 0, None)
        for cell in (cell for check in own for line in list_lines(asked, check) for cell in line.cells):
            kept = {NO_BREAK, WORD_JOINER}
            assert all(
                cell[place - 1] in kept and cell[place + 1] in kept
                for place, char in enumerate(cell)
                if char == "/"
            )
