"""The train is moved by mouse and keys, jumps to peaks, travels by itself; all members follow exactly."""

from __future__ import annotations

import numpy as np
import pytest

from explorer.bundled import find_bundled
from explorer.document import read_text
from solver.study import Study
from tests.journeys.conftest import Open
from tests.journeys.screen import Screen
from tests.plain import plain


def study_named(name: str) -> Study:
    return read_text(find_bundled(name).text(), name).study


def forces_shown(screen: Screen, members: int) -> np.ndarray:
    """Member forces [N] as the page has evaluated them."""
    screen.page.evaluate("stillbar.stage.paint()")
    return np.array(screen.page.evaluate("Array.from(stillbar.stage.values)"))[:members]


def plain_forces(study: Study, under: str, way: str, position: float) -> np.ndarray:
    """The same by the plain way: dense equilibrium, lever rule, superposition."""
    load = next(c for c in (*study.alone, *study.combinations) if c.name == under)
    forces = plain.standing(study, plain.case_columns(study).forces, dict(load.cases))
    if load.crossing:
        weights = plain.placed(study, load.crossing, way, np.array([position]))[:, 0]
        chord = study.crossings[load.crossing].chord
        forces = forces + load.crossing_factor * plain.influence(study, chord).forces @ weights
    return np.asarray(forces)


@pytest.mark.parametrize(
    ("name", "under", "way", "position"),
    [
        ("avocet_bridge", "lorry_crossing", "forward", 26.5),
        ("avocet_bridge", "strength", "backward", 3.7),
        ("egret_span", "strength", "forward", 12.9),
        ("fulmar_gantry", "lifting_and_braking", "forward", 21.3),
        ("godwit_girder", "cart_on_a_sunken_support", "backward", 9.1),
    ],
)
def test_the_page_evaluates_the_forces_of_the_plain_way(
    open_page: Open, name: str, under: str, way: str, position: float
) -> None:
    screen = open_page(f"?study={name}&under={under}&at={position}+{way}")
    study = study_named(name)
    expected = plain_forces(study, under, way, position)
    found = forces_shown(screen, len(expected))
    assert np.abs(found - expected).max() <= 1e-9 * np.abs(expected).max()


def test_dragging_the_handle_moves_the_train_and_members_wake_and_fall_still(open_page: Open) -> None:
    screen = open_page("?at=26.5+forward")
    hanger = screen.find('#plate [data-member="L3-U3"]')
    assert "z" in (hanger.get_attribute("class") or "").split()
    grip = screen.find(".grip").bounding_box()
    assert grip
    x, y = grip["x"] + grip["width"] / 2, grip["y"] + grip["height"] / 2
    screen.page.mouse.move(x, y)
    screen.page.mouse.down()
    screen.page.mouse.move(x - 190, y, steps=12)
    screen.page.mouse.up()
    screen.see("#where", "forward")
    assert 18 < screen.position() < 20
    assert "t" in (hanger.get_attribute("class") or "").split()
    assert screen.text(".now").startswith("T ")
    screen.page.wait_for_url("**at=19**")


def test_a_press_on_the_other_lane_turns_the_train_round(open_page: Open) -> None:
    screen = open_page("")
    track = screen.find("svg.track").bounding_box()
    assert track
    screen.page.mouse.click(track["x"] + 700, track["y"] + track["height"] - 12)
    screen.see("#where", "backward")


def test_keys_move_the_train_by_steps_to_breaks_and_to_both_ends(open_page: Open) -> None:
    screen = open_page("?at=20+forward")
    screen.find(".grip").focus()
    screen.page.keyboard.press("ArrowRight")
    step = screen.position() - 20
    assert 0 < step <= 0.5
    screen.page.keyboard.press("Shift+ArrowRight")
    # Axles stand 0, 3.8 and 5.1 m behind the front, joints every 5 m: the next to meet one is the third.
    assert screen.position() == pytest.approx(min(p for p in (23.8, 20.1, 25.0) if p > 20 + step), abs=1e-9)
    screen.page.keyboard.press("End")
    assert screen.position() == pytest.approx(45.1)
    screen.page.keyboard.press("Home")
    assert screen.position() == pytest.approx(0.0)


def test_a_peak_is_jumped_to_by_mouse_and_by_key(open_page: Open) -> None:
    screen = open_page("?member=L3-U3")
    screen.find('.peak[data-way="backward"] .jump').click()
    screen.see("#where", "backward")
    assert screen.position() == pytest.approx(11.2)
    screen.see(".now", "T 103 kN now")
    screen.find('.peak[data-way="forward"]').focus()
    screen.page.keyboard.press("Enter")
    screen.see("#where", "forward")
    assert screen.position() == pytest.approx(18.8)


def test_the_peak_at_a_jump_is_the_force_on_its_own_side(open_page: Open) -> None:
    """Both trolley axles beyond the last support, the front one about to roll off the tip: by moments."""
    screen = open_page("?study=fulmar_gantry&under=trolley_run&member=U4-U5&at=10+forward")
    screen.find('.peak[data-way="forward"]').focus()
    screen.page.keyboard.press("Enter")
    screen.page.wait_for_function("() => Math.abs(stillbar.stage.state.position - 24) < 1e-9")
    # Cut through U4-U5, moments about L5 (20 m), depth 3 m: axles of 20 kN x 1.2 at 24 m and at 22 m.
    found = forces_shown(screen, 23)[study_named("fulmar_gantry").truss.member_index("U4-U5")]
    assert found == pytest.approx(24e3 * (4 + 2) / 3, rel=1e-9)


def test_it_travels_by_itself_and_can_be_stopped(open_page: Open) -> None:
    screen = open_page("?at=10+forward")
    button = screen.page.get_by_role("button", name="let it travel")
    button.click()
    screen.page.wait_for_function("() => stillbar.stage.state.position > 12")
    screen.page.get_by_role("button", name="stop here").click()
    here = screen.position()
    button.wait_for()
    assert screen.position() == here < 45


def test_for_those_who_asked_for_less_motion_it_goes_break_by_break(open_page: Open) -> None:
    screen = open_page("?at=10+forward", calm=True)
    screen.page.get_by_role("button", name="let it travel").click()
    screen.page.wait_for_function("() => stillbar.stage.state.position > 10")
    assert screen.position() == pytest.approx(10.1)
    screen.page.wait_for_function("() => stillbar.stage.state.position > 11")
    assert screen.position() == pytest.approx(13.8)


def test_reactions_follow_the_train(open_page: Open) -> None:
    screen = open_page("?at=26.5+forward")
    # Moments about L8: 30 x 13.5 + 55 x 17.3 + 55 x 18.6 over 40 m.
    left = (30 * 13.5 + 55 * 17.3 + 55 * 18.6) / 40
    shown = [text for text in screen.find(".reaction:not(.off) text").all_text_contents() if text]
    assert sorted(shown) == sorted([f"{left:.1f}", f"{140 - left:.1f}"])


def test_the_train_itself_can_be_taken_by_its_wheels(open_page: Open) -> None:
    screen = open_page("?at=26.5+forward")
    wheel = screen.find(".axle .wheel").first.bounding_box()
    assert wheel
    x, y = wheel["x"] + wheel["width"] / 2, wheel["y"] + wheel["height"] / 2
    screen.page.mouse.move(x, y)
    screen.page.mouse.down()
    # 40 m take 1040 px at this width: 26 px a metre.
    screen.page.mouse.move(x - 130, y, steps=6)
    screen.page.mouse.up()
    assert screen.position() == pytest.approx(21.5, abs=0.11)
