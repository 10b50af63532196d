"""The truss as a picture, read back as XML: what stands where, under which name, and that names stay text."""

from __future__ import annotations

import re
from functools import cache
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from explorer.bundled import find_bundled, list_bundled
from explorer.document import read_study
from explorer.drawing.bars import Paint, draw_bar, paint_force, shorten
from explorer.drawing.plate import lay_plate
from explorer.drawing.scene import Scene, draw_scene, write_value
from explorer.drawing.still import draw_still
from explorer.drawing.view import Direction, Frame
from explorer.markup import element, join
from explorer.store import Results
from explorer.wording.asked import Asked
from explorer.wording.numbers import Teller
from solver.placement import Standing
from solver.study import Study
from solver.truss import Truss
from tests.building import build_truss
from tests.laws import generator
from tests.laws.trying import law

HUNDREDTH = 0.0051
"""Coordinates are written to a hundredth of a pixel, angles to a hundredth of a degree."""
FRAME = Frame(800, 600, 20.0, 400.0, 300.0)
BUNDLED = [item.name for item in list_bundled("study")]
HOSTILE = [
    "<img src=x onerror=alert(1)>",
    "\"' onload='alert(1)",
    "a&b;&lt;",
    "]]></svg><script>alert(1)</script>",
    "</g><g onclick=alert(1)>",
]


@cache
def bundled(name: str) -> Study:
    return read_study(find_bundled(name).path).study


def scene_of(truss: Truss, frame: Frame = FRAME, direction: Direction | None = None) -> Scene:
    return Scene(truss, frame, direction or Direction())


def read(scene: Scene) -> ElementTree.Element:
    """The groups of a drawing inside one root; raises where they are no well-formed XML."""
    return ElementTree.fromstring("<svg>" + "".join(draw_scene(scene)) + "</svg>")


