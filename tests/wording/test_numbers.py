"""Numbers as a reader meets them, held against decimal arithmetic."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.document.units import METRIC, US
from explorer.wording.asked import begin, words
from explorer.wording.if_gone import describe_direction
from explorer.wording.numbers import (
    MINUS,
    NO_BREAK,
    Teller,
    brief,
    count,
    listed,
    percent,
    several,
    significant,
)

sizes = st.one_of(
    st.floats(1e-6, 1e11),
    st.integers(1, 99999).map(float),
    st.tuples(
        st.integers(-5, 10), st.sampled_from([0.99949, 0.9995, 0.99951, 0.9949999, 0.995, 1.0, 1.005])
    ).map(lambda pair: pair[1] * 10.0 ** pair[0]),
)
signed = st.tuples(sizes, st.sampled_from([1, -1])).map(lambda pair: pair[0] * pair[1])


def rounded(value: float, digits: int = 3) -> str:
    """So many significant digits, whole from there up, by decimals; zeros at the end are kept."""
    exact = Decimal(value)
    last = max(exact.adjusted() - digits + 1, -60)
    near = exact.quantize(Decimal(1).scaleb(min(last, 0)), ROUND_HALF_EVEN)
    if near.adjusted() > exact.adjusted():
        # rounded up to a power of ten: one decimal fewer shows the same digits
        near = exact.quantize(Decimal(1).scaleb(min(last + 1, 0)), ROUND_HALF_EVEN)
    return f"{near:f}"


@given(signed, st.integers(1, 6))
def test_significant_digits_are_those_of_decimal_rounding(value: float, digits: int) -> None:
    assert significant(value, digits) == rounded(value, digits)


@given(signed)
def test_three_digits_are_off_by_half_of_the_last_at_most(value: float) -> None:
    size, told = abs(value), abs(float(significant(value)))
    unit = Decimal(10) ** min(Decimal(size).adjusted() - 2, 0)
    assert abs(Decimal(size) - Decimal(significant(size))) <= unit / 2
    assert told > 0 and (value > 0) == (float(significant(value)) > 0)


@given(st.floats(1e-300, 9e-8) | st.floats(1e12, 1e300))
def test_what_is_very_small_or_large_is_written_with_a_power_of_ten(value: float) -> None:
    told = significant(value)
    assert "e" in told
    assert abs(float(told) - value) <= 0.00501 * value


@pytest.mark.parametrize(
    ("value", "told"),
    [
        (9.996, "10.0"),
        (99.96, "100"),
        (999.6, "1000"),
        (0.9996, "1.00"),
        (0.5, "0.500"),
        (7.0, "7.00"),
        (12345.6, "12346"),
        (-12.345, "-12.3"),
        (-0.0, "0"),
        (2.5, "2.50"),
        (1234.5, "1234"),
        (0.001, "0.00100"),
        (1000.0, "1000"),
    ],
)
def test_numbers_by_hand(value: float, told: str) -> None:
    assert significant(value) == told


@given(sizes.filter(lambda size: size < 1e6))
def test_a_brief_force_has_two_digits_below_ten_and_is_whole_above(force: float) -> None:
    told = brief(force)
    assert told == (rounded(force, 2) if force < 9.95 else f"{Decimal(force).quantize(Decimal(1)):f}")
    assert brief(-force).lstrip("-") == told


@given(st.floats(0, 1))
def test_a_share_is_rounded_to_whole_percent_and_never_to_all_or_nothing_wrongly(share: float) -> None:
    told = percent(share)
    assert told.endswith(f"{NO_BREAK}%")
    value = Decimal(told.split(NO_BREAK)[0])
    exact = 100 * Decimal(share)
    # a share is a sum of lengths: 5e-13 more or less is a rounding
    if exact <= Decimal("5e-11"):
        assert value == 0
    elif exact >= 100 - Decimal("5e-11"):
        assert value == 100
    else:
        assert 0 < value < 100
        step = Decimal("0.1") if exact < Decimal("0.95") or exact > Decimal("99.05") else Decimal(1)
        assert abs(value - exact) <= step * Decimal("0.5000000001") or value in (
            Decimal("0.1"),
            Decimal("99.9"),
        )


@pytest.mark.parametrize(
    ("share", "told"),
    [
        (2 / 3, "67"),
        (0.005, "0.5"),
        (0.375, "38"),
        (0.994, "99.4"),
        (0.99951, "99.9"),
        (1e-6, "0.1"),
        (0.125, "12"),
    ],
)
def test_shares_by_hand(share: float, told: str) -> None:
    assert percent(share) == f"{told}{NO_BREAK}%"


names = st.lists(st.sampled_from(["L0", "L1", "U1", "U2", "P", "Q"]), max_size=12)


@given(names, st.integers(1, 8))
def test_a_list_tells_all_of_a_few_and_how_many_more_of_many(given_names: list[str], most: int) -> None:
    told = listed(given_names, most)
    if len(given_names) <= most + 1:
        assert [part for comma in told.split(", ") for part in comma.split(" and ") if part] == given_names
    else:
        shown, more = told.rsplit(" and ", 1)
        assert shown.split(", ") == given_names[:most]
        assert more == f"{len(given_names) - most} more"


def test_things_are_counted_in_words_up_to_twelve() -> None:
    assert [count(n) for n in (0, 1, 12, 13)] == ["no", "one", "twelve", "13"]
    assert several(1, "joint", "joints") == "one joint"
    assert several(2, "joint", "joints") == "two joints"


@given(signed.filter(lambda value: 0.1 < abs(value) < 1e11))
def test_forces_and_positions_are_told_in_kips_and_feet_by_the_pound_of_1959(value: float) -> None:
    teller = Teller(US)
    # 0.45359237 kg under 9.80665 m/s2; 0.3048 m
    kips = teller.value("force", value)
    assert kips == pytest.approx(value / (0.45359237 * 9.80665 * 1000), rel=1e-15)
    assert teller.force(value) == f"{rounded(abs(kips))}{NO_BREAK}kip"
    assert teller.member_force(value) == f"{'T' if value > 0 else 'C'}{NO_BREAK}{teller.force(value)}"
    feet = teller.value("length", value)
    assert feet == pytest.approx(value / 0.3048, rel=1e-15)
    number, label = teller.position(value).split(NO_BREAK)
    number = number.replace(MINUS, "-")
    assert (Decimal(number), label) == (Decimal(rounded(feet)), "ft")
    assert not ("." in number and number.endswith("0"))


def test_a_teller_by_hand() -> None:
    teller = Teller(METRIC)
    assert teller.force(-12_345.0) == f"12.3{NO_BREAK}kN"
    assert (teller.member_force(0.0), teller.member_force(-5e3)) == ("0", f"C{NO_BREAK}5.00{NO_BREAK}kN")
    assert [teller.position(x).split(NO_BREAK)[0] for x in (20.0, 0.0, 12.5, 100.0)] == [
        "20",
        "0",
        "12.5",
        "100",
    ]
    assert teller.length(3.25) == f"3.25{NO_BREAK}m"
    assert teller.brief(-148_600.0) == "149"


@pytest.mark.parametrize(
    ("vector", "told"),
    [
        ([0, 0, 1], "straight up"),
        ([0, -1], "straight down"),
        ([-1, 0], "along −x"),
        ([0, 1, 0], "along +y"),
        ([-0.6, 0, 0.8], "along (x −0.600, y 0, z 0.800)"),
    ],
)
def test_directions_by_hand(vector: list[float], told: str) -> None:
    assert describe_direction(np.array(vector, dtype=float)) == told


def test_names_of_loads_become_words_and_sentences_begin_with_a_capital() -> None:
    assert words("wind_on_head") == "wind on head"
    assert (begin("kN first"), begin("")) == ("KN first", "")
