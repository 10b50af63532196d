"""The small pictures: whatever is put in, they stay inside their edges and say what they were given."""

from __future__ import annotations

from math import hypot, isclose
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.drawing import figures
from explorer.drawing.figures import (
    Arm,
    Box,
    CaseTick,
    CaseTicks,
    FreeBody,
    Ladder,
    Miniature,
    Movement,
    PeakPicture,
    PeakRow,
    Push,
    Rung,
    ShareCurve,
    Standing,
    draw_case_ticks,
    draw_free_body,
    draw_ladder,
    draw_miniature,
    draw_movement,
    draw_peaks,
    draw_share_curve,
    draw_standing,
)
from tests.drawing.reading import HUNDREDTH, Picture, check

LETTERS = "abcLU019-.'<>&\"é →…"
HOSTILE = "<b>&\"'"
names = st.text(LETTERS, max_size=12)
texts = st.one_of(st.just(""), names, st.sampled_from(["T 103 kN", "C 1 000 000 kN", "T 0.001 kN", "0"]))
sizes = st.one_of(st.just(0.0), st.floats(1e-6, 1e6), st.floats(1, 10))
angles = st.floats(-720, 720)
places = st.tuples(st.floats(-100, 100), st.floats(-100, 100))


@st.composite
def falling_curves(draw: st.DrawFn, span: float) -> tuple[tuple[float, float], ...]:
    forces = sorted(draw(st.lists(sizes, min_size=2, max_size=6)), reverse=True)
    inner = sorted(draw(st.lists(st.floats(0, span), min_size=len(forces) - 2, max_size=len(forces) - 2)))
    return tuple(zip([0.0, *inner, span], forces, strict=True))


@st.composite
def share_curves(draw: st.DrawFn) -> ShareCurve:
    cuts = sorted([draw(st.floats(0, 1)), draw(st.floats(0, 1))])
    tension = draw(falling_curves(cuts[0])) if cuts[0] else ()
    compression = draw(falling_curves(cuts[1] - cuts[0])) if cuts[1] > cuts[0] else ()
    shown = {"tension_peak": draw(texts), "compression_peak": draw(texts), "foot": draw(texts)}
    return ShareCurve("shares", tension, compression, 1 - cuts[1], **shown)


@st.composite
def rows(draw: st.DrawFn) -> PeakRow:
    tension, compression = draw(sizes), draw(sizes)
    permanent = draw(st.floats(-1e6, 1e6))
    return PeakRow(draw(names), tension, compression, draw(texts), draw(texts), permanent)


@st.composite
def trusses(
    draw: st.DrawFn, most: int = 24
) -> tuple[tuple[tuple[float, float], ...], tuple[tuple[int, int], ...]]:
    points = draw(st.lists(places, min_size=3, max_size=most, unique=True))
    ends = st.tuples(st.integers(0, len(points) - 1), st.integers(0, len(points) - 1))
    pairs = draw(st.lists(ends.filter(lambda pair: pair[0] < pair[1]), min_size=2, max_size=40, unique=True))
    return tuple(points), tuple(pairs)


@st.composite
def miniatures(draw: st.DrawFn) -> Miniature:
    points, pairs = draw(trusses())
    looks = st.sampled_from(["t", "c", "z", "plain"])
    axles = tuple(draw(st.lists(st.sampled_from(points), max_size=4)))
    loads = draw(
        st.lists(st.tuples(st.sampled_from(points), st.sampled_from([(0.0, -1.0), (0.6, 0.8)])), max_size=2)
    )
    return Miniature(
        points, pairs, draw(st.integers(0, len(pairs) - 1)), draw(looks), (0,), axles, tuple(loads)
    )


arms = st.builds(
    Arm, names, angles, st.sampled_from(["t", "c", "z", "plain"]), texts, st.just(False), st.floats(0, 1)
)
pushes = st.builds(Push, angles, texts, st.booleans())


@given(share_curves())
def test_a_share_curve_keeps_inside_and_its_words_apart(curve: ShareCurve) -> None:
    check(draw_share_curve(curve))


