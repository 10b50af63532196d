"""The envelope along a line of members: steps where their members lie, as high as their peaks."""

from __future__ import annotations

from xml.etree.ElementTree import Element

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.drawing.figures.envelope import Envelope, EnvelopeMember, draw_envelope
from tests.drawing.reading import HUNDREDTH, Picture, box_of, written
from tests.drawing.test_train_figure import read

HOSTILE = "<b>&\"'"


def tell(force: float) -> str:
    return f"{'T' if force > 0 else 'C'} {abs(force):.3g} kN"


def draw(*members: EnvelopeMember, title: str = "bottom chord") -> Picture:
    return read(draw_envelope(Envelope(title, members, tell)), 640)


def sides(one: Element) -> tuple[float, float, float, float]:
    left, top = float(one.attrib["x"]), float(one.attrib["y"])
    return left, top, left + float(one.attrib["width"]), top + float(one.attrib["height"])


def axis(found: Picture) -> float:
    places = {
        float(one.attrib["y1"]) for one in (*found.all("line", "axis-line"), *found.all("line", "zero"))
    }
    assert len(places) == 1
    return places.pop()


CHORD = (
    EnvelopeMember("L0-L1", 0, 3, 0, 0),
    EnvelopeMember("L1-L2", 3, 6, 120, 0),
    EnvelopeMember("L2-L3", 6, 11, 240, 30),
    EnvelopeMember("L3-L4", 11, 14, 60, 90, True),
)

sizes = st.one_of(st.just(0.0), st.floats(1e-3, 1e6))


@st.composite
def lines(draw: st.DrawFn) -> tuple[EnvelopeMember, ...]:
    lengths = draw(st.lists(st.floats(0.5, 20), max_size=30))
    chosen = draw(st.integers(-1, 30))
    names = st.text("abcLU019-.'<>&\"é ", max_size=14)
    return tuple(
        EnvelopeMember(
            draw(names), sum(lengths[:i]), sum(lengths[: i + 1]), draw(sizes), draw(sizes), i == chosen
        )
        for i in range(len(lengths))
    )


@given(lines())
def test_an_envelope_keeps_inside_and_its_words_apart(members: tuple[EnvelopeMember, ...]) -> None:
    draw(*members)


@given(lines().filter(bool))
def test_no_number_stands_on_a_step(members: tuple[EnvelopeMember, ...]) -> None:
    found = draw(*members)
    steps = [sides(one) for one in found.all("rect", "step")]
    for word in [*found.all("text", "t"), *found.all("text", "c")]:
        left, top, right, bottom = box_of(word)
        assert not any(left < c and a < right and top < d and b < bottom for a, b, c, d in steps), written(
            word
        )


def test_steps_lie_where_their_members_lie() -> None:
    found = draw(*CHORD)
    tops = [sides(one) for one in found.all("rect", "step", "t")]
    expected = [(6 + 628 * start / 14, 6 + 628 * end / 14) for start, end in ((3, 6), (6, 11), (11, 14))]
    assert [(left, right) for left, _, right, _ in tops] == [
        pytest.approx(ends, abs=2 * HUNDREDTH) for ends in expected
    ]


def test_steps_are_as_high_as_their_peaks_on_one_scale() -> None:
    found = draw(*CHORD)
    line = axis(found)
    up = [sides(one) for one in found.all("rect", "step", "t")]
    down = [sides(one) for one in found.all("rect", "step", "c")]
    assert all(one[3] == pytest.approx(line, abs=2 * HUNDREDTH) for one in up), "tension stands on the line"
    assert all(one[1] == line for one in down), "compression hangs from it"
    heights = [one[3] - one[1] for one in (*up, *down)]
    assert heights == pytest.approx([force * heights[1] / 240 for force in (120, 240, 60, 30, 90)], abs=0.05)


def test_a_peak_too_small_to_be_seen_is_still_shown() -> None:
    found = draw(EnvelopeMember("a", 0, 1, 1e6, 0), EnvelopeMember("b", 1, 2, 1.0, 0))
    heights = [sides(one)[3] - sides(one)[1] for one in found.all("rect", "step")]
    assert len(heights) == 2 and 1 < heights[1] < 2


