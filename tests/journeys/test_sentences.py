"""Every number in the five sentences on the page stands in the tables that `run` writes."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest

from explorer.bundled import list_bundled
from explorer.command import main
from explorer.document import read_text
from solver.study import Study
from tests.journeys.conftest import Open

Rows = list[dict[str, str]]
NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?:e-?\d+)?(?![\w])")
NAMES = [item.name for item in list_bundled("study")]


@pytest.fixture(scope="module")
def tables(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Rows]]:
    """The tables of every bundled study, from the command itself."""
    found = {}
    for name in NAMES:
        folder = tmp_path_factory.mktemp(name)
        assert main(["run", name, "--out", str(folder)]) == 0
        found[name] = {path.stem: read(path) for path in folder.glob("*.csv")}
    return found


def read(path: Path) -> Rows:
    with path.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def three_digits(cell: str) -> str:
    """A cell as a reader meets it: three significant digits, whole from a hundred up."""
    value = abs(Decimal(cell))
    if not value:
        return "0"
    digits = min(0, value.adjusted() - 2)
    rounded = value.quantize(Decimal(1).scaleb(digits))
    if rounded.adjusted() > value.adjusted():
        rounded = rounded.quantize(Decimal(1).scaleb(min(0, digits + 1)))
    return f"{rounded:f}"


def percent(cell: str) -> str:
    share = round(Decimal(cell), 12) * 100
    if 0 < share < Decimal("0.95"):
        return f"{max(share, Decimal('0.1')):.1f}"
    if Decimal("99.05") < share < 100:
        return f"{min(share, Decimal('99.9')):.1f}"
    return f"{share:.0f}"


def of(rows: Rows, member: str) -> Rows:
    return [row for row in rows if row["member"] == member]


def five_members(tables: dict[str, Rows]) -> list[str]:
    """The first, the last and three between, so that every kind of member has its turn."""
    names = [row["member"] for row in tables["members"]]
    return list(dict.fromkeys(names[(len(names) - 1) * k // 4] for k in range(5)))


def study_of(tables: dict[str, Rows]) -> Study:
    """The study that some tables are of: found by its members, for tables do not hold what cases count."""
    members = [row["member"] for row in tables["members"]]
    studies = [read_text(item.text(), item.name).study for item in list_bundled("study")]
    return next(s for s in studies if [m.name for m in s.truss.members] == members)


def when_zero(tables: dict[str, Rows], member: str) -> Iterator[str]:
    shares = of(tables["zero_shares"], member)
    silent = [name for name, case in study_of(tables).cases.items() if not case.counts]
    cases = [row for row in shares if row["kind"] == "case" and row["under"] not in silent]
    yield str(sum(row["zero_share"] == "1" for row in cases))
    yield str(len(cases))
    yield from (percent(row["zero_share"]) for row in shares if row["kind"] == "crossing")
    (row,) = of(tables["members"], member)
    yield percent(row["zero_share"])
    yield percent(row["zero_share_combined"])
    forces = of(tables["forces"], member)
    yield three_digits(
        max((row[end] for row in forces for end in ("largest", "smallest")), key=lambda c: abs(Decimal(c)))
    )


def how_hard(tables: dict[str, Rows], member: str) -> Iterator[str]:
    (row,) = of(tables["members"], member)
    for side in ("tension", "compression"):
        if row[f"peak_{side}"] != "0":
            yield three_digits(row[f"peak_{side}"])
            if row[f"{side}_at"]:
                place = three_digits(row[f"{side}_at"].split()[0])
                yield place.rstrip("0").rstrip(".") if "." in place else place


IN_REMOVALS = (
    "worst_utilisation",
    "growth",
    "growth_ratio",
    "deflection_ratio",
    "resistance_before",
    "resistance_after",
    "utilisation_after",
)


def if_gone(tables: dict[str, Rows], member: str) -> Iterator[str]:
    (row,) = of(tables["members"], member)
    yield three_digits(row["redundancy_share"])
    (removal,) = of(tables["removals"], member)
    yield str(len(removal["moves"].split()))
    for column in IN_REMOVALS:
        if removal[column]:
            yield three_digits(removal[column])
    known = [one["member"] for one in tables["members"]]
    known += sorted({joint for name in known for joint in name.split("-")})
    for verdict in of(tables["verdicts"], member):
        if verdict["key"] in ("mechanism", "prop", "deflection"):
            yield from names_and_numbers(verdict["sentence"], known)


def names_and_numbers(text: str, known: list[str]) -> list[str]:
    """The numbers of a text, names of joints and members (which hold digits) struck out first."""
    for name in sorted(known, key=len, reverse=True):
        text = re.sub(rf"(?<![\w-]){re.escape(name)}(?![\w-])", "·", text)
    return [number.lstrip("-") for number in NUMBER.findall(text)]


@pytest.mark.parametrize("name", NAMES)
def test_every_number_in_the_sentences_stands_in_the_tables(
    open_page: Open, tables: dict[str, dict[str, Rows]], name: str
) -> None:
    of_study = tables[name]
    known = [row["member"] for row in of_study["members"]]
    known += sorted({joint for member in known for joint in member.split("-")})
    screen = open_page(f"?study={name}")
    for member in five_members(of_study):
        screen.find("#plate").focus()
        screen.page.evaluate(
            "name => stillbar.stage.choose(stillbar.stage.study.members.indexOf(name))", member
        )
        screen.wait_for_member(member)
        said = screen.sentences()
        for place, expected in ((0, when_zero), (1, how_hard), (3, if_gone)):
            allowed = set(expected(of_study, member))
            found = names_and_numbers(said[place], known)
            assert set(found) <= allowed, f"{member}: {said[place]}"
            assert found or place == 1, f"{member}: no number in: {said[place]}"


@pytest.mark.parametrize("name", ["bittern_roof", "dunlin_cascade", "curlew_mast"])
def test_the_third_answer_is_that_of_the_inspection_table(
    open_page: Open, tables: dict[str, dict[str, Rows]], name: str
) -> None:
    of_study = tables[name]
    under = of_study["zero_shares"][0]["under"]
    rows = [row for row in of_study["inspection"] if row["under"] == under and row["kind"] == "case"]
    screen = open_page(f"?study={name}&under={under}")
    for row in rows[:: max(1, len(rows) // 5)][:5]:
        screen.page.evaluate(
            "name => stillbar.stage.choose(stillbar.stage.study.members.indexOf(name))", row["member"]
        )
        screen.wait_for_member(row["member"])
        said = screen.sentences()[2]
        assert row["joint"] in said
        assert all(member in said for member in row["because"].split()[:6])
        proof = screen.find('#sheet [data-question="3"] details')
        assert proof.locator("summary").inner_text() == f"the proof, step {row['step']}"
        last = proof.locator("tr").last.locator("td").all_text_contents()
        assert last == [row["step"], row["joint"], row["member"], row["rule"]]


def test_a_member_that_works_is_told_by_the_load_it_answers(
    open_page: Open, tables: dict[str, dict[str, Rows]]
) -> None:
    screen = open_page("?study=bittern_roof&under=snow&member=L0-L1")
    (row,) = [r for r in of(tables["bittern_roof"]["forces"], "L0-L1") if r["under"] == "snow"]
    said = screen.sentences()[2]
    assert f"T {three_digits(row['largest'])} kN" in said.replace("\u00a0", " ")
    assert "all of it from snow" in said


def test_the_fifth_answer_says_what_is_not_checked_and_that_an_engineer_decides(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=U3-U4")
    said = screen.sentences()[4]
    assert "no profile" in said and "Not checked" in said
    assert "local codes and a licensed engineer decide" in said


def test_duties_that_the_model_cannot_see_stand_with_the_fourth_answer(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L3-U3")
    said = screen.sentences()[3]
    assert "Not in this model" in said and "holds up a floor beam" in said
