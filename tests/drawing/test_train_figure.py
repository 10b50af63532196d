"""Trains as pictures: to scale along the road, every load told, nothing over anything else."""

from __future__ import annotations

import re
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explorer.drawing.figures import train as module
from explorer.drawing.figures.train import Following, TrainPicture, draw_train_picture
from tests.drawing.reading import HUNDREDTH, Picture, box_of, written

HOSTILE = "<b>&\"'"
Axles = tuple[tuple[float, float], ...]
Strips = tuple[tuple[float, float | None, float], ...]

# Distances and loads in feet and kips, as the published trains have them.
HS20: Axles = ((0, 8), (14, 32), (28, 32))
E80_DISTANCES = (0, 8, 13, 18, 23, 32, 37, 43, 48, 56, 64, 69, 74, 79, 88, 93, 99, 104)
E80: Axles = tuple(zip(E80_DISTANCES, (40, 80, 80, 80, 80, 52, 52, 52, 52) * 2, strict=True))
LM71: Axles = tuple((1.6 * i, 250.0) for i in range(4))


def picture(
    axles: Axles = (),
    strips: Strips = (),
    lane: float | None = None,
    clear: tuple[float, float] | None = None,
    second: Following | None = None,
) -> TrainPicture:
    """A train in loads and lengths that are told as they are."""
    return TrainPicture(
        "a train",
        lambda load: f"{load:g} kN",
        lambda load: f"{load:g} kN/m",
        lambda length: f"{length:.3g} m",
        axles,
        strips,
        lane,
        clear,
        second,
    )


def read(text: str, width: float) -> Picture:
    """The picture, once it is certain that all lies inside, and no word on another."""
    found = Picture.read(text)
    left, top, across, height = map(float, found.root.attrib["viewBox"].split())
    assert (left, top, across) == (0, 0, width)
    assert found.root.attrib["role"] == "img" and found.root.attrib["aria-label"]
    for x, y in found.points():
        assert -HUNDREDTH <= x <= width + HUNDREDTH and -HUNDREDTH <= y <= height + HUNDREDTH
    boxes = found.boxes()
    for word, box in boxes:
        assert box[0] >= -HUNDREDTH and box[2] <= width + HUNDREDTH, (word, box)
        assert box[1] >= -HUNDREDTH and box[3] <= height + HUNDREDTH, (word, box)
    for (one, a), (other, b) in combinations(boxes, 2):
        apart = a[2] <= b[0] + 0.02 or b[2] <= a[0] + 0.02 or a[3] <= b[1] + 0.02 or b[3] <= a[1] + 0.02
        assert apart, (one, a, other, b)
    return found


def draw(train: TrainPicture) -> Picture:
    return read(draw_train_picture(train), 420)


def wheels(found: Picture) -> list[float]:
    """Where wheels stand, from the front on."""
    return sorted((float(one.attrib["cx"]) for one in found.all("circle", "wheel")), reverse=True)


def arrows(found: Picture) -> list[tuple[float, float]]:
    """Where arrows stand and how long they are, head and all, from the front on."""
    shafts, heads = found.all("line", "shaft"), found.all("polygon", "head")
    tips = [max(float(pair.split(",")[1]) for pair in one.attrib["points"].split()) for one in heads]
    lengths = [
        (float(shaft.attrib["x1"]), tip - float(shaft.attrib["y1"]))
        for shaft, tip in zip(shafts, tips, strict=True)
    ]
    return sorted(lengths, reverse=True)


def outline(one: object) -> tuple[float, float, float, int]:
    """Left, right, height and corners of a band."""
    points = [tuple(map(float, pair.split(","))) for pair in one.attrib["points"].split()]  # type: ignore[attr-defined]
    across, down = [x for x, _ in points], [y for _, y in points]
    return min(across), max(across), max(down) - min(down), len(points)