@given(st.floats(0.001, 1))
def test_the_band_is_as_long_as_the_share_of_zero(zero: float) -> None:
    picture = check(draw_share_curve(ShareCurve("x", zero=zero)))
    (band,) = picture.all("rect", "band")
    (axis,) = [one for one in picture.all("line", "axis-line") if one.attrib["y1"] == one.attrib["y2"]]
    whole = float(band.attrib["x"]) + float(band.attrib["width"]) - float(axis.attrib["x1"])
    assert float(band.attrib["width"]) == pytest.approx(zero * whole, abs=2 * HUNDREDTH)
    assert float(band.attrib["height"]) == 6


def test_a_member_that_always_works_has_no_band() -> None:
    picture = check(draw_share_curve(ShareCurve("x", ((0, 5), (1, 2)), tension_peak="T 5.00 kN")))
    assert not picture.all("rect", "band") and "zero" not in picture.words()


def test_a_peak_a_foot_and_both_ends_are_lettered() -> None:
    curve = ShareCurve("x", ((0, 103), (0.33, 0)), zero=0.67, tension_peak="T 103 kN", foot="33 %")
    assert set(check(draw_share_curve(curve)).words()) == {"T 103 kN", "33 %", "0", "all of the way", "zero"}


def test_tension_compression_and_zero_lie_one_after_another() -> None:
    curve = ShareCurve("x", ((0, 50), (0.25, 0)), ((0, 100), (0.5, 0)), 0.25)
    picture = check(draw_share_curve(curve))
    (tension,), (compression,) = picture.all("polygon", "t"), picture.all("polygon", "c")
    spans = [
        sorted(float(pair.split(",")[0]) for pair in one.attrib["points"].split())
        for one in (compression, tension)
    ]
    (band,) = picture.all("rect", "band")
    assert spans[0][-1] == spans[1][0] and spans[1][-1] == pytest.approx(
        float(band.attrib["x"]), abs=HUNDREDTH
    )
    assert spans[0][-1] - spans[0][0] == pytest.approx(2 * (spans[1][-1] - spans[1][0]), abs=3 * HUNDREDTH)


@given(
    st.lists(st.builds(CaseTick, names, st.one_of(st.just(0.0), st.floats(-1e6, 1e6))), max_size=24),
    texts,
    texts,
)
def test_case_ticks_keep_inside_and_their_words_apart(cases: list[CaseTick], one: str, other: str) -> None:
    check(draw_case_ticks(CaseTicks("cases", tuple(cases), one, other)))


@given(st.lists(st.floats(1, 10), min_size=1, max_size=12), st.lists(st.floats(-10, -1), max_size=12))
def test_ticks_are_as_high_as_their_forces(up: list[float], down: list[float]) -> None:
    cases = tuple(CaseTick("", force) for force in [*up, 0.0, *down])
    picture = check(draw_case_ticks(CaseTicks("x", cases)))
    heights = [float(one.attrib["height"]) for look in "tc" for one in picture.all("rect", "tick", look)]
    forces = [*up, *map(abs, down)]
    scale = max(heights) / max(forces)
    # A tick is never lower than 1.5 px: one ten times as high is still as much too high at most.
    for height, force in zip(heights, forces, strict=True):
        assert isclose(height, max(1.5, scale * force), abs_tol=0.03)
    assert len(picture.all("rect", "tick", "z")) == 1


def test_names_of_cases_stand_under_their_ticks_or_nowhere() -> None:
    few = tuple(CaseTick(name, 1.0) for name in ("dead", "snow", "wind"))
    assert check(draw_case_ticks(CaseTicks("x", few))).words() == ["dead", "snow", "wind"]
    many = tuple(CaseTick(f"a long name {i}", 1.0) for i in range(20))
    assert check(draw_case_ticks(CaseTicks("x", many))).words() == []


