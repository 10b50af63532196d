"""Steels by name and thickness."""

from __future__ import annotations

import pytest

from explorer.document.units import METRIC, US
from explorer.sections.steels import FACTORS, bundled_steels, find_steel
from solver.errors import InputError

WANTED = (
    "S235",
    "S275",
    "S355",
    "S460",
    "A36",
    "A572 Gr 50",
    "A992",
    "A500 Gr B rectangular",
    "A500 Gr B round",
    "A500 Gr C rectangular",
    "A500 Gr C round",
    "A53 Gr B",
)


def test_the_steels_in_common_use_are_there() -> None:
    assert tuple(bundled_steels()) == WANTED


@pytest.mark.parametrize("name", WANTED)
def test_a_steel_says_where_it_comes_from_and_is_possible(name: str) -> None:
    steel = bundled_steels()[name]
    for told in (steel.title, steel.standard, steel.source, steel.certainty, steel.not_covered):
        assert len(told) > 3
    assert 195e9 < steel.elastic_modulus < 215e9
    assert 76.9e3 < steel.unit_weight < 77.1e3
    assert 11.5e-6 < steel.expansion < 12.1e-6
    ranges = steel.strengths
    assert [each.up_to for each in ranges] == sorted({each.up_to for each in ranges})
    yields = [each.yield_strength for each in ranges]
    assert yields == sorted(yields, reverse=True)
    assert all(each.yield_strength < each.ultimate_strength for each in ranges)


@pytest.mark.parametrize(
    ("millimetres", "megapascals"),
    [(5, 355), (16, 355), (16.1, 345), (40, 345), (63, 335), (80, 325), (100, 315)],
)
def test_yield_strength_falls_with_thickness(millimetres: float, megapascals: float) -> None:
    found = find_steel("S355", thickness=millimetres / 1000)
    assert (found.yield_strength, found.ultimate_strength) == (megapascals * 1e6, 470e6)


def test_a_steel_in_ksi_is_in_pascals() -> None:
    found = find_steel("a 572 gr 50")
    assert found.name == "A572 Gr 50"
    assert found.yield_strength == pytest.approx(344.738e6, rel=1e-6)
    assert found.ultimate_strength == pytest.approx(448.159e6, rel=1e-6)
    assert found.elastic_modulus == pytest.approx(199.948e9, rel=1e-6)
    assert found.expansion == pytest.approx(11.7e-6)
    assert found.unit_weight == pytest.approx(76972, rel=1e-4)


def test_units_are_those_of_a_study() -> None:
    for name, system in (("metric", METRIC), ("US", US)):
        expected = {kind: system.factors[kind] for kind in ("stress", "unit_weight", "expansion")}
        assert FACTORS[name] == {**expected, "thickness": system.factors["small_length"]}


@pytest.mark.parametrize(
    ("name", "told"),
    [("S350", "did you mean S35"), ("A500 Gr C", "A500 Gr C round"), ("oak", "there are S235, ")],
)
def test_an_unknown_steel_is_told_with_what_comes_near(name: str, told: str) -> None:
    with pytest.raises(InputError) as raised:
        find_steel(name)
    assert told in str(raised.value)


def test_a_thickness_beyond_the_standard_is_refused() -> None:
    with pytest.raises(InputError, match=r"S460 is given up to 63 mm, not for 70 mm"):
        find_steel("S460", thickness=0.070)
