"""Reading a user's own table: what it gives, and every fault with its row and column."""

from __future__ import annotations

from pathlib import Path

import pytest

from explorer.sections.reading import load_table
from explorer.sections.table import Table
from solver.errors import InputError

TUBES = """# shape: round hollow
# making: hot finished
size,diameter [mm],wall [mm]
CHS 100x5,100,5
CHS 100x8,100,8
"""


def load(folder: Path, text: str | bytes) -> Table:
    path = folder / "mine.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return load_table(path)


def fault(folder: Path, text: str | bytes) -> str:
    with pytest.raises(InputError) as raised:
        load(folder, text)
    return str(raised.value)


def test_a_table_needs_only_its_shape_and_making(tmp_path: Path) -> None:
    table = load(tmp_path, TUBES)
    assert (table.name, table.title, table.shape, table.unit) == ("mine", "mine", "round hollow", "mm")
    assert [profile.size for profile in table.profiles] == ["CHS 100x5", "CHS 100x8"]
    assert table.profiles[0].area == pytest.approx(3.14159265 * 95e-3 * 5e-3)
    assert table.profiles[0].table == "mine"


def test_heads_tell_where_a_table_comes_from(tmp_path: Path) -> None:
    table = load(tmp_path, "# table: Our tubes\n# standard: EN 1: 2, annex A\n# a remark\n" + TUBES)
    assert (table.name, table.standard, table.short_standard) == ("Our tubes", "EN 1: 2, annex A", "EN 1")
    assert table.profiles[0].table == "Our tubes"


def test_a_spreadsheet_may_set_empty_cells_quotes_and_blank_lines(tmp_path: Path) -> None:
    text = '\ufeff"# shape: round hollow",,\n# making: hot finished,,\n,,\nsize,diameter [mm],wall [mm],\n'
    assert load(tmp_path, text + "CHS 100x5,100,5,\n\n").profiles == load(tmp_path, TUBES).profiles[:1]


def test_semicolons_bring_decimal_commas(tmp_path: Path) -> None:
    text = "# shape: round hollow;;\n# making: hot finished;;\nsize;diameter [mm];wall [mm]\n"
    text += "CHS 100x6,3;100;6,3\n"
    (profile,) = load(tmp_path, text).profiles
    assert (profile.size, profile.thickness) == ("CHS 100x6.3", 0.0063)


def test_each_column_has_its_own_unit(tmp_path: Path) -> None:
    text = "# shape: flat\n# making: rolled\nsize,depth [cm],thickness [in],area [cm²],second_moment [cm^4]\n"
    (profile,) = load(tmp_path, text + "F,10,1/2,12.6,105\n").profiles
    assert (profile.depth, profile.thickness) == (0.1, 0.0127)
    assert (profile.area, profile.second_moment) == pytest.approx((12.6e-4, 105e-8))
    assert profile.stored == ("area", "second_moment")


def test_printed_properties_replace_those_of_the_dimensions(tmp_path: Path) -> None:
    text = "# shape: rectangular hollow\n# making: cold formed\n# corners: sharp\n"
    text += "size,depth [mm],width [mm],wall [mm],area [mm2],across [mm4],least_radius [mm]\n"
    (profile,) = load(tmp_path, text + "B,100,50,5,1300,520000,19.9\n").profiles
    assert (profile.area, profile.across) == pytest.approx((1300e-6, 520000e-12))
    assert profile.least_radius == pytest.approx(19.9e-3)
    assert profile.second_moment == pytest.approx((50 * 100**3 - 40 * 90**3) / 12 * 1e-12)
    assert profile.stored == ("area", "across", "least")


