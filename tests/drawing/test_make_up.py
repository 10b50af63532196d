"""What a force is made of, as a picture: stretches as long as their values, the sum where they leave it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.drawing.figures.make_up import MakeUp, Segment, draw_make_up
from tests.drawing.reading import HUNDREDTH, Picture, box_of, written
from tests.drawing.test_train_figure import read

HOSTILE = "<b>&\"'"
Span = tuple[float, float]


def tell(force: float) -> str:
    return f"{'T' if force > 0 else 'C'} {abs(force):.3g} kN" if force else "0"


def row(title: str, *values: float) -> MakeUp:
    parts = tuple(Segment(f"case {i}", value, tell(value)) for i, value in enumerate(values, 1))
    return MakeUp(title, parts, sum(values), tell(sum(values)), tell)


def draw(*rows: MakeUp) -> Picture:
    return read(draw_make_up(rows), 420)


def spans(found: Picture, *classes: str) -> list[Span]:
    """Left and right ends of the stretches of a look, as drawn."""
    bars = found.all("rect", "segment", *classes)
    return [(float(bar.attrib["x"]), float(bar.attrib["x"]) + float(bar.attrib["width"])) for bar in bars]


def zero(found: Picture) -> float:
    places = {float(one.attrib["x1"]) for one in found.all("line", "zero-tick")}
    assert len(places) == 1, "all rows share one zero"
    return places.pop()


def sum_ends(found: Picture) -> list[float]:
    """Where the upright marks of the sums stand."""
    return [
        float(one.attrib["x1"]) for one in found.all("line", "sum") if one.attrib["x1"] == one.attrib["x2"]
    ]


values = st.one_of(st.integers(-1000, 1000).map(float), st.floats(-1e6, 1e6).map(lambda v: round(v, 3)))
names = st.text("abcLU019-.'<>&\"é ", max_size=90)
parts = st.builds(Segment, names, values, st.sampled_from(["T 103 kN", "C 1 000 000 kN", "0", ""]))
made = st.builds(
    lambda title, some, told: MakeUp(title, tuple(some), sum(part.value for part in some), told, tell),
    names,
    st.lists(parts, max_size=14),
    st.sampled_from(["T 103 kN", "C 1 000 000 kN", "0"]),
)


@given(st.lists(made, max_size=3))
def test_a_make_up_keeps_inside_and_its_words_apart(rows: list[MakeUp]) -> None:
    draw(*rows)


@given(st.lists(st.floats(1, 100), min_size=1, max_size=4), st.lists(st.floats(-100, -1), max_size=4))
def test_stretches_are_as_long_as_their_values_one_after_another(
    pull: list[float], press: list[float]
) -> None:
    found = draw(row("x", *pull, *press))
    whole = 412 / (sum(pull) - sum(press))
    place = zero(found)
    for look, some, sign in (("t", pull, 1), ("c", press, -1)):
        near = place
        for value, (left, right) in zip(some, spans(found, look), strict=True):
            ends = (left, right) if sign > 0 else (right, left)
            assert ends[0] == pytest.approx(near, abs=2 * HUNDREDTH)
            assert right - left == pytest.approx(abs(value) * whole, abs=2 * HUNDREDTH)
            near = ends[1]


@given(st.lists(st.floats(1, 100), min_size=1, max_size=4), st.lists(st.floats(-100, -1), max_size=4))
def test_the_sum_lies_where_what_takes_off_leaves_it(pull: list[float], press: list[float]) -> None:
    found = draw(row("x", *pull, *press))
    place = zero(found)
    right = max([place] + [end for _, end in spans(found, "t")])
    left = min([place] + [start for start, _ in spans(found, "c")])
    ends = sum_ends(found) or [place]
    expected = place + (right - place) - (place - left)
    assert ends == pytest.approx([expected] * len(ends), abs=4 * HUNDREDTH)


def test_tension_goes_right_of_zero_and_compression_left_in_all_rows() -> None:
    found = draw(row("one", 40, 60, -12), row("two", -50, -20, 8))
    place = zero(found)
    assert all(left >= place - HUNDREDTH for left, _ in spans(found, "t"))
    assert all(right <= place + HUNDREDTH for _, right in spans(found, "c"))
    assert len(spans(found, "t")) == 3 and len(spans(found, "c")) == 3
    lengths = [right - left for left, right in spans(found)]
    assert lengths == pytest.approx([value * lengths[0] / 40 for value in (40, 60, 12, 50, 20, 8)], abs=0.05)


def test_sums_are_written_with_their_letters() -> None:
    found = draw(row("one", 40, 60, -12), row("two", -50, -20, 8))
    assert {"T 88 kN", "C 62 kN", "one", "two"} <= set(found.words())
    place, (first, second) = zero(found), sum_ends(found)
    assert second < place < first
    assert (first - place) / (place - second) == pytest.approx(88 / 62, abs=0.01)


def test_a_number_in_a_stretch_is_that_of_its_line_in_the_list() -> None:
    found = draw(row("x", 40, 12.5, 61, -30, -25))
    marks = [one for one in found.root.iter("text") if written(one) in "12345"]
    in_bar = {written(one): box_of(one) for one in marks[:5]}
    in_list = {written(one): box_of(one) for one in marks[5:]}
    stretches = [*spans(found, "t"), *spans(found, "c")]
    for number, (left, right) in zip("12345", stretches, strict=True):
        assert left <= in_bar[number][0] and in_bar[number][2] <= right
    lines = {word: box for word, box in found.boxes() if word.startswith("case")}
    values = dict(zip("12345", ("T 40 kN", "T 12.5 kN", "T 61 kN", "C 30 kN", "C 25 kN"), strict=True))
    for number, value in values.items():
        assert lines[f"case {number}"][1] == in_list[number][1] == dict(found.boxes())[value][1]


def test_narrow_stretches_have_their_numbers_over_them_with_leads() -> None:
    found = draw(row("x", 100, 0.4, 0.3, 0.2, 100))
    leads = found.all("line", "lead")
    stretches = spans(found, "t")[1:4]
    assert len(leads) == 3
    for lead, (left, right) in zip(leads, stretches, strict=True):
        assert float(lead.attrib["x1"]) == pytest.approx((left + right) / 2, abs=0.02)
    (bar, *_) = found.all("rect", "segment")
    over = [written(one) for one in found.all("text", "b") if float(one.attrib["y"]) < float(bar.attrib["y"])]
    assert over == ["x", "2", "3", "4"]


def test_the_smallest_of_many_parts_are_put_together_on_both_sides() -> None:
    found = draw(row("x", 30, -4, 2, 1.5, -1, 0.8, 0.6, 22, 0.4, -0.3, 0.25))
    assert {"and 3 more", "T 0.35 kN"} <= set(found.words())
    assert not {"case 9", "case 10", "case 11"} & set(found.words()) and "case 8" in found.words()
    ((pull_left, pull_right), (press_left, press_right)) = spans(found, "rest", "t") + spans(
        found, "rest", "c"
    )
    assert (pull_right - pull_left) / (press_right - press_left) == pytest.approx(0.65 / 0.3, abs=0.05)
    drawn = sum(right - left for left, right in spans(found))
    assert drawn == pytest.approx(412, abs=0.1)


def test_eight_parts_are_told_one_by_one() -> None:
    words = draw(row("x", *range(1, 9))).words()
    assert {f"case {i}" for i in range(1, 9)} <= set(words)
    assert not any("more" in word for word in words)


def test_the_largest_parts_keep_their_order() -> None:
    words = [word for word in draw(row("x", 1, *range(11, 19), 2)).words() if word.startswith("case")]
    assert words == [f"case {i}" for i in range(2, 10)]


def test_a_stretch_carries_what_kind_of_load_it_is() -> None:
    some = (Segment("dead", 3.0, "T 3"), Segment("axles", 5.0, "T 5", "axle"))
    found = draw(MakeUp("x", some, 8.0, "T 8"))
    assert len(spans(found, "t", "case")) == 1 and len(spans(found, "t", "axle")) == 1


def test_nothing_is_said_to_be_nothing() -> None:
    assert draw().words() == ["no force"]
    empty = draw(MakeUp("idle", (), 0.0, "0"))
    assert empty.words() == ["idle", "0"] and not empty.all("rect")


def test_parts_that_cancel_leave_no_sum() -> None:
    found = draw(row("x", 30, -30))
    assert sum_ends(found) == [] and "0" in found.words() and len(found.all("rect", "segment")) == 2


def test_a_long_label_is_cut_and_told_in_full_on_pointing() -> None:
    found = draw(MakeUp("x", (Segment("y" * 90, 1.0, "T 1 kN"),), 1.0, "T 1 kN"))
    assert "y" * 90 in [one.text for one in found.root.iter("title")]


def test_hostile_names_stay_text() -> None:
    found = draw(MakeUp(HOSTILE, (Segment(HOSTILE, 1.0, HOSTILE, HOSTILE),), 1.0, HOSTILE))
    assert found.words().count(HOSTILE) == 4 and not found.all("b")
    assert HOSTILE in found.root.attrib["aria-label"]


def test_readers_of_the_text_alone_get_sums_and_parts() -> None:
    label = draw(row("strength", 40, -12)).root.attrib["aria-label"]
    assert label == "strength: T 28 kN, from case 1 T 40 kN, case 2 C 12 kN"
