"""Every bundled size agrees with its name, its neighbours and its kin."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

import pytest

from explorer.sections.catalogue import bundled_tables, find_profile
from explorer.sections.numbers import LENGTHS, read_number
from explorer.sections.table import Table
from solver.profiles.angle import rolled_angle
from solver.profiles.hollow import design_wall
from solver.profiles.profile import Profile

TABLES = bundled_tables()
NAMES = [table.name for table in TABLES]
each_table = pytest.mark.parametrize("table", TABLES, ids=NAMES)


def numbers_in(profile: Profile) -> list[Fraction]:
    """The dimensions that a size's name tells, as written."""
    told = re.sub(r"^(EN 10219-2 )?[A-Z]+ ?", "", profile.size).removesuffix(" in")
    found = [read_number(text) for text in re.split("[xX]", told)]
    assert None not in found, profile.size
    return [number for number in found if number is not None]


def told_dimensions(profile: Profile) -> list[float]:
    """The dimensions that a profile has, in the order of its name."""
    if profile.shape == "rod":
        return [profile.depth]
    if profile.shape in ("round hollow", "flat"):
        return [profile.depth, profile.thickness]
    return [profile.depth, profile.width, profile.thickness]


@each_table
def test_a_table_says_where_it_comes_from_and_how_sure_that_is(table: Table) -> None:
    for told in (table.title, table.standard, table.source, table.certainty, table.not_covered):
        assert len(told) > 3
    assert "from memory" in table.certainty


def test_there_is_a_useful_range_of_every_kind() -> None:
    # counts at least: a lost line shows
    least = {"CHS": 60, "SHS": 60, "RHS": 45, "ASTM A500": 90, "L equal": 60, "L unequal": 45, "ods": 30}
    for part, count in least.items():
        assert sum(len(table.entries) for table in TABLES if part in table.name) >= count, part


@each_table
def test_a_size_has_the_dimensions_of_its_name(table: Table) -> None:
    for profile in table.profiles:
        named = [number * LENGTHS[table.unit] for number in numbers_in(profile)]
        if table.name.startswith("ASTM A500"):
            named[-1] = design_wall(named[-1])
        assert told_dimensions(profile) == [float(value) for value in named], profile.size


@each_table
def test_a_size_is_possible(table: Table) -> None:
    for profile in table.profiles:
        assert profile.table == table.name
        assert 0 < profile.area <= profile.depth * profile.width
        assert 0 < profile.least_radius <= 1.02 * min(profile.radius, profile.radius_across)
        assert profile.least_radius < 0.5 * max(profile.depth, profile.width)
        if "hollow" in profile.shape:
            assert profile.thickness < min(profile.depth, profile.width) / 2
        if profile.shape in ("rectangular hollow", "angle", "flat"):
            assert profile.depth >= profile.width, "the larger dimension stands in the plane of the truss"


@each_table
def test_area_rises_with_thickness(table: Table) -> None:
    kin: dict[tuple[float, float], list[Profile]] = defaultdict(list)
    for profile in table.profiles:
        # of a rod the diameter, of a flat the depth alone tells its kin
        side = {"rod": (0.0, 0.0), "flat": (profile.depth, 0.0)}.get(
            profile.shape, (profile.depth, profile.width)
        )
        kin[side].append(profile)
    for sizes in kin.values():
        assert _rises(sorted(sizes, key=lambda profile: profile.thickness))


def _rises(sizes: Sequence[Profile]) -> bool:
    return all(a.thickness < b.thickness and a.area < b.area for a, b in pairwise(sizes))


def test_no_name_is_there_twice() -> None:
    sizes = [profile.size for table in TABLES for profile in table.profiles]
    assert len(set(sizes)) == len(sizes)


def test_a_cold_formed_box_has_less_area_than_the_hot_finished_one_of_its_name() -> None:
    hot = {profile.size: profile for table in TABLES for profile in table.profiles}
    compared = 0
    for size, profile in hot.items():
        kin = hot.get(size.removeprefix("EN 10219-2 "))
        if profile.shape != "rectangular hollow" or kin is None or kin is profile:
            continue
        compared += 1
        assert 0.93 < profile.area / kin.area < 1
    assert compared > 30


@pytest.mark.parametrize("name", ["US L equal", "US L unequal"])
def test_printed_angles_are_near_two_plain_rectangles(name: str) -> None:
    table = next(table for table in TABLES if table.name == name)
    for entry in table.entries:
        angle = entry.angle
        assert angle is not None
        plain = rolled_angle(angle.depth, angle.width, angle.thickness, 0.0)
        for part in ("area", "second_moment", "across", "centre_in_plane", "centre_across"):
            assert getattr(angle, part) == pytest.approx(getattr(plain, part), rel=0.025), entry.profile.size
        radius = (plain.least / plain.area) ** 0.5
        assert entry.profile.least_radius == pytest.approx(radius, rel=0.03), entry.profile.size
        assert entry.profile.stored == ("area", "second_moment", "across", "least")


def test_what_is_computed_says_so() -> None:
    assert find_profile("L 80x80x8").stored == ()
    assert find_profile("HSS4X4X1/4").stored == ()
