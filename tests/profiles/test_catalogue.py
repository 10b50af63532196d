"""Profiles by name: bundled, paired, a user's own, and names that nothing has."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from explorer.sections.catalogue import bundled_tables, find_profile, find_table, list_pairs, list_profiles
from explorer.sections.reading import load_table
from explorer.sections.table import Table
from solver.errors import InputError

SIZES = [profile for table in bundled_tables() for profile in table.profiles]
ANGLES = ("EN 10056-1 L equal", "EN 10056-1 L unequal", "US L equal", "US L unequal")


@pytest.fixture
def own(tmp_path: Path) -> Table:
    path = tmp_path / "ours.csv"
    text = "# shape: angle\n# making: rolled\nsize,depth [mm],width [mm],thickness [mm],root_radius [mm]\n"
    path.write_text(text + "L 80x80x8,80,80,8,0\nbracket 7,70,50,6,5\n", encoding="utf-8")
    return load_table(path)


def test_every_bundled_size_is_found_by_its_name_and_by_its_table() -> None:
    for profile in SIZES:
        assert find_profile(profile.size) is profile
        assert find_profile(f"{profile.table} {profile.size}") is profile


def test_a_cold_formed_section_has_its_standard_in_its_name() -> None:
    hot, cold = find_profile("SHS 100x100x5"), find_profile("EN 10219-2 SHS 100x100x5")
    assert (hot.making, cold.making) == ("hot finished", "cold formed")
    assert (hot.size, cold.size) == ("SHS 100x100x5", "EN 10219-2 SHS 100x100x5")
    assert find_profile("EN 10210-2 SHS 100x100x5") is hot
    assert all(
        p.size.startswith("EN 10219-2 ") for p in SIZES if p.making == "cold formed" and "HSS" not in p.size
    )


def test_two_angles_are_found_by_the_name_of_one() -> None:
    one, two = find_profile("L 80x80x8"), find_profile("2L 80x80x8 gap 10")
    assert (two.size, two.shape, two.gap) == ("2L 80x80x8 gap 10", "paired angles", 0.010)
    assert (two.area, two.second_moment) == pytest.approx((2 * one.area, 2 * one.second_moment))
    assert find_profile("2 L 80 x 80 x 8  GAP 10 mm") == two
    assert find_profile("2L 80x80x8").gap == 0
    assert find_profile("2L 80x80x8 SLBB").size == "2L 80x80x8"


def test_gaps_are_in_the_units_of_the_angles() -> None:
    pair = find_profile("2L4X4X1/4 gap 3/8")
    assert pair.size == "2L4X4X1/4 gap 3/8"
    assert pair.gap == pytest.approx(0.009525)
    assert pair.stored == ("area", "second_moment", "across", "least")
    assert find_profile("2L4X4X1/4 gap 10 mm").gap == 0.010


def test_long_legs_are_back_to_back_unless_the_name_says_otherwise() -> None:
    long, short = find_profile("2L 150x90x10 LLBB gap 10"), find_profile("2L 150x90x10 SLBB gap 10")
    assert long == find_profile("2L 150x90x10 gap 10")
    assert (long.depth, short.depth) == (0.150, 0.090)
    assert (long.size, short.size) == ("2L 150x90x10 gap 10", "2L 150x90x10 SLBB gap 10")


@pytest.mark.parametrize("table", ANGLES)
def test_every_pair_is_found_by_the_name_it_is_given(table: str) -> None:
    unit = find_table(table).unit
    gap = Fraction(10, 1000) if unit == "mm" else Fraction("0.009525")
    for short in (False, True):
        for profile in list_pairs(table, gap, short):
            assert find_profile(profile.size) == profile


@pytest.mark.parametrize("table", [table.name for table in bundled_tables()])
def test_a_catalogue_is_in_order_of_area(table: str) -> None:
    sizes = list_profiles(table)
    assert [p.area for p in sizes] == sorted(p.area for p in find_table(table).profiles)
    assert len({p.size for p in sizes}) == len(sizes)


def test_a_table_of_ones_own_comes_first_and_its_angles_pair_up(own: Table) -> None:
    mine = find_profile("L 80x80x8", [own])
    assert mine.table == "ours"
    assert mine.area == pytest.approx(152e-6 * 8)
    assert find_profile("SHS 100x100x5", [own]).table == "EN 10210-2 SHS"
    assert find_profile("2bracket 7 gap 8", [own]).gap == 0.008
    assert [p.table for p in list_profiles("ours", [own])] == ["ours"] * 2


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("SHS 100x100x7", "did you mean SHS 100x100x8 or SHS 100x100x5"),
        ("2L 80x80x9 gap 10", "did you mean 2L 80x80x8"),
        ("HSS4X4X1", "did you mean HSS4X4X1/"),
        ("nonsense", "the tables are ASTM A500"),
        ("", "the tables are"),
        ("2SHS 100x100x5", "is no angle"),
        ("2L 80x80x8 gap ten", "the gap of 2L 80x80x8 gap ten is 'ten'; write a number of mm up to 100"),
        ("2L4X4X1/4 gap 10", "write a number of in up to 3.94"),
        ("9" * 500, "no name is so long"),
    ],
)
def test_a_name_that_nothing_has_is_told_with_what_comes_near(name: str, told: str) -> None:
    with pytest.raises(InputError) as raised:
        find_profile(name)
    assert told in str(raised.value)
    assert raised.value.culprits


def test_a_table_that_is_not_there_is_told_with_those_that_are(own: Table) -> None:
    with pytest.raises(InputError, match="there are ours, ASTM A500"):
        list_profiles("EN 0", [own])
    with pytest.raises(InputError, match="is no angle"):
        list_pairs("Rods")