@given(
    st.lists(rows(), max_size=3),
    st.one_of(st.none(), sizes),
    st.one_of(st.none(), sizes),
    st.tuples(texts, texts),
    st.one_of(st.none(), miniatures()),
)
def test_peaks_keep_inside_and_their_words_apart(
    some: list[PeakRow],
    tension: float | None,
    compression: float | None,
    written: tuple[str, str],
    miniature: Miniature | None,
) -> None:
    picture = PeakPicture("peaks", tuple(some), tension, compression, *written, miniature=miniature)
    check(draw_peaks(picture))


@given(st.floats(0.2, 1), st.floats(0.2, 1), st.floats(0.2, 1), st.sampled_from([1e-3, 1.0, 1e6]))
def test_bars_are_as_long_as_their_forces_on_one_scale(a: float, b: float, c: float, unit: float) -> None:
    some = (PeakRow("one", a * unit, b * unit), PeakRow("two", c * unit))
    picture = check(draw_peaks(PeakPicture("x", some, tension_resistance=2 * unit)))
    bars = [
        *picture.all("rect", "peak", "t"),
        *picture.all("rect", "peak", "c"),
        *picture.all("rect", "frame"),
    ]
    lengths = [float(bar.attrib["width"]) for bar in bars]
    scale = lengths[-1] / 2
    assert lengths == pytest.approx([a * scale, c * scale, b * scale, 2 * scale, 2 * scale], abs=0.05)


def test_compression_lies_left_of_zero_and_tension_right() -> None:
    picture = check(draw_peaks(PeakPicture("x", (PeakRow("one", 2, 3, "T 2", "C 3"),))))
    (tick,) = picture.all("line", "zero-tick")
    (tension,), (compression,) = picture.all("rect", "peak", "t"), picture.all("rect", "peak", "c")
    zero = float(tick.attrib["x1"])
    assert float(tension.attrib["x"]) == zero
    assert float(compression.attrib["x"]) + float(compression.attrib["width"]) == pytest.approx(
        zero, abs=HUNDREDTH
    )


def test_every_number_of_a_peak_picture_is_written_in_full() -> None:
    row = PeakRow("combination", 1e6, 1e6, "T 1 000 000 kN", "C 1 000 000 kN")
    assert {"T 1 000 000 kN", "C 1 000 000 kN"} <= set(check(draw_peaks(PeakPicture("x", (row,)))).words())


@given(miniatures())
def test_a_miniature_keeps_inside_its_box_in_its_own_proportions(miniature: Miniature) -> None:
    box = Box(10, 20, 90, 60)
    picture = Picture.read(draw_miniature(miniature, box))
    for x, y in picture.points():
        assert 10 - HUNDREDTH <= x <= 90 + HUNDREDTH and 20 - HUNDREDTH <= y <= 60 + HUNDREDTH
    drawn = picture.all("line", "mark")[0].attrib
    assert miniature.marked is not None
    (ax, ay), (bx, by) = (miniature.points[joint] for joint in miniature.members[miniature.marked])
    right, down = float(drawn["x2"]) - float(drawn["x1"]), float(drawn["y2"]) - float(drawn["y1"])
    turned = right * (by - ay) + down * (bx - ax)
    assert abs(turned) <= 2 * HUNDREDTH * (abs(bx - ax) + abs(by - ay))


@given(
    st.lists(arms, min_size=1, max_size=10),
    st.lists(pushes, max_size=3),
    st.one_of(st.none(), angles),
    st.tuples(names, names),
    st.lists(st.text("0123 −=N", max_size=60), max_size=2),
)
def test_a_free_body_keeps_inside_and_its_words_apart(
    some: list[Arm], acting: list[Push], axis: float | None, written: tuple[str, str], sums: list[str]
) -> None:
    check(draw_free_body(FreeBody("joint", tuple(some), tuple(acting), axis, *written, tuple(sums))))