def numbers(found: Picture) -> list[tuple[str, tuple[float, float, float, float]]]:
    """Numbers of axles with their boxes, in the order in which they are written."""
    return [(written(one), box_of(one)) for one in found.all("text", "b")]


def counted(text: str) -> tuple[int, list[float]]:
    """How many axles a number tells, and the least and greatest of its loads."""
    found = re.fullmatch(r"(?:(\d+) (?:×|of) )?([\d.e+-]+)(?: to ([\d.e+-]+))? kN", text)
    assert found, text
    loads = [float(load) for load in found.groups()[1:] if load]
    return int(found[1] or 1), loads


loads = st.integers(1, 400).map(float)
steps = st.floats(0.2, 30).map(lambda step: round(step, 1))


@st.composite
def some_axles(draw: st.DrawFn, most: int = 20) -> Axles:
    gaps = draw(st.lists(steps, max_size=most))
    places = [sum(gaps[:i]) for i in range(len(gaps))]
    few = draw(st.lists(loads, min_size=1, max_size=3))
    return tuple((place, draw(st.sampled_from(few))) for place in places)


@st.composite
def some_strips(draw: st.DrawFn) -> Strips:
    count = draw(st.integers(0, 3))
    ends = [sum(draw(st.lists(steps, min_size=i + 1, max_size=i + 1))) for i in range(2 * count)]
    pairs = zip(sorted(ends)[::2], sorted(ends)[1::2], strict=True)
    strips: Strips = tuple((a, b, draw(loads)) for a, b in pairs if b > a)
    return (*strips, (max(ends, default=0.0) + 1, None, draw(loads))) if draw(st.booleans()) else strips


lanes = st.one_of(st.none(), loads)
seconds = st.one_of(st.none(), st.builds(Following, some_axles(6), some_strips(), st.floats(0.5, 50)))


@settings(deadline=None)
@given(some_axles(), some_strips(), lanes, st.one_of(st.none(), st.just((-0.8, 5.6))), seconds)
def test_a_train_keeps_inside_and_its_words_apart(
    axles: Axles,
    strips: Strips,
    lane: float | None,
    clear: tuple[float, float] | None,
    second: Following | None,
) -> None:
    draw(picture(axles, strips, lane, clear, second))


@settings(deadline=None)
@given(some_axles(40), some_strips(), lanes)
def test_every_axle_is_told_over_its_place(axles: Axles, strips: Strips, lane: float | None) -> None:
    found = draw(picture(axles, strips, lane))
    places = [x for x, _ in arrows(found)]
    told = 0
    for text, box in numbers(found):
        count, ends = counted(text)
        here = axles[told : told + count]
        assert {min(load for _, load in here), max(load for _, load in here)} == set(ends)
        assert (box[0] <= places[told] + 2 and box[2] >= places[told + count - 1] - 2) or count > 1
        middle = (places[told] + places[told + count - 1]) / 2
        assert box[0] - 2 <= middle <= box[2] + 2
        told += count
    assert told == len(axles)


@settings(deadline=None)
@given(some_axles(40), some_strips())
def test_no_number_stands_on_an_arrow_or_a_band(axles: Axles, strips: Strips) -> None:
    found = draw(picture(axles, strips))
    shafts = [
        tuple(float(one.attrib[key]) for key in ("x1", "y1", "y2")) for one in found.all("line", "shaft")
    ]
    boxes = [box for _, box in numbers(found)]
    boxes += [box_of(one) for one in found.all("text") if written(one).startswith(tuple("0123456789"))]
    for left, top, right, bottom in boxes:
        assert not any(left < x < right and top < foot and tail < bottom for x, tail, foot in shafts)
    (road,) = found.all("line", "road")
    level = float(road.attrib["y1"])
    for one in found.all("polygon", "strip"):
        start, end, height, _ = outline(one)
        for left, top, right, bottom in boxes:
            assert not (left < end and start < right and bottom > level - height and top < level)


