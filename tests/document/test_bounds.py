"""Numbers, names and files beyond all bounds are told at once; nothing ends in a crash or without an end."""

from __future__ import annotations

from pathlib import Path

import pytest

from explorer.document import FaultyStudy, read_study, read_text
from tests.document.example import edited

# fact, change, key path of the only fault, words of its message
BOUNDS = [
    (
        "an exponent beyond exact arithmetic",
        ("area = 1500", "area = 1e1000000"),
        "sections.tube.area",
        "range",
    ),
    ("a negative one", ("U1 = [4, 3]", "U1 = [4, -1e999999999]"), "joints.U1[1]", "out of range"),
    ("a number far too small", ("area = 1500", "area = 1e-9999999"), "sections.tube.area", "out of range"),
    ("a long whole number", ("area = 1500", f"area = 0x{'F' * 5000}"), "sections.tube.area", "0xff"),
    ("a long whole number for a text", ('"Teal Ford footbridge"', f"0x{'F' * 5000}"), "title", "0xff"),
    ("101 digits", ("area = 1500", f"area = 1.{'5' * 100}"), "sections.tube.area", "101 digits"),
    ("a million digits", ("area = 1500", f"area = 1.{'5' * 10**6}"), "sections.tube.area", "digits"),
]


@pytest.mark.parametrize(
    ("change", "key", "words"), [row[1:] for row in BOUNDS], ids=[row[0] for row in BOUNDS]
)
def test_a_number_beyond_all_bounds_is_told(change: tuple[str, str], key: str, words: str) -> None:
    with pytest.raises(FaultyStudy, match=words) as caught:
        read_text(edited(change), "teal.toml")
    assert [fault.key for fault in caught.value.faults] == [key]
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize("zero", ["0e999999999999", "-0e-999999999999", "0.0"])
def test_zero_is_zero_whatever_its_exponent(zero: str) -> None:
    study = read_text(edited(("L0 = [0, 0]", f"L0 = [{zero}, 0]")), "teal.toml").study
    assert study.truss.coordinates[0] == (0, 0)


@pytest.mark.parametrize("edge", ["1e30", "1e-30", f"1.{'0' * 98}1"])
def test_a_number_at_the_bounds_is_read(edge: str) -> None:
    limited = edited(("zero_limit = 0", f"zero_limit = {edge}"))
    assert read_text(limited, "teal.toml").study.zero_limit == pytest.approx(1000 * float(edge), rel=1e-15)


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="this system has no file without end")
def test_a_file_without_end_is_told() -> None:
    with pytest.raises(FaultyStudy, match="larger than 8 MB"):
        read_study(Path("/dev/zero"))


def test_nothing_in_a_name_reaches_the_terminal_as_it_is() -> None:
    with pytest.raises(FaultyStudy) as caught:
        read_text(edited(("[cases.wind]", '[cases."w\\u001b[31m\\u202ex"]')), "teal.toml")
    (fault,) = caught.value.faults
    assert fault.key == 'cases."w\\u001b[31m\\u202ex"'
    assert str(fault).isprintable()


def test_held_directions_may_be_written_in_any_length() -> None:
    uneven = edited(('L0 = "xy"', "L0 = [[1e-20, 0], [0, 1e10]]"), ("{ L2 = [0, -10] }", "{ L0 = [3, -10] }"))
    settlement = read_text(uneven, "teal.toml").study.cases["frost"].settlement
    assert settlement[0] == pytest.approx((0.003, -0.01), rel=1e-15)