@given(
    st.lists(arms, min_size=1, max_size=10),
    st.lists(pushes, max_size=3),
    st.one_of(st.none(), angles),
    st.tuples(names, names),
)
def test_a_wide_free_body_keeps_inside_and_its_words_apart(
    some: list[Arm], acting: list[Push], axis: float | None, written: tuple[str, str]
) -> None:
    body = FreeBody("joint", tuple(some), tuple(acting), axis, *written)
    picture = Picture.read(draw_free_body(body, 420))
    width, height = map(float, picture.root.attrib["viewBox"].split()[2:])
    assert width == 420
    for x, y in picture.points():
        assert -HUNDREDTH <= x <= width + HUNDREDTH and -HUNDREDTH <= y <= height + HUNDREDTH
    boxes = [Box(*box) for _, box in picture.boxes()]
    sheet = Box(0, 0, width, height).wider(HUNDREDTH)
    assert all(box.within(sheet) for box in boxes)
    assert not any(a.wider(-0.02).overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


@given(st.lists(st.floats(0, 360), min_size=1, max_size=10))
def test_every_member_at_a_joint_is_named_with_its_force(directions: list[float]) -> None:
    some = tuple(Arm(f"Member-{i}", angle, "t", f"T {i}.00 kN") for i, angle in enumerate(directions))
    written = check(draw_free_body(FreeBody("x", some))).words()
    assert sorted(written) == sorted([text for arm in some for text in (arm.name, arm.force)])


def test_tension_points_away_from_the_joint_and_compression_towards_it() -> None:
    pulled, pressed = Arm("a", 0, "t"), Arm("b", 180, "c")
    picture = check(draw_free_body(FreeBody("x", (pulled, pressed))))
    (ring,) = picture.all("circle", "joint")
    middle = float(ring.attrib["cx"])
    heads = [
        [float(pair.split(",")[0]) for pair in one.attrib["points"].split()]
        for one in picture.all("polygon", "head")
    ]
    assert heads[0][0] == max(heads[0]) > middle
    assert heads[1][0] == max(heads[1]) < middle


def test_the_deciding_axis_goes_on_beyond_the_member_in_question() -> None:
    arm = Arm("L3-U3", 90, "z", "", True)
    picture = check(draw_free_body(FreeBody("x", (arm,), axis=90)))
    (line,) = picture.all("line", "line")
    ends = sorted(float(one.attrib[key]) for one in picture.all("line", "axis") for key in ("y1", "y2"))
    assert ends[0] < ends[1] < float(line.attrib["y2"]) < float(line.attrib["y1"]) < ends[2] < ends[3]


def test_two_short_sums_stand_on_one_line() -> None:
    body = FreeBody("x", (Arm("a", 0),), sums=("→ 149 − 149 = 0", "↑ N = 0"))
    places = dict(check(draw_free_body(body)).boxes())
    assert places["→ 149 − 149 = 0"][1] == places["↑ N = 0"][1]


@st.composite
def movements(draw: st.DrawFn) -> Movement:
    points, pairs = draw(trusses())
    # a movement is told as shares of its largest: what is left of rounding there is 0
    part = st.floats(-1, 1).map(lambda share: round(share, 9))
    steps = st.one_of(st.just((0.0, 0.0)), st.tuples(part, part))
    moves = tuple(draw(st.lists(steps, min_size=len(points), max_size=len(points))))
    return Movement("moves", points, pairs, draw(st.integers(0, len(pairs) - 1)), moves, draw(names))


@given(movements())
def test_a_movement_keeps_inside_from_start_to_end(movement: Movement) -> None:
    picture = check(draw_movement(movement))
    for one in picture.root.iter():
        for key in ("data-from", "data-to"):
            numbers = [float(value) for value in one.attrib.get(key, "").split(",") if value]
            assert all(0 <= value <= (112 if i % 2 else 168) for i, value in enumerate(numbers))


def test_a_hanger_that_is_gone_lets_its_joint_move() -> None:
    points = ((0.0, 0.0), (4.0, 0.0), (8.0, 0.0), (4.0, 3.0))
    pairs = ((0, 1), (1, 2), (0, 3), (3, 2), (1, 3))
    moves = ((0.0, 0.0), (0.0, -1.0), (0.0, 0.0), (0.0, 0.0))
    picture = check(draw_movement(Movement("x", points, pairs, 4, moves, "L1")))
    lines, (ring,) = (
        picture.all("line", "moved"),
        [one for one in picture.all("circle") if "data-to" in one.attrib],
    )
    assert len(lines) == 2 and picture.all("path", "ghost") and picture.all("path", "zero")
    start, end = (list(map(float, ring.attrib[key].split(","))) for key in ("data-from", "data-to"))
    assert start[0] == end[0] and end[1] > start[1], "the page counts downwards"
    assert [float(ring.attrib["cx"]), float(ring.attrib["cy"])] == end, "without motion the end is shown"
    assert {line.attrib["data-to"] for line in lines} == {
        ",".join(line.attrib[key] for key in ("x1", "y1", "x2", "y2")) for line in lines
    }
    assert "L1" in picture.words()


def test_joints_move_in_proportion() -> None:
    points = (*((float(i), 0.0) for i in range(4)), (1.0, 2.0))
    moves = ((0.0, 0.0), (0.0, -1.0), (0.0, -3.0), (0.0, 0.0), (0.0, 0.0))
    picture = check(draw_movement(Movement("x", points, ((0, 1), (1, 2), (2, 3), (1, 4)), 3, moves)))
    rings = [one for one in picture.all("circle") if "data-to" in one.attrib]
    ways = [
        [float(value) for key in ("data-from", "data-to") for value in one.attrib[key].split(",")]
        for one in rings
    ]
    lengths = [hypot(x1 - x0, y1 - y0) for x0, y0, x1, y1 in ways]
    assert lengths[1] == pytest.approx(3 * lengths[0], abs=0.05)


def test_of_a_large_truss_only_the_joints_around_the_movement_are_shown() -> None:
    points = tuple((float(i), float(i % 2)) for i in range(60))
    pairs = tuple((i, j) for i in range(60) for j in (i + 1, i + 2) if j < 60)
    moves = tuple((0.0, -1.0 if i == 30 else 0.0) for i in range(60))
    picture = check(draw_movement(Movement("x", points, pairs, pairs.index((30, 31)), moves)))
    # 30 and 31 and whatever is at most two joints away: 28 to 33, and 30 once more where it moves to.
    assert len(picture.all("circle", "joint")) == 7
    assert picture.all("path", "stub")


@given(movements())
def test_a_truss_that_stands_shows_no_movement(movement: Movement) -> None:
    standing = Standing("stands", movement.points, movement.members, movement.gone)
    picture = check(draw_standing(standing))
    assert picture.all("path", "ghost")
    assert not [one for one in picture.root.iter() if "data-to" in one.attrib]


@pytest.mark.parametrize(
    "drawn",
    [
        draw_share_curve(ShareCurve(HOSTILE, ((0, 1), (1, 0)), tension_peak=HOSTILE)),
        draw_case_ticks(CaseTicks(HOSTILE, (CaseTick(HOSTILE, 1.0),), HOSTILE)),
        draw_peaks(PeakPicture(HOSTILE, (PeakRow(HOSTILE, 1.0, 0.0, HOSTILE),))),
        draw_free_body(FreeBody(HOSTILE, (Arm(HOSTILE, 90),), joint=HOSTILE, sums=(HOSTILE,))),
        draw_movement(
            Movement(
                HOSTILE, ((0, 0), (1, 0), (2, 1)), ((0, 1), (1, 2)), 0, ((0, 0), (0, 0), (0, 1)), HOSTILE
            )
        ),
        draw_ladder(Ladder(HOSTILE, (Rung(HOSTILE, HOSTILE),))),
    ],
)
def test_hostile_names_stay_text(drawn: str) -> None:
    picture = check(drawn)
    assert HOSTILE in picture.words() and picture.root.attrib["aria-label"] == HOSTILE
    assert not picture.all("b")


def test_colours_come_from_the_tokens_alone() -> None:
    style = (Path(figures.__file__).parents[2] / "assets" / "25-figures.css").read_text(encoding="utf-8")
    assert "#" not in style and "rgb" not in style
    painted = [
        part.split(":")[1]
        for part in style.replace("}", ";").replace("{", ";").split(";")
        if "fill:" in part or "stroke:" in part
    ]
    assert painted and all(value.strip() == "none" or value.strip().startswith("var(--") for value in painted)