@pytest.mark.parametrize("axles", [HS20, E80, LM71, ((0, 300), (1.2, 300))])
def test_axles_stand_to_scale_with_the_front_at_the_right(axles: Axles) -> None:
    places = wheels(draw(picture(axles)))
    assert len(places) == len(axles)
    scale = (places[0] - places[-1]) / (axles[-1][0] - axles[0][0])
    assert scale > 0
    expected = [places[0] - scale * (distance - axles[0][0]) for distance, _ in axles]
    assert places == pytest.approx(expected, abs=2 * HUNDREDTH)


def test_arrows_are_as_long_as_their_loads() -> None:
    lengths = [length for _, length in arrows(draw(picture(E80)))]
    longest = max(lengths)
    assert lengths == pytest.approx([longest * load / 80 for _, load in E80], abs=2 * HUNDREDTH)


def test_a_light_axle_still_has_an_arrow_and_the_shortest() -> None:
    lengths = [length for _, length in arrows(draw(picture(((0, 1), (4, 400)))))]
    assert 8 < lengths[0] < lengths[1] / 3


def test_one_thin_line_joins_the_wheels_and_there_is_no_other_shape() -> None:
    found = draw(picture(HS20))
    (line,) = found.all("line", "frame-line")
    places = wheels(found)
    assert float(line.attrib["x1"]) <= places[-1] and float(line.attrib["x2"]) >= places[0]
    assert not found.all("rect") and not found.all("path")
    assert all("head" in one.attrib["class"] for one in found.all("polygon"))


def test_a_short_truck_has_every_load_and_every_distance_told() -> None:
    words = draw(picture(HS20)).words()
    assert sorted(words) == sorted(["8 kN", "32 kN", "32 kN", "14 m", "14 m", "travels →"])


def test_equal_neighbours_of_a_long_train_share_a_number_and_its_distances_their_unit() -> None:
    found = draw(picture(E80, ((109, None, 8),)))
    told = [text for text, _ in numbers(found)]
    assert told == ["40 kN", "4 × 80 kN", "4 × 52 kN"] * 2
    distances = [word for word in found.words() if word.isdigit()]
    expected = [f"{far - near:g}" for near, far in pairwise([*E80_DISTANCES, 109])]
    assert distances == expected
    assert {"8 kN/m", "distances in m"} <= set(found.words())


def test_a_lane_leaves_its_clear_stretch_empty() -> None:
    found = draw(picture(LM71, lane=80, clear=(-0.8, 5.6)))
    bands = [outline(one) for one in found.all("polygon", "lane")]
    behind, ahead = sorted(bands)
    places = wheels(found)
    scale = (places[0] - places[-1]) / 4.8
    assert (behind[0], ahead[1]) == (0, 420)
    assert behind[1] == pytest.approx(places[0] - 5.6 * scale, abs=3 * HUNDREDTH)
    assert ahead[0] == pytest.approx(places[0] + 0.8 * scale, abs=3 * HUNDREDTH)
    assert "lane of 80 kN/m, placed where adverse" in found.words()


def test_a_lane_without_a_clear_stretch_lies_everywhere_with_both_ends_broken() -> None:
    found = draw(picture(((0, 300), (1.2, 300)), lane=27))
    (band,) = [outline(one) for one in found.all("polygon", "lane")]
    assert band[:2] == (0, 420) and band[3] > 10


def test_a_lane_alone_does_not_travel() -> None:
    found = draw(picture(lane=9))
    assert found.words() == ["lane of 9 kN/m, placed where adverse"]
    assert not found.all("circle") and len(found.all("polygon", "lane")) == 1


