"""The record of checks against the outside world: source, what is checked, how many values agree.

A test names its source by a key of data/published/sources.toml, compares with the `agree_*` functions
and nothing else, and so counts what it has compared:

    @published("aashto_2002", "largest moment of the HS20 truck")
    def test_the_largest_moment_of_the_hs20_truck_is_that_of_the_table() -> None:
        agree_within(found, expected, 0.15)
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache, wraps
from pathlib import Path
from typing import Any, ParamSpec

import numpy as np
from numpy.typing import ArrayLike

FOLDER = Path(__file__).resolve().parents[2] / "data" / "published"
CERTAINTIES = ("seen, recomputed", "from memory, recomputed", "general library", "derived")
ROUNDING = 1e-12
"""What a printed half unit may be missed by, as a share of the value: a tie, put into binary."""

P = ParamSpec("P")


@dataclass(frozen=True)
class Source:
    """A publication; `certainty`: figures seen or remembered, computed by a general library, or derived."""

    title: str
    author: str
    place: str
    certainty: str
    year: str = ""

    @property
    def citation(self) -> str:
        """Author, title, year and place in one line."""
        parts = [part for part in (self.title, self.year, self.place) if part]
        return f"{self.author}: {', '.join(parts)} [{self.certainty}]"


@dataclass
class Check:
    """What is held against one source: the tests that do it and the number of values compared so far."""

    source: str
    what: str
    tests: set[str] = field(default_factory=set)
    values: int = 0


RECORD: dict[tuple[str, str], Check] = {}
_running: list[Check] = []


@cache
def sources() -> dict[str, Source]:
    """All sources by key, in the file's order."""
    return {key: Source(**entry) for key, entry in read("sources").items()}


@cache
def read(name: str) -> dict[str, Any]:
    """A table of published values, data/published/NAME.toml."""
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def published(key: str, what: str) -> Callable[[Callable[P, None]], Callable[P, None]]:
    """Enter a test in the record under the source `key`; the test must compare at least one value."""
    if key not in sources():
        raise KeyError(f"{key} is not in {FOLDER / 'sources.toml'}")
    check = RECORD.setdefault((key, what), Check(key, what))

    def enter(test: Callable[P, None]) -> Callable[P, None]:
        check.tests.add(f"{test.__module__}.{test.__name__}")

        @wraps(test)
        def run(*args: P.args, **kwargs: P.kwargs) -> None:
            before = check.values
            _running.append(check)
            try:
                test(*args, **kwargs)
            finally:
                _running.pop()
            assert check.values > before, "a published check that compares nothing"

        return run

    return enter


def agree_as_printed(found: ArrayLike, printed: str | Iterable[str]) -> None:
    """Hold values against numbers as printed, each to half a unit of its last printed digit."""
    texts = printed.split() if isinstance(printed, str) else list(printed)
    numbers = [Decimal(text) for text in texts]
    expected = np.array([float(number) for number in numbers])
    half = np.array([0.5 * 10.0 ** int(number.as_tuple().exponent) for number in numbers])
    agree_within(np.ravel(found), expected, half + ROUNDING * np.abs(expected))


def agree_within(found: ArrayLike, expected: ArrayLike, within: ArrayLike) -> None:
    """Hold values against expected ones, of the same shape, to a stated bound."""
    have, want = np.asarray(found, dtype=float), np.asarray(expected, dtype=float)
    assert have.shape == want.shape, f"{have.shape} values found, {want.shape} expected"
    bound = np.broadcast_to(np.asarray(within, dtype=float), want.shape)
    wrong = ~(np.abs(have - want) <= bound)
    report = [
        f"{place}: {have[place]!r} for {want[place]!r} within {bound[place]:.3g}"
        for place in map(tuple, np.argwhere(wrong)[:10])
    ]
    assert not wrong.any(), "; ".join(report)
    _count(want.size)


def agree_relatively(found: ArrayLike, expected: ArrayLike, share: float) -> None:
    """Hold values against expected ones to a `share` of the largest expected size."""
    want = np.asarray(expected, dtype=float)
    agree_within(found, want, share * np.abs(want).max())


def agree_exactly(found: object, expected: object) -> None:
    """Hold a rank, a name or a set of names against what it must be; a collection counts its entries."""
    assert found == expected, f"{found!r} for {expected!r}"
    counted = isinstance(expected, Collection) and not isinstance(expected, str)
    _count(max(1, len(expected)) if counted else 1)  # type: ignore[arg-type]


def _count(values: int) -> None:
    assert _running, "a comparison outside a published check"
    assert values, "an empty comparison"
    _running[-1].values += values