def test_a_member_that_is_never_loaded_has_the_look_of_zero_and_no_step() -> None:
    found = draw(*CHORD)
    (broken,) = found.all("line", "zero")
    left, right = float(broken.attrib["x1"]), float(broken.attrib["x2"])
    assert left >= 6 and right <= 6 + 628 * 3 / 14
    assert all(float(one.attrib["x1"]) >= right for one in found.all("line", "axis-line"))
    (nought,) = [box for word, box in found.boxes() if word == "0"]
    assert left < nought[0] and nought[2] < right


def test_a_member_that_only_presses_or_only_pulls_is_not_zero() -> None:
    for member in (EnvelopeMember("a", 0, 4, 0, 9), EnvelopeMember("a", 0, 4, 9, 0)):
        found = draw(member)
        assert not found.all("line", "zero") and "0" not in found.words()
        assert len(found.all("rect", "step")) == 1


def test_the_largest_of_both_kinds_are_told_beyond_their_steps() -> None:
    found = draw(*CHORD)
    places = dict(found.boxes())
    highest = min(sides(one)[1] for one in found.all("rect", "step", "t"))
    lowest = max(sides(one)[3] for one in found.all("rect", "step", "c"))
    assert places["T 240 kN"][3] <= highest and places["C 90 kN"][1] >= lowest
    assert places["T 240 kN"][0] >= 6 + 628 * 6 / 14 and places["T 240 kN"][2] <= 6 + 628 * 11 / 14


def test_the_chosen_member_is_marked_in_ink_with_its_own_numbers() -> None:
    found = draw(*CHORD)
    (mark,) = found.all("rect", "chosen")
    left, top, right, bottom = sides(mark)
    own = [sides(one) for one in found.all("rect", "step")][-2:]
    assert [(a, c) for a, _, c, _ in own] == [pytest.approx((left, right), abs=2 * HUNDREDTH)] * 2
    assert top <= own[0][1] + HUNDREDTH and bottom >= own[1][3] - HUNDREDTH
    (name,) = found.all("text", "r")
    (tag,) = found.all("rect", "tag")
    box, around = box_of(name), sides(tag)
    assert written(name) == "L3-L4" and "T 60 kN" in found.words()
    assert around[0] < box[0] and box[2] < around[2] and around[1] < box[1] and box[3] < around[3]


def test_all_members_are_named_or_the_chosen_one_alone() -> None:
    assert {member.name for member in CHORD} <= set(draw(*CHORD).words())
    many = tuple(EnvelopeMember(f"bottom {i}", i, i + 1, 5, 0, i == 7) for i in range(40))
    assert [word for word in draw(*many).words() if word.startswith("bottom ")] == [
        "bottom chord",
        "bottom 7",
    ]


def test_a_member_given_from_right_to_left_lies_where_it_lies() -> None:
    there = draw(EnvelopeMember("a", 0, 4, 5, 2), EnvelopeMember("b", 4, 10, 9, 1))
    back = draw(EnvelopeMember("a", 4, 0, 5, 2), EnvelopeMember("b", 10, 4, 9, 1))
    assert [one.attrib for one in there.all("rect")] == [one.attrib for one in back.all("rect")]


def test_a_line_of_zeros_lies_in_the_middle_of_nothing() -> None:
    found = draw(EnvelopeMember("a", 0, 4, 0, 0), EnvelopeMember("b", 4, 8, 0, 0, True))
    assert len(found.all("line", "zero")) == 2 and not found.all("rect", "step")
    assert found.words().count("0") == 2
    assert found.root.attrib["aria-label"] == "bottom chord: b: 0"


def test_no_members_are_said_to_be_none() -> None:
    assert draw().words() == ["bottom chord", "no members"]


def test_a_line_without_length_is_drawn_all_the_same() -> None:
    draw(EnvelopeMember("a", 2, 2, 5, 3, True))


def test_readers_of_the_text_alone_get_the_largest_and_the_chosen() -> None:
    label = draw(*CHORD).root.attrib["aria-label"]
    assert label == (
        "bottom chord: up to T 240 kN in L2-L3; up to C 90 kN in L3-L4; L3-L4: T 60 kN and C 90 kN"
    )


def test_hostile_names_stay_text() -> None:
    found = draw(EnvelopeMember(HOSTILE, 0, 1, 5, 3, True), title=HOSTILE)
    assert found.words().count(HOSTILE) == 2 and not found.all("b")
    assert HOSTILE in found.root.attrib["aria-label"]
