"""A train is picked from the list and let across; its lane is arranged, peaks are reached and made up."""

from __future__ import annotations

import numpy as np
import pytest

from explorer.document import read_text
from solver.answers import answer
from solver.placement import Standing, arrange_for
from solver.state import take_state
from tests.journeys.conftest import Open
from tests.journeys.girder import girder
from tests.journeys.screen import Screen

WITH_TRAINS = (
    girder(6)
    + """
[trains.rigid]
axles = [[0, 40], [3, 60]]
second = { gap = 4 }
[crossings.strips]
train = "sw0"
chord = "deck"
[crossings.set]
train = "hl93"
chord = "deck"
[crossings.pair]
train = "rigid"
chord = "deck"
[crossings.people]
train = "crowd"
chord = "deck"
[combinations.all]
strips = 1.2
people = 1.5
"""
)


def let_cross(screen: Screen, train: str, share: str = "1") -> None:
    before = screen.key()
    screen.find("#train-pick").select_option(train)
    screen.find("#train-share").fill(share)
    screen.page.get_by_role("button", name="let it cross").click()
    screen.wait_for_other(before)


@pytest.fixture
def loaded(open_page: Open) -> Screen:
    screen = open_page("?study=avocet_bridge")
    before = screen.key()
    screen.upload("with_trains.toml", WITH_TRAINS)
    screen.wait_for_other(before)
    return screen


