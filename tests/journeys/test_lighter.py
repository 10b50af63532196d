"""The page on lighter sections: what could be lighter, sections tried and undone, addresses, paper."""

from __future__ import annotations

import re

import pytest

from explorer.bundled import list_bundled
from tests.journeys.board import classes, looks
from tests.journeys.conftest import Open
from tests.journeys.screen import Screen

ALL_MET = "every check made here is met; joints are not among them."


def text_of(name: str) -> str:
    return next(item for item in list_bundled("study") if item.name == name).text()


def pick(screen: Screen, group: str, section: str) -> None:
    """Choose a section for a group by its name alone: options tell area and weight as well."""
    screen.page.get_by_label(group, exact=True).select_option(value=section)


def section_of(screen: Screen, group: str) -> str:
    return screen.page.get_by_label(group, exact=True).input_value()


def width(screen: Screen, selector: str) -> str:
    """How thick a line is drawn."""
    return str(screen.find(selector).first.evaluate("node => getComputedStyle(node).strokeWidth"))


def stroked(screen: Screen) -> set[str]:
    """Members with a stroke across them that is seen; a level stroke has no height, and counts."""
    names: list[str] = screen.find("#plate .bar .stroke").evaluate_all(
        "nodes => nodes.filter(node => getComputedStyle(node).display !== 'none')"
        ".map(node => node.parentNode.dataset.member)"
    )
    assert all(names.count(name) == 1 for name in names)
    return set(names)


def see_tried(screen: Screen, asks: str) -> None:
    """Wait until what is tried, as an address writes it, has been worked out and shown."""
    screen.page.locator(f'html[data-tried="{asks}"]').wait_for(state="attached")


def test_the_page_tells_what_could_be_lighter_and_is_reached_from_the_others(open_page: Open) -> None:
    screen = open_page("?study=bittern_roof")
    screen.page.wait_for_url("**study=bittern_roof**")
    screen.page.get_by_role("link", name="Lighter", exact=True).click()
    screen.find("#list li").first.wait_for()
    assert screen.text("header nav [aria-current]") == "Lighter"
    assert screen.find("#open-bundled").input_value() == "bittern_roof"
    assert re.match(
        r"Every check made here is also met with a weight of [\d.]+ kN instead of 7.82 kN;", screen.text("h1")
    )
    groups = screen.find("#list h4").all_inner_texts()
    assert sorted(groups) == ["bow", "diagonals", "tie", "verticals"]
    cautions = screen.find("#list .caution").all_inner_texts()
    assert len(cautions) == 4
    assert all(told.startswith("Joint not checked; a question for the engineer.") for told in cautions)
    assert "not a proposal" in screen.text("#list .shared")
    assert "The loss of a member is not among the checks made here" in screen.text(".cautions")
    assert "not a proposal" in screen.text(".cautions") and "Joints are not checked" in screen.text(
        ".cautions"
    )


