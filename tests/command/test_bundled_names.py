"""What comes with Stillbar, by name: in any case, by the nearest names, and a size by its table."""

from __future__ import annotations

import pytest

from explorer import command
from explorer.bundled import find_bundled
from solver.errors import InputError


def printed(name: str, capsys: pytest.CaptureFixture[str]) -> tuple[int, str, str]:
    status = command.main(["bundled", name])
    told = capsys.readouterr()
    return status, told.out, told.err


def test_names_are_found_in_any_case() -> None:
    assert find_bundled("s355").name == "S355"
    assert find_bundled("en 10210-2 shs").name == "EN 10210-2 SHS"
    assert find_bundled("Study/Avocet_Bridge".lower()).name == "avocet_bridge"


def test_of_a_name_that_is_not_there_the_nearest_of_all_kinds_are_told() -> None:
    for name, meant in (("avocet_brdge", "avocet_bridge"), ("S3555", "S355"), ("lm_71", "lm71")):
        with pytest.raises(InputError, match=f"did you mean .*{meant}"):
            find_bundled(name)
    with pytest.raises(InputError, match="there are avocet_bridge"):
        find_bundled("nothing")


def test_a_size_prints_the_table_that_has_it(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = printed("SHS 100x100x5", capsys)
    assert status == 0 and out == find_bundled("section/EN 10210-2 SHS").text()
    assert "\n100,5" in out or "100x100x5" in out
    status, out, err = printed("SHS 100x100x555", capsys)
    assert (status, out) == (2, "") and "did you mean SHS 100x100x5" in err
