"""The ladder of limits: rungs as long as their ratios, and words for what has none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.drawing.figures import Ladder, Rung, draw_ladder
from tests.drawing.reading import check
from tests.drawing.test_figures import names, texts

rungs = st.builds(
    Rung,
    names,
    texts,
    st.one_of(st.none(), st.floats(0, 2), st.floats(0, 1e6)),
    st.booleans(),
    st.booleans(),
    st.sampled_from(["", "", "the whole truss"]),
)


@given(st.lists(rungs, max_size=8))
def test_a_ladder_keeps_inside_and_its_words_apart(some: list[Rung]) -> None:
    check(draw_ladder(Ladder("limits", tuple(some))))


@given(st.lists(st.floats(0, 2), min_size=1, max_size=8))
def test_rungs_are_as_long_as_their_ratios(ratios: list[float]) -> None:
    some = tuple(Rung("tension", f"{ratio:.2f}", ratio) for ratio in ratios)
    picture = check(draw_ladder(Ladder("x", some)))
    stiles = [float(one.attrib["x1"]) for one in picture.all("line", "stile")]
    lengths = [float(one.attrib["width"]) for one in picture.all("rect", "held")]
    assert lengths == pytest.approx([ratio * (stiles[1] - stiles[0]) for ratio in ratios], abs=0.05)
    assert not picture.all("polygon", "cut")


def test_a_ratio_beyond_two_is_cut_and_still_written() -> None:
    picture = check(draw_ladder(Ladder("x", (Rung("tension", "35.0", 35.0, True),))))
    assert picture.all("polygon", "cut") and "35.0" in picture.words()


def test_a_ladder_without_ratios_has_words_beside_a_broken_stile_and_no_scale() -> None:
    some = (Rung("tension", "not checked"), Rung("deflection", "none given"))
    picture = check(draw_ladder(Ladder("x", some)))
    assert set(picture.words()) == {"tension", "not checked", "deflection", "none given"}
    assert not picture.all("rect") and len(picture.all("line", "stile")) == 2


def test_what_is_not_checked_is_never_cut_short() -> None:
    some = (Rung("slenderness", "0.77", 0.77, True), Rung("another’s loss", "no other path"))
    assert {"another’s loss", "no other path"} <= set(check(draw_ladder(Ladder("x", some))).words())


def test_rungs_under_a_head_stand_below_it_and_a_line_parts_them_from_the_others() -> None:
    some = (Rung("tension", "0.40", 0.4, True), Rung("joints", "not checked"))
    picture = check(
        draw_ladder(Ladder("x", (*some, Rung("deflection", "0.69", 0.69, under="the whole truss"))))
    )
    (line,) = picture.all("line", "apart")
    tops = {word: box[1] for word, box in picture.boxes()}
    height = float(line.attrib["y1"])
    assert max(tops["tension"], tops["joints"]) < height < tops["the whole truss"] < tops["deflection"]
    # no stile crosses the line or the head
    for stile in picture.all("line", "stile"):
        ends = sorted(float(stile.attrib[end]) for end in ("y1", "y2"))
        assert ends[1] <= height or ends[0] >= tops["the whole truss"]
    assert not check(draw_ladder(Ladder("x", some))).all("line", "apart")
