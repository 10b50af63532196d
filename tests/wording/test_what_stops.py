"""Question 5 and its ladder: every number is a cell of the table of checks, nothing unknown told as known."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from decimal import ROUND_HALF_EVEN, Decimal
from functools import cache

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.document.units import METRIC, SYSTEMS, US, UnitSystem
from explorer.tables import make_tables
from explorer.wording.asked import Asked, Told
from explorer.wording.checks import list_lines, tell_ratio, utilisation_of
from explorer.wording.numbers import NO_BREAK, Teller
from explorer.wording.rungs import list_rungs
from explorer.wording.what_stops import list_unchecked, tell_what_stops
from solver.answers import Answers, answer
from solver.checks.check import KEYS
from solver.rules import Limits, Rules
from solver.study import Study
from solver.truss import Truss
from tests.building import build_study, build_truss
from tests.laws.studies import draw_study
from tests.laws.trying import law
from tests.wording.test_questions import BUNDLED, FORBIDDEN, Row, every_text, known, numbers_in, three
from tests.wording.test_steps import read_quantity, ungrouped

STRENGTH = ("tension", "compression", "prop force", "another's loss")


@cache
def checks_of(name: str, units: str) -> list[Row]:
    tables = make_tables(known(name).answers, SYSTEMS[units])
    table = next(table for table in tables if table.name == "checks")
    return [dict(zip(table.header, row, strict=True)) for row in table.rows]


def ask(name: str, member: int, units: UnitSystem) -> Asked:
    return Asked(known(name).answers, Teller(units), member, 0, None)


def rows_of(name: str, asked: Asked) -> list[Row]:
    return [row for row in checks_of(name, asked.teller.units.name) if row["member"] in (asked.name, "")]


def hardest(rows: list[Row]) -> Row:
    return max((row for row in rows if row["utilisation"] != ""), key=lambda row: float(row["utilisation"]))


def ratio(row: Row) -> Decimal:
    return Decimal(max(row["utilisation"], 0.005 if row["utilisation"] else 0)).quantize(
        Decimal("0.01"), "ROUND_HALF_UP"
    )


def amounts(row: Row) -> Iterator[Decimal]:
    for cell in (row["demand"], row["limit"]):
        if cell != "":
            yield amount(cell) if cell else Decimal(0)


def amount(cell: float) -> Decimal:
    """Three significant digits, whole from a thousand up; four where it is ten thousand or more."""
    exact = Decimal(cell)
    long = exact.adjusted() >= 4
    return exact.quantize(Decimal(1).scaleb(exact.adjusted() - 3), ROUND_HALF_EVEN) if long else three(cell)


def told_of(row: Row) -> set[Decimal]:
    """The numbers that may be told of a row: what is asked, its limit, the ratio, where the train stands."""
    place = {three(Decimal(row["at"].split()[0]))} if row["at"] else set()
    return {*amounts(row), *([ratio(row)] if row["utilisation"] != "" else []), *place, Decimal(0)}


def without_names_of_rules(sentence: str, rows: list[Row]) -> str:
    """The sentence without what others wrote, which has digits of its own."""
    texts = [
        text
        for row in rows
        for cell in ("by", "unchecked", "not_known")
        for text in str(row[cell]).split("; ")
    ]
    # a limit that ends the name of its rule is told before it, factors of several resistances together
    texts += [text.partition(", L/r")[0] for text in texts]
    sentence = re.sub(r"γ_M\d = \d\.\d\d", "", sentence)
    for text in sorted({text for text in texts if text}, key=len, reverse=True):
        for written in (text, text.replace(" not checked", "")):
            sentence = sentence.replace(written, "")
    return sentence


@pytest.mark.parametrize("units", [METRIC, US], ids=lambda units: str(units.name))
@pytest.mark.parametrize("name", BUNDLED)
def test_every_number_of_the_sentences_is_a_cell_of_the_table_of_checks(name: str, units: UnitSystem) -> None:
    answers = known(name).answers
    for member in range(len(answers.study.truss.members)):
        asked = ask(name, member, units)
        rows = rows_of(name, asked)
        told = tell_what_stops(asked)
        allowed = set().union(*map(told_of, rows))
        for sentence in told.sentences:
            plain = without_names_of_rules(ungrouped(sentence).replace(NO_BREAK, " "), rows)
            found = {abs(number) for number in numbers_in(plain, answers)}
            near = {n for n in found if any(abs(n - a) <= abs(a) * Decimal("1e-9") for a in allowed)}
            assert found == near, (sentence, found - near)


@pytest.mark.parametrize("units", [METRIC, US], ids=lambda units: str(units.name))
@pytest.mark.parametrize("name", BUNDLED)
def test_the_first_sentence_is_of_the_check_that_asks_most_and_tells_all_of_it(
    name: str, units: UnitSystem
) -> None:
    answers = known(name).answers
    for member in range(len(answers.study.truss.members)):
        asked = ask(name, member, units)
        # none of these studies asks for what the loss of another brings
        own = [row for row in rows_of(name, asked) if row["member"] and row["check"] != "another's loss"]
        if any(row["utilisation"] == "" and row["check"] in STRENGTH for row in own):
            continue
        most, first = hardest(own), ungrouped(tell_what_stops(asked).sentences[0]).replace(NO_BREAK, " ")
        if not most["utilisation"]:
            continue
        assert first.lower().startswith(f"{most['check']} asks most: ")
        plain = without_names_of_rules(first, own)
        wanted = {ratio(most), *(amounts(most) if most["check"] != "prop force" else [next(amounts(most))])}
        assert wanted <= {abs(number) for number in numbers_in(plain, answers)}, first
        assert most["in"].replace("_", " ") in first and (not most["joint"] or most["joint"] in first)
        assert all(other in first for other in most["others"].split())


@pytest.mark.parametrize("name", BUNDLED)
def test_the_head_names_the_check_that_asks_most_and_how_much(name: str) -> None:
    answers = known(name).answers
    for member in range(len(answers.study.truss.members)):
        asked = ask(name, member, METRIC)
        # none of these studies asks for what the loss of another brings
        own = [row for row in rows_of(name, asked) if row["member"] and row["check"] != "another's loss"]
        most, head = hardest(own), tell_what_stops(asked).answer
        if (
            any(row["utilisation"] == "" and row["check"] in STRENGTH for row in own)
            and most["utilisation"] <= 1
        ):
            assert head == "Strength not known"
        elif not most["utilisation"]:
            assert head == "Nothing asked of it"
        else:
            words = ("prop",) if most["check"] == "prop force" else (most["check"].split(" in ")[0],)
            assert all(word in head.lower() for word in words)
            assert numbers_in(head, answers) == (ratio(most),)


@pytest.mark.parametrize("name", BUNDLED)
def test_the_rungs_have_the_order_of_the_keys_and_the_ratios_of_the_table(name: str) -> None:
    keys = dict.fromkeys("slenderness" if key.startswith("slenderness") else key for key in KEYS)
    # the joints are the member's own: behind them stands what is of the whole truss
    order = [*(key for key in keys if key != "deflection"), "joints", "deflection"]
    for member in range(len(known(name).answers.study.truss.members)):
        asked = ask(name, member, METRIC)
        rungs = list_rungs(asked)
        assert [rung.name for rung in rungs] == order
        joints = next(rung for rung in rungs if rung.name == "joints")
        assert joints.text == "not checked" and joints.ratio is None
        for rung in rungs:
            if rung is joints:
                continue
            rows = [row for row in rows_of(name, asked) if str(row["check"]).startswith(rung.name)]
            if rung.ratio is not None:
                assert rung.ratio == max(row["utilisation"] for row in rows if row["utilisation"] != "")
            elif rows and all(row["utilisation"] != "" for row in rows):
                assert rung.text == "never" and not any(row["demand"] for row in rows)
            elif rows:
                assert rung.text == "not known" and not rung.known


@pytest.mark.parametrize("name", BUNDLED)
def test_the_lines_of_a_props_force_lead_to_its_demand_and_its_utilisation(name: str) -> None:
    answers = known(name).answers
    for member, own in enumerate(answers.checks.each):
        asked = ask(name, member, METRIC)
        for check in own:
            if check.key != "prop force" or not check.steps or not check.demand:
                continue
            told = [read_quantity(line.result) for line in list_lines(asked, check)]
            taken = next(value for symbol, value, _ in told if symbol == "N_prop")
            line = next(line for line in list_lines(asked, check) if line.result.startswith("N_prop"))
            share, across = (read_quantity(part)[1] for part in line.given.split(", "))
            assert share * across == pytest.approx(taken, rel=1e-3)
            assert taken * 1e3 == pytest.approx(check.demand, rel=1e-3)
            line = next(
                (line for line in list_lines(asked, check) if line.result.startswith("utilisation")), None
            )
            if line is None:
                assert check.refused
                continue
            own_force, prop, most = (read_quantity(part)[1] for part in line.given.split(", "))
            assert (own_force + prop) / most == pytest.approx(check.utilisation, rel=2e-3)


@pytest.mark.parametrize("name", BUNDLED)
def test_the_proof_has_a_head_a_check_and_all_its_steps_and_what_nobody_checked(name: str) -> None:
    answers = known(name).answers
    for member in range(0, len(answers.study.truss.members), 3):
        told, own = tell_what_stops(ask(name, member, METRIC)), answers.checks.each[member]
        steps = [row for row in told.proof if len(row) == 4]
        assert len(steps) >= len(
            [step for check in own for step in check.steps if "stiffness" not in check.key]
        )
        for check in own:
            assert all(any(text in row for row in told.proof) for text in (*check.refused, *check.unchecked))
        first, second = answers.study.truss.members[member].name.split("-", 1)
        assert f"joints {first} and {second}" in told.sentences[-1]
        assert "bending" in told.sentences[-1]


def test_out_of_plane_is_told_as_not_checked_exactly_where_nobody_says_what_holds_it() -> None:
    for name in BUNDLED:
        answers = known(name).answers
        for member, bar in enumerate(answers.losses.before.resisting.bars):
            told = "buckling out of plane" in list_unchecked(ask(name, member, METRIC))
            assert told == (bar.across is None)


def king_post(**limits: float | None) -> Study:
    """A king post under a cart of 10 kN: its hanger bears 10 kN in tension, a rafter 8.33 in compression."""
    truss = build_truss(
        {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)},
        ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
        {"L0": "xy", "L2": "y"},
    )
    return build_study(resisting(truss, **limits), chord=["L0", "L1", "L2"], axles=[(0, 10e3)])


def resisting(truss: Truss, **limits: float | None) -> Truss:
    groups = [replace(member.group, **limits) for member in truss.members]  # type: ignore[arg-type]
    members = tuple(replace(m, group=group) for m, group in zip(truss.members, groups, strict=True))
    return replace(truss, members=members)


def told_of_hanger(study: Study) -> tuple[Answers, Told]:
    answers = answer(study)
    return answers, tell_what_stops(Asked(answers, Teller(METRIC), 4, 0, None))


TOLD = (
    "Tension asks most: 10.0 kN of 40.0 kN under train, front at 4 m forward, as given with the group: 0.25."
)


def test_a_king_posts_hanger_works_to_a_quarter_as_a_pencil_has_it() -> None:
    answers, told = told_of_hanger(king_post(tension=40e3, compression=20e3))
    assert told.answer == "Tension: 0.25" and utilisation_of(answers, 4) == pytest.approx(0.25)
    assert told.sentences[0].replace(NO_BREAK, " ") == TOLD


def test_more_than_a_limit_is_said_in_words() -> None:
    _, told = told_of_hanger(king_post(tension=8e3, compression=20e3))
    assert told.answer == "Not met, 1.25: tension" and "That is more than the limit." in told.sentences


def test_without_a_resistance_the_strength_is_not_known_and_why_is_told() -> None:
    answers, told = told_of_hanger(king_post(tension=None, compression=20e3))
    assert told.answer == "Strength not known" and utilisation_of(answers, 4) != utilisation_of(answers, 4)
    assert any(
        "Not known: tension (no resistance in tension given)" in sentence for sentence in told.sentences
    )
    rung = list_rungs(Asked(answers, Teller(METRIC), 4, 0, None))[0]
    assert (rung.text, rung.ratio, rung.known) == ("not known", None, False)


def test_a_resistance_that_nothing_asks_for_need_not_be_known() -> None:
    _, told = told_of_hanger(king_post(tension=40e3, compression=None))
    assert told.answer == "Tension: 0.25"


def test_a_limit_that_is_exceeded_is_told_whatever_else_is_not_known() -> None:
    study = king_post(tension=None, compression=20e3)
    section = replace(study.truss.members[4].group.section, radius=0.01)
    truss = replace(
        study.truss,
        members=tuple(replace(m, group=replace(m.group, section=section)) for m in study.truss.members),
    )
    # 3 m over a radius of 10 mm is 300, and 200 are allowed
    rules = Rules(limits=Limits(slenderness=(None, 200.0)))
    _, told = told_of_hanger(replace(study, truss=truss, rules=rules))
    assert told.answer == "Not met, 1.50: slenderness"
    assert any(sentence.startswith("Not known: tension") for sentence in told.sentences)


def test_a_rung_with_something_unknown_is_unknown_unless_its_limit_is_exceeded_already() -> None:
    answers = answer(king_post(tension=40e3, compression=20e3))
    known_one = answers.checks.each[4][0]
    unknown = replace(known_one, utilisation=float("nan"), refused=("no such thing",))
    for utilisation, text in ((0.5, "not known"), (1.5, "1.50")):
        own = (replace(known_one, utilisation=utilisation), unknown)
        each = tuple(own if member == 4 else checks for member, checks in enumerate(answers.checks.each))
        changed = replace(answers, checks=replace(answers.checks, each=each))
        assert list_rungs(Asked(changed, Teller(METRIC), 4, 0, None))[0].text == text


@law(8)
def test_no_word_on_a_random_study_calls_a_member_so_or_fails(seed: int) -> None:
    answers = answer(draw_study(seed).study)
    for member in range(min(6, len(answers.study.truss.members))):
        for units in (METRIC, US):
            asked = Asked(answers, Teller(units), member, 0, None)
            for text in every_text(tell_what_stops(asked)):
                assert not FORBIDDEN.search(text), text
            assert all(rung.text for rung in list_rungs(asked))


@given(st.floats(0, 1e4))
def test_a_ratio_is_never_told_on_the_other_side_of_one_nor_as_nothing(value: float) -> None:
    told = tell_ratio(value)
    if value == 0:
        assert told == "0"
    elif value < 0.005:
        assert told == "under 0.01"
    elif abs(value - 1) > 1e-9:
        assert (float(told) > 1) == (value > 1) and float(told) != 1
        assert float(told) == pytest.approx(value, abs=0.00501)
    else:
        assert told == "1.00"


def test_who_looks_idle_and_is_a_prop_is_told_so_in_the_head() -> None:
    answers = known("avocet_bridge").answers
    names = [member.name for member in answers.study.truss.members]
    assert [names[member] for member in answers.checks.idle] == ["L2-U2", "L4-U4", "L6-U6"]
    for member in range(len(names)):
        head = tell_what_stops(ask("avocet_bridge", member, METRIC)).answer
        assert ("idle, and a prop" in head.lower()) == (member in answers.checks.idle)
    assert (
        tell_what_stops(ask("avocet_bridge", names.index("L2-U2"), METRIC)).answer == "Idle, and a prop: 0.21"
    )


def with_less(answers: Answers, member: int) -> Answers:
    """The answers, with a text of a standard that has less than the resistance given in tension."""
    own = answers.checks.each[member]
    text = "EN 1993-1-1:2005 gives less for its section: 0.89 of it"
    changed = (replace(own[0], unchecked=(*own[0].unchecked, text)), *own[1:])
    each = tuple(changed if place == member else one for place, one in enumerate(answers.checks.each))
    return replace(answers, checks=replace(answers.checks, each=each))


def test_what_a_standard_has_less_is_a_sentence_of_its_own_and_nothing_unchecked() -> None:
    answers = with_less(answer(king_post(tension=40e3, compression=20e3)), 4)
    asked = Asked(answers, Teller(METRIC), 4, 0, None)
    told, said = tell_what_stops(asked), "EN 1993-1-1:2005 gives less for its section: 0.89 of it"
    assert f"Tension: {said}." in told.sentences
    assert said not in told.sentences[-1] and said not in list_unchecked(asked)
    assert ("tension: beside it", said) in told.proof


@pytest.mark.parametrize("name", BUNDLED)
def test_what_a_props_resistance_leaves_out_is_told_once_with_that_resistance(name: str) -> None:
    for member, own in enumerate(known(name).answers.checks.each):
        of_strength = {text for check in own if check.key in STRENGTH[:2] for text in check.unchecked}
        told = tell_what_stops(ask(name, member, METRIC))
        for row in told.proof:
            if len(row) == 2 and row[1] in of_strength:
                assert "prop" not in row[0]