def of_class(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [one for one in root.iter() if name in one.attrib.get("class", "").split()]


def bar_ends(group: ElementTree.Element) -> tuple[np.ndarray, float]:
    """Both ends of a bar by its transform, (2, 2), and how far roundings may have moved them."""
    written = re.fullmatch(
        r"translate\((-?[\d.]+),(-?[\d.]+)\) rotate\((-?[\d.]+)\)", group.attrib["transform"]
    )
    assert written
    x, y, turn = (float(part) for part in written.groups())
    wall = next(line for line in group if line.attrib["class"] == "wall")
    length = float(wall.attrib["x2"])
    way = np.array([np.cos(np.radians(turn)), np.sin(np.radians(turn))])
    start = np.array([x, y])
    return np.array([start, start + length * way]), 3 * HUNDREDTH + length * np.radians(HUNDREDTH)


def check_bars(truss: Truss, scene: Scene) -> None:
    """Every member once; its bar on the line between its joints, short of both by the same."""
    bars = of_class(read(scene), "bar")
    assert [bar.attrib["data-member"] for bar in bars] == [member.name for member in truss.members]
    assert [bar.attrib["data-i"] for bar in bars] == [str(i) for i in range(len(bars))]
    for bar, member in zip(bars, truss.members, strict=True):
        ends, off = bar_ends(bar)
        joints = scene.pixels[[member.first, member.second]]
        length = float(np.linalg.norm(joints[1] - joints[0]))
        if length < 1:
            continue
        along = (joints[1] - joints[0]) / length
        across = np.array([-along[1], along[0]])
        assert np.abs((ends - joints[0]) @ across).max() <= off
        gaps = [(ends[0] - joints[0]) @ along, (joints[1] - ends[1]) @ along]
        assert gaps == pytest.approx([min(6.5, 0.4 * length)] * 2, abs=off)
        assert min(gaps) > 0


@pytest.mark.parametrize("name", BUNDLED)
def test_every_member_of_a_bundled_truss_is_one_bar_between_its_joints_and_short_of_both(name: str) -> None:
    study = bundled(name)
    plate = lay_plate(study, Direction())
    check_bars(study.truss, scene_of(study.truss, plate.frame))


@law(15)
def test_every_member_of_a_random_truss_is_one_bar_between_its_joints_and_short_of_both(seed: int) -> None:
    truss = generator.draw_truss(seed).truss
    random = np.random.default_rng(seed)
    direction = Direction(float(random.uniform(-180, 180)), float(random.uniform(-90, 90)))
    check_bars(truss, scene_of(truss, FRAME, direction))


@pytest.mark.parametrize("name", BUNDLED)
def test_every_joint_hangs_where_it_is_and_has_its_name_once(name: str) -> None:
    study = bundled(name)
    scene = scene_of(study.truss, lay_plate(study, Direction()).frame)
    root = read(scene)
    for joint, group in enumerate(of_class(root, "joint")):
        assert group.attrib["data-j"] == str(joint)
        assert place(group) == pytest.approx(scene.pixels[joint], abs=HUNDREDTH)
    names = ["".join(group.itertext()) for group in of_class(root, "name")]
    assert names == list(study.truss.joint_names)
    assert len(of_class(root, "joint")) == len(names)


def place(group: ElementTree.Element) -> list[float]:
    written = re.fullmatch(r"translate\((-?[\d.]+),(-?[\d.]+)\)", group.attrib["transform"])
    assert written
    return [float(part) for part in written.groups()]


def test_pixels_count_downwards_from_a_frame_set_by_hand() -> None:
    truss = build_truss({"A": (0, 0), "B": (3, 4)}, ["A-B"], {"A": "xy", "B": "xy"})
    # 20 px a metre, the origin at (400, 300); up is up
    assert scene_of(truss).pixels == pytest.approx(np.array([[400, 300], [460, 220]]))
    bar = of_class(read(scene_of(truss)), "bar")[0]
    # 100 px long, 6.5 short at each end, rising 53.13 degrees to the right
    assert bar.attrib["transform"] == "translate(403.9,294.8) rotate(-53.13)"
    assert next(iter(bar)).attrib["x2"] == "87"


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_stay_text(name: str) -> None:
    tame = build_truss({"A": (0, 0), "B": (4, 0), "C": (2, 3)}, ["A-B", "B-C", "A-C"], {"A": "xy", "B": "y"})
    members = tuple(type(m)(f"{name}-{i}", m.first, m.second, m.group) for i, m in enumerate(tame.members))
    truss = Truss((name, f"B{name}", "C"), tame.coordinates, members, tame.supports)
    scene = Scene(truss, FRAME, Direction(), values=[f"T {name}", name, ""])
    root = read(scene)
    assert ["".join(g.itertext()) for g in of_class(root, "name")] == [name, f"B{name}", "C"]
    assert [b.attrib["data-member"] for b in of_class(root, "bar")] == [f"{name}-{i}" for i in range(3)]
    assert ["".join(g.itertext()) for g in of_class(root, "value")] == [f"T {name}", name, ""]
    known = {"svg", "g", "line", "circle", "rect", "path", "polygon", "text", "tspan"}
    assert {one.tag for one in root.iter()} <= known
    assert not any(key.startswith("on") for one in root.iter() for key in one.attrib)


any_text = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Cn"]), max_size=30)


@given(any_text, any_text)
def test_whatever_is_written_is_read_back_as_it_was(content: str, attribute: str) -> None:
    read_back = ElementTree.fromstring(element("text", content, {"aria-label": attribute}))
    assert (read_back.text or "", read_back.attrib["aria-label"]) == (content, attribute)
    twice = ElementTree.fromstring(element("g", [element("text", content), content]))
    assert (twice[0].text or "", twice[0].tail or "") == (content, content)
    assert (ElementTree.fromstring(f"<g>{join([content, content])}</g>").text or "") == content * 2


@given(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4), st.floats(-1e4, 1e4), st.floats(-1e4, 1e4))
def test_a_bar_is_shortened_along_itself_and_never_turned(x: float, y: float, u: float, v: float) -> None:
    ends = np.array([[x, y], [u, v]])
    short = shorten(ends, 6.5)
    length = float(np.hypot(u - x, v - y))
    taken = min(6.5, 0.4 * length)
    left = float(np.hypot(*(short[1] - short[0])))
    assert left == pytest.approx(length - 2 * taken, rel=1e-9, abs=1e-9)
    # the middle stays, and so does the way
    assert short.mean(axis=0) == pytest.approx(ends.mean(axis=0), abs=1e-9)
    assert (short[1] - short[0]) @ (ends[1] - ends[0]) == pytest.approx(left * length, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize(
    ("force", "look", "fraction"),
    [
        (50.0, "t", 0.5),
        (-25.0, "c", 0.25),
        (100.0, "t", 1.0),
        (1.0, "z", 0),
        (-1.0, "z", 0),
        (1.01, "t", 0.0101),
    ],
)
def test_a_force_is_painted_by_its_sign_and_its_share_of_the_largest(
    force: float, look: str, fraction: float
) -> None:
    paint = paint_force(force, 1.0, 100.0)
    assert (paint.look, paint.fraction) == (look, pytest.approx(fraction))
    bar = ElementTree.fromstring(draw_bar("A-B", np.array([[0.0, 0.0], [50.0, 0.0]]), paint, 3))
    assert bar.attrib["class"].split() == ["bar", look]
    written = float(bar.attrib["style"].removeprefix("--f:"))
    assert written == pytest.approx(fraction, rel=1e-3)


def test_a_value_has_its_letter_bold_and_zero_has_none() -> None:
    tension = ElementTree.fromstring(write_value("T 149"))
    assert ("".join(tension.itertext()), tension[0].text) == ("T 149", "T")
    assert len(ElementTree.fromstring(write_value("0"))) == 0


def test_a_roller_on_a_slope_lies_square_to_what_it_holds() -> None:
    study = bundled("fulmar_gantry")
    root = read(scene_of(study.truss))
    roller = next(g for g in of_class(root, "support") if "roller" in g.attrib["class"])
    assert roller.attrib["data-j"] == str(study.truss.joint_index("L4"))
    turn = float(roller[0].attrib["transform"].removeprefix("rotate(").removesuffix(")"))
    # its upright, turned clockwise by so much, is the held direction (-3, 4) / 5
    upright = [np.sin(np.radians(turn)), np.cos(np.radians(turn))]
    assert upright == pytest.approx([-0.6, 0.8], abs=1e-3)
    pin = next(g for g in of_class(root, "support") if "pin" in g.attrib["class"])
    assert (pin.attrib["data-j"], "transform" in pin[0].attrib) == (str(study.truss.joint_index("L0")), False)


@pytest.mark.parametrize("held", [[("x", (1, 0))], [("down", (0, -1))], [("slope", (4, -3))]])
def test_a_roller_that_holds_against_a_direction_looks_as_one_that_holds_along_it(
    held: list[tuple[str, tuple[int, int]]],
) -> None:
    vector = np.array(held[0][1])

    def turn(direction: np.ndarray) -> float:
        truss = build_truss(
            {"A": (0, 0), "B": (4, 0)}, ["A-B"], {"A": "xy", "B": [tuple(int(c) for c in direction)]}
        )
        inside = of_class(read(scene_of(truss)), "roller")[0][0]
        return float(inside.attrib.get("transform", "rotate(0)")[7:-1])

    assert turn(vector) == turn(-vector)
    upright = np.array([np.sin(np.radians(turn(vector))), np.cos(np.radians(turn(vector)))])
    assert abs(upright @ vector / np.linalg.norm(vector)) == pytest.approx(1, abs=1e-6)


@pytest.mark.parametrize("name", BUNDLED)
def test_the_still_picture_is_well_formed_and_its_values_are_those_of_the_state(name: str) -> None:
    worked = Results().work(find_bundled(name).text(), name)
    answers = worked.answers
    column = next((i for i, c in enumerate(answers.combinations) if c.crossing and not c.cases), 0)
    standing = Standing("forward", 9.0) if answers.combinations[column].crossing else None
    asked = Asked(answers, Teller(worked.document.units), 0, column, standing)
    root = ElementTree.fromstring(draw_still(asked))
    svg = "{http://www.w3.org/2000/svg}"
    assert root.tag == f"{svg}svg"
    bars, values = of_class(root, "bar"), of_class(root, "value")
    assert len(bars) == len(values) == len(answers.study.truss.members)
    unit = {"metric": 1e3, "US": 4448.2216152605}[worked.document.units.name]
    for bar, value, force in zip(bars, values, asked.state.forces, strict=True):
        told = "".join(value.itertext())
        look = "z" if told == "0" else {"T": "t", "C": "c"}[told[0]]
        assert bar.attrib["class"].split()[1] == look
        if look == "z":
            assert abs(force) <= asked.band
            continue
        assert (force > 0) == (look == "t")
        # two digits below 10, whole from there up: off by half of the last digit at most
        size, shown = abs(force) / unit, told[2:]
        last = 1.0 if size >= 9.95 else 10.0 ** (np.floor(np.log10(size)) - 1)
        assert abs(float(shown) - size) <= 0.5 * last * (1 + 1e-9)


def test_bars_of_less_than_a_pixel_and_of_no_length_are_drawn_without_fail() -> None:
    truss = build_truss(
        {"A": (0, 0), "B": ("0.01", 0), "C": (1, 1)}, ["A-B", "B-C", "A-C"], {"A": "xy", "B": "y"}
    )
    assert len(of_class(read(scene_of(truss)), "bar")) == 3
    # a member seen end on has no length in the picture
    mast = build_truss(
        {"A": (0, 0, 0), "B": (0, 0, 4), "C": (1, 0, 0)}, ["A-B", "A-C", "B-C"], {"A": "xyz", "C": "xyz"}
    )
    root = read(scene_of(mast, FRAME, Direction(0.0, 90.0)))
    lengths = [float(line.attrib["x2"]) for line in root.iter("line") if line.attrib["class"] == "wall"]
    assert min(lengths) == 0 and all(a >= 0 for a in lengths)


def test_groups_come_from_the_back_to_the_front() -> None:
    truss = bundled("avocet_bridge").truss
    groups = [ElementTree.fromstring(group).attrib["class"] for group in draw_scene(scene_of(truss))]
    assert groups == ["supports", "bars", "joints", "letters"]
    assert len(draw_scene(scene_of(truss), lettered=False)) == 3
    painted = Scene(truss, FRAME, Direction(), paints=[Paint("t", 0.5)] * len(truss.members))
    assert {bar.attrib["class"] for bar in of_class(read(painted), "bar")} == {"bar t"}
