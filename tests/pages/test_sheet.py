"""The calculation sheet of a member: every number on it is one of the answers, bad addresses are refused."""

from __future__ import annotations

import re
from datetime import date
from functools import cache
from html import escape, unescape

import numpy as np
import pytest

from explorer.bundled import find_bundled, list_bundled
from explorer.document.units import SYSTEMS
from explorer.pages.sheet.page import draw_page
from explorer.pages.sheet.request import NoSheetError, draw_way_to_lighter, read_address, write_address
from explorer.store import Results, Worked
from explorer.wording.asked import Asked
from explorer.wording.numbers import NO_BREAK, Teller, significant
from explorer.wording.steps import WORD_JOINER
from tests.wording.test_questions import FORBIDDEN

BUNDLED = [item.name for item in list_bundled("study")]
DAY = date(2031, 5, 9)
RESULTS = Results()


@cache
def worked(name: str) -> Worked:
    return RESULTS.work(find_bundled(name).text(), f"{name}.toml")


def page_of(name: str, member: int, units: str = "") -> tuple[Asked, str]:
    """A member's sheet as text: entities made plain, tags made blanks, blanks made single."""
    one = worked(name)
    system = SYSTEMS[units] if units else one.document.units
    asked = Asked(one.answers, Teller(system), member, 0, None)
    return asked, text_of(draw_page(one, asked, "", DAY))


def text_of(page: str) -> str:
    """What a page says, its style and what joins words left out."""
    page = re.sub(r"<style>.*?</style>", "", page).replace(WORD_JOINER, "")
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]*>", " ", page)))


def told(asked: Asked, kind: str, value: float) -> str:
    """A number with its unit, worked out here from the factors of the units."""
    factor = asked.teller.units.factors[kind]
    assert abs(value / float(factor)) < 10_000, "a long number is written in groups"
    return f"{significant(value / float(factor))} {asked.teller.units.label(kind)}"


@pytest.mark.parametrize("units", ["metric", "US"])
@pytest.mark.parametrize("name", BUNDLED)
def test_demands_and_resistances_of_the_answers_stand_on_the_sheet(name: str, units: str) -> None:
    answers = worked(name).answers
    resistances = answers.losses.before.resisting.values
    for member in range(0, len(answers.study.truss.members), 2):
        asked, page = page_of(name, member, units)
        for demands, limits in zip(answers.losses.before.demands, resistances, strict=True):
            if demands[member]:
                assert told(asked, "force", float(demands[member])) in page
            if not np.isnan(limits[member]):
                assert told(asked, "force", float(limits[member])) in page


@pytest.mark.parametrize("name", BUNDLED)
def test_every_check_stands_on_the_sheet_with_all_its_steps_and_all_that_is_missing(name: str) -> None:
    answers = worked(name).answers
    for member, own in enumerate(answers.checks.each):
        _, page = page_of(name, member)
        for check in (*own, *answers.checks.whole):
            assert check.key[1:] in page
            for text in (*check.refused, *check.unchecked):
                assert text in page
            # what leads from a stiffness on to a force stands with the force
            for step in check.steps if check.key != "prop stiffness" else ():
                assert " ".join(step.clause.split()) in page and " ".join(step.formula.split()) in page
        left = set(page.rpartition(" Not checked ")[2].lower().split())
        assert {"bending", "joints", "fatigue", "fire", "erection", "loss"} <= left


@pytest.mark.parametrize("name", BUNDLED)
def test_lengths_are_those_of_the_model_with_who_holds_each_end(name: str) -> None:
    answers = worked(name).answers
    truss = answers.study.truss
    for member, unbraced in enumerate(answers.losses.before.resisting.unbraced):
        asked, page = page_of(name, member)
        plane = page.partition("Buckling in plane ")[2].partition("Buckling out of plane")[0]
        assert told(asked, "length", unbraced.in_plane) in plane
        for holders in unbraced.holders:
            assert all(truss.members[holder].name in plane for holder in holders)
        across = page.partition("Buckling out of plane ")[2].partition("What is asked")[0]
        if unbraced.across is None:
            assert across.startswith("not checked")
        else:
            assert across.startswith(told(asked, "length", unbraced.across))


@pytest.mark.parametrize("name", BUNDLED)
def test_title_units_date_cautions_and_the_key_of_the_study_stand_on_every_sheet(name: str) -> None:
    one = worked(name)
    asked, page = page_of(name, 0)
    assert one.answers.study.title in page and "2031-05-09" in page and one.key in page
    assert f"Units: {asked.teller.units.label('force')}" in page
    assert "local codes and a licensed engineer decide" in page
    assert "Zero now does not mean removable" in page
    assert not FORBIDDEN.search(page)


def test_a_sheet_runs_no_script_asks_nothing_of_elsewhere_and_holds_its_style() -> None:
    one = worked("avocet_bridge")
    page = draw_page(one, Asked(one.answers, Teller(one.document.units), 0, 0, None), ".x{color:red}", DAY)
    assert page.startswith("<!DOCTYPE html><html lang=") and "<style>.x{color:red}@page " in page
    assert not re.search(r"<script|\son\w+=|https?:|//\w", page)


