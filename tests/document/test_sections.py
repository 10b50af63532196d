"""Sections by size, steels by name, tables beside the study file; what the file itself says wins.

Properties are those that EN 10210-2 and EN 10056-1 print, to their last digit, strengths those of EN 10025-2;
sizes of tables made up here are worked out by hand.
"""

from __future__ import annotations

from math import pi, sqrt
from pathlib import Path

import pytest

from explorer.document import FaultyStudy, read_study, read_text
from solver.study import Study
from solver.truss import Group
from tests.document.example import GOOD, edited
from tests.document.section_faults import BOTTOM, NUMBERS, bottom, sized
from tests.document.test_faults import SPACE

WEIGHT = "unit_weight = 76\nexpansion = 12e-6"
TUBES = """\
# table: Teal tubes
# shape: round hollow
# making: cold formed
size,diameter [mm],wall [mm]
TUBE 76x3,76,3
TUBE 60x3,60,3
"""


def read(*changes: tuple[str, str], text: str = GOOD) -> Study:
    return read_text(edited(*changes, text=text), "teal.toml").study


def bottom_of(study: Study) -> Group:
    return study.truss.members[0].group


def beside(folder: Path, text: str, **tables: str) -> Study:
    """Read a study from a folder with tables in it."""
    for name, table in tables.items():
        (folder / f"{name}.csv").write_text(table, encoding="utf-8")
    (folder / "teal.toml").write_text(text, encoding="utf-8")
    return read_study(folder / "teal.toml").study


def listing(*names: str) -> tuple[str, str]:
    written = ", ".join(f'"{name}"' for name in names)
    return "zero_limit = 0", f"zero_limit = 0\nsection_tables = [{written}]"


def told_by(folder: Path, text: str, **tables: str) -> list[tuple[str, str]]:
    with pytest.raises(FaultyStudy) as caught:
        beside(folder, text, **tables)
    return [(fault.key, fault.wrong) for fault in caught.value.faults]


def test_a_size_gives_a_section_its_area_second_moment_and_radius() -> None:
    section = bottom_of(read(sized("SHS 100x100x5"))).section
    # EN 10210-2: 18.7 cm², 279 cm⁴, 3.86 cm
    assert section.name == "tube"
    assert section.area == pytest.approx(18.7e-4, abs=0.05e-4)
    assert section.second_moment == pytest.approx(279e-8, abs=0.5e-8)
    assert section.radius == pytest.approx(3.86e-2, abs=0.005e-2)
    assert section.profile is not None
    assert (section.profile.size, section.profile.depth) == ("SHS 100x100x5", 0.1)


def test_a_group_may_name_a_size_and_a_steel_itself() -> None:
    group = bottom_of(read(bottom("shs 100 x 100 x 5.0", "s355")))
    assert (group.section.name, group.material.name) == ("SHS 100x100x5", "S355")
    assert group.section.area == pytest.approx(18.7e-4, abs=0.05e-4)
    assert (group.material.elastic_modulus, group.material.yield_strength) == (210e9, 355e6)
    assert read(bottom("SHS 100x100x5", "S355")).notices == ()


def test_a_study_needs_no_sections_and_materials_of_its_own() -> None:
    start, end = GOOD.index("[materials.steel]"), GOOD.index("[groups.bottom]")
    bare = (GOOD[:start] + GOOD[end:]).replace('"tube"', '"L 80x80x8"').replace('"steel"', '"S235"')
    truss = read_text(bare, "teal.toml").study.truss
    assert {member.group.section.name for member in truss.members} == {"L 80x80x8"}


def test_turned_a_size_has_its_width_in_the_plane_of_the_truss() -> None:
    # EN 10210-2, RHS 100x50x5: 167 and 54.3 cm⁴, 3.48 and 1.99 cm
    flat = bottom_of(read(sized("RHS 100x50x5", "turned = true"))).section
    upright = bottom_of(read(sized("RHS 100x50x5", "turned = false"))).section
    assert upright.second_moment == pytest.approx(167e-8, abs=0.5e-8)
    assert flat.second_moment == pytest.approx(54.3e-8, abs=0.05e-8)
    assert flat.radius == pytest.approx(1.99e-2, abs=0.005e-2)
    assert flat.profile is not None
    assert upright.profile is not None
    assert (flat.profile.depth, flat.profile.width) == (0.05, 0.1)
    assert flat.profile.across == upright.second_moment
    assert (flat.profile.size, flat.area) == ("RHS 100x50x5 turned", upright.area)


