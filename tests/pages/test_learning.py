"""What a lesson holds: steps in an order that rests on earlier ones, loads of one's own, the end."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from explorer.bundled import list_bundled
from explorer.drawing.view import Direction
from explorer.pages.learn.hand_page import show_by_hand
from explorer.pages.learn.lesson import show_lesson
from explorer.pages.learn.setting import Setting, read_setting
from explorer.pages.learn.steps import list_steps
from explorer.store import Results, Worked
from solver.leaving_out import leave_out

BUNDLED = [item.name for item in list_bundled("study")]


@cache
def worked(name: str) -> Worked:
    item = next(item for item in list_bundled("study") if item.name == name)
    return Results().work(item.text(), item.path.name)


def settings(name: str) -> list[Setting]:
    """Every load of a study that stands still."""
    study = worked(name)
    return [
        read_setting(study, {"key": study.key, "under": column})
        for column, load in enumerate(study.answers.combinations)
        if load.crossing is None
    ]


@pytest.mark.parametrize("name", BUNDLED)
def test_every_zero_has_one_step_and_rests_on_earlier_ones(name: str) -> None:
    for setting in settings(name):
        known: set[int] = set()
        for step in list_steps(setting.reasons):
            assert set(step.because) <= known
            assert not known & set(step.members)
            known |= set(step.members)
        assert known == set(setting.zeros)


@pytest.mark.parametrize("name", BUNDLED)
def test_without_its_zeros_a_truss_bears_the_same(name: str) -> None:
    for setting in settings(name):
        stiffness = setting.worked.answers.reasoner.stiffness
        left = leave_out(stiffness, setting.told.state, tuple(setting.zeros))
        assert left.forces is not None
        # what is judged zero is left out: up to 1e-9 of the scale
        assert np.abs(left.forces - setting.told.state.forces).max(initial=0.0) <= 1e-8 * setting.scale


@pytest.mark.parametrize("name", BUNDLED)
def test_a_lesson_shows_as_many_steps_as_the_walk_has_and_its_end(name: str) -> None:
    setting = settings(name)[0]
    lesson = show_lesson(setting, Direction())
    steps = lesson["steps"]
    assert isinstance(steps, list)
    assert [step["kind"] for step in steps] == [step.kind for step in list_steps(setting.reasons)] + ["end"]
    assert lesson["zeros"] == sorted(setting.zeros)
    assert [look == "z" for look in lesson["looks"]] == [
        m in setting.zeros for m in range(len(lesson["looks"]))
    ]  # type: ignore[arg-type, attr-defined, call-overload]


@pytest.mark.parametrize("name", BUNDLED)
def test_by_hand_tells_something_of_every_load_that_stands_still(name: str) -> None:
    for setting in settings(name):
        assert "<li>" in show_by_hand(setting) or "not written down by hand" in show_by_hand(setting)


def test_loads_of_ones_own_take_the_place_of_the_studys() -> None:
    study = worked("avocet_bridge")
    truss = study.answers.study.truss
    joint = truss.joint_index("U4")
    setting = read_setting(study, {"key": study.key, "under": 1, "own": [[joint, [0, -1000.0]]]})
    # U4 has no load but this, and both chords lie across it
    assert setting.told.state.forces[truss.member_index("L4-U4")] == pytest.approx(-1000.0)


@pytest.mark.parametrize(
    "own", [[], [["x"]], [[999, [0, 1]]], [[0, [1]]], [[0, ["a", 0]]], [[0, [float("nan"), 0]]]]
)
def test_a_load_that_is_none_leaves_every_member_zero(own: list[object]) -> None:
    study = worked("avocet_bridge")
    setting = read_setting(study, {"key": study.key, "under": 0, "own": own})
    assert len(setting.zeros) == len(study.answers.study.truss.members)
    assert show_lesson(setting, Direction())["zeros"] == setting.zeros