def of_text(text: str, member: str) -> str:
    """What the sheet of a member says, of a study of this text."""
    one = RESULTS.work(text, "mine.toml")
    names = [each.name for each in one.answers.study.truss.members]
    asked = Asked(one.answers, Teller(one.document.units), names.index(member), 0, None)
    return text_of(draw_page(one, asked, "", DAY))


def test_a_loss_that_the_study_asks_for_is_not_said_to_be_unchecked() -> None:
    text = find_bundled("avocet_bridge").text()
    unasked = "The loss of another member: this study does not ask for it"
    assert unasked in of_text(text, "L2-U2")
    asked_for = of_text(text.replace("[limits]\n", "[limits]\nafter_loss = true\n"), "L2-U2")
    assert unasked not in asked_for


def test_the_partial_factors_of_the_study_stand_on_the_sheet() -> None:
    text = find_bundled("avocet_bridge").text()
    assert "γ_M0 = 1.00, γ_M1 = 1.00, γ_M2 = 1.25" in of_text(text, "U3-U4")
    changed = text.replace("[standards]", "[standards]\ngamma_M1 = 1.1\ngamma_M2 = 1.275", 1)
    assert "γ_M0 = 1.00, γ_M1 = 1.10, γ_M2 = 1.275" in of_text(changed, "U3-U4")


def test_a_standard_that_no_resistance_of_the_member_comes_from_is_said_not_to_be_asked() -> None:
    text = find_bundled("avocet_bridge").text()
    # posts are given both resistances, the top chord none
    told = "Strength as given with the group; EN 1993-1-1:2005 is not asked."
    posts, top = of_text(text, "L2-U2"), of_text(text, "U3-U4")
    assert told in posts and "γ_M0 =" not in posts.partition("Checks")[0]
    assert told not in top and "Strength by EN 1993-1-1:2005" in top
    # of the 600 kN that end posts are given in compression the standard has less for their section
    diagonals = of_text(text, "L0-U1")
    assert "EN 1993-1-1:2005 is not asked, though it gives less for its section." in diagonals
    assert "beside it: EN 1993-1-1:2005 gives less for its section: 0." in diagonals


@pytest.mark.parametrize("name", BUNDLED)
def test_the_truss_at_the_head_has_that_member_bold_alone_and_names_its_joints(name: str) -> None:
    one = worked(name)
    for member, each in enumerate(one.answers.study.truss.members):
        asked = Asked(one.answers, Teller(one.document.units), member, 0, None)
        drawing = re.search(r'<svg class="truss".*?</svg>', draw_page(one, asked, "", DAY))
        assert drawing
        assert re.findall(r'class="bar marked" data-member="([^"]*)"', drawing[0]) == [each.name]
        assert drawing[0].count('class="bar ') == len(one.answers.study.truss.members)
        names = re.findall(r'class="name".*?<text[^>]*>([^<]*)</text>', drawing[0])
        joints = one.answers.study.truss.joint_names
        assert {joints[each.first], joints[each.second]} <= set(names) <= set(joints)
        wide, high = map(float, re.findall(r'viewBox="0 0 (\d+) (\d+)"', drawing[0])[0])
        # 60 mm at 96 px an inch, on a sheet 688 px wide
        assert wide == 688 and high <= 60 / 25.4 * 96


def test_what_is_not_checked_and_the_line_to_sign_are_one_block() -> None:
    one = worked("avocet_bridge")
    page = draw_page(one, Asked(one.answers, Teller(one.document.units), 0, 0, None), "", DAY)
    closing = page.partition('<div class="closing">')[2].partition('class="note foot"')[0]
    assert "Not checked" in closing and "Checked by" in closing and "Date" in closing


def test_the_words_that_lead_to_lighter_are_there_exactly_where_the_group_names_a_family() -> None:
    text = find_bundled("avocet_bridge").text()
    for study, there in ((text, True), (re.sub(r"(?m)^family = .*$", "", text), False)):
        one = RESULTS.work(study, "avocet_bridge.toml")
        names = [each.name for each in one.answers.study.truss.members]
        asked = Asked(one.answers, Teller(one.document.units), names.index("U3-U4"), 0, None)
        way = draw_way_to_lighter(one, asked)
        assert bool(way) == there
        if there:
            assert 'href="/lighter/?study=avocet_bridge&amp;member=U3-U4"' in way


def test_a_study_of_ones_own_goes_to_lighter_with_its_tab() -> None:
    one = RESULTS.work(find_bundled("avocet_bridge").text() + "\n# mine\n", "mine.toml")
    way = draw_way_to_lighter(one, Asked(one.answers, Teller(SYSTEMS["US"]), 0, 0, None))
    assert 'href="/lighter/?member=L0-L1&amp;units=US"' in way


def test_allowable_strengths_are_said_to_want_combinations_at_service_level() -> None:
    text = find_bundled("egret_span").text()
    said = "allowable strengths are compared with the combinations as written, which must be those at service"
    assert said in of_text(text.replace("AISC 360-22 LRFD", "AISC 360-22 ASD"), "L0-L1")
    assert said not in of_text(text, "L0-L1")