def test_in_space_a_size_gives_its_weakest_axis() -> None:
    space = SPACE.replace("normal = 1.2", "load = [0, 0, 1]")
    # EN 10056-1, L 80x80x8: 12.3 cm², radii 2.43 and, least, 1.56 cm
    inside, outside = (bottom_of(read(sized("L 80x80x8"), text=text)).section for text in (space, GOOD))
    assert outside.radius == pytest.approx(2.43e-2, abs=0.005e-2)
    assert inside.radius == pytest.approx(1.56e-2, abs=0.01e-2)
    assert inside.second_moment == pytest.approx(12.3e-4 * 1.56e-2**2, rel=0.01)


def test_a_steel_has_the_strength_of_the_profiles_thickness() -> None:
    # EN 10025-2, S355: 355 MPa up to 16 mm, 345 MPa up to 40 mm
    strengths = [
        bottom_of(read(bottom(size, "S355"))).material.yield_strength for size in ("ROD 16", "ROD 20")
    ]
    assert strengths == [355e6, 345e6]


def test_a_steel_of_a_section_without_a_size_is_of_the_thinnest_range_and_a_notice_says_so() -> None:
    study = read(bottom("tube", "S355"))
    assert bottom_of(study).material.yield_strength == 355e6
    (notice,) = study.notices
    assert notice.startswith("group bottom: section tube has no size, so that steel S355")
    # A500 Gr B has one range alone
    assert read(bottom("tube", "A500 Gr B round")).notices == ()


@pytest.mark.parametrize("asked", ["SHS 100x100x5", "shs 100x100x5.0"])
def test_the_studys_own_section_wins_over_a_bundled_size_with_a_notice(asked: str) -> None:
    own = ("[sections.tube]", '[sections."SHS 100x100x5"]\narea = 1234\n[sections.tube]')
    study = read(own, bottom(asked))
    assert bottom_of(study).section.area == pytest.approx(1234e-6, rel=1e-12)
    assert study.notices == ("the study's own section SHS 100x100x5 is taken, not the size of a table",)


@pytest.mark.parametrize("asked", ["S355", "s 355"])
def test_the_studys_own_material_wins_over_a_bundled_steel_with_a_notice(asked: str) -> None:
    own = ("[materials.steel]", f"[materials.S355]\nE = 205_000\n{WEIGHT}\n[materials.steel]")
    study = read(own, bottom("SHS 100x100x5", asked))
    assert bottom_of(study).material.elastic_modulus == 205e9
    assert bottom_of(study).material.yield_strength is None
    assert study.notices == ("the study's own material S355 is taken, not the bundled one",)


def test_a_table_beside_the_study_file_gives_sizes(tmp_path: Path) -> None:
    text = edited(listing("tubes.csv"), bottom("TUBE 60x3"))
    study = beside(tmp_path, text, tubes=TUBES)
    # a ring of 60 and 54 mm: pi/4 (60² - 54²) mm², radius sqrt(60² + 54²) / 4
    assert bottom_of(study).section.area == pytest.approx(pi / 4 * (60**2 - 54**2) * 1e-6, rel=1e-12)
    assert bottom_of(study).section.radius == pytest.approx(sqrt(60**2 + 54**2) / 4000, rel=1e-12)
    assert study.notices == ()


def test_a_table_in_a_folder_below_is_read_and_its_text_alone_with_a_folder_too(tmp_path: Path) -> None:
    (tmp_path / "tables").mkdir()
    (tmp_path / "tables" / "tubes.csv").write_text(TUBES, encoding="utf-8")
    text = edited(listing("tables/tubes.csv"), bottom("TUBE 76x3"))
    study = read_text(text, "teal.toml", tmp_path).study
    assert bottom_of(study).section.name == "TUBE 76x3"


def test_a_table_of_ones_own_wins_over_bundled_ones_with_notices(tmp_path: Path) -> None:
    own = TUBES.replace("TUBE 60x3", "CHS 60.3x3.2").replace("Teal tubes", "EN 10210-2 CHS")
    study = beside(tmp_path, edited(listing("tubes.csv"), bottom("CHS 60.3x3.2")), tubes=own)
    assert bottom_of(study).section.area == pytest.approx(pi / 4 * (60**2 - 54**2) * 1e-6, rel=1e-12)
    assert study.notices == (
        "the study's own table EN 10210-2 CHS is taken, not the bundled one",
        "of the study's own table EN 10210-2 CHS is taken, not the bundled one: CHS 60.3x3.2",
    )


def test_every_fault_of_a_table_is_told_at_its_place_in_the_list(tmp_path: Path) -> None:
    wrong = TUBES.replace("60,3", "60,31").replace("76,3", "76,three")
    told = told_by(tmp_path, edited(listing("tubes.csv")), tubes=wrong)
    assert [key for key, _ in told] == ["section_tables[0]"] * 2
    assert told[0][1].startswith("tubes.csv: row 5, column wall: 'three' is not a number")
    assert told[1][1].startswith("tubes.csv: row 6, column wall (size TUBE 60x3)")


