"""A part cut free: whatever is put in, it stays inside its edges, and what is drawn starts where it acts."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations
from math import cos, hypot, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

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
