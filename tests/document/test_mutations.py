"""A study changed at random either reads or is told its faults; nothing else happens."""

from __future__ import annotations

import random
import re
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.bundled import list_bundled
from explorer.document import FaultyStudy, read_text
from solver.answers import answer
from solver.errors import MechanismError, UntrustworthyError
from tests.document.example import GOOD

STUDIES = [item.text() for item in list_bundled("study") if item.kind == "study"]
SNIPPETS = [
    "0", "-1", "1e400", "nan", "inf", "true", "[]", "{}", '""', '"x"', "[[1]]", "1_0", "\n", "=", "[", "]",
    "}", '"', "-", ".", ",", "#", "\x00", "é", "joints = 3\n", "[cases.new]\n", "weight = 1\n",
    "[[supports]]\n", "1e1000000",
    "0x" + "F" * 5000, "5" * 5000, "strips = 1\n", "size = 2\n", "[0, 0, 0]", "9999-99-99", "'''",
]  # fmt: skip

EVERY_RUN = 5
"""So many hundreds are tried in every run; the campaign tries the rest of two thousand."""

# Where a fault is: a key path, a line, or what is missing from, or too long in, the whole file.
PLACE = re.compile(r"changed\.toml: (\S+: |.*\(at (line|end)|neither a case nor|holds a whole number)")


def mutate(text: str, seed: int) -> str:
    chance = random.Random(seed)
    for _ in range(chance.randint(1, 4)):
        lines = text.split("\n")
        at, other = chance.randrange(len(lines)), chance.randrange(len(lines))
        place = chance.randrange(len(text) + 1)
        match chance.randrange(7):
            case 0:
                del lines[at]
                text = "\n".join(lines)
            case 1:
                lines.insert(other, lines[at])
                text = "\n".join(lines)
            case 2:
                lines[at], lines[other] = lines[other], lines[at]
                text = "\n".join(lines)
            case 3:
                text = text[:place] + text[place + chance.randint(1, 6) :]
            case 4:
                text = text[:place] + chance.choice(SNIPPETS) + text[place:]
            case 5:
                key, sign, _ = lines[at].partition("=")
                lines[at] = f"{key}= {chance.choice(SNIPPETS)}" if sign else lines[at]
                text = "\n".join(lines)
            case _:
                text = text[:place] + chr(chance.randrange(32, 127)) + text[place + 1 :]
    return text


@pytest.mark.parametrize(
    "hundred",
    [*range(EVERY_RUN), *(pytest.param(n, marks=pytest.mark.campaign) for n in range(EVERY_RUN, 20))],
)
def test_hundreds_of_random_changes_of_bundled_studies_read_or_are_told(hundred: int) -> None:
    told = 0
    for seed in range(100 * hundred, 100 * hundred + 100):
        try:
            document = read_text(mutate(STUDIES[seed % len(STUDIES)], seed), "changed.toml")
        except FaultyStudy as error:
            told += 1
            assert error.faults
            assert all(fault.file == "changed.toml" and PLACE.search(str(fault)) for fault in error.faults)
        else:
            with suppress(MechanismError, UntrustworthyError):
                assert answer(document.study).forces.still.shape == (len(document.study.truss.members),)
    # most changes break something, and not all do
    assert 20 < told < 100


@given(st.text() | st.binary())
def test_any_text_at_all_reads_or_is_told(content: str | bytes) -> None:
    with pytest.raises(FaultyStudy):
        read_text(content, "any.toml")


@given(st.integers(0, 2**32))
def test_changes_of_the_example_read_or_are_told(seed: int) -> None:
    try:
        read_text(mutate(GOOD, seed), "changed.toml")
    except FaultyStudy as error:
        assert str(error).startswith(("1 fault", f"{len(error.faults)} faults"))
