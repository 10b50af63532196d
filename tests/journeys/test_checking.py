"""What stops it being lighter: question 5, its ladder and proof, the measure, and the sheet to print."""

from __future__ import annotations

import re

import pytest

from explorer.bundled import find_bundled
from tests.journeys.board import classes, looks
from tests.journeys.conftest import Open
from tests.journeys.screen import Screen

WIDE, NARROW = (1440, 900), (390, 844)


def unfold(screen: Screen) -> None:
    screen.find('#sheet [data-question="5"] summary').click()
    screen.find('#sheet [data-question="5"] table').wait_for()


def open_weaker(open_page: Open) -> Screen:
    """Open Avocet with end posts that bear 450 kN, of which 554 are asked."""
    text = find_bundled("avocet_bridge").text().replace("compression = 600", "compression = 450")
    screen = open_page("")
    before = screen.key()
    screen.upload("weaker.toml", text)
    screen.wait_for_other(before)
    return screen


def to_sheet(screen: Screen) -> None:
    """Go where the words under question 5 lead, in the same tab."""
    address = screen.find('#sheet [data-question="5"] a.to-sheet').get_attribute("href") or ""
    screen.page.goto(screen.address + address.removeprefix("/"))


def test_the_fifth_question_tells_what_governs_and_its_ladder_marks_it(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L0-U1")
    # 554 kN of the 600 that the study gives
    assert screen.text('#sheet [data-question="5"] .answer') == "Compression: 0.92"
    ladder = screen.find("#sheet svg.ladder")
    assert ladder.locator("rect.governs").count() == 1
    words = ladder.locator("text").all_text_contents()
    names = ["tension", "compression", "slenderness", "prop force", "prop stiffness", "another's loss"]
    names += ["depth", "joints", "the whole truss", "deflection"]
    assert [word for word in words if word in names] == names
    assert "not checked" in words and "0.92" in words
    said = screen.sentences()[4]
    assert "554 kN of 600 kN" in said and "local codes and a licensed engineer decide" in said
    assert "Not checked:" in said and "joints L0 and U1" in said


def test_the_proof_unfolds_to_the_steps_of_the_standard(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=U3-U4")
    unfold(screen)
    rows = screen.find('#sheet [data-question="5"] tr').all()
    cells = [row.locator("td").all_inner_texts() for row in rows]
    last = next(row for row in cells if row[0].startswith("6.3.1.1"))
    assert re.sub(r"\s", " ", last[1]) == "N_b,Rd = χ A f_y / γ_M1" and re.fullmatch(
        r"N_b,Rd\s=\s1106\skN", last[3]
    )
    assert any(row[0].startswith("Compression, ") for row in cells)


def test_the_proof_and_the_sheet_follow_the_units_shown(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=U3-U4&units=US")
    unfold(screen)
    proof = screen.text('#sheet [data-question="5"] details')
    assert "kip" in proof and "ksi" in proof and "kN" not in proof and "MPa" not in proof
    to_sheet(screen)
    page = screen.text("main")
    assert "ksi" in page and "MPa" not in page and not re.search(r"\d kN", page)


def test_bars_show_utilisation_by_thickness_and_double_what_is_beyond_a_limit(open_page: Open) -> None:
    screen = open_weaker(open_page)
    screen.find("#measure").select_option("utilisation")
    drawn = looks(screen)
    told = screen.page.evaluate("stillbar.stage.study.measures.utilisation")
    names = screen.page.evaluate("stillbar.stage.study.members")
    for name, value in zip(names, told, strict=True):
        assert drawn[name] == ("unknown" if value is None else "over" if value > 1 + 1e-9 else "ink")
    assert "over" in drawn.values() and "ink" in drawn.values()
    key = screen.text("#key")
    assert "more than a limit, doubled" in key and "strength not known" in key
    assert "utilisation: the hardest check over all combinations, wherever the train stands" in key
    hues = screen.page.evaluate(
        "() => [...new Set([...document.querySelectorAll('#plate .bar .wall')]"
        ".map(node => getComputedStyle(node).stroke))]"
    )
    assert all(
        max(rgb) - min(rgb) < 16 for rgb in ([int(n) for n in re.findall(r"\d+", hue)] for hue in hues)
    )


def test_idle_props_have_a_stroke_at_the_joint_they_hold_while_utilisation_is_shown(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L0-U1&show=utilisation")
    idle = {"L2-U2": "U2", "L4-U4": "U4", "L6-U6": "U6"}
    strokes = screen.page.evaluate(
        "() => [...document.querySelectorAll('#plate .bar .stroke')]"
        ".filter(n => getComputedStyle(n).display !== 'none')"
        ".map(n => [n.parentNode.dataset.member, n.getBoundingClientRect()])"
        ".map(([name, box]) => [name, box.x + box.width / 2, box.y + box.height / 2])"
    )
    assert {name for name, _, _ in strokes} == set(idle) and len(strokes) == len(idle)
    names: list[str] = screen.page.evaluate("stillbar.stage.study.members")
    assert "holds" in classes(screen, "L2-U2") and "L2-U2" in names
    for name, x, y in strokes:
        number = joint_number(screen, idle[name])
        ring = screen.find(f"#plate .joint[data-j='{number}'] circle").bounding_box()
        assert ring and abs(x - ring["x"] - ring["width"] / 2) < 1
        assert 0 < y - ring["y"] - ring["height"] / 2 < 12
    assert "it holds the joint at its stroke" in screen.text("#key")
    screen.find("#measure").select_option("force now")
    assert "holds" not in classes(screen, "L2-U2") and "stroke" not in screen.text("#key")


def joint_number(screen: Screen, name: str) -> int:
    """Which joint a name stands at, as the drawing has it."""
    label = screen.find("#plate .letters .name").filter(has_text=re.compile(f"^{name}$"))
    return int(label.get_attribute("data-j") or -1)


def test_loads_stand_back_while_bars_show_a_measure_of_all_loads(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L0-U1")
    faint = (
        "() => ['.load-place', '.reactions']"
        ".map(c => getComputedStyle(document.querySelector('#plate ' + c)).opacity)"
    )
    assert screen.page.evaluate(faint) == ["1", "1"]
    for measure in ("utilisation", "largest peak", "zero share"):
        screen.find("#measure").select_option(measure)
        assert all(float(opacity) < 1 for opacity in screen.page.evaluate(faint))
    screen.find("#measure").select_option("force now")
    assert screen.page.evaluate(faint) == ["1", "1"]


def test_the_words_that_unfold_a_proof_stay_where_they_are(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L2-U2")
    for number in range(1, 6):
        summary = screen.find(f'#sheet [data-question="{number}"] summary').first
        place = "n => [n.getBoundingClientRect().x, n.getBoundingClientRect().y + scrollY]"
        x, y = summary.evaluate(place)
        summary.click()
        now = summary.evaluate(place)
        assert abs(now[0] - x) < 1 and abs(now[1] - y) < 4
        table = screen.find(f'#sheet [data-question="{number}"] details table').first.bounding_box()
        whole = screen.find("#sheet .questions").bounding_box()
        assert table and whole and abs(table["x"] - whole["x"]) < 1


def test_the_fifth_question_leads_to_lighter_at_that_study_and_member(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=U3-U4")
    screen.find('#sheet [data-question="5"] a.to-lighter').click()
    screen.page.wait_for_url("**/lighter/?**")
    screen.page.locator("#candidates").wait_for()
    assert "study=avocet_bridge" in screen.page.url and "member=U3-U4" in screen.page.url


def test_a_member_of_unknown_strength_is_dotted_and_said_to_be_so(open_page: Open) -> None:
    text = re.sub(r"(?m)^(tension|compression) = .*$", "", find_bundled("heron_fan").text())
    screen = open_page("")
    before = screen.key()
    screen.upload("fan.toml", text)
    screen.wait_for_other(before)
    assert screen.text('#sheet [data-question="5"] .answer') == "Strength not known"
    assert screen.find("#sheet svg.ladder rect.unknown").count() >= 1
    screen.find("#measure").select_option("utilisation")
    assert set(looks(screen).values()) == {"unknown"}


def test_the_sheet_of_a_study_of_ones_own_is_found_by_its_key(open_page: Open) -> None:
    text = find_bundled("heron_fan").text() + "\n# mine\n"
    screen = open_page("")
    before = screen.key()
    screen.upload("mine.toml", text)
    screen.wait_for_other(before)
    key, member = screen.key(), screen.member()
    to_sheet(screen)
    assert key in screen.page.url and screen.text("h1") == f"Calculation sheet: {member}"
    assert key in screen.text("main")


def test_the_words_under_the_fifth_question_open_the_sheet_beside_the_page(open_page: Open) -> None:
    screen = open_page("?study=avocet_bridge&member=L2-U2")
    with screen.page.context.expect_page() as opened:
        screen.find('#sheet [data-question="5"] a.to-sheet').click()
    page = opened.value
    page.locator("h1").wait_for()
    assert page.locator("h1").inner_text() == "Calculation sheet: L2-U2"
    assert page.url.endswith("/sheet/?study=avocet_bridge&member=L2-U2")


def test_a_bad_address_is_refused_in_plain_words(open_page: Open) -> None:
    screen = open_page("")
    answer = screen.page.request.get(screen.address + "sheet/?study=avocet_bridge&member=%3Cb%3E")
    assert answer.status == 400 and answer.headers["content-type"].startswith("text/plain")
    assert answer.text().startswith("No sheet: member is none of L0-L1, L1-L2")


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=str)
@pytest.mark.parametrize(
    "query", ["study=godwit_girder&member=L0-U1", "study=avocet_bridge&member=U1-U2&units=US"]
)
def test_axe_finds_nothing_on_the_sheet_and_nothing_lies_beside_it(
    open_page: Open, query: str, size: tuple[int, int]
) -> None:
    screen = open_page("", size=size)
    screen.page.goto(f"{screen.address}sheet/?{query}")
    assert screen.violations() == []
    assert screen.page.evaluate("document.documentElement.scrollWidth") <= size[0]
    screen.page.emulate_media(media="print")
    assert screen.find("main").evaluate("n => getComputedStyle(n.parentElement).page") == "member-sheet"
    assert "licensed engineer" in screen.text("main")


@pytest.mark.parametrize(("size", "ground"), [(WIDE, "dark"), (NARROW, "light")], ids=str)
def test_axe_finds_nothing_in_explore_with_the_proof_unfolded(
    open_page: Open, size: tuple[int, int], ground: str
) -> None:
    screen = open_page("?study=godwit_girder&member=L0-U1&show=utilisation", size=size, ground=ground)
    unfold(screen)
    assert screen.violations() == []
    assert screen.page.evaluate("document.documentElement.scrollWidth") <= size[0]


@pytest.mark.parametrize(("paper", "box"), [("A4", (595, 842)), ("Letter", (612, 792))])
def test_a_sheet_prints_on_a4_and_on_us_letter_and_nothing_is_cut(
    open_page: Open, paper: str, box: tuple[int, int]
) -> None:
    # 14 mm are left free on either side; 96 px an inch
    width = int((box[0] / 72 - 2 * 14 / 25.4) * 96)
    screen = open_page("", size=(width, 1000))
    screen.page.goto(f"{screen.address}sheet/?study=godwit_girder&member=L0-U1")
    screen.page.emulate_media(media="print")
    assert screen.find(".wide").first.evaluate("n => getComputedStyle(n).overflowX") == "visible"
    assert beside(screen) == []
    printed = screen.page.pdf(format=paper)
    boxes = {
        tuple(round(float(n)) for n in found)
        for found in re.findall(rb"/MediaBox \[([\d.]+) ([\d.]+) ([\d.]+) ([\d.]+)\]", printed)
    }
    assert {(wide, high) for _, _, wide, high in boxes} <= {
        (x + a, y + b) for x, y in [box] for a in (0, 1) for b in (0, 1)
    }


def test_nothing_of_a_sheet_lies_beside_a_narrow_page_or_scrolls_out_of_it(open_page: Open) -> None:
    screen = open_page("", size=NARROW)
    for query in ("study=godwit_girder&member=L0-U1", "study=avocet_bridge&member=L2-U2"):
        screen.page.goto(f"{screen.address}sheet/?{query}")
        assert beside(screen) == []


def test_what_is_over_its_limit_is_told_with_how_much_in_the_first_line_of_the_head(open_page: Open) -> None:
    screen = open_weaker(open_page)
    screen.find('.ag-row[row-id="L0-U1"]').click()
    screen.wait_for_member("L0-U1")
    # 554 over 450
    assert screen.text('#sheet [data-question="5"] .answer').startswith("Not met, 1.23: compression")


def beside(screen: Screen) -> list[str]:
    """What reaches beyond the page or is wider than what holds it."""
    found: list[str] = screen.page.evaluate(
        "() => [...document.querySelectorAll('main *:not(svg *)')].filter(n => {"
        " const box = n.getBoundingClientRect();"
        " return box.right > document.documentElement.clientWidth + 1"
        " || (n.clientWidth && getComputedStyle(n).display !== 'inline'"
        " && n.scrollWidth > n.clientWidth + 1);"
        "}).map(n => n.outerHTML.slice(0, 120))"
    )
    return found
