"""What wakes a member: whatever is put in, it stays inside its edges; lengths follow the numbers."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.drawing.figures import WakingPicture, draw_waking
from tests.drawing.reading import HUNDREDTH, Picture, points_of

HOSTILE = "<b>&\"'"
POINTS = ((0.0, 0.0), (4.0, 0.0), (8.0, 0.0), (4.0, 3.0))
MEMBERS = ((0, 1), (1, 2), (0, 3), (3, 2), (1, 3))


def waking(*pulls: tuple[float, float], name: str = "", text: str = "") -> WakingPicture:
    return WakingPicture("loads that wake it", POINTS, MEMBERS, 4, pulls, name, text)


def arrows(picture: Picture) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Tail and tip of every arrow."""
    return [(points_of(one[0])[0], points_of(one[1])[0]) for one in picture.all("g", "arrow")]


@st.composite
def pictures(draw: st.DrawFn) -> WakingPicture:
    place = st.tuples(st.floats(-50, 50), st.floats(-50, 50))
    points = tuple(draw(st.lists(place, min_size=2, max_size=24, unique=True)))
    joint = st.integers(0, len(points) - 1)
    pairs = st.tuples(joint, joint).filter(lambda pair: pair[0] < pair[1])
    members = tuple(draw(st.lists(pairs, min_size=1, max_size=40, unique=True)))
    pull = st.one_of(st.just((0.0, 0.0)), st.tuples(st.floats(-9, 9), st.floats(-9, 9)))
    pulls = tuple(draw(st.lists(pull, min_size=len(points), max_size=len(points))))
    asked = draw(st.integers(0, len(members) - 1))
    return WakingPicture("wakes", points, members, asked, pulls, draw(st.text("LU09<", max_size=6)), "T 0.8")


@given(pictures(), st.sampled_from([168.0, 420.0]))
def test_a_picture_of_waking_loads_keeps_inside(given_one: WakingPicture, width: float) -> None:
    found = Picture.read(draw_waking(given_one, width))
    _, _, right, bottom = map(float, found.root.attrib["viewBox"].split())
    assert right == width and found.root.attrib["aria-label"] == "wakes"
    for x, y in found.points():
        assert -HUNDREDTH <= x <= right + HUNDREDTH and -HUNDREDTH <= y <= bottom + HUNDREDTH
    for _, (left, top, end, foot) in found.boxes():
        assert left >= -HUNDREDTH and end <= right + HUNDREDTH and top >= 0 and foot <= bottom
    assert len(found.all("line", "mark")) == 1


def test_arrows_start_at_their_joints_and_are_as_long_as_the_forces() -> None:
    found = Picture.read(draw_waking(waking((0, 0), (0, -0.8), (0.3, 0.4), (0, -0.4))))
    drawn = arrows(found)
    lengths = [hypot(tip[0] - tail[0], tip[1] - tail[1]) for tail, tip in drawn]
    assert lengths == pytest.approx([lengths[0], lengths[0] * 0.5 / 0.8, lengths[0] / 2], abs=0.03)
    (asked,) = found.all("line", "mark")
    foot, head = points_of(asked)
    assert drawn[0][0] == pytest.approx(foot, abs=0.02) and drawn[2][0] == pytest.approx(head, abs=0.02)


def test_an_arrow_has_the_direction_of_the_load() -> None:
    ((tail, tip),) = arrows(Picture.read(draw_waking(waking((0, 0), (0.6, 0.8), (0, 0), (0, 0)))))
    length = hypot(tip[0] - tail[0], tip[1] - tail[1])
    along = (tip[0] - tail[0]) / length, (tail[1] - tip[1]) / length
    assert along == pytest.approx((0.6, 0.8), abs=0.002), "pixels count downwards"


def test_a_load_too_weak_for_an_arrow_is_told_from_one_that_does_not_reach() -> None:
    found = Picture.read(draw_waking(waking((0, 0), (0, -1), (0, -0.01), (0, 0))))
    assert len(arrows(found)) == 1
    assert len(found.all("circle", "joint")) == 1


def test_the_largest_is_named_and_valued_below_a_member_that_no_word_touches() -> None:
    found = Picture.read(
        draw_waking(waking((0, 0), (0, -0.8), (0, 0), (0, 0), name="L1", text="T 0.80 for 1"))
    )
    assert found.words() == ["L1 T 0.80 for 1"]


def test_no_load_no_arrow() -> None:
    found = Picture.read(draw_waking(waking(*[(0.0, 0.0)] * 4)))
    assert not arrows(found) and not found.words() and not found.all("circle")


def test_hostile_names_of_waking_loads_stay_text() -> None:
    found = Picture.read(draw_waking(waking((0, 0), (0, -1), (0, 0), (0, 0), name=HOSTILE, text=HOSTILE)))
    assert found.words() == [f"{HOSTILE} {HOSTILE}"] and not found.all("b")


@pytest.mark.parametrize("width", [168.0, 420.0])
def test_the_words_stand_closer_to_the_longest_arrow_than_to_any_other(width: float) -> None:
    found = Picture.read(
        draw_waking(waking((0, -0.2), (0, -0.8), (0, -0.2), (0, 0.1), name="L1", text="0.80"), width)
    )
    ((_, (left, top, right, bottom)),) = found.boxes()

    def far(tip: tuple[float, float]) -> float:
        return hypot(max(left - tip[0], tip[0] - right, 0), max(top - tip[1], tip[1] - bottom, 0))

    gaps = [far(tip) for _, tip in arrows(found)]
    assert min(gaps) == gaps[1] and gaps[1] < 6 and gaps.count(gaps[1]) == 1


def test_a_wide_picture_has_longer_arrows_in_the_same_proportion() -> None:
    given_one = waking((0, 0), (0, -0.8), (0.3, 0.4), (0, 0))
    small, large = (
        [
            hypot(tip[0] - tail[0], tip[1] - tail[1])
            for tail, tip in arrows(Picture.read(draw_waking(given_one, w)))
        ]
        for w in (168, 420)
    )
    assert large[0] > 1.5 * small[0]
    assert large[1] / large[0] == pytest.approx(small[1] / small[0], abs=0.005)