HEAD = "# shape: round hollow\n# making: hot finished\nsize,diameter [mm],wall [mm]\n"
ANGLES = "# shape: angle\n# making: rolled\n"
BOX = "# shape: rectangular hollow\n# making: hot finished\n"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (HEAD + "A,100,five\n", "row 4, column wall: 'five' is not a number; write a number such as 6.3"),
        (HEAD + "A,100,\n", "row 4, column wall: is empty"),
        (HEAD + "A,100\n", "row 4, column wall: is empty"),
        (HEAD + "A,100,60\n", "row 4, column wall (size A): must be less than half the diameter"),
        (HEAD + "A,100,-5\n", "row 4, column wall: '-5' is not a number"),
        (HEAD + "A,100,0\n", "row 4, column wall: 0 mm is outside of 0.1 mm to 10 m; check its unit"),
        (HEAD + "A,20000,5\n", "row 4, column diameter: 20000 mm is outside"),
        (HEAD + ",100,5\n", "row 4, column size: is empty"),
        (HEAD + "=A1,100,5\n", "row 4, column size: '=A1' cannot be a name; begin it with"),
        (HEAD + "A x 5,100,5\n\nAx5.0,100,5\n", "row 6, column size: Ax5.0 is there already, in row 4"),
        (HEAD + "A,100,5,7\n", "row 4, has 4 cells for 3 columns"),
        (HEAD + "A" * 3000 + ",100,5\n", "row 4, has 3006 characters"),
        (HEAD, "mine.csv: has no sizes"),
        ("", "has no line of column names"),
        (
            TUBES.replace("wall [mm]", "wal [mm]"),
            "column wal [mm]: is unknown for the shape round hollow; did you",
        ),
        (TUBES.replace("wall [mm]", "wal [mm]"), "column wall: is missing; add wall [mm]"),
        (TUBES.replace("wall [mm]", "wall"), "column wall: has no known unit; write wall [mm]"),
        (TUBES.replace("wall [mm]", "wall [kN]"), "column wall [kN]: has no known unit"),
        (TUBES.replace("size", "diameter [mm]"), "column diameter [mm]: is there twice"),
        (TUBES.replace("size,", ","), "column size: is missing; add size"),
        (HEAD[:-1] + ",nominal_wall [in]\nA,100,5,1/4\n", "column nominal_wall: stands beside wall"),
        (TUBES.replace("round hollow", "round"), "shape is 'round'; write one of round hollow, rectangular"),
        (
            TUBES.replace("# making: hot finished\n", ""),
            "does not say its making; begin with a line # making: hot",
        ),
        (BOX + "size,depth [mm],width [mm],wall [mm]\nA,100,100,5\n", "does not say its corners"),
        (ANGLES + "size,depth [mm],width [mm],thickness [mm]\nL,80,80,8\n", "column root_radius: is missing"),
        (
            ANGLES + "size,depth [mm],width [mm],thickness [mm],area [mm2]\nL,80,80,8,1230\n",
            "column centre_across: is missing; add centre_across [mm]",
        ),
        (
            HEAD.replace("wall [mm]", "wall [mm],area [mm2]") + "A,100,5,14.9\n",
            "row 4, column area (size A): is 0.00998 times what the dimensions give: check it and its unit",
        ),
        (
            HEAD.replace("wall [mm]", "wall [mm],least_radius [mm]") + "A,100,5,35\n",
            "column least_radius (size A): makes the weakest axis stronger than the others",
        ),
        (b"# shape: round hollow\n\xff\xfe", "is not text in UTF-8"),
        (b"#" * 2_000_001, "is larger than 2 MB"),
    ],
)
def test_a_fault_is_told_with_its_place_and_what_is_right(
    tmp_path: Path, text: str | bytes, told: str
) -> None:
    assert told in fault(tmp_path, text)


def test_all_faults_are_told_together_and_very_many_are_counted(tmp_path: Path) -> None:
    assert len(fault(tmp_path, HEAD + "A,a,b\nB,100,x\n").splitlines()) == 3
    many = fault(tmp_path, HEAD + "".join(f"A{i},100,x\n" for i in range(50)))
    assert len(many.splitlines()) == 21
    assert many.endswith("and 30 more")


def test_a_file_that_is_not_there_is_an_input_fault(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be read"):
        load_table(tmp_path / "nothing.csv")
