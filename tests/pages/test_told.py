"""The words around a walk: places in it, work that adds up, the end with and without a load, by hand."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from explorer.bundled import list_bundled
from explorer.pages.learn.ending import show_ending
from explorer.pages.learn.hand_page import show_by_hand
from explorer.pages.learn.setting import Setting, read_setting
from explorer.pages.learn.steps import Step, list_steps
from explorer.pages.learn.task_sheet import SheetRequest, draw_sheet
from explorer.pages.learn.told import tell_place
from explorer.pages.learn.walk import show_walk
from explorer.store import Results
from explorer.tasks import make_task
from solver.reasons.reason import CUT, JOINT_INSPECTION


def setting_of(name: str, own: object = None, under: str | None = None) -> Setting:
    """A bundled study under loads of one's own, or under a load of its own by name."""
    item = next(item for item in list_bundled() if item.name == name)
    worked = Results().work(item.text(), item.path.name)
    names = [load.name for load in worked.answers.combinations]
    return read_setting(worked, {"key": worked.key, "under": names.index(under) if under else 0, "own": own})


def words_of(*parts: object) -> str:
    """What markup says, without its elements."""
    return re.sub(r"<[^>]*>", "", "".join(map(str, parts))).replace("\u00a0", " ")


def ending_of(setting: Setting) -> str:
    end = show_ending(setting, list_steps(setting.reasons))
    return words_of(end["question"], end["says"], end["beside"])


@pytest.mark.parametrize(
    ("number", "total", "told"),
    [
        (0, 1, "The only joint that shows one"),
        (1, 2, "Second of two joints that show one"),
        (10, 21, "11th of 21 joints that show one"),
        (11, 21, "12th of 21 joints that show one"),
        (20, 21, "21st of 21 joints that show one"),
        (21, 23, "22nd of 23 joints that show one"),
    ],
)
def test_the_place_of_a_joint_is_told_as_one_says_it(number: int, total: int, told: str) -> None:
    assert tell_place([Step(JOINT_INSPECTION, ())] * total, number) == told


def test_the_only_cut_is_told_as_the_only_one() -> None:
    assert tell_place([Step(JOINT_INSPECTION, ()), Step(CUT, ())], 1) == "By a cut: the only one"


def test_a_load_that_does_not_drive_what_the_zeros_hold_is_not_said_to_be_followed_by_one_that_does() -> None:
    told = ending_of(setting_of("dunlin_cascade", under="lantern"))
    assert "This load does not drive them; another may, and so may any crookedness" in told
    assert "will" not in told


def test_without_a_load_nothing_is_said_of_this_load_nor_of_others_that_bear_the_same() -> None:
    told = ending_of(setting_of("bittern_roof", own=[]))
    assert told.startswith("Without a load no member bears anything")
    assert "Nothing acts here, so every member fades" in told
    assert "Without a load nothing drives them; a load may." in told
    assert not re.search(r"[Tt]his load|the others|0e\+00", told)


def test_a_load_that_goes_straight_into_a_support_leaves_no_others_that_bear_the_same() -> None:
    # L0 is held both ways.
    told = ending_of(setting_of("dunlin_cascade", own=[[0, [0, -1000.0]]]))
    assert "Every member fades: no member has to work for what acts here." in told
    assert "the others" not in told


def test_what_the_truss_without_zeros_bears_differs_by_rounding_and_is_told_so() -> None:
    told = ending_of(setting_of("dunlin_cascade", under="lantern"))
    rounding = r"the largest difference is no more than rounding \(\de-1[5-9] of the largest force\)"
    assert re.search(f"{rounding}|no force differs in any digit", told)


@pytest.mark.parametrize("under", ["roofing", "snow", "snow_left", "snow_right"])
def test_the_work_that_is_written_adds_up_to_what_is_said(under: str) -> None:
    setting = setting_of("bittern_roof", under=under)
    lists = [re.search(r"in kN: (.*); together 0(.*?)<", str(step["says"])) for step in show_walk(setting)]
    told = [found for found in lists if found]
    assert told
    for found in told:
        numbers = [
            Decimal(text.replace("−", "-")) for text in re.findall(r"(−?[\d.]+) at ", words_of(found[1]))
        ]
        assert len(numbers) > 1 and all(numbers)
        assert sum(numbers) == 0 or found[2] == " but for the rounding of these numbers"


def test_by_hand_tells_in_which_order_arm_and_force_stand_and_ends_with_a_check() -> None:
    told = show_by_hand(setting_of("dunlin_cascade", under="lantern"))
    assert "In moments the arm stands first, in m, then the force." in words_of(told)
    # 24 kN at the middle: 12 up at either end, so the rafter, 3 in 5, bears -20 all along.
    assert words_of(told).endswith("↑  −3/5 · 20 + 3/5 · 20 = 0, as a check")


@pytest.mark.parametrize("space", [False, True])
def test_a_sheet_tells_what_every_support_holds(space: bool) -> None:
    page = draw_sheet(SheetRequest(4711, 1, space, 1), "").partition('<section class="answers">')[0]
    written = make_task(4711, 1, space).text.partition("[supports]")[2].partition("\n[")[0]
    held = re.findall(r'(\w+) = "([xyz]+)"', written)
    assert len(held) > 1
    line = page.partition("Supports: ")[2].partition(".</p>")[0].replace("\u00a0", " ")
    assert line.split(", ") == [f"{joint} {letters}" for joint, letters in held]