def test_a_train_picked_from_the_list_is_drawn_with_its_source_and_let_across(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L3-U3")
    screen.find("#train-pick").select_option("lm71")
    screen.see("#train-shown", "EN 1991-2:2003")
    assert screen.find("#train-shown svg.train-picture .wheel").count() == 4
    let_cross(screen, "lm71", "0.5")
    assert "LM71 of 250, 250, 250, 250 kN and a lane of 80.0 kN/m" in screen.text("#where")
    assert screen.member() == "L3-U3"


def test_a_jump_to_a_peak_shows_that_state_everywhere_and_its_make_up_is_read(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L3-U3")
    let_cross(screen, "lm71", "0.5")
    # the hanger's line is a tent of 5 m to both sides: four axles within 2.4 m to one side and 2.4 to the
    # other bring 250 x (4 - 6.4 / 5); the lane clear of them most with an axle over L3: 80 x (2.6^2 + 1) / 10
    axles, lane = 0.5 * 250 * (4 - 6.4 / 5), 0.5 * 80 * (2.6**2 + 1) / 10
    screen.find('#track .lane[data-way="forward"] .peak.t').click()
    screen.see(".tag", f"T {axles + lane:.0f}")
    screen.see("#sheet-title .now", f"T {axles + lane:.0f} kN now")
    assert screen.page.get_by_role("radio", name="most tension in L3-U3").is_checked()
    assert screen.find("#plate .bands .lane").count() == 2
    screen.see('#sheet [data-question="3"]', "axle of 125 kN")
    screen.page.wait_for_url("**for=tension**")


def test_the_make_up_of_a_governing_force_lists_what_brings_it(loaded: Screen) -> None:
    loaded.choose_load("all")
    screen = loaded
    screen.find("#sheet [data-peak=tension]").click()
    made = screen.text("#sheet svg.make-up")
    assert "1.2 × strips of SW0" in made and "1.5 × lane of people" in made
    assert "lane of people lies on" in screen.text("#sheet .together")
    screen.find("#sheet .together summary").click()
    assert "in " + screen.member() in screen.text("#sheet .together table")


@pytest.mark.parametrize(
    ("under", "way", "sign"),
    [("strips", "forward", 0), ("strips", "backward", 0), ("set", "forward", 1), ("pair", "backward", -1)],
)
def test_the_page_evaluates_trains_as_they_stand_and_arranged(
    loaded: Screen, under: str, way: str, sign: int
) -> None:
    study = read_text(WITH_TRAINS, "x").study
    answers = answer(study)
    member = study.truss.member_index("U2-L3")
    column = [load.name for load in answers.combinations].index(under)
    loaded.choose_load(f"{under} alone")
    names = loaded.page.evaluate("stillbar.stage.study.members")
    loaded.page.evaluate(f"stillbar.stage.choose({names.index('U2-L3')})")
    loaded.wait_for_member("U2-L3")
    loaded.page.evaluate(f"stillbar.stage.ride(13.7, '{way}')")
    if sign:
        loaded.page.evaluate(f"stillbar.stage.arrange({sign})")
        loaded.page.wait_for_function("() => stillbar.stage.arrangedNow() !== null")
    loaded.page.evaluate("stillbar.stage.paint()")
    found = np.array(loaded.page.evaluate("Array.from(stillbar.stage.values)"))[: len(names)]
    arrangement = arrange_for(answers.responses.forces, member, sign) if sign else None
    standing = Standing("forward" if way == "forward" else "backward", 13.7, 0, None, arrangement)
    expected = take_state(study, answers.responses, answers.combinations[column], standing).forces
    if not sign:
        # the second train and lanes come in only where loads are arranged
        assert found == pytest.approx(expected, abs=1e-9 * np.abs(expected).max())
    else:
        assert found == pytest.approx(expected, abs=1e-8 * np.abs(expected).max())


def test_a_set_shows_one_of_its_trains_at_a_time(loaded: Screen) -> None:
    loaded.choose_load("set alone")
    axles = "() => document.querySelectorAll('#plate .train .axle').length"
    loaded.page.wait_for_function(f"{axles} === 3")
    loaded.page.get_by_role("radio", name="HL93 tandem", exact=True).check(force=True)
    loaded.page.wait_for_function(f"{axles} === 2")
    loaded.page.wait_for_url("**train=hl93_tandem**")


def test_two_crossings_are_compared_on_one_track(loaded: Screen) -> None:
    loaded.choose_load("strips alone")
    assert loaded.find("#track .beside").count() == 0
    loaded.find("#beside").select_option(label="run")
    loaded.find("#track .beside").first.wait_for(state="attached")
    # one line for each of its two ways
    assert loaded.find("#track .beside").count() == 2
    loaded.see("#beside-told", "run: ")
    loaded.find("#beside").select_option(label="nothing")
    loaded.find("#track .beside").first.wait_for(state="detached")
    assert loaded.text("#beside-told") == ""


def test_a_page_with_lanes_strips_and_a_second_train_has_no_barriers(loaded: Screen) -> None:
    loaded.choose_load("all")
    loaded.page.get_by_role("radio", name="most tension").check(force=True)
    loaded.find("#plate .bands .lane").first.wait_for(state="attached")
    assert loaded.violations() == []


def test_an_impact_that_is_no_number_from_0_up_is_refused_beside_its_field(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge")
    before = screen.key()
    screen.find("#train-impact").fill("-1")
    screen.page.get_by_role("button", name="let it cross").click()
    screen.see("#train-fault", "0.33 is an impact of 33 %")
    assert screen.find("#train-impact").get_attribute("aria-invalid") == "true"
    assert screen.key() == before


def test_another_trial_of_the_same_train_takes_the_place_of_the_one_before(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge")
    let_cross(screen, "sw0", "0.5")
    let_cross(screen, "sw0", "0.25")
    assert "times 0.25" in screen.text("#where")
    crossings = screen.page.evaluate("Object.keys(stillbar.stage.study.crossings)")
    assert crossings == ["lorry_crossing", "sw0 across deck"]


def test_a_lane_alone_lies_over_the_whole_chord_until_it_is_placed_for_a_member(loaded: Screen) -> None:
    loaded.choose_load("people")
    assert loaded.page.get_by_role("radio", name="the whole chord").is_checked()
    loaded.find("#plate .bands .lane").first.wait_for(state="attached")
    # 5 kN/m on 30 m between two supports
    loaded.page.wait_for_function(
        "() => [...document.querySelectorAll('.reaction:not(.off) text')]"
        ".map((t) => t.textContent).filter(Boolean).join() === '75.0,75.0'"
    )


def test_an_address_that_asks_for_a_load_that_is_not_there_is_told_so(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&under=flood")
    screen.see("#opening-note", "flood, which this study has not got")
