"""Lanes and trains that are placed for no member: where nothing travels a lane lies all over its chord."""

from __future__ import annotations

import numpy as np
import pytest

from explorer.drawing.view import Direction
from explorer.pages.learn.lesson import show_lesson
from explorer.pages.learn.setting import Setting, read_setting
from explorer.store import Results, Worked
from tests.journeys.girder import pratt

TRAFFIC = """
[crossings.people]
train = "crowd"
chord = "deck"
[crossings.rail]
train = "lm71_or_sw0"
chord = "deck"
[combinations.full]
people = -2.0
[combinations.both]
people = 1.5
rail = 1.0
"""


@pytest.fixture(scope="module")
def worked() -> Worked:
    return Results().work(pratt(6) + TRAFFIC, "girder.toml")


def under(worked: Worked, name: str, place: float | None = None) -> Setting:
    column = [load.name for load in worked.answers.combinations].index(name)
    standing = None if place is None else {"way": "forward", "position": place}
    return read_setting(worked, {"key": worked.key, "under": column, "place": standing})


def test_a_lane_alone_loads_every_panel_of_its_chord(worked: Worked) -> None:
    setting = under(worked, "people")
    truss, state = worked.answers.study.truss, setting.told.state
    loads = {truss.joint_names[j]: -state.joint_loads[j, 1] for j in np.flatnonzero(state.loaded)}
    # 5 kN/m on panels of 5 m
    assert loads == pytest.approx({"L0": 12.5e3, "L6": 12.5e3, **{f"L{i}": 25e3 for i in range(1, 6)}})
    # q L^2 / 8 over the depth: 5 x 30^2 / 8 / 6
    assert state.forces[truss.member_index("U2-U3")] == pytest.approx(-93.75e3)
    assert show_lesson(setting, Direction())["stands"] == "Crowd lies over the whole chord here."


def test_a_lane_with_a_negative_factor_lifts_every_panel(worked: Worked) -> None:
    state = under(worked, "full").told.state
    assert state.forces[worked.answers.study.truss.member_index("U2-U3")] == pytest.approx(187.5e3)


def test_beside_a_train_lanes_are_left_out_and_that_is_told(worked: Worked) -> None:
    setting = under(worked, "both", 15.0)
    # four axles of 250 kN
    assert setting.told.state.joint_loads.sum(axis=0) == pytest.approx([0.0, -1000e3])
    assert show_lesson(setting, Direction())["stands"] == (
        "Crowd is left out here. The train as it stands: of LM71 or SW0 it is LM71, its lane is left out, "
        "all axles count."
    )


def test_loads_of_ones_own_need_no_telling(worked: Worked) -> None:
    setting = read_setting(worked, {"key": worked.key, "under": 0, "own": [[3, [0.0, -10.0]]]})
    assert show_lesson(setting, Direction())["stands"] == ""
