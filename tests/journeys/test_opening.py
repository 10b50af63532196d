"""Studies are opened from the list and from files; a faulty one leaves the page as it was."""

from __future__ import annotations

from explorer.bundled import find_bundled
from tests.journeys.conftest import Open
from tests.journeys.girder import girder

TRIANGLE = """
title = "Wren <b>frame</b>"
units = "metric"
[joints]
A = [0, 0]
B = [4, 0]
C = [2, 3]
[supports]
A = "xy"
B = "y"
[materials.steel]
E = 210_000
[sections.bar]
area = 800
[groups.all]
members = ["A-B", "A-C", "B-C"]
section = "bar"
material = "steel"
duties = ["<img src=x onerror=alert(1)>"]
[cases.push]
joints = { C = [0, -12] }
"""


def test_a_good_file_is_opened_and_its_words_stay_words(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    screen.upload("wren.toml", TRIANGLE)
    screen.wait_for_other(before)
    assert screen.page.title() == "Wren <b>frame</b> · Stillbar"
    assert screen.find("#sheet img").count() == 0
    assert "<img src=x onerror=alert(1)>" in screen.text("#sheet")
    # Two bars carry 12 kN at C, each at a slope of 3 in 2: 6 kN upwards each, 6 x sqrt(13) / 3 along it.
    assert "C 7.2" in screen.text('#plate .value[data-m="1"]')


def test_a_reload_keeps_an_own_study(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    screen.upload("wren.toml", TRIANGLE)
    screen.wait_for_other(before)
    own = screen.key()
    screen.page.reload()
    screen.find("html[data-ready]").wait_for(state="attached")
    assert screen.key() == own


def test_faults_are_listed_with_their_places_and_the_old_study_stays(open_page: Open) -> None:
    screen = open_page("")
    before, sentence = screen.key(), screen.text("#sentence")
    bad = TRIANGLE.replace("area = 800", 'area = "much"').replace("C = [2, 3]", "C = [2, 3, 4]")
    screen.upload("bad.toml", bad)
    screen.see("#faults", "bad.toml was not opened; the study shown stays.")
    told = screen.text("#faults")
    assert "sections.bar.area" in told and "joints.C" in told
    assert screen.key() == before and screen.text("#sentence") == sentence
    screen.page.get_by_role("button", name="understood").click()
    assert screen.text("#faults") == ""


def test_a_mechanism_is_told_by_the_joints_that_move(open_page: Open) -> None:
    screen = open_page("")
    screen.upload("loose.toml", TRIANGLE.replace('B = "y"\n[materials', "[materials"))
    screen.see("#faults", "mechanism")
    assert "B" in screen.text("#faults")


def test_a_file_dropped_on_the_page_is_opened(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    screen.page.evaluate(
        """text => {
            const data = new DataTransfer();
            data.items.add(new File([text], "dropped.toml"));
            document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true }));
        }""",
        TRIANGLE,
    )
    screen.wait_for_other(before)
    assert screen.page.title().startswith("Wren")


def test_two_tabs_with_two_studies_do_not_disturb_one_another(open_page: Open) -> None:
    one, other = open_page("?study=avocet_bridge"), open_page("?study=egret_span")
    assert one.key() != other.key()
    one.find("#plate").focus()
    one.page.keyboard.press("End")
    one.wait_for_member("U7-L8")
    other.find('.ag-row[row-id="L1-U1"]').click()
    other.wait_for_member("L1-U1")
    assert "hangers" in one.text("#sheet-title") or "diagonals" in one.text("#sheet-title")
    assert one.member() == "U7-L8"
    assert "kip" in other.text("#sheet") and "kN" not in other.text("#sheet")


def test_every_bundled_study_opens_from_the_list(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge")
    for name in ("bittern_roof", "curlew_mast", "dunlin_cascade", "egret_span", "heron_fan"):
        screen.open_study(name)
        assert screen.page.title().startswith(find_bundled(name).title)


def test_units_are_shown_as_the_reader_wants_whatever_the_file_has(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L4-L5")
    assert "5.00 m" in screen.text("#sheet-title")
    screen.find("#units-swap").click()
    screen.see("#sheet-title", "16.4 ft")
    assert "kip" in screen.text("#key")
    screen.page.wait_for_url("**units=US**")
    assert "kip" in screen.text("#where") and "kN" not in screen.text("#where")


def test_a_space_truss_is_turned_and_lettered_anew(open_page: Open) -> None:
    screen = open_page("?study=curlew_mast")
    bar = screen.find('#plate [data-member="A0-A1"]')
    before = bar.get_attribute("transform")
    names = screen.find("#plate .name:not(.off)").count()
    screen.page.mouse.move(700, 300)
    screen.page.mouse.down()
    screen.page.mouse.move(800, 300, steps=5)
    screen.page.mouse.up()
    screen.find('#plate svg.truss:not([data-azimuth="-62"])').wait_for()
    assert bar.get_attribute("transform") != before
    assert screen.find("#plate .name:not(.off)").count() >= names / 2
    assert screen.text("#plate .tag tspan") == "N1-S1"


def test_the_mechanism_moves_on_request_and_comes_to_rest_where_it_was(open_page: Open) -> None:
    screen = open_page("?member=L3-U3")
    ring = screen.find("#sheet .moving circle").first
    rest = ring.get_attribute("cy")
    screen.page.get_by_role("button", name="show it move").click()
    screen.page.wait_for_function(
        "rest => document.querySelector('#sheet .moving circle').getAttribute('cy') !== rest", arg=rest
    )
    screen.page.wait_for_function(
        "rest => Math.abs(document.querySelector('#sheet .moving circle').getAttribute('cy') - rest) < 0.006",
        arg=rest,
    )


def test_long_work_tells_its_progress_and_can_be_called_off(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    screen.upload("long.toml", girder(400))
    screen.see("#opening-note", "Working on long.toml")
    screen.page.get_by_role("button", name="cancel").click()
    screen.see("#faults", "cancelled")
    assert screen.key() == before


def test_names_that_look_like_markup_are_words_everywhere(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    name = "g<img src=x onerror=alert(1)>"
    hostile = TRIANGLE.replace("[groups.all]", f'[groups."{name}"]')
    hostile = hostile.replace(
        "[cases.push]", f'[cases."c<b onclick=alert(2)>"]\njoints = {{ B = [0, -1] }}\n[cases."{name}"]'
    )
    screen.upload("hostile.toml", hostile)
    screen.wait_for_other(before)
    for load in (0, 1):
        screen.find(".ticks button").nth(load).click()
        screen.find(f'.ticks button[data-load="{load}"][aria-pressed="true"]').wait_for()
    for opened in screen.find("#sheet summary").all():
        opened.click()
    assert screen.find("main img").count() == screen.find("main b[onclick]").count() == 0
    assert name in screen.text("#sheet") and name in screen.text(".ticks") and name in screen.text("#under")
    assert name in screen.find(".ag-row").first.inner_text()
