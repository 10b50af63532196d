"""Labels at every zoom, read back: apart from one another, from bars and from joints, by own geometry."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from xml.etree import ElementTree

import numpy as np
import pytest

from explorer.bundled import find_bundled, list_bundled
from explorer.document import read_study
from explorer.drawing.labels import ZOOMS, Ground, Label, Place, place_labels
from explorer.drawing.plate import lay_plate
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.view import Direction
from solver.study import Study
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.laws import generator, random_trusses
from tests.laws.trying import law

LETTER, HEIGHT, RING = 6.6, 12.0, 3.6
"""Width and height of letters of 12 px as browsers set them, and the radius of a joint [px]."""
LETTERS = 6
EVERY_ZOOM = tuple(0.25 * 2 ** (step / 6) for step in range(49))
"""A quarter to sixty-four times, the zooms of the layout and two between any two of them."""
BUNDLED = [item.name for item in list_bundled("study")]


@dataclass(frozen=True)
class Written:
    """A label as read back: it hangs at anchor x zoom + offset, half as wide and high as `half`.

    member: the member in whose bar it stands, or -1; zoom: from which on it is shown.
    """

    text: str
    anchor: np.ndarray
    offset: np.ndarray
    half: np.ndarray
    member: int
    zoom: float


@dataclass(frozen=True)
class Sheet:
    """A drawing: joints [px] at zoom 1, bars by their joints, labels."""

    joints: np.ndarray
    ends: np.ndarray
    labels: tuple[Written, ...]

    def boxes(self, zoom: float) -> tuple[list[Written], np.ndarray]:
        """Labels shown at a zoom, with left, top, right and bottom."""
        shown = [label for label in self.labels if label.zoom <= zoom]
        middles = np.array([zoom * label.anchor + label.offset for label in shown]).reshape(-1, 2)
        halves = np.array([label.half for label in shown]).reshape(-1, 2)
        return shown, np.hstack([middles - halves, middles + halves])


def draw(scene: Scene) -> ElementTree.Element:
    return ElementTree.fromstring(draw_scene(scene)[3])


def read(truss: Truss, scene: Scene) -> Sheet:
    joints = scene.pixels
    labels = [read_label(group, joints, scene) for group in draw(scene)]
    ends = np.array([[member.first, member.second] for member in truss.members])
    return Sheet(joints, ends, tuple(labels))


def read_label(group: ElementTree.Element, joints: np.ndarray, scene: Scene) -> Written:
    known = group.attrib
    share = float(known["data-t"])
    anchor = (1 - share) * joints[int(known["data-a"])] + share * joints[int(known["data-b"])]
    text = "".join(group.itertext()) or "0" * scene.letters
    gap = any(child.attrib.get("class") == "gap" for child in group)
    return Written(
        text,
        anchor,
        np.array([float(known["data-dx"]), float(known["data-dy"])]),
        np.array([LETTER * len(text), HEIGHT]) / 2,
        int(known["data-m"]) if gap else -1,
        np.inf if known["data-from"] == "never" else float(known["data-from"]),
    )


def spread_sheet(study: Study, direction: Direction | None = None) -> Sheet:
    plate = lay_plate(study, direction or Direction())
    return read(study.truss, Scene(study.truss, plate.frame, plate.direction, letters=LETTERS))


def on_nothing(truss: Truss) -> Study:
    return build_study(truss, [load_case(truss)])


def overlapping(boxes: np.ndarray) -> np.ndarray:
    """Pairs of boxes that share more than an edge, (pairs, 2)."""
    low, high = boxes[:, None, :2], boxes[:, None, 2:]
    common = np.minimum(high, boxes[None, :, 2:]) - np.maximum(low, boxes[None, :, :2])
    return np.argwhere(np.triu((common > 1e-6).all(axis=2), 1))


def length_inside(boxes: np.ndarray, starts: np.ndarray, ends: np.ndarray) -> np.ndarray:
    """How much of each segment lies in each box, as a share, by clipping (Liang & Barsky), (boxes, n)."""
    enter, leave = np.zeros((len(boxes), len(starts))), np.ones((len(boxes), len(starts)))
    for axis in range(2):
        start, step = starts[None, :, axis], (ends - starts)[None, :, axis]
        low, high = boxes[:, [axis]], boxes[:, [axis + 2]]
        still = np.abs(step) < 1e-12
        one, other = (low - start) / np.where(still, 1, step), (high - start) / np.where(still, 1, step)
        outside = still & ((start <= low) | (start >= high))
        near = np.where(still, np.where(outside, 2.0, 0.0), np.minimum(one, other))
        far = np.where(still, 1.0, np.maximum(one, other))
        enter, leave = np.maximum(enter, near), np.minimum(leave, far)
    return np.clip(leave - enter, 0.0, None)


def near_joints(boxes: np.ndarray, joints: np.ndarray) -> np.ndarray:
    """Pairs of a box and a joint whose ring it touches."""
    nearest = np.clip(joints[None], boxes[:, None, :2], boxes[:, None, 2:])
    return np.argwhere(np.linalg.norm(nearest - joints[None], axis=2) < RING)


def check_at(sheet: Sheet, zoom: float) -> None:
    shown, boxes = sheet.boxes(zoom)
    both = overlapping(boxes)
    assert not len(both), (zoom, [(shown[a].text, shown[b].text) for a, b in both])
    joints = zoom * sheet.joints
    on_joints = near_joints(boxes, joints)
    assert not len(on_joints), (zoom, [(shown[a].text, int(joint)) for a, joint in on_joints])
    inside = length_inside(boxes, joints[sheet.ends[:, 0]], joints[sheet.ends[:, 1]])
    own = np.array([[label.member] for label in shown]).reshape(-1, 1) == np.arange(len(sheet.ends))
    crossed = np.argwhere((inside > 1e-9) & ~own)
    assert not len(crossed), (zoom, [(shown[a].text, int(bar)) for a, bar in crossed])


def check(sheet: Sheet) -> None:
    for zoom in EVERY_ZOOM:
        check_at(sheet, zoom)


@cache
def bundled(name: str) -> Study:
    return read_study(find_bundled(name).path).study


def x_braced(panels: int) -> Truss:
    """A strip of crossing diagonals, 3 by 3 a panel."""
    joints = {f"{row}{i}": (3 * i, 3 * level) for level, row in enumerate("LU") for i in range(panels + 1)}
    members = [f"{row}{i}-{row}{i + 1}" for row in "LU" for i in range(panels)]
    members += [f"L{i}-U{i}" for i in range(panels + 1)]
    members += [pair for i in range(panels) for pair in (f"L{i}-U{i + 1}", f"U{i}-L{i + 1}")]
    return build_truss(joints, members, {"L0": "xy", f"L{panels}": "y"})


@pytest.mark.parametrize("name", BUNDLED)
def test_at_no_zoom_does_a_label_of_a_bundled_truss_lie_on_another_a_strange_bar_or_a_joint(
    name: str,
) -> None:
    check(spread_sheet(bundled(name)))


def test_at_no_zoom_does_a_label_of_sixty_crossed_panels_lie_on_anything() -> None:
    check(spread_sheet(on_nothing(x_braced(60))))


@pytest.mark.parametrize("azimuth", [-62, 30, 180])
@pytest.mark.parametrize("elevation", [0, 14, 90])
def test_at_no_zoom_does_a_label_of_the_mast_lie_on_anything_wherever_it_is_seen_from(
    azimuth: float, elevation: float
) -> None:
    check(spread_sheet(bundled("curlew_mast"), Direction(azimuth, elevation)))


@law(12)
def test_at_no_zoom_does_a_label_of_a_random_truss_lie_on_anything(seed: int) -> None:
    check(spread_sheet(on_nothing(generator.draw_truss(seed).truss)))


@law(8)
def test_at_no_zoom_does_a_label_of_a_thicket_lie_on_anything(seed: int) -> None:
    check(spread_sheet(on_nothing(random_trusses.draw_truss(seed).truss)))


def shown_at(truss: Truss, scene: Scene) -> set[tuple[str, str]]:
    """Labels that are not hidden in a drawing of this zoom."""
    groups = [group for group in draw(scene) if "off" not in group.attrib["class"].split()]
    return {
        (key, group.attrib[key]) for group in groups for key in ("data-j", "data-m") if key in group.attrib
    }


@pytest.mark.parametrize("name", ["avocet_bridge", "curlew_mast", "godwit_girder"])
def test_a_label_shown_at_one_zoom_is_shown_at_all_larger_ones(name: str) -> None:
    study = bundled(name)
    plate = lay_plate(study, Direction())
    before: set[tuple[str, str]] = set()
    for zoom in (0.2, 0.25, 0.4, 0.7, 1.0, 1.3, 2.0, 5.0, 20.0, 64.0):
        now = shown_at(study.truss, Scene(study.truss, plate.frame, plate.direction, letters=4, zoom=zoom))
        assert before <= now
        before = now
    every = {("data-j", str(j)) for j in range(len(study.truss.joint_names))}
    assert every <= before


def test_every_name_of_a_bridge_is_shown_at_its_own_scale_and_every_value_too() -> None:
    study = bundled("avocet_bridge")
    plate = lay_plate(study, Direction())
    shown = shown_at(study.truss, Scene(study.truss, plate.frame, plate.direction, letters=5))
    assert {key for key, _ in shown} == {"data-j", "data-m"}
    assert len(shown) == len(study.truss.joint_names) + len(study.truss.members)


def test_names_of_close_joints_thin_out_and_come_back_as_one_zooms_in() -> None:
    # 61 joints a row on some 1,300 px: 21 px apart, no room for `L10` beside `L11` in a row
    sheet = spread_sheet(on_nothing(x_braced(60)))
    names = [label for label in sheet.labels if label.text[0] in "LU"]
    at_rest = sum(label.zoom <= 1 for label in names)
    assert 20 <= at_rest < len(names) == 122
    assert sum(label.zoom <= 4 for label in names) == 122


def test_a_label_is_placed_at_the_first_zoom_at_which_its_gap_leaves_twenty_pixels_of_bar_at_both_ends() -> (
    None
):
    # a level bar of 60 px and a label of 30: from 70 px on there is room, so at 2 ** 0.5 and not at 1
    ground = Ground(np.array([[0.0, 0.0], [60.0, 0.0]]), np.array([[0, 1]]))
    label = Label(30.0, (Place(0, 1, 0.5),), bar=0, gap=True)
    assert place_labels(ground, [label])[0].zoom == pytest.approx(2**0.5)


def test_what_hides_nothing_is_placed_at_the_least_zoom_and_what_never_has_room_nowhere() -> None:
    ground = Ground(np.array([[0.0, 0.0], [100.0, 0.0]]), np.array([[0, 1]]))
    above = Label(20.0, (Place(0, 0, 0.0, 0.0, -30.0),))
    on_its_joint = Label(20.0, (Place(0, 0),))
    placed = place_labels(ground, [above, on_its_joint])
    assert (placed[0].zoom, placed[1].zoom) == (ZOOMS[0], None)