def test_strips_lie_to_scale_and_are_as_high_as_their_loads() -> None:
    found = draw(picture(strips=((0, 25, 150), (32, 57, 75))))
    behind, ahead = sorted(outline(one) for one in found.all("polygon", "strip"))
    scale = (ahead[1] - behind[0]) / 57
    assert ahead[0] == pytest.approx(ahead[1] - 25 * scale, abs=0.05)
    assert behind[1] == pytest.approx(ahead[1] - 32 * scale, abs=0.05)
    assert behind[2] == pytest.approx(ahead[2] / 2, abs=0.05)
    assert {"150 kN/m", "75 kN/m", "25 m", "7 m"} <= set(found.words())
    assert found.all("path", "hatching")


def test_hatching_stays_in_its_band() -> None:
    found = draw(picture(strips=((3, 11, 150),)))
    (band,), (strokes,) = found.all("polygon", "strip"), found.all("path", "hatching")
    left, right, height, _ = outline(band)
    pairs = re.findall(r"(-?[\d.]+),(-?[\d.]+)", strokes.attrib["d"])
    (road,) = found.all("line", "road")
    level = float(road.attrib["y1"])
    assert len(pairs) > 20
    for x, y in ((float(x), float(y)) for x, y in pairs):
        assert left - HUNDREDTH <= x <= right + HUNDREDTH
        assert level - height - HUNDREDTH <= y <= level + HUNDREDTH


def test_only_an_endless_strip_reaches_the_edge_with_a_broken_end() -> None:
    found = draw(picture(HS20, ((30, 40, 5), (45, None, 8))))
    endless, finite = sorted(outline(one) for one in found.all("polygon", "strip"))
    assert endless[0] == 0 and endless[3] > 4
    assert finite[0] > 40 and finite[3] == 4
    assert "8 kN/m, endless" in draw(picture(strips=((0, None, 8),))).words()


def test_the_second_train_stands_its_least_distance_behind() -> None:
    found = draw(picture(HS20, second=Following(HS20, (), 50)))
    places = wheels(found)
    scale = (places[0] - places[2]) / 28
    assert places[2] - places[3] == pytest.approx(50 * scale, abs=3 * HUNDREDTH)
    assert places[3] - places[5] == pytest.approx(28 * scale, abs=3 * HUNDREDTH)
    assert "at least 50 m" in found.words() and len(found.all("line", "frame-line")) == 2


def test_the_gap_counts_from_the_last_load_to_the_first_whatever_they_are() -> None:
    found = draw(picture(strips=((0, 10, 5),), second=Following((), ((4, 10, 5),), 8)))
    behind, ahead = sorted(outline(one) for one in found.all("polygon", "strip"))
    assert ahead[0] - behind[1] == pytest.approx((ahead[1] - ahead[0]) * 0.8, abs=0.05)


def test_a_least_distance_without_room_is_told_beneath() -> None:
    found = draw(picture(strips=((0, 200, 5),), second=Following((), ((0, 200, 5),), 1)))
    assert "second train at least 1 m behind" in found.words()


def test_one_axle_stands_in_the_middle() -> None:
    found = draw(picture(((0, 150),)))
    assert wheels(found) == [210] and set(found.words()) == {"150 kN", "travels →"}


def test_nothing_is_a_road_alone() -> None:
    found = draw(picture())
    assert found.words() == [] and len(found.all("line", "road")) == 1
    assert len(list(found.root)) == 1


def test_hostile_words_stay_text() -> None:
    def tell(_: float) -> str:
        return HOSTILE

    train = TrainPicture(HOSTILE, tell, tell, tell, ((0, 5), (6, 5)), ((9, None, 3),), 4)
    found = draw(train)
    assert found.root.attrib["aria-label"] == HOSTILE and HOSTILE in found.words()
    assert not found.all("b")


def test_colours_and_widths_come_from_the_tokens_alone() -> None:
    style = Path(module.__file__).parents[2] / "assets" / "26-traffic-figures.css"
    rules = re.findall(r"(fill|stroke|stroke-width):\s*([^;]+);", style.read_text(encoding="utf-8"))
    assert len(rules) > 20
    assert all(value == "none" or re.fullmatch(r"var\(--[a-z0-9-]+\)", value) for _, value in rules)
