"""Checks as clauses, notes and rungs: places that are none, props beside own forces, what is said once."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from explorer.bundled import find_bundled
from explorer.document.units import METRIC, US, UnitSystem
from explorer.store import Results
from explorer.wording.asked import Asked
from explorer.wording.checks import OWN_PEAKS, SAME_RADIUS, list_notes, tell_check
from explorer.wording.numbers import NO_BREAK, Teller
from explorer.wording.rungs import list_rungs
from explorer.wording.what_stops import list_unchecked, tell_what_stops
from solver.answers import answer
from solver.rules import Limits
from tests.wording.test_questions import BUNDLED, known, three
from tests.wording.test_what_stops import STRENGTH, ask, checks_of, king_post, rows_of

PROP_NOT_ASKED = "never compressed in itself; as a prop it may be pushed: not asked"


@pytest.mark.parametrize("name", BUNDLED)
def test_every_position_is_told_exactly_where_the_influence_line_is_zero_all_along(name: str) -> None:
    answers, influence = known(name).answers, known(name).tables["influence"]
    for member, own in enumerate(answers.checks.each):
        asked = ask(name, member, METRIC)
        for check in own:
            if check.key not in ("tension", "compression") or check.direction < 0:
                continue
            crossing = answers.study.asked[check.combination].crossing
            chord = answers.study.crossings[str(crossing)].chord
            line = [row["force"] for row in influence if (row["chord"], row["member"]) == (chord, asked.name)]
            told = tell_check(asked, check)
            assert line and ("at every position" in told) == (not any(line))
            assert ("front at" in told) == any(line)


def test_a_post_that_bears_own_weight_alone_does_so_at_every_position() -> None:
    name = "avocet_bridge"
    member = member_called(name, "L2-U2")
    compression = known(name).answers.checks.each[member][1]
    told = tell_check(ask(name, member, METRIC), compression).replace(NO_BREAK, " ")
    assert told == "3.33 kN of 70.0 kN under strength, at every position, as given with the group"


def member_called(name: str, member: str) -> int:
    return [one.name for one in known(name).answers.study.truss.members].index(member)


FOR_THAT = re.compile(
    r"([\d.]+) \S+ for that and ([\d.]+|no force)( \S+)? of its own, of ([\d.]+) \S+ in (\w+)"
)


@pytest.mark.parametrize("units", [METRIC, US], ids=lambda units: str(units.name))
@pytest.mark.parametrize("name", BUNDLED)
def test_a_props_own_force_its_force_as_a_prop_and_its_resistance_lead_to_the_utilisation_told(
    name: str, units: UnitSystem
) -> None:
    for member in range(len(known(name).answers.study.truss.members)):
        asked = ask(name, member, units)
        for check in known(name).answers.checks.each[member]:
            if check.key != "prop force" or check.refused:
                continue
            told = FOR_THAT.search(tell_check(asked, check).replace(NO_BREAK, " "))
            assert told
            prop, limit = float(told[1]), float(told[4])
            own = 0.0 if told[2] == "no force" else float(told[2])
            # three digits of each
            assert (own + prop) / limit == pytest.approx(check.utilisation, rel=0.01)


@pytest.mark.parametrize("name", BUNDLED)
def test_the_row_of_a_props_force_is_what_the_format_page_says_of_it(name: str) -> None:
    rows = checks_of(name, "metric")
    for row in rows:
        if row["check"] != "prop force" or row["utilisation"] == "":
            continue
        own = [one for one in rows if one["member"] == row["member"] and one["check"] in STRENGTH[:2]]
        assert row["unit"] == "kN" and len(own) == 2
        together = [(one["demand"] + row["demand"]) / one["limit"] for one in own]
        worse = own[together.index(max(together))]
        assert row["utilisation"] == pytest.approx(max(together), rel=1e-12)
        assert row["limit"] == pytest.approx(max(worse["limit"] - worse["demand"], 0), rel=1e-12)


@pytest.mark.parametrize("name", BUNDLED)
def test_a_prop_tells_of_each_bar_beside_it_its_own_peak_and_what_it_is_under(name: str) -> None:
    rows = {(row["member"], row["check"]): row for row in checks_of(name, "metric")}
    for member, own in enumerate(known(name).answers.checks.each):
        asked = ask(name, member, METRIC)
        for check in own:
            told = dict(list_notes(asked, check)).get(OWN_PEAKS)
            assert (told is not None) == check.key.startswith("prop")
            for bar in check.others if told else ():
                peak = rows[asked.answers.study.truss.members[bar].name, "compression"]
                part = next(part for part in str(told).split("; ") if part.startswith(peak["member"]))
                assert peak["in"].replace("_", " ") in part
                assert (
                    f"{three(peak['demand'])}{NO_BREAK}kN" if peak["demand"] else "not compressed"
                ) in part


def test_out_of_plane_with_the_radius_in_plane_is_said_where_no_profile_tells_another() -> None:
    # U3-U4: r alone is given, its piece has lateral props; L0-U1 of the roof: nothing holds it out of plane
    top, bow = member_called("avocet_bridge", "U3-U4"), member_called("bittern_roof", "L0-U1")
    assert SAME_RADIUS in list_unchecked(ask("avocet_bridge", top, METRIC))
    assert SAME_RADIUS not in list_unchecked(ask("bittern_roof", bow, METRIC))
    for name in BUNDLED:
        for member, bar in enumerate(known(name).answers.losses.before.resisting.bars):
            if SAME_RADIUS in list_unchecked(ask(name, member, METRIC)):
                assert bar.profile is None and bar.across is not None


def test_a_member_pushed_as_a_prop_alone_is_not_asked_its_slenderness_and_that_is_said() -> None:
    text = find_bundled("bittern_roof").text() + "\n[limits]\nslenderness_compression = 200\n"
    answers = Results().work(text, "roof.toml").answers
    names = [one.name for one in answers.study.truss.members]
    for name, text in (("L1-U1", "not asked"), ("L0-L1", "no limit")):
        asked = Asked(answers, Teller(METRIC), names.index(name), 0, None)
        rung = next(rung for rung in list_rungs(asked) if rung.name == "slenderness")
        pushed = answers.checks.each[asked.member][1].demand
        if name == "L1-U1":
            assert not pushed and rung.text == text
            said = f"slenderness in compression: {PROP_NOT_ASKED}"
            assert rung.full == said
            assert any(row[0].lower() == said for row in tell_what_stops(asked).proof)
        else:
            assert "not asked" not in (rung.text, rung.full)


def test_a_prop_that_is_pulled_keeps_its_slenderness_in_tension_and_says_the_same_beside_it() -> None:
    known_one = answer(king_post(tension=40e3, compression=20e3))
    slender = replace(known_one.checks.each[4][0], key="slenderness in tension", limit=300.0, kind="none")
    prop = replace(known_one.checks.each[4][0], key="prop force", joint=1, others=(0, 1))
    each = list(known_one.checks.each)
    each[4] = (*each[4], slender, prop)
    limits = replace(known_one.study.rules, limits=Limits(slenderness=(200.0, 300.0)))
    answers = replace(
        known_one,
        checks=replace(known_one.checks, each=tuple(each)),
        study=replace(known_one.study, rules=limits),
    )
    rung = next(
        one for one in list_rungs(Asked(answers, Teller(METRIC), 4, 0, None)) if one.name == "slenderness"
    )
    assert rung.ratio is not None and rung.beside.endswith("as a prop it may be pushed: not asked")


@pytest.mark.parametrize("name", BUNDLED)
def test_question_5_says_nothing_twice(name: str) -> None:
    for member in range(len(known(name).answers.study.truss.members)):
        told = tell_what_stops(ask(name, member, METRIC))
        notes = [row[1] for row in told.proof if len(row) == 2]
        assert len(notes) == len(set(notes))
        last = told.sentences[-1]
        assert last.count("partial factors") <= 1 and last.count("class of the section") <= 1
        assert sum("stretched" in sentence for sentence in told.sentences) <= len(
            {row["by"] for row in rows_of(name, ask(name, member, METRIC)) if "prop" in row["check"]}
        )
        assert "fatigue, fire and erection" in last