def of_angles(size: str, beside: str) -> str:
    """The sheet of a post of Avocet made of an angle or two."""
    text = find_bundled("avocet_bridge").text()
    before = text.index("[groups.posts]")
    after = text.index("section", before)
    end = text.index("\n", after)
    return of_text(f'{text[:after]}section = "{size}"\n{beside}{text[end:]}', "L2-U2")


@pytest.mark.parametrize(
    ("size", "joined", "told"),
    [
        ("L 100x100x10", "long leg", "by one leg"),
        ("L 100x75x10", "long leg", "by the long leg"),
        ("L 100x75x10", "short leg", "by the short leg"),
    ],
)
def test_a_leg_is_called_long_only_where_the_other_is_shorter(size: str, joined: str, told: str) -> None:
    page = of_angles(size, f'connected = "{joined}"')
    assert f"Connection {told}" in page


@pytest.mark.parametrize(
    ("connectors", "told"),
    [
        ("", "Connectors not given"),
        (
            'connectors = { spacing = 0.6, fixed = "welded" }',
            "Connectors welded, or bolted with pretension, 0.600 m",
        ),
        ('connectors = { spacing = 1.2, fixed = "snug" }', "Connectors bolted snug-tight, 1.20 m"),
    ],
)
def test_what_joins_a_pair_of_angles_stands_among_the_facts(connectors: str, told: str) -> None:
    assert told in of_angles("2L 60x60x6", connectors)


def test_a_member_of_one_piece_has_no_connectors() -> None:
    assert "Connectors" not in page_of("avocet_bridge", 0)[1]


def test_a_sheet_has_a_line_to_sign_and_numbers_its_printed_pages() -> None:
    one = worked("avocet_bridge")
    page = draw_page(one, Asked(one.answers, Teller(one.document.units), 0, 0, None), "", DAY)
    assert "Checked by Date" in text_of(page) and "avocet_bridge.toml, sheet of 2031-05-09" in text_of(page)
    style = page.partition("<style>")[2].partition("</style>")[0]
    assert 'counter(page) " of " counter(pages)' in style and r"2031\2d 05\2d 09" in style


def test_an_address_names_a_bundled_study_and_a_member_by_its_joints_in_either_order() -> None:
    for member in ("L3-U3", "U3-L3"):
        one, asked = read_address({"study": "avocet_bridge", "member": member}, RESULTS)
        assert one.key == worked("avocet_bridge").key and asked.name == "L3-U3"
        assert asked.teller.units.name == "metric"
    _, asked = read_address({"study": "avocet_bridge", "member": "L3-U3", "units": "US"}, RESULTS)
    assert asked.teller.units.name == "US"


def test_a_study_of_ones_own_is_found_by_its_key_and_its_names_stay_text() -> None:
    hostile = "<img src=x onerror=alert(1)>"
    text = (
        find_bundled("avocet_bridge")
        .text()
        .replace('title = "Avocet road bridge: two members that look alike"', f'title = "{hostile}"')
    )
    one = RESULTS.work(text, "mine.toml")
    asked = Asked(one.answers, Teller(one.document.units), 3, 0, None)
    address = write_address(one, asked)
    assert f"study={one.key}" in address and f"member={asked.name}" in address and "units" not in address
    again, same = read_address({"study": one.key, "member": asked.name}, RESULTS)
    assert again is one and same.member == 3
    page = draw_page(one, asked, "", DAY)
    assert escape(hostile) in page and hostile not in page
    # in the foot of each printed page, a string of the style sheet, it is text as well
    style = page.partition("<style>")[2].partition("</style>")[0]
    assert r'content:"\3c img\20 src\3d x' in style and "onerror=" not in style and style.count('"') == 6


def test_the_address_of_a_bundled_study_has_its_name_and_other_units_where_these_are_shown() -> None:
    one = worked("egret_span")
    asked = Asked(one.answers, Teller(SYSTEMS["metric"]), 0, 0, None)
    assert write_address(one, asked) == "/sheet/?study=egret_span&member=L0-L1&units=metric"


@pytest.mark.parametrize(
    ("query", "wrong"),
    [
        ({}, "study is neither the key"),
        ({"study": "no_such"}, "study is neither the key"),
        ({"study": "../secrets"}, "study is neither the key"),
        ({"study": "f" * 63}, "study is neither the key"),
        ({"study": "f" * 64, "member": "L3-U3"}, "not known any more: open it in Explore again"),
        ({"study": "avocet_bridge"}, "member is none of L0-L1"),
        ({"study": "avocet_bridge", "member": "L3-U9"}, "member is none of L0-L1"),
        ({"study": "avocet_bridge", "member": "<b>"}, "member is none of L0-L1"),
        ({"study": "avocet_bridge", "member": "L3-U3", "units": "cubits"}, "units are not one of metric, US"),
    ],
    ids=str,
)
def test_anything_else_is_refused_with_what_would_be_right(query: dict[str, str], wrong: str) -> None:
    with pytest.raises(NoSheetError, match=wrong) as refused:
        read_address(query, RESULTS)
    assert "<b>" not in str(refused.value) and NO_BREAK not in str(refused.value)