def test_a_size_of_a_table_with_a_fault_is_not_told_as_unknown(tmp_path: Path) -> None:
    family = ("[pieces.bottom]", '[families.light]\ntable = "Teal tubes"\n[pieces.bottom]')
    told = told_by(tmp_path, edited(listing("tubes.csv"), bottom("TUBE 60x3"), family))
    assert told == [("section_tables[0]", "tubes.csv: cannot be read: No such file or directory")]
    # a text without a folder: likewise the one fault
    with pytest.raises(FaultyStudy) as caught:
        read(listing("tubes.csv"), bottom("TUBE 60x3"))
    assert [fault.key for fault in caught.value.faults] == ["section_tables"]


@pytest.mark.parametrize("name", ["../tubes.csv", "/etc/passwd", "", "a\\u0000b.csv"])
def test_a_table_outside_the_studys_folder_is_not_read(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "inner"
    folder.mkdir()
    (tmp_path / "tubes.csv").write_text(TUBES, encoding="utf-8")
    ((key, wrong),) = told_by(folder, edited(listing(name)))
    assert key == "section_tables[0]"
    assert "is no file in the study's folder" in wrong


def test_a_link_out_of_the_studys_folder_is_not_followed(tmp_path: Path) -> None:
    folder = tmp_path / "inner"
    folder.mkdir()
    (tmp_path / "tubes.csv").write_text(TUBES, encoding="utf-8")
    (folder / "tubes.csv").symlink_to(tmp_path / "tubes.csv")
    ((_, wrong),) = told_by(folder, edited(listing("tubes.csv")))
    assert "is no file in the study's folder" in wrong


def test_two_tables_of_one_name_or_with_one_size_are_told(tmp_path: Path) -> None:
    text = edited(listing("tubes.csv", "again.csv"))
    ((key, wrong),) = told_by(tmp_path, text, tubes=TUBES, again=TUBES)
    assert (key, wrong) == ("section_tables[1]", "a table 'Teal tubes' is there already")
    other = TUBES.replace("Teal tubes", "More tubes").replace("TUBE 60x3", "tube 76 x 3.5")
    ((key, wrong),) = told_by(tmp_path, text, tubes=TUBES, again=other)
    assert (key, wrong) == ("section_tables[1]", "size 'TUBE 76x3' stands in table 'Teal tubes' too")


def test_more_than_20_tables_are_refused_before_any_is_read(tmp_path: Path) -> None:
    told = told_by(tmp_path, edited(listing(*(f"t{i}.csv" for i in range(21)))))
    assert told == [("section_tables", "21 tables")]


def test_what_a_table_says_of_itself_reaches_no_terminal_as_it_is(tmp_path: Path) -> None:
    # a column named with a control character of terminals, quoted as spreadsheets do
    evil = TUBES.replace("wall [mm]", "w\x1b[31m [mm]")
    for _, wrong in told_by(tmp_path, edited(listing("tubes.csv")), tubes=evil):
        assert wrong.isprintable()


def test_thousands_of_unknown_sizes_are_told_in_seconds_each_at_its_key() -> None:
    groups = "".join(
        f'[groups.g{i}]\nmembers = ["L0-L2"]\nsection = "2SHS {i}x7x3"\nmaterial = "steel"\n'
        for i in range(3000)
    )
    with pytest.raises(FaultyStudy) as caught:
        read(("[pieces.bottom]", f"{groups}[pieces.bottom]"))
    keys = {fault.key for fault in caught.value.faults}
    assert {f"groups.g{i}.section" for i in range(3000)} <= keys


def test_a_groups_connections_and_effective_lengths_are_read() -> None:
    keys = (
        'net_area = 900\nshear_lag = 0.85\nconnected = "short leg"\neffective = [0.9, 1.5]\nfamily = "light"'
    )
    light = ("[pieces.bottom]", '[families.light]\nsizes = ["tube"]\n[pieces.bottom]')
    making = bottom_of(read(bottom("L 80x80x8", "S235", keys), light)).making
    assert making.net_area == pytest.approx(900e-6, rel=1e-12)
    assert (making.shear_lag, making.connected, making.family) == (0.85, "short leg", "light")
    assert making.effective == (0.9, 1.5)
    plain = bottom_of(read()).making
    assert (plain.net_area, plain.shear_lag, plain.family) == (None, None, None)
    assert (plain.connected, plain.effective) == ("both legs", (1.0, 1.0))


def test_a_net_area_in_square_inches_and_one_as_large_as_the_area() -> None:
    us = ('units = "metric"', 'units = "US"')
    making = bottom_of(read(us, bottom("tube", beside="net_area = 1500"))).making
    assert making.net_area == pytest.approx(1500 * 0.0254**2, rel=1e-12)


def test_the_edits_of_these_tests_are_those_of_the_example() -> None:
    assert GOOD.count(NUMBERS) == GOOD.count(BOTTOM) == 1