def test_a_section_tried_fails_with_its_member_named_and_is_undone_by_key(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    see_tried(screen, "")
    before = looks(screen)
    assert "over" not in before.values() and screen.text("#outcome") == f"As it is, {ALL_MET}"
    pick(screen, "bow", "SHS 80x80x4")
    screen.see(
        "#outcome", "With these sections four checks are not met, the hardest compression of L0-U1 at 1.24"
    )
    assert "compression of L0-U1 at 1.24, under full snow" in screen.text("#failing")
    over = {name for name, look in looks(screen).items() if look == "over"}
    assert over == {"L0-U1", "U1-U2", "U6-U7", "U7-L8"}
    # as in Explore, doubled: a wall with a line of the ground in it
    assert [width(screen, f"#plate .bar.over .{part}") for part in ("wall", "core")] == ["8px", "3px"]
    assert stroked(screen).isdisjoint(over)
    screen.page.wait_for_url("**try=bow%3ASHS+80x80x4**")
    screen.page.keyboard.press("Control+z")
    screen.see("#outcome", f"As it is, {ALL_MET}")
    assert looks(screen) == before and section_of(screen, "bow") == ""
    screen.page.keyboard.press("Control+Shift+Z")
    see_tried(screen, "bow:SHS 80x80x4")
    assert "over" in classes(screen, "L0-U1") and section_of(screen, "bow") == "SHS 80x80x4"


def test_several_groups_are_tried_together_and_buttons_go_back_and_forth(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    undo, redo, back = (screen.find(f"[data-do={does}]") for does in ("undo", "redo", "back-to-now"))
    assert undo.is_disabled() and redo.is_disabled() and back.is_disabled()
    pick(screen, "tie", "SHS 40x40x3")
    see_tried(screen, "tie:SHS 40x40x3")
    pick(screen, "bow", "SHS 120x120x8")
    see_tried(screen, "bow:SHS 120x120x8,tie:SHS 40x40x3")
    undo.click()
    see_tried(screen, "tie:SHS 40x40x3")
    assert section_of(screen, "bow") == "" and redo.is_enabled()
    redo.click()
    see_tried(screen, "bow:SHS 120x120x8,tie:SHS 40x40x3")
    back.click()
    screen.see("#outcome", "As it is,")
    assert back.is_disabled() and undo.is_enabled()
    undo.click()
    see_tried(screen, "bow:SHS 120x120x8,tie:SHS 40x40x3")


def test_the_lightest_found_is_tried_with_one_button_and_weighs_what_the_title_tells(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    screen.find("[data-do=lightest]").click()
    screen.see("#outcome", f"With these sections {ALL_MET}")
    assert screen.text("h1") == f"With these sections {ALL_MET}"
    told = re.search(r"met with a weight of ([\d.]+ kN) instead of ([\d.]+ kN)", screen.text("#found"))
    assert told
    assert screen.text('[data-cell="weight:0"]') == told[2]
    assert screen.text('[data-cell="weight:1"]').startswith(told[1])


def test_a_candidate_tries_its_section_and_the_next_lighter_which_fails_as_told(open_page: Open) -> None:
    screen = open_page("lighter/?study=avocet_bridge")
    first = screen.find("#list li").first
    group, stops = first.locator("h4").inner_text(), first.locator(".stops").inner_text()
    screen.find("[data-do=lightest]").click()
    screen.see("#outcome", f"With these sections {ALL_MET}")
    first.locator(".tries button").last.click()
    rung = re.search(r": (.*?) of (.*?) at ([\d.]+) \(", stops)
    assert rung
    screen.see("#failing", f"{rung[1]} of {rung[2]} at {rung[3]}")
    section = first.locator(".tries button").last.get_attribute("data-section")
    assert section_of(screen, group) == section


def test_the_drawing_shows_now_beside_what_is_tried(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof&try=bow:SHS+80x80x4")
    screen.see("#outcome", "four checks are not met")
    tried = looks(screen)
    screen.find("#drawn").select_option("now")
    assert "over" not in looks(screen).values()
    screen.find("#drawn").select_option("tried")
    assert looks(screen) == tried
    screen.find("#plate").focus()
    screen.page.keyboard.press("Home")
    assert screen.text("#chosen-name") == "L0-L1"


def test_the_chosen_members_checks_and_its_way_to_explore(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof&member=L0-U1&try=bow:SHS+80x80x4")
    screen.see("#chosen-checks", "L0-U1 as tried")
    assert screen.text("#chosen h2").startswith("L0-U1 utilisation 0.47, as tried 1.24")
    assert screen.text("#chosen-use") == "compression; met now, not met as tried; group bow"
    screen.find("#chosen summary").click()
    assert "out of plane not checked" in screen.text("#chosen-checks")
    details = screen.find("#list details").first
    details.locator("summary").click()
    link = details.locator(".to-explore")
    member = link.get_attribute("data-member") or ""
    link.click()
    screen.wait_for_member(member)
    assert screen.find("#open-bundled").input_value() == "bittern_roof"


def test_an_address_names_what_is_tried_in_its_own_units(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof&units=US&try=tie:SHS+50x50x3,bow:SHS+90x90x3.6")
    see_tried(screen, "bow:SHS 90x90x3.6,tie:SHS 50x50x3")
    assert section_of(screen, "tie") == "SHS 50x50x3" and section_of(screen, "bow") == "SHS 90x90x3.6"
    assert screen.find("#left-out").is_hidden()
    assert "kip" in screen.text("#found") and " kN" not in screen.text("main")
    screen.find("#units-swap").click()
    screen.see("#found", "kN")
    assert section_of(screen, "tie") == "SHS 50x50x3"
    screen.see('[data-cell="weight:1"]', "kN")


@pytest.mark.parametrize(
    ("asks", "left_out"),
    [
        ("bow:SHS+1x1x1", "no section SHS 1x1x1 in the family of bow"),
        ("roof:SHS+40x40x3", "no group roof names a family"),
        ("bow", "no section is named for bow"),
        ("%3Cb%3E:x", "no group <b> names a family"),
        ("bow:%25,::,,", "no section % in the family of bow"),
    ],
)
def test_what_a_bad_address_asks_is_left_out_and_told(open_page: Open, asks: str, left_out: str) -> None:
    screen = open_page(f"lighter/?study=bittern_roof&member=nobody&try=tie:SHS+50x50x3,{asks}")
    see_tried(screen, "tie:SHS 50x50x3")
    assert left_out in screen.text("#left-out")
    assert section_of(screen, "tie") == "SHS 50x50x3" and section_of(screen, "bow") == ""


def test_looking_for_lighter_sections_tells_how_far_it_is_and_is_called_off(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    # a text of its own, which nothing is kept of
    screen.upload("bridge.toml", text_of("avocet_bridge").replace("Avocet road", "Smew road"))
    screen.see("#sizing-note", "Looking for lighter sections:")
    screen.page.get_by_role("button", name="cancel").click()
    screen.see("#sizing-note", "not looked for to the end: cancelled")
    assert screen.find("#list li").count() == 0
    pick(screen, "posts", "SHS 40x40x3")
    screen.see("#outcome", "With these sections")
    screen.page.get_by_role("button", name="look again").click()
    screen.find("#list li").first.wait_for()
    assert screen.text("h1").startswith("With these sections") and screen.find("#sizing-note").is_hidden()
    assert screen.text("#found").startswith("Every check made here is also met with a weight of ")


def test_a_study_without_families_says_what_to_write(open_page: Open) -> None:
    screen = open_page("lighter/?study=curlew_mast")
    assert screen.text("h1") == "No group of this study names a family of sections to choose from."
    assert "[groups.legs]" in screen.text("#no-family pre")
    assert screen.find("#trying").is_hidden() and screen.find("#candidates").is_hidden()
    screen.see("#chosen-checks", "as it is")
    screen.open_study("bittern_roof")
    assert screen.find("#no-family").is_hidden() and screen.find("#list li").count() == 4


def test_on_paper_stand_the_list_and_the_cautions_and_no_controls(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof&try=bow:SHS+80x80x4")
    screen.see("#outcome", "four checks are not met")
    screen.page.emulate_media(media="print")
    for control in ("[data-do=undo]", "[data-do=print]", "#open-bundled", ".tries button", "#drawn"):
        assert screen.find(control).first.is_hidden(), control
    assert screen.find("#list li:visible").count() == 4
    assert screen.find("#list .caution:visible").count() == 4
    assert screen.text("#paper-drawn") == "Drawn as tried: bow SHS 80x80x4"
    assert re.search(r" · Lighter · 20\d\d-\d\d-\d\d · an aid, not a check$", screen.text("#paper-title"))
    told = screen.text("main")
    assert "Local codes and a licensed engineer decide" in told and "Out of plane not checked." in told
    assert screen.find("#failing").is_visible()
    # the member chosen keeps its mark and its number
    assert screen.find("#plate .tag").is_visible() and screen.find("#plate .capsule").first.is_visible()
    screen.page.emulate_media(media="screen")
    assert screen.find("#paper-drawn").is_hidden()
    screen.find("#drawn").select_option("now")
    screen.page.emulate_media(media="print")
    assert screen.text("#paper-drawn") == "Drawn as it is now"


def test_open_tables_fit_the_width_of_a_sheet(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof&member=L4-U3", size=(1040, 720))
    screen.see("#chosen-checks", "prop force")
    screen.find("#chosen summary").click()
    screen.page.emulate_media(media="print")
    wide = "nodes => nodes.map(node => node.scrollWidth - node.clientWidth)"
    assert screen.find("#chosen-checks .wide-table").evaluate_all(wide) == [0]


def test_a_trial_is_still_there_after_a_look_at_explore_in_units_and_member_chosen(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof&units=US&member=L0-U1")
    pick(screen, "bow", "SHS 80x80x4")
    see_tried(screen, "bow:SHS 80x80x4")
    screen.find("#chosen-link").click()
    screen.wait_for_member("L0-U1")
    assert screen.text("#units-swap") == "kip, ft"
    screen.page.get_by_role("link", name="Lighter", exact=True).click()
    see_tried(screen, "bow:SHS 80x80x4")
    assert section_of(screen, "bow") == "SHS 80x80x4" and screen.text("#chosen-name") == "L0-U1"
    assert screen.text("#units-swap") == "kip, ft"
    # of another study nothing is tried for it
    screen.open_study("avocet_bridge")
    see_tried(screen, "")


def test_the_button_that_undid_the_last_trial_keeps_the_focus(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    pick(screen, "tie", "SHS 40x40x3")
    see_tried(screen, "tie:SHS 40x40x3")
    screen.find("[data-do=undo]").focus()
    screen.page.keyboard.press("Enter")
    see_tried(screen, "")
    focused = "document.activeElement.dataset.do"
    assert screen.page.evaluate(focused) == "undo" and screen.find("[data-do=undo]").is_disabled()
    screen.page.keyboard.press("Enter")
    assert section_of(screen, "tie") == "" and screen.page.evaluate(focused) == "undo"


def test_checks_that_are_unfolded_stay_so_in_other_units(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    screen.find("#list details[data-group=tie] summary").click()
    screen.find("#units-swap").click()
    screen.see("h1", "kip")
    open_ones = screen.find("#list details[open]")
    assert open_ones.count() == 1 and open_ones.get_attribute("data-group") == "tie"
    assert "kip" in open_ones.inner_text()


def test_members_that_bear_nothing_and_hold_have_a_stroke_at_the_joint_held_and_a_key(
    open_page: Open,
) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    screen.see("#outcome", ALL_MET)
    assert stroked(screen) == {"L1-U1", "L7-U7"}
    assert "nothing reaches it, yet it holds the joint at the stroke" in screen.text("#legend")
    assert screen.find("#list h3").first.inner_text() == "Idle, and yet holding"


def test_on_a_narrow_page_no_tag_covers_letters_and_tables_stack_their_rows(open_page: Open) -> None:
    screen = open_page("lighter/?study=avocet_bridge", size=(390, 844))
    screen.see("#chosen-checks", "as it is")
    assert screen.find("#plate .tag").is_hidden() and screen.text("#chosen-name") == "L0-L1"
    screen.find("#chosen summary").click()
    table = screen.find("#chosen-checks .wide-table")
    assert table.evaluate("node => node.scrollWidth <= node.clientWidth")
    assert table.locator("thead").is_hidden()
    label = "node => getComputedStyle(node, '::before').content"
    assert table.locator("tbody tr").first.locator("td").first.evaluate(label) == '"demand"'
    # whatever a cell tells stands to the right of its label, members' names too
    inset = "nodes => nodes.map(node => node.getBoundingClientRect().left - node.closest('td').offsetLeft)"
    screen.find("#list details[data-group=posts] summary").click()
    lefts = screen.find("#list details[data-group=posts] td .name").evaluate_all(inset)
    assert lefts and min(lefts) >= 100


def test_on_a_narrow_page_the_drawing_is_high_enough_and_goes_on_to_the_side(open_page: Open) -> None:
    screen = open_page("lighter/?study=avocet_bridge&member=L7-L8", size=(390, 844))
    screen.see("#chosen-checks", "as it is")
    plate = screen.find("#plate")
    assert plate.evaluate("node => node.clientHeight") >= 200
    assert plate.evaluate("node => node.scrollWidth > node.clientWidth")
    # the member chosen is brought into sight, and so is the next one
    seen = "node => { const box = node.querySelector('.bar.chosen').getBoundingClientRect();"
    seen += " return box.left < innerWidth && box.right > 0 }"
    assert plate.evaluate(seen)
    plate.focus()
    screen.page.keyboard.press("Home")
    assert screen.text("#chosen-name") == "L0-L1" and plate.evaluate(seen)


def test_the_title_says_what_became_of_a_trial_and_then_what_was_found(open_page: Open) -> None:
    screen = open_page("lighter/?study=bittern_roof")
    screen.see("h1", "Every check made here is also met with a weight of")
    found = screen.text("h1")
    assert screen.text("#found") == "" and screen.find("h1").get_attribute("aria-live") == "polite"
    pick(screen, "bow", "SHS 80x80x4")
    screen.see("h1", "With these sections four checks are not met, the hardest compression of L0-U1 at 1.24")
    assert screen.text("#found") == found and screen.text("h1") == screen.text("#outcome")
    assert screen.find("h1").get_attribute("aria-live") == "off"
    screen.find("[data-do=back-to-now]").click()
    screen.see("h1", found)
    assert screen.text("#found") == ""


def test_where_nothing_holds_the_nearest_choice_is_shown_and_is_no_candidate(open_page: Open) -> None:
    screen = open_page("lighter/?study=heron_fan")
    text = re.sub(r"from = .*\nto = .*", 'from = "SHS 40x40x3"\nto = "SHS 40x40x3"', text_of("bittern_roof"))
    before = screen.key()
    screen.upload("thin.toml", text.replace("compression = 450", "compression = 100"))
    screen.wait_for_other(before)
    screen.see(
        "h1", "Bow: no section to choose from meets all of its checks, the nearest has compression at 2.12"
    )
    assert "No choice from these families meets every check made here" in screen.text("h1")
    assert screen.text("#list").count("; not a candidate.") == 4
    assert screen.find("#list .failing li").count() == 8
    assert screen.find("[data-do=lightest]").is_disabled()
    assert screen.violations() == []


WIDE, NARROW = (1440, 900), (390, 844)


@pytest.mark.parametrize(
    ("query", "size", "ground"),
    [
        ("?study=avocet_bridge", WIDE, "light"),
        ("?study=avocet_bridge&try=top:SHS+100x100x5", NARROW, "dark"),
        ("?study=bittern_roof&try=bow:SHS+80x80x4", WIDE, "dark"),
        ("?study=bittern_roof", NARROW, "light"),
        ("?study=curlew_mast", NARROW, "dark"),
    ],
    ids=str,
)
def test_axe_finds_nothing_and_nothing_lies_beside_the_page(
    open_page: Open, query: str, size: tuple[int, int], ground: str
) -> None:
    screen = open_page(f"lighter/{query}", size=size, ground=ground)
    screen.see("#chosen-checks", "as it is")
    for summary in screen.find("main summary:visible").all():
        summary.click()
    assert screen.violations() == []
    assert screen.page.evaluate("document.documentElement.scrollWidth") <= size[0]
