"""A member is lost: its verdict is read, the mechanism moves, forces after its loss are drawn."""

from __future__ import annotations

import numpy as np

from explorer.bundled import find_bundled
from explorer.document import read_text
from solver.answers import answer
from solver.cases import work_out
from solver.stiffness import Stiffness
from tests.journeys.conftest import Open


def test_the_verdict_of_a_still_member_is_read_and_its_mechanism_seen_to_move(open_page: Open) -> None:
    screen = open_page("?study=dunlin_cascade&member=L1-U1")
    screen.see('#sheet [data-question="1"] .answer', "Always, in this study")
    # its lower joint hangs between two members in line, and no load stands there
    assert screen.text('#sheet [data-question="4"] .answer') == "L1 is loose"
    assert "though nothing in this study pushes" in screen.text("#grounds")
    moving = screen.find('#sheet [data-question="4"] .moving line').first
    before = moving.get_attribute("x2"), moving.get_attribute("y2")
    screen.page.get_by_role("button", name="show it move").click()
    screen.page.wait_for_function(
        "([x, y]) => { const line = document.querySelector('#sheet [data-question=\"4\"] .moving line');"
        " return line.getAttribute('x2') !== x || line.getAttribute('y2') !== y; }",
        arg=list(before),
    )


def test_forces_after_a_loss_are_drawn_and_the_member_can_be_put_back(open_page: Open) -> None:
    study = read_text(find_bundled("curlew_mast").text(), "x").study
    member = study.truss.member_index("A0-A1")
    screen = open_page("?study=curlew_mast&member=A0-A1&under=ice")
    whole = np.array(screen.page.evaluate("Array.from(stillbar.stage.values)"))
    screen.page.get_by_role("button", name="draw it without").click()
    screen.see("#lost-name", "Drawn without A0-A1")
    found = np.array(screen.page.evaluate("Array.from(stillbar.stage.values)"))
    # worked out anew from the study without the member
    left = tuple(one for index, one in enumerate(study.truss.members) if index != member)
    truss = type(study.truss)(study.truss.joint_names, study.truss.coordinates, left, study.truss.supports)
    loads = work_out(study.cases["ice"], study.truss, study.chords).joint_loads.reshape(-1, 1)
    expected = np.insert(Stiffness(truss).respond(loads).forces[:, 0], member, 0.0)
    np.testing.assert_allclose(found[: len(expected)], expected, atol=1e-9 * np.abs(expected).max())
    assert "gone" in (screen.find('#plate [data-member="A0-A1"]').get_attribute("class") or "").split()
    screen.page.get_by_role("button", name="put it back").click()
    assert screen.page.evaluate("Array.from(stillbar.stage.values)") == list(whole)


def test_what_a_loss_adds_to_every_force_is_drawn_by_itself(open_page: Open) -> None:
    screen = open_page("?study=curlew_mast&member=A0-A1&under=ice")
    whole = np.array(screen.page.evaluate("Array.from(stillbar.stage.values)"))
    screen.page.get_by_role("button", name="draw it without").click()
    after = np.array(screen.page.evaluate("Array.from(stillbar.stage.values)"))
    screen.page.get_by_role("button", name="the difference alone").click()
    screen.see("#lost-name", "what its loss adds to every force")
    added = np.array(screen.page.evaluate("Array.from(stillbar.stage.values)"))
    study = read_text(find_bundled("curlew_mast").text(), "x").study
    lost, members = study.truss.member_index("A0-A1"), len(study.truss.members)
    others = np.arange(len(whole)) != lost
    np.testing.assert_allclose(added[others], (after - whole)[others], atol=1e-9 * np.abs(whole).max())
    changed = np.count_nonzero(np.abs(added[:members]) > 1e-9 * np.abs(whole[:members]).max())
    assert screen.text("#sentence") == f"Losing A0-A1 changes {changed} other forces just now."
    screen.page.get_by_role("button", name="forces after it").click()
    assert screen.page.evaluate("Array.from(stillbar.stage.values)") == list(after)


def test_the_place_where_another_is_worst_after_a_loss_is_one_click_away(open_page: Open) -> None:
    text = find_bundled("godwit_girder").text()
    answers = answer(read_text(text, "x").study)
    lost = answers.study.truss.member_index("L1-L2")
    stable = answers.losses.each[lost].stable
    assert stable is not None and stable.worst is not None
    name = answers.study.truss.members[stable.worst.member].name
    screen = open_page("?study=godwit_girder&member=L1-L2")
    screen.page.get_by_role("button", name=f"where {name} is worst then").click()
    screen.see("#lost-name", f"{name} (struck across) at its worst")
    assert screen.member() == "L1-L2"
    marked = screen.find(f'#plate [data-member="{name}"]').get_attribute("class") or ""
    assert "worst" in marked.split()
    shown = screen.page.evaluate(f"stillbar.stage.values[{stable.worst.member}]")
    group = answers.study.truss.members[stable.worst.member].group
    resistance = group.compression if stable.worst.compression else group.tension
    assert resistance is not None
    np.testing.assert_allclose(abs(shown) / resistance, stable.worst.utilisation, rtol=1e-9)


def test_under_another_load_nobody_is_said_to_be_at_its_worst(open_page: Open) -> None:
    screen = open_page("?study=curlew_mast&member=A0-A1")
    screen.page.get_by_role("button", name="where B0-B1 is worst then").click()
    screen.see("#lost-name", "B0-B1 (struck across) at its worst")
    assert screen.find("#plate .bar.worst").count() == 1
    screen.choose_load("torque")
    assert screen.text("#lost-name").startswith("Drawn without A0-A1: forces after its loss. ")
    assert screen.find("#plate .bar.worst").count() == 0


def test_another_study_and_another_measure_are_drawn_whole(open_page: Open) -> None:
    screen = open_page("?study=curlew_mast&member=A0-A1")
    screen.page.get_by_role("button", name="draw it without").click()
    screen.find("#measure").select_option("peak tension")
    assert screen.find("#lost-note").is_hidden()
    screen.page.get_by_role("button", name="draw it without").click()
    assert screen.find("#measure").input_value() == "force now"
    screen.page.get_by_role("button", name="the difference alone").click()
    assert not screen.find("#plate .load").first.is_visible()
    before = screen.key()
    screen.open_study("bittern_roof")
    screen.wait_for_other(before)
    assert screen.find("#lost-note").is_hidden() and screen.find("#plate.difference").count() == 0


def test_a_page_without_a_member_has_no_barriers(open_page: Open) -> None:
    screen = open_page("?study=curlew_mast&member=A0-A1")
    screen.page.get_by_role("button", name="draw it without").click()
    screen.see("#lost-name", "Drawn without A0-A1")
    assert screen.violations() == []
