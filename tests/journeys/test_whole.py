"""The page on the whole truss: opened, members chosen and told, states stepped through, printed."""

from __future__ import annotations

import re

import pytest

from tests.journeys.board import looks
from tests.journeys.conftest import Open
from tests.journeys.screen import Screen


def values(screen: Screen) -> set[str]:
    """What stands at members and is seen."""
    found = screen.find("#plate .letters .value:not(.off) text").all_text_contents()
    return {text for text in found if text}


def chosen(screen: Screen) -> str:
    return screen.text("#chosen-name")


def test_all_three_pages_lead_to_one_another_with_the_same_study(open_page: Open) -> None:
    screen = open_page("?study=bittern_roof")
    screen.page.wait_for_url("**study=bittern_roof**")
    for page, there in (("Whole truss", "#list tr[data-row]"), ("Learn", "#step-says p")):
        screen.page.get_by_role("link", name=page, exact=True).click()
        screen.find(there).first.wait_for()
        screen.page.wait_for_url("**study=bittern_roof**")
        assert screen.find("#open-bundled").input_value() == "bittern_roof"
        assert screen.text("header nav [aria-current]") == page
    screen.page.get_by_role("link", name="Explore", exact=True).click()
    screen.find("#sheet .answer").first.wait_for()
    assert screen.find("#open-bundled").input_value() == "bittern_roof"


def test_the_drawing_tells_props_from_members_that_cannot_be_spared(open_page: Open) -> None:
    screen = open_page("whole/")
    assert screen.text("#counts").startswith("None of 29 members can be spared; three of them hold")
    drawn = looks(screen)
    assert {name for name, look in drawn.items() if look == "prop"} == {"L2-U2", "L4-U4", "L6-U6"}
    assert set(drawn.values()) == {"prop", "mechanism"}
    assert values(screen) == {"P", "M"}
    # strokes at both ends of each prop, and on no other bar
    assert screen.find("#plate .bar.prop .stroke").count() == screen.find("#plate .stroke").count() == 6
    assert re.findall(r"[A-Z] [a-z ]+: \d+", screen.text("#legend")) == [
        "P prop: 3",
        "M cannot be spared: 26",
    ]
    assert "Zero now does not mean removable." in screen.text(".title")


def test_a_member_is_chosen_from_the_list_by_keys_and_by_the_mouse_and_told(open_page: Open) -> None:
    screen = open_page("whole/")
    screen.find("#list").get_by_role("button", name="U3-L4", exact=True).click()
    assert chosen(screen) == "U3-L4" and "group diagonals" in screen.text("#chosen-kind")
    assert screen.text("#verdict") == screen.text("#list tr[data-row].chosen td:last-child")
    assert "Without it the truss is a mechanism" in screen.text("#verdict")
    assert screen.find("#list [aria-pressed=true]").all_inner_texts() == ["U3-L4"]
    screen.find("#plate").focus()
    screen.page.keyboard.press("Home")
    assert chosen(screen) == "L0-L1"
    screen.page.keyboard.press("ArrowRight")
    assert chosen(screen) == "L0-U1"
    post = screen.find("#plate .bar[data-member='L4-U4']").bounding_box()
    assert post
    screen.page.mouse.click(post["x"] + post["width"] / 2, post["y"] + 0.3 * post["height"])
    assert chosen(screen) == "L4-U4"
    assert "It holds U4 in place" in screen.text("#verdict")


def test_pointing_at_a_member_tells_it_and_going_away_tells_the_chosen_one_again(open_page: Open) -> None:
    screen = open_page("whole/?member=L0-L1")
    bar = screen.find("#plate .bar[data-member='L2-U2']").bounding_box()
    assert bar
    screen.page.mouse.move(bar["x"] + bar["width"] / 2, bar["y"] + 0.3 * bar["height"])
    assert chosen(screen) == "L2-U2" and "It holds U2 in place" in screen.text("#verdict")
    assert screen.text("#hover-note").startswith("L2-U2 P prop")
    assert screen.find("#list [aria-pressed=true]").all_inner_texts() == ["L0-L1"]
    screen.page.mouse.move(5, 5)
    assert chosen(screen) == "L0-L1"


