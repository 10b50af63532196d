"""Tables of sections and steels are listed and printed by the names under which a study finds them."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from explorer.bundled import KINDS, data_folder, find_bundled, list_bundled
from explorer.command import main
from explorer.sections.catalogue import bundled_tables, find_table
from explorer.sections.reading import load_table
from explorer.sections.steels import bundled_steels
from solver.errors import InputError

TABLES, STEELS = list_bundled("section"), list_bundled("material")


def test_every_table_is_listed_by_the_name_under_which_it_is_found() -> None:
    assert {item.name: item.title for item in TABLES} == {
        table.name: table.title for table in bundled_tables()
    }
    assert len(TABLES) == len(list((data_folder() / "sections").glob("*.csv")))


def test_every_steel_is_listed_by_the_name_under_which_it_is_found() -> None:
    assert {item.name: item.title for item in STEELS} == {
        name: steel.title for name, steel in bundled_steels().items()
    }


def test_studies_come_first_then_trains_sections_and_materials() -> None:
    kinds = [item.kind for item in list_bundled()]
    assert list(dict.fromkeys(kinds)) == list(KINDS) == ["study", "train", "section", "material"]
    assert kinds == sorted(kinds, key=list(KINDS).index)


@pytest.mark.parametrize("name", [item.name for item in TABLES])
def test_a_printed_table_is_a_table_of_ones_own(name: str, tmp_path: Path) -> None:
    (tmp_path / "mine.csv").write_text(find_bundled(name).text(), encoding="utf-8")
    assert load_table(tmp_path / "mine.csv") == find_table(name)


@pytest.mark.parametrize("name", [item.name for item in STEELS])
def test_a_printed_steel_is_itself_alone_with_its_units_and_source(name: str) -> None:
    text = find_bundled(name).text()
    whole = tomllib.loads((data_folder() / "materials" / "steels.toml").read_text(encoding="utf-8"))
    assert tomllib.loads(text) == {name: whole[name]}
    assert whole[name]["source"]
    assert "MPa" in text.partition("[")[0]
    assert text.endswith("\n")
    assert not text.endswith("\n\n")


def test_the_command_lists_and_prints_them(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["bundled"]) == 0
    listed = capsys.readouterr().out
    for item in (*TABLES, *STEELS):
        assert any(line.startswith(f"{item.kind}  {item.name} ") for line in listed.splitlines())
    assert main(["bundled", "section/EN 10210-2 SHS"]) == 0
    assert capsys.readouterr().out == find_bundled("EN 10210-2 SHS").text()
    assert main(["bundled", "material/S355"]) == 0
    assert "[S355]" in capsys.readouterr().out


def test_an_unknown_name_is_told_with_the_names_of_its_kind() -> None:
    with pytest.raises(InputError, match=r"there are .*S235, S275, S355.*stillbar bundled"):
        find_bundled("material/kryptonite")
    with pytest.raises(InputError, match=r"there are avocet_bridge.*stillbar bundled"):
        find_bundled("kryptonite")
