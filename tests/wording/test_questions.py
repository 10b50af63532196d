"""The five questions in words: every number is a cell of the tables or of the study's text, rounded here."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_EVEN, Decimal
from functools import cache
from itertools import pairwise
from typing import Any

import pytest

from explorer.bundled import find_bundled, list_bundled
from explorer.document.units import METRIC, SYSTEMS, US
from explorer.store import Results
from explorer.tables import make_tables
from explorer.wording.asked import Asked, Told, words
from explorer.wording.how_hard import tell_how_hard
from explorer.wording.if_gone import list_grounds, tell_if_gone
from explorer.wording.just_now import tell_load
from explorer.wording.numbers import NO_BREAK, Teller
from explorer.wording.summary import describe_run
from explorer.wording.what_stops import tell_what_stops
from explorer.wording.when_zero import tell_when_zero
from explorer.wording.why_zero import tell_why_zero
from solver.answers import Answers, answer
from solver.placement import Standing
from solver.reasons.reason import CUT, INDETERMINATE, KNOWN_REACTION, VIRTUAL_WORK
from tests.building import build_study, build_truss
from tests.laws.studies import draw_study
from tests.laws.trying import law

TELLERS = (tell_when_zero, tell_how_hard, tell_why_zero, tell_if_gone, tell_what_stops)
BUNDLED = [item.name for item in list_bundled("study")]
NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e[-+]?\d+)?")
FORBIDDEN = re.compile(r"(?i:safe|spare|may be removed)|NaN|None|\{|\}|(?i:\b(?:nan|inf|infinity)\b)")
Row = dict[str, Any]
Numbers = tuple[Decimal, ...]


@dataclass(frozen=True)
class Known:
    """A bundled study: its answers, its text as TOML reads it, its tables as rows."""

    answers: Answers
    text: dict[str, Any]
    tables: dict[str, list[Row]]
    units: str

    def ask(self, member: int, column: int, standing: Standing | None = None) -> Asked:
        return Asked(self.answers, Teller(SYSTEMS[self.units]), member, column, standing)

    def column(self, name: str) -> int:
        """The last of this name: a combination of the file wins over a load case alone."""
        return max(i for i, load in enumerate(self.answers.combinations) if load.name == name)

    def of(self, table: str, member: int) -> list[Row]:
        name = self.answers.study.truss.members[member].name
        return [row for row in self.tables[table] if row["member"] == name]


@cache
def known(name: str) -> Known:
    text = find_bundled(name).text()
    worked = Results().work(text, name)
    tables = {
        table.name: [dict(zip(table.header, row, strict=True)) for row in table.rows]
        for table in make_tables(worked.answers, worked.document.units)
    }
    return Known(worked.answers, tomllib.loads(text), tables, worked.document.units.name)


def three(value: float | Decimal) -> Decimal:
    """Three significant digits, whole from a thousand up."""
    exact = Decimal(value)
    return exact.quantize(Decimal(1).scaleb(min(exact.adjusted() - 2, 0)), ROUND_HALF_EVEN)


def percent(share: float) -> Decimal:
    """Whole percent; with a decimal next to nothing and to all, and never either unless it is."""
    whole = 100 * Decimal(share).quantize(Decimal("1e-12"))
    if 0 < whole < Decimal("0.95"):
        return max(whole.quantize(Decimal("0.1"), ROUND_HALF_EVEN), Decimal("0.1"))
    if Decimal("99.05") < whole < 100:
        return min(whole.quantize(Decimal("0.1"), ROUND_HALF_EVEN), Decimal("99.9"))
    return whole.quantize(Decimal(1), ROUND_HALF_EVEN)


def numbers_in(sentence: str, answers: Answers) -> Numbers:
    """The numbers of a sentence in their order; digits in names of joints and members are none."""
    truss = answers.study.truss
    for name in sorted([*truss.joint_names, *(m.name for m in truss.members)], key=len, reverse=True):
        sentence = re.sub(rf"(?<![\w.-]){re.escape(name)}(?![\w-])", "@", sentence)
    return tuple(Decimal(number) for number in NUMBER.findall(sentence.replace("−", "-")))


def check(told: Told, answers: Answers, *expected: Numbers) -> None:
    """Each sentence with numbers has exactly these, in this order."""
    found = [numbers for sentence in told.sentences if (numbers := numbers_in(sentence, answers))]
    assert Counter(found) == Counter(numbers for numbers in expected if numbers), told.sentences


def zero_shares(study: Known, member: int, kind: str) -> list[float]:
    """Shares of a member in the table; of the cases only those that count."""
    cases = study.text.get("cases", {})
    rows = [row for row in study.of("zero_shares", member) if row["kind"] == kind]
    return [row["zero_share"] for row in rows if cases.get(row["under"], {}).get("counts", 1)]


def largest_alone(study: Known, member: int) -> Numbers:
    """The largest force under one load alone, where it is not zero throughout."""
    zero = {row["under"] for row in study.of("zero_shares", member) if row["zero_share"] == 1}
    rows = [row for row in study.of("forces", member) if row["under"] not in zero]
    sizes = [abs(row[end]) for row in rows for end in ("largest", "smallest")]
    return (three(max(sizes)),) if sizes and max(sizes) else ()


@pytest.mark.parametrize("name", BUNDLED)
def test_when_it_is_zero_is_told_in_the_shares_of_the_tables(name: str) -> None:
    study = known(name)
    for member, row in enumerate(study.tables["members"]):
        cases, crossings = (zero_shares(study, member, kind) for kind in ("case", "crossing"))
        counted = (Decimal(cases.count(1.0)), Decimal(len(cases))) if cases else ()
        over_all = (*counted, *map(percent, crossings), *largest_alone(study, member))
        combined = (percent(row["zero_share_combined"]),) if study.answers.study.combinations else ()
        mean = (percent(row["zero_share"]), *combined)
        for column, load in enumerate(study.answers.combinations):
            here: Numbers = ()
            if load.crossing and load in study.answers.study.combinations:
                rows = study.of("zero_shares", member)
                share = next(r for r in rows if (r["kind"], r["under"]) == ("combination", load.name))
                here = (percent(share["zero_share"]),)
            told = tell_when_zero(study.ask(member, column))
            check(told, study.answers, over_all, mean, here)
            shown = numbers_in(told.answer, study.answers)
            assert set(shown) <= {*counted, *map(percent, crossings), *here}


def is_reached(study: Known, row: Row, side: str) -> bool:
    """Whether the train of the load that governs a peak brings the member any force, by its influence."""
    load = next(load for load in study.answers.study.asked if load.name == row[f"{side}_in"])
    if load.crossing is None:
        return False
    chord = study.answers.study.crossings[load.crossing].chord
    return any(
        line["force"]
        for line in study.tables["influence"]
        if (line["chord"], line["member"]) == (chord, row["member"])
    )


def peak(study: Known, row: Row, side: str) -> Numbers:
    """A peak of the table with its position, where that is not any."""
    if not row[f"peak_{side}"]:
        return ()
    at = str(row[f"{side}_at"]).split() if is_reached(study, row, side) else []
    return (three(row[f"peak_{side}"]), *(three(Decimal(place)) for place in at[:1]))


@pytest.mark.parametrize("name", BUNDLED)
def test_how_hard_it_works_is_told_in_the_peaks_of_the_table_and_where_they_occur(name: str) -> None:
    study = known(name)
    for member, row in enumerate(study.tables["members"]):
        told = tell_how_hard(study.ask(member, 0))
        found = [n for sentence in told.sentences for n in numbers_in(sentence, study.answers)]
        assert found == [*peak(study, row, "tension"), *peak(study, row, "compression")]
        text = " ".join(told.sentences)
        for side in ("tension", "compression"):
            if row[f"peak_{side}"]:
                assert f"{side} up to" in text.lower()
                assert words(str(row[f"{side}_in"])) in text
                way = str(row[f"{side}_at"]).split()[-1:]
                reached = is_reached(study, row, side)
                assert (way[0] if reached else "at every position") in text if way else "position" not in text
        largest = max(row["peak_tension"], row["peak_compression"])
        assert numbers_in(told.answer, study.answers) == ((three(largest),) if largest else ())
        if largest:
            assert told.answer.startswith("T" if row["peak_tension"] == largest else "C")


@pytest.mark.parametrize("name", BUNDLED)
def test_every_load_alone_is_proved_by_its_row_of_the_table_of_forces(name: str) -> None:
    study = known(name)
    for member in range(len(study.tables["members"])):
        rows = tell_how_hard(study.ask(member, 0)).proof[1:]
        for told, cells in zip(rows, study.of("forces", member), strict=True):
            assert told[0] == words(cells["under"])
            for text, end in zip(told[1:], ("largest", "smallest"), strict=True):
                force = cells[end]
                letter = "T" if force > 0 else "C"
                assert text == "0" if not force else text.startswith(f"{letter}{NO_BREAK}")
                expected = three(abs(force)) if force else Decimal(0)
                assert numbers_in(text, study.answers) == (expected,)


@pytest.mark.parametrize("name", BUNDLED)
def test_what_a_member_bears_under_one_case_is_its_cell_of_the_table_of_forces(name: str) -> None:
    study = known(name)
    for member in range(len(study.tables["members"])):
        for column, row in enumerate(study.of("forces", member)):
            if row["kind"] != "case":
                continue
            zero = study.of("zero_shares", member)[column]["zero_share"] == 1
            told = tell_why_zero(study.ask(member, column))
            force = () if zero else (three(abs(row["largest"])),)
            if study.ask(member, column).reason.kind in (KNOWN_REACTION, CUT, VIRTUAL_WORK, INDETERMINATE):
                # these tell a reaction, a place, a count or a change of force; tested with the reasons
                assert zero
                continue
            check(replace(told, sentences=told.sentences[:1]), study.answers, force)
            # what follows is the reason, which tells the same force and what it answers or rests on
            assert all(force[0] in numbers_in(sentence, study.answers) for sentence in told.sentences[1:])
            assert (told.question == "") == zero


@dataclass(frozen=True)
class Source:
    """What one load brings a member [the study's unit], and the numbers that name the load."""

    force: float
    named: Numbers


def sources(study: Known, member: int, load: str, at: str) -> list[Source]:
    """Cases by their factors, axles by influence; at: position and direction as in the tables."""
    text = study.text
    alone = {**text.get("cases", {}), **text.get("crossings", {})}
    terms = text.get("combinations", {}).get(load, {load: 1.0} if load in alone else {})
    terms = {name: factor for name, factor in terms.items() if name != "for"}
    forces = {row["under"]: row["largest"] for row in study.of("forces", member)}
    found = []
    for name, factor in terms.items():
        if name in text.get("cases", {}):
            named = () if factor == 1 else (Decimal(str(factor)),)
            found.append(Source(factor * forces[name], named))
        else:
            found += list(axle_sources(study, member, (name, factor), at))
    return found


def axle_sources(study: Known, member: int, term: tuple[str, float], at: str) -> Iterator[Source]:
    crossing = study.text["crossings"][term[0]]
    position, direction = float(at.split()[0]), at.split()[1]
    ordinates = [
        (r["position"], r["force"]) for r in study.of("influence", member) if r["chord"] == crossing["chord"]
    ]
    for distance, load in study.text["trains"][crossing["train"]]["axles"]:
        acting = term[1] * load * crossing.get("factor", 1) * (1 + crossing.get("impact", 0))
        place = position - distance if direction == "forward" else position + distance
        share = 0.0
        for (x, left), (far, right) in pairwise(ordinates):
            if x - 1e-9 <= place <= far + 1e-9:
                share = (left * (far - place) + right * (place - x)) / (far - x)
        yield Source(acting * share, (three(Decimal(abs(acting))), three(Decimal(round(place, 9)))))


def near(told: Decimal, exact: float) -> bool:
    """Whether a number is rounded to three digits, give or take what the tables' 15 digits leave open."""
    unit = Decimal(1).scaleb(min(Decimal(exact).adjusted() - 2, 0))
    return abs(told - Decimal(exact)) <= unit * Decimal("0.500001")


@pytest.mark.parametrize("side", ["tension", "compression"])
@pytest.mark.parametrize("name", BUNDLED)
def test_at_its_peak_a_member_is_told_the_peak_and_which_load_brings_most_of_it(name: str, side: str) -> None:
    study = known(name)
    for member, row in enumerate(study.tables["members"]):
        if not row[f"peak_{side}"]:
            continue
        load, at = row[f"{side}_in"], str(row[f"{side}_at"])
        metres = study.answers.forces.tension if side == "tension" else study.answers.forces.compression
        way = "forward" if at.endswith("forward") else "backward"
        standing = Standing(way, float(metres.positions[member])) if at else None  # type: ignore[arg-type]
        told = tell_why_zero(study.ask(member, study.column(load), standing))
        sentence = next(s for s in told.sentences if numbers_in(s, study.answers))
        numbers = numbers_in(sentence, study.answers)
        assert numbers[0] == three(row[f"peak_{side}"])
        parts = sources(study, member, load, at)
        largest = max(abs(p.force) for p in parts if (p.force > 0) == (side == "tension"))
        named = numbers[2:] if len(parts) > 1 else numbers[1:]
        if len(parts) > 1:
            assert near(numbers[1], largest)
        # of loads that bring the same any may be named
        tied = [p.named for p in parts if abs(abs(p.force) - largest) <= 1e-9 * largest]
        assert any(
            len(named) == len(names)
            and all(near(n, float(e)) or n == e for n, e in zip(named, names, strict=True))
            for names in tied
        ), (sentence, tied)


def every_text(told: Told) -> list[str]:
    cells = [cell for row in told.proof for cell in row]
    return [told.answer, *told.sentences, told.caution, told.proof_title, told.question, *cells]


def places(answers: Answers, column: int) -> list[Standing | None]:
    """Nowhere, and on, at the end of and beyond each way."""
    load = answers.combinations[column]
    if not load.crossing:
        return [None]
    length = answers.study.chords[answers.study.crossings[load.crossing].chord].length
    ways = answers.study.crossings[load.crossing].directions
    return [None, *(Standing(way, share * length) for way in ways for share in (-9.0, 0.0, 0.43, 1.0))]


def check_words(asked: Asked) -> None:
    for tell in TELLERS:
        told = tell(asked)
        assert told.answer and told.sentences and all(told.sentences)
        for text in every_text(told):
            assert not FORBIDDEN.search(text), text
        assert all(sentence.endswith((".", "?")) for sentence in told.sentences)


@pytest.mark.parametrize("name", BUNDLED)
def test_no_sentence_calls_a_member_safe_or_spare_or_shows_what_is_no_number(name: str) -> None:
    study = known(name)
    for column, load in enumerate(study.answers.combinations):
        assert not FORBIDDEN.search(tell_load(study.answers, load, Teller(METRIC)))
        for standing in places(study.answers, column):
            for member in range(column % 3, len(study.answers.study.truss.members), 3):
                check_words(study.ask(member, column, standing))
    assert not FORBIDDEN.search(describe_run(study.answers, METRIC, "folder").split("\n", 1)[1])


@law(8)
def test_no_sentence_on_a_random_study_calls_a_member_so_or_fails(seed: int) -> None:
    answers = answer(draw_study(seed).study)
    for column in range(len(answers.combinations)):
        for standing in places(answers, column):
            for member in (seed % len(answers.study.truss.members), 0):
                check_words(Asked(answers, Teller(US), member, column, standing))


def test_a_king_post_under_a_cart_is_told_as_a_pencil_has_it() -> None:
    # a cart of 10 kN alone: the hanger bears 10 s / 4 up to the middle, 6 kN at 2.4 m
    truss = build_truss(
        {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)},
        ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
        {"L0": "xy", "L2": "y"},
    )
    answers = answer(build_study(truss, chord=["L0", "L1", "L2"], axles=[(0, 10e3)]))
    hanger = Asked(answers, Teller(METRIC), 4, 0, Standing("forward", 2.4))
    assert numbers_in(tell_why_zero(hanger).sentences[0], answers) == tuple(map(Decimal, ("6", "10", "2.4")))
    assert f"T{NO_BREAK}6.00{NO_BREAK}kN" in tell_why_zero(hanger).sentences[0]
    rafter = Asked(answers, Teller(METRIC), 2, 0, Standing("forward", 2.4))
    # half of 6 by a rise of 3 in 5, in compression; 8.33 with the cart in the middle
    assert f"C{NO_BREAK}5.00{NO_BREAK}kN" in tell_why_zero(rafter).sentences[0]
    assert tell_how_hard(rafter).answer == f"C{NO_BREAK}8.33{NO_BREAK}kN"
    # without the hanger L1 moves alone, and a load there wakes it in full
    gone = tell_if_gone(hanger)
    assert gone.answer == "L1 falls"
    assert numbers_in(list_grounds(hanger)[-1][1], answers) == (Decimal("1.00"),)
    # off the bridge nothing is asked of it
    assert not tell_why_zero(Asked(answers, Teller(METRIC), 4, 0, None)).question


def test_a_reader_in_kips_is_told_a_force_of_newtons_in_kips() -> None:
    # 240 kN / 4.4482216152605 = 53.95 kip
    study = known("avocet_bridge")
    row = study.tables["members"][0]
    told = tell_how_hard(Asked(study.answers, Teller(US), 0, 0, None))
    largest = max(row["peak_tension"], row["peak_compression"])
    exact = Decimal(largest) / Decimal("4.4482216152605")
    assert near(numbers_in(told.answer, study.answers)[0], float(exact))
    assert told.answer.endswith("kip")
