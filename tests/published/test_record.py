"""The record itself: what it counts, what it refuses, and that every source in the file is used."""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import numpy as np
import pytest

from tests.published import record
from tests.published.__main__ import lines
from tests.published.record import (
    CERTAINTIES,
    RECORD,
    Check,
    agree_as_printed,
    agree_exactly,
    agree_relatively,
    agree_within,
    published,
    sources,
)

KEY = "fractions"


@pytest.fixture
def check() -> Iterator[Check]:
    """A check as if one of its tests were running."""
    running = Check(KEY, "for the record")
    record._running.append(running)
    yield running
    record._running.pop()


def test_every_source_of_the_file_is_used_and_says_how_sure_it_is() -> None:
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        import_module(f"tests.published.{path.stem}")
    assert {check.source for check in RECORD.values()} == set(sources())
    assert {source.certainty for source in sources().values()} == set(CERTAINTIES)


def test_a_printed_number_is_held_to_half_a_unit_of_its_last_digit(check: Check) -> None:
    agree_as_printed([2.65625, 0.49, -12.4], "2.656 0 -12")
    assert check.values == 3
    for found, printed in ((2.6566, "2.656"), (0.51, "0"), (-2.656, "2.656"), (12.06, "12.0")):
        with pytest.raises(AssertionError):
            agree_as_printed(found, printed)


def test_a_tie_counts_as_agreeing_from_either_side(check: Check) -> None:
    agree_as_printed([0.0625, 0.0625], "0.062 0.063")
    assert check.values == 2


@pytest.mark.parametrize(
    ("found", "expected"),
    [([1.0, np.nan], [1.0, 1.0]), ([1.0], [1.0, 1.0]), ([1.0, 1.2], [1.0, 1.0]), ([[1.0]], [1.0])],
)
def test_values_off_not_a_number_or_of_another_shape_do_not_agree(
    check: Check, found: object, expected: list[float]
) -> None:
    with pytest.raises(AssertionError):
        agree_within(found, expected, 0.1)  # type: ignore[arg-type]
    assert check.values == 0


def test_a_relative_bound_is_a_share_of_the_largest_expected(check: Check) -> None:
    agree_relatively([100.09, 0.09], [100.0, 0.0], 1e-3)
    with pytest.raises(AssertionError):
        agree_relatively([100.0, 0.11], [100.0, 0.0], 1e-3)
    assert check.values == 2


def test_a_set_counts_its_entries_and_a_name_one(check: Check) -> None:
    agree_exactly({"A", "B"}, {"B", "A"})
    agree_exactly("AB", "AB")
    with pytest.raises(AssertionError):
        agree_exactly(11, 12)
    assert check.values == 3


def test_an_empty_comparison_and_one_outside_a_check_are_refused(check: Check) -> None:
    with pytest.raises(AssertionError, match="empty"):
        agree_within([], [], 1.0)
    record._running.pop()
    try:
        with pytest.raises(AssertionError, match="outside"):
            agree_exactly(1, 1)
    finally:
        record._running.append(check)


def test_a_source_that_is_not_in_the_file_is_refused() -> None:
    with pytest.raises(KeyError, match="nowhere"):
        published("nowhere", "nothing")


def test_a_check_that_compares_nothing_fails_and_one_that_does_is_counted() -> None:
    before = dict(RECORD)
    try:
        enter = published(KEY, "for the record")
        with pytest.raises(AssertionError, match="compares nothing"):
            enter(lambda: None)()
        enter(lambda: agree_exactly(7, 7))()
        (told,) = [line for line in lines(list(RECORD.values())) if "for the record" in line]
        assert told.split()[0] == "1"
    finally:
        RECORD.clear()
        RECORD.update(before)
