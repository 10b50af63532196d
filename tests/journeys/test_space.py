"""A space truss with a crossing: its track has an axis of its own, and all members follow as in the plane."""

from __future__ import annotations

import numpy as np
import pytest

from explorer.document import read_text
from tests.journeys.conftest import Open
from tests.journeys.girder import space_girder
from tests.journeys.test_travelling import forces_shown, plain_forces


def test_a_train_travels_along_a_chord_in_space(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    text = space_girder(5)
    screen.upload("space.toml", text)
    screen.wait_for_other(before)
    screen.find(".grip").focus()
    screen.page.keyboard.press("Home")
    screen.page.keyboard.press("PageUp")
    position = screen.position()
    assert position > 0.3
    expected = plain_forces(read_text(text, "space").study, "run", "forward", position)
    found = forces_shown(screen, len(expected))
    assert np.abs(found - expected).max() <= 1e-9 * np.abs(expected).max()


def test_its_wheels_stand_on_the_chord_from_every_side(open_page: Open) -> None:
    screen = open_page("")
    before = screen.key()
    screen.upload("space.toml", space_girder(5))
    screen.wait_for_other(before)
    for _ in range(2):
        front, a, b = screen.page.evaluate(
            """() => {
                const stage = stillbar.stage, d = stage.drawing;
                stage.ride(8);
                stage.paint();
                const wheel = d.axles[0].group.getCTM();
                const joint = stage.study.joints.findIndex((p) => p[0] === 8 && p[1] === -1.5);
                return [[wheel.e, wheel.f], d.sx[joint], d.sy[joint]];
            }"""
        )
        # The front stands over A2, 8 m along; the mark itself four pixels above the chord's line.
        assert front[0] == pytest.approx(a, abs=0.6) and front[1] + 4 == pytest.approx(b, abs=0.6)
        screen.page.get_by_role("button", name="turn left").click()
        screen.find('#plate svg.truss:not([data-azimuth="-62"])').wait_for()
