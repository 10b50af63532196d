"""A part cut free: whatever is put in, it stays inside its edges, and what is drawn starts where it acts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from math import cos, hypot, radians, sin
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.drawing import figures
from explorer.drawing.figures import CutArm, PartPicture, PartPush, draw_part
from tests.drawing.reading import HUNDREDTH, Picture, points_of

HOSTILE = "<b>&\"'"
# Two panels of a truss left of a cut; heights and lengths in m.
PART = PartPicture(
    label="The part around L0, cut free",
    points=((0.0, 0.0), (3.0, 0.0), (6.0, 0.0), (3.0, 4.0), (6.0, 4.0)),
    names=("L0", "L1", "L2", "U1", "U2"),
    members=((0, 1), (1, 2), (0, 3), (3, 4), (1, 3), (2, 4), (1, 4)),
    arms=(
        CutArm(4, 0.0, "U2-U3", False, False),
        CutArm(4, -53.13, "U2-L3", True, False),
        CutArm(2, 0.0, "L2-L3", False, False),
    ),
    pushes=(PartPush(0, 90.0, "149 kN", True), PartPush(1, -90.0, "55 kN"), PartPush(2, -90.0, "56 kN")),
    centre=None,
    centre_name="",
    across=90.0,
)
widths = st.sampled_from([168.0, 420.0])


def read(picture: PartPicture, width: float = 420.0) -> Picture:
    """The picture, once it is certain that all lies inside, and no word on another."""
    found = Picture.read(draw_part(picture, width))
    _, _, right, bottom = map(float, found.root.attrib["viewBox"].split())
    assert right == width and found.root.attrib["aria-label"] == picture.label
    for x, y in found.points():
        assert -HUNDREDTH <= x <= right + HUNDREDTH and -HUNDREDTH <= y <= bottom + HUNDREDTH
    boxes = found.boxes()
    for word, (left, top, end, foot) in boxes:
        assert left >= -HUNDREDTH and end <= right + HUNDREDTH and top >= 0 and foot <= bottom, word
    for (one, a), (other, b) in combinations(boxes, 2):
        apart = a[2] <= b[0] + 0.02 or b[2] <= a[0] + 0.02 or a[3] <= b[1] + 0.02 or b[3] <= a[1] + 0.02
        assert apart, (one, other)
    return found


def rings(picture: Picture) -> list[tuple[float, float]]:
    return [(float(one.attrib["cx"]), float(one.attrib["cy"])) for one in picture.all("circle", "joint")]


@st.composite
def parts(draw: st.DrawFn) -> PartPicture:
    place = st.tuples(st.floats(-50, 50), st.floats(-50, 50))
    points = tuple(draw(st.lists(place, min_size=1, max_size=40, unique=True)))
    joint, angle = st.integers(0, len(points) - 1), st.floats(-720, 720)
    pairs = st.tuples(joint, joint).filter(lambda pair: pair[0] < pair[1])
    members = draw(st.lists(pairs, max_size=60, unique=True)) if len(points) > 1 else []
    names = st.text("LU019-<&é", max_size=9)
    arm = st.builds(CutArm, joint, angle, names, st.booleans(), st.booleans())
    push = st.builds(PartPush, joint, angle, names, st.booleans())
    deciding = draw(st.sampled_from(["centre", "sum", "neither"]))
    return PartPicture(
        label="part",
        points=points,
        names=tuple(draw(names) for _ in points),
        members=tuple(members),
        arms=tuple(draw(st.lists(arm, min_size=1, max_size=6))),
        pushes=tuple(draw(st.lists(push, max_size=12))),
        centre=(draw(st.floats(-500, 500)), draw(st.floats(-500, 500))) if deciding == "centre" else None,
        centre_name=draw(names),
        across=draw(angle) if deciding == "sum" else None,
    )


@given(parts(), widths)
def test_a_part_keeps_inside_and_its_words_apart(picture: PartPicture, width: float) -> None:
    found = read(picture, width)
    assert len(found.all("g", "arm")) == len(picture.arms)
    assert len(found.all("g", "asked")) == sum(arm.asked for arm in picture.arms)
    assert len(found.all("g", "z")) == sum(arm.known_zero for arm in picture.arms)


@pytest.mark.parametrize("width", [168.0, 420.0])
def test_cut_members_start_at_their_joints_and_lead_away_in_their_directions(width: float) -> None:
    picture = read(PART, width)
    joints = rings(picture)
    for arm, drawn in zip(PART.arms, picture.all("g", "arm"), strict=True):
        ((x1, y1), (x2, y2)) = points_of(drawn[0])
        x, y = joints[arm.joint]
        assert hypot(x1 - x, y1 - y) < 8
        length = hypot(x2 - x1, y2 - y1)
        assert (x2 - x1) / length == pytest.approx(cos(radians(arm.angle)), abs=0.002)
        assert (y1 - y2) / length == pytest.approx(sin(radians(arm.angle)), abs=0.002), "pixels count down"


def test_joints_keep_their_proportions() -> None:
    joints = rings(read(PART))
    scale = (joints[1][0] - joints[0][0]) / 3.0
    assert scale > 0
    for (x, y), (right, up) in zip(joints, PART.points, strict=True):
        assert x - joints[0][0] == pytest.approx(scale * right, abs=0.03)
        assert joints[0][1] - y == pytest.approx(scale * up, abs=0.03)


def test_every_load_cut_member_and_joint_of_a_small_part_is_lettered() -> None:
    assert set(read(PART).words()) == {
        *("L0", "L1", "L2", "U1", "U2"),
        *("U2-U3", "U2-L3", "L2-L3"),
        *("149 kN", "55 kN", "56 kN"),
    }


def test_arrows_point_as_loads_act_and_a_load_does_not_hide_on_a_member() -> None:
    picture = read(PART)
    joints = rings(picture)
    reaction, *loads = picture.all("g", "arrow")
    tip = points_of(reaction[1])[0]
    assert tip[1] > joints[0][1], "the reaction pushes from below"
    assert points_of(reaction[0])[0][1] > tip[1]
    for joint, load in zip((1, 2), loads, strict=True):
        # A post stands on the joint, so the load hangs below it.
        (tail, _), head = points_of(load[0]), points_of(load[1])[0]
        assert head[1] > tail[1] > joints[joint][1]
        assert head[0] == pytest.approx(joints[joint][0], abs=0.02)


def test_only_what_comes_from_a_support_stands_on_ground() -> None:
    assert len(read(PART).all("g", "reaction")) == 1
    loads = tuple(replace(push, support=False) for push in PART.pushes)
    assert not read(replace(PART, pushes=loads)).all("g", "reaction")


def test_a_part_without_loads_is_drawn() -> None:
    picture = read(replace(PART, pushes=()))
    assert not picture.all("g", "arrow") and len(picture.all("g", "arm")) == 3


def test_lines_lead_from_the_other_cut_members_to_the_centre() -> None:
    # U2-U3 is in question: L2-L3 and U2-L3 meet at L3, 9 m to the right.
    arms = (replace(PART.arms[0], asked=True), replace(PART.arms[1], asked=False), PART.arms[2])
    picture = read(replace(PART, arms=arms, centre=(9.0, 0.0), centre_name="L3", across=None))
    joints = rings(picture)
    (centre,) = picture.all("circle", "frame")
    x, y = float(centre.attrib["cx"]), float(centre.attrib["cy"])
    assert x - joints[2][0] == pytest.approx(joints[2][0] - joints[1][0], abs=0.03)
    assert y == pytest.approx(joints[2][1], abs=0.02)
    (axis,) = picture.all("path", "axis")
    assert points_of(axis)[1::2] == [(pytest.approx(x, abs=0.02), pytest.approx(y, abs=0.02))] * 2
    assert "L3" in picture.words()


def test_a_centre_far_away_is_pointed_to_from_the_edge_and_named() -> None:
    picture = read(replace(PART, centre=(-900.0, 2.0), centre_name="far left", across=None))
    (pointer,) = picture.all("g", "pointer")
    tip = points_of(pointer[0][1])[0]
    assert tip[0] < 6, "the arrow ends at the left edge"
    assert not picture.all("circle", "frame") and "far left" in picture.words()


def test_the_direction_of_the_sum_starts_at_the_member_asked_and_lies_on_no_member() -> None:
    picture = read(PART)
    (axis,) = picture.all("path", "axis")
    start, end = points_of(axis)
    joint = rings(picture)[4]
    # A post leads down from U2, so the direction is shown above it alone.
    assert start[0] == end[0] == pytest.approx(joint[0], abs=0.02)
    assert end[1] < start[1] < joint[1]


def test_loads_close_together_are_all_lettered() -> None:
    points = tuple((float(i), 0.0) for i in range(20))
    loads = tuple(PartPush(i, -90.0, f"{100 + i} kN") for i in range(2, 14))
    crowded = PartPicture("x", points, ("",) * 20, ((0, 19),), (CutArm(19, 0.0, "A-B"),), loads)
    assert {push.text for push in loads} <= set(read(crowded).words())


def test_hostile_names_of_a_part_stay_text() -> None:
    arms = (CutArm(2, 0.0, HOSTILE, True),)
    named = replace(PART, label=HOSTILE, names=(HOSTILE, "", "", "", ""), arms=arms, pushes=())
    picture = read(named)
    assert picture.words().count(HOSTILE) == 2 and not picture.all("b")


def far_from(box: tuple[float, float, float, float], line: Sequence[tuple[float, float]]) -> float:
    """How far a word lies from a line, by points close together on the line."""
    (x1, y1), (x2, y2) = line
    left, top, right, bottom = box
    points = [(x1 + (x2 - x1) * share / 200, y1 + (y2 - y1) * share / 200) for share in range(201)]
    return min(hypot(max(left - x, x - right, 0), max(top - y, y - bottom, 0)) for x, y in points)


def above(picture: Picture, width: float) -> list[tuple[str, tuple[float, float, float, float]]]:
    """The words in the picture itself, without the list beneath it."""
    return [(word, box) for word, box in picture.boxes() if box[3] <= 0.72 * width]


def long_part(panels: int) -> PartPicture:
    """A part of many short panels, loaded at every joint of its bottom chord but the first and the last."""
    bottom = tuple((3.0 * i, 0.0) for i in range(panels + 1))
    top = tuple((3.0 * i, 3.0) for i in range(1, panels + 1))
    u = panels
    members = (
        *((i, i + 1) for i in range(panels)),
        *((u + i, u + i + 1) for i in range(1, panels)),
        *((i, u + i) for i in range(1, panels + 1)),
        *((i, u + i + 1) for i in range(panels)),
    )
    names = tuple(f"L{i}" for i in range(panels + 1)) + tuple(f"U{i}" for i in range(1, panels + 1))
    cut = (
        CutArm(2 * panels, 0.0, f"U{panels}-U{panels + 1}", True),
        CutArm(2 * panels, -45.0, f"U{panels}-L{panels + 1}"),
        CutArm(panels, 0.0, f"L{panels}-L{panels + 1}"),
    )
    loads = tuple(PartPush(i, -90.0, f"{10 + i}") for i in range(1, min(panels, 12)))
    pushes = (PartPush(0, 90.0, "230", True), *loads)
    return PartPicture(
        "long",
        (*bottom, *top),
        names,
        members,
        cut,
        pushes,
        (3.0 * (panels + 1), 0.0),
        f"about L{panels + 1}",
    )


@pytest.mark.parametrize("width", [168.0, 420.0])
@pytest.mark.parametrize("panels", [2, 4, 7, 10, 20])
def test_no_cut_member_bears_the_name_of_another(panels: int, width: float) -> None:
    given_one = long_part(panels)
    picture = read(given_one, width)
    lines = {a.name: points_of(g[0]) for a, g in zip(given_one.arms, picture.all("g", "arm"), strict=True)}
    for word, box in above(picture, width):
        if word in lines:
            gaps = {name: far_from(box, line) for name, line in lines.items()}
            assert min(gaps, key=lambda name: gaps[name]) == word, gaps


@pytest.mark.parametrize("width", [168.0, 420.0])
@pytest.mark.parametrize("panels", [2, 4, 7, 10, 20])
def test_every_load_reaction_and_cut_member_is_written_somewhere(panels: int, width: float) -> None:
    given_one = long_part(panels)
    words = read(given_one, width).words()
    assert {arm.name for arm in given_one.arms} <= set(words)
    for push in given_one.pushes:
        assert push.text in words or f"{given_one.names[push.joint]} {push.text}" in words
    assert given_one.centre_name in words


@pytest.mark.parametrize("width", [168.0, 420.0])
@pytest.mark.parametrize("panels", [2, 7, 10, 20])
def test_words_lie_on_no_line(panels: int, width: float) -> None:
    picture = read(long_part(panels), width)
    lines = [points_of(one) for one in (*picture.all("line", "line"), *picture.all("line", "shaft"))]
    for path in (*picture.all("path", "thin"), *picture.all("path", "axis")):
        points = points_of(path)
        lines += list(zip(points[::2], points[1::2], strict=True))
    for word, box in above(picture, width):
        assert all(far_from(box, line) > 0 for line in lines), word


def test_rings_of_short_panels_do_not_touch() -> None:
    picture = read(long_part(20), 168)
    places = sorted(rings(picture))
    radius = max((float(one.attrib["r"]) for one in picture.all("circle", "joint")), default=0.0)
    apart = min(hypot(a[0] - b[0], a[1] - b[1]) for a, b in combinations(places, 2)) if places else 9.0
    assert 2 * radius < 0.6 * apart


def test_the_arrow_to_a_far_centre_points_at_it_and_has_its_words_beside_it() -> None:
    picture = read(replace(PART, centre=(90.0, 2.0), centre_name="about Q", across=None))
    (pointer,) = picture.all("g", "pointer")
    tail, tip = points_of(pointer[0][0])[0], points_of(pointer[0][1])[0]
    assert tip[0] > 412 and tip[0] - tail[0] > 10 * abs(tip[1] - tail[1]), "the centre lies far to the right"
    (box,) = [box for word, box in picture.boxes() if word == "about Q"]
    assert far_from(box, (tail, tip)) < 20


@pytest.mark.parametrize("look", ["plain", "zero"])
def test_the_member_asked_is_the_boldest_line_by_the_last_rule_of_the_style(look: str) -> None:
    style = (Path(figures.__file__).parents[2] / "assets" / "25-figures.css").read_text(encoding="utf-8")
    other = ".figure .arm.plain .line" if look == "plain" else ".figure .arm.z .line"
    widths = {rule: style.rsplit(f"{rule} {{", 1)[1] for rule in (".figure.part .arm.asked .line", other)}
    asked, rest = (float(text.split("stroke-width:")[1].split(";")[0]) for text in widths.values())
    # More classes win over fewer, whichever rule comes last.
    assert asked > rest and ".figure.part .arm.asked .line".count(".") > other.count(".")


def test_a_far_centre_that_falls_on_the_edge_is_pointed_to_rather_than_ringed_across_it() -> None:
    points = ((27.0, -14.0), (50.0, 12.0))
    lone = PartPicture("x", points, ("", ""), (), (CutArm(0, 0.0, ""),), centre=(0.0, 0.0))
    picture = read(lone, 168)
    assert len(picture.all("circle", "frame")) + len(picture.all("g", "pointer")) == 1