def test_states_of_self_stress_are_stepped_through_and_left_again(open_page: Open) -> None:
    screen = open_page("whole/?study=godwit_girder")
    kinds = looks(screen)
    assert set(kinds.values()) == {"overload", "carried"}
    before, after = screen.find("[data-do=state-before]"), screen.find("[data-do=state-next]")
    assert before.is_disabled()
    after.click()
    screen.see("#state-told", "State 1 of 7:")
    drawn = looks(screen)
    assert sorted(look for look in drawn.values() if look != "z") == ["c"] * 4 + ["t"] * 2
    assert {"T 1", "C 0.8", "C 0.6", "0"} == values(screen)
    assert "not in this state" in screen.text("#legend")
    assert screen.find("#plate .stroke:visible").count() == 0
    for number in range(2, 8):
        after.click()
        screen.see("#state-told", f"State {number} of 7:")
    assert after.is_disabled() and looks(screen) != drawn
    screen.page.wait_for_url("**state=7**")
    screen.find("#drawn").select_option("-1")
    assert looks(screen) == kinds and before.is_disabled()


def test_an_address_names_member_state_and_units(open_page: Open) -> None:
    screen = open_page("whole/?study=curlew_mast&member=N1-S1&state=2&units=US")
    assert chosen(screen) == "N1-S1" and "M cannot be spared" in screen.text("#chosen-kind")
    screen.see("#state-told", "State 2 of 2:")
    assert "kip" in screen.text("#verdict") and screen.text("#units-swap") == "kip, ft"


def test_a_space_truss_turned_keeps_what_is_drawn(open_page: Open) -> None:
    screen = open_page("whole/?study=curlew_mast&state=1")
    screen.see("#state-told", "State 1 of 2:")
    before, azimuth = looks(screen), screen.find("#plate svg").get_attribute("data-azimuth")
    screen.find("[data-do=turn-right]").click()
    screen.page.locator(f'#plate svg:not([data-azimuth="{azimuth}"])').wait_for()
    assert looks(screen) == before and "z" in before.values()


def test_a_truss_without_states_has_no_chooser(open_page: Open) -> None:
    screen = open_page("whole/")
    assert screen.find("#chooser").is_hidden() and screen.find("#shares").is_hidden()
    assert "Statically determinate" in screen.text("#sharing")


def test_on_paper_stand_the_list_and_the_cautions_and_no_controls(open_page: Open) -> None:
    screen = open_page("whole/?study=godwit_girder")
    screen.page.emulate_media(media="print")
    for control in ("#chooser", "[data-do=print]", "#open-bundled", "#page-learn", "[data-do=closer]"):
        assert screen.find(control).first.is_hidden(), control
    assert screen.find("#list tr[data-row]:visible").count() == 31
    notes = screen.text("main")
    assert "Local codes and a licensed engineer decide" in notes
    assert "Zero now does not mean removable." in notes


WIDE, NARROW = (1440, 900), (390, 844)


@pytest.mark.parametrize(
    ("query", "size", "ground"),
    [
        ("", WIDE, "light"),
        ("", NARROW, "dark"),
        ("?study=godwit_girder&state=6", WIDE, "dark"),
        ("?study=godwit_girder&state=6", NARROW, "light"),
        ("?study=curlew_mast", WIDE, "dark"),
        ("?study=curlew_mast", NARROW, "light"),
    ],
    ids=str,
)
def test_axe_finds_nothing_and_nothing_lies_beside_the_page(
    open_page: Open, query: str, size: tuple[int, int], ground: str
) -> None:
    screen = open_page(f"whole/{query}", size=size, ground=ground)
    assert screen.violations() == []
    assert screen.page.evaluate("document.documentElement.scrollWidth") <= size[0]
