"""Families: sizes by name or a table, whole or in part, singly or in pairs, in order of area."""

from __future__ import annotations

from pathlib import Path

import pytest

from explorer.bundled import data_folder
from explorer.document import FaultyStudy, read_text
from solver.truss import Section
from tests.document.example import edited
from tests.document.section_faults import family
from tests.document.test_sections import TUBES, beside, listing


def light(keys: str, units: str = "metric") -> tuple[Section, ...]:
    changes = (family(keys), ('units = "metric"', f'units = "{units}"'))
    return read_text(edited(*changes), "teal.toml").study.rules.families["light"]


def names(keys: str) -> list[str]:
    return [section.name for section in light(keys)]


def test_sizes_and_sections_of_the_study_come_in_order_of_area() -> None:
    # EN 10210-2: 18.7 and 8.79 cm²; the study's own tube has 15 cm²
    found = light('sizes = ["SHS 100x100x5", "tube", "SHS 60x60x4"]')
    assert [section.name for section in found] == ["SHS 60x60x4", "tube", "SHS 100x100x5"]
    areas = [round(section.area * 1e4, 2) for section in found]
    assert areas == [8.79, 15.0, 18.73]


def test_a_table_is_taken_whole() -> None:
    lines = (data_folder() / "sections" / "en_10210_shs.csv").read_text(encoding="utf-8").splitlines()
    sizes = [line.split(",")[0] for line in lines if line.startswith("SHS")]
    found = light('table = "EN 10210-2 SHS"')
    assert sorted(section.name for section in found) == sorted(sizes)
    areas = [section.area for section in found]
    assert areas == sorted(areas)
    assert all(section.profile and section.radius == section.profile.radius for section in found)


def test_a_part_of_a_table_runs_from_one_size_to_another_by_area_both_counted() -> None:
    # EN 10060: round bars, the area grows with the diameter
    assert names('table = "rods"\nfrom = "ROD 12"\nto = "rod 20"') == [
        "ROD 12",
        "ROD 14",
        "ROD 16",
        "ROD 18",
        "ROD 20",
    ]
    whole = names('table = "Rods"')
    assert names('table = "Rods"\nfrom = "ROD 12"') == whole[whole.index("ROD 12") :]
    assert names('table = "Rods"\nto = "ROD 12"') == whole[: whole.index("ROD 12") + 1]


def test_sizes_of_a_cold_formed_table_may_be_named_without_its_standard() -> None:
    keys = 'table = "EN 10219-2 SHS"\nfrom = "SHS 100x100x5"\nto = "EN 10219-2 SHS 100x100x5"'
    assert names(keys) == ["EN 10219-2 SHS 100x100x5"]


def test_angles_of_a_table_make_pairs_with_a_gap() -> None:
    keys = 'table = "EN 10056-1 L equal"\nfrom = "L 80x80x8"\nto = "L 80x80x8"'
    (single,), (pair,) = light(keys), light(f"{keys}\npairs_gap = 10")
    assert (single.name, pair.name) == ("L 80x80x8", "2L 80x80x8 gap 10")
    assert pair.area == pytest.approx(2 * single.area, rel=1e-12)
    assert pair.profile is not None
    assert pair.profile.gap == pytest.approx(0.010, rel=1e-12)
    (touching,) = light(f"{keys}\npairs_gap = 0")
    assert touching.name == "2L 80x80x8"


def test_a_gap_in_a_study_in_us_units_is_in_inches() -> None:
    keys = 'table = "US L equal"\nfrom = "L4X4X1/4"\nto = "L4X4X1/4"\npairs_gap = 0.375'
    (pair,) = light(keys, "US")
    assert pair.name == "2L4X4X1/4 gap 3/8"


def test_a_table_beside_the_study_file_makes_a_family(tmp_path: Path) -> None:
    text = edited(listing("tubes.csv"), family('table = "teal tubes"'))
    found = beside(tmp_path, text, tubes=TUBES).rules.families["light"]
    assert [section.name for section in found] == ["TUBE 60x3", "TUBE 76x3"]


def test_a_table_of_more_than_400_sizes_must_be_narrowed(tmp_path: Path) -> None:
    # walls from 1.00 to 5.00 mm: 401 sizes, the area grows with the wall
    walls = [f"{wall / 100:.2f}" for wall in range(100, 501)]
    table = "\n".join([*TUBES.splitlines()[:4], *(f"TUBE {wall},60,{wall}" for wall in walls)])
    with pytest.raises(FaultyStudy) as caught:
        beside(tmp_path, edited(listing("tubes.csv"), family('table = "Teal tubes"')), tubes=table)
    assert [(fault.key, fault.wrong) for fault in caught.value.faults] == [("families.light", "401 sizes")]
    part = family('table = "Teal tubes"\nfrom = "TUBE 1.01"')
    found = beside(tmp_path, edited(listing("tubes.csv"), part), tubes=table).rules.families["light"]
    assert (len(found), found[0].name, found[-1].name) == (400, "TUBE 1.01", "TUBE 5.00")
