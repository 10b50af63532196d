"""How a truss is seen: rotations by scipy, known views of a cube, and how a plate is filled."""

from __future__ import annotations

from functools import cache
from math import acos, atan, degrees, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from explorer.bundled import find_bundled, list_bundled
from explorer.document import read_study
from explorer.drawing.plate import EDGE, WIDTH, lay_plate, road
from explorer.drawing.view import Direction, Margins, axes_seen, fit, look
from solver.study import Study
from tests.building import build_study, build_truss

angles = st.floats(-360, 360)
heights = st.floats(-90, 90)
lengths = st.floats(-1e3, 1e3)
points = st.lists(st.tuples(lengths, lengths, lengths), min_size=1, max_size=8)
CUBE = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)], dtype=float)


def turned(given_points: np.ndarray, direction: Direction) -> np.ndarray:
    """Turn what stands at `direction` towards the reader, who looks along y: then x is right and z is up."""
    around = Rotation.from_euler("z", -90 - direction.azimuth, degrees=True)
    tilt = Rotation.from_euler("x", direction.elevation, degrees=True)
    return np.asarray((tilt * around).apply(given_points))


@given(points, angles, heights)
def test_a_space_truss_is_seen_as_a_rotation_shows_it(
    drawn: list[tuple[float, float, float]], azimuth: float, elevation: float
) -> None:
    given_points, direction = np.array(drawn), Direction(azimuth, elevation)
    assert look(given_points, direction) == pytest.approx(
        turned(given_points, direction)[:, [0, 2]], abs=1e-9
    )


@given(angles, heights)
def test_whoever_looks_stands_where_azimuth_and_elevation_say(azimuth: float, elevation: float) -> None:
    right, up = axes_seen(Direction(azimuth, elevation))
    a, e = np.radians([azimuth, elevation])
    toward_reader = [np.cos(a) * np.cos(e), np.sin(a) * np.cos(e), np.sin(e)]
    # right, up and towards the reader make a right-handed set: nothing is mirrored
    assert np.cross(right, up) == pytest.approx(toward_reader, abs=1e-12)
    assert [right @ right, up @ up, right @ up] == pytest.approx([1, 1, 0], abs=1e-12)


def test_from_the_south_east_is_right_and_height_is_up() -> None:
    assert look(CUBE, Direction(-90, 0)) == pytest.approx(CUBE[:, [0, 2]], abs=1e-12)


def test_from_the_east_north_is_right() -> None:
    assert look(CUBE, Direction(0, 0)) == pytest.approx(CUBE[:, [1, 2]], abs=1e-12)


def test_from_above_a_plan_is_seen_with_north_up() -> None:
    assert look(CUBE, Direction(-90, 90)) == pytest.approx(CUBE[:, [0, 1]], abs=1e-12)


def test_in_an_isometric_view_of_a_cube_all_edges_are_foreshortened_alike_and_stand_120_degrees_apart() -> (
    None
):
    seen = look(np.eye(3), Direction(45, degrees(atan(1 / sqrt(2)))))
    assert np.linalg.norm(seen, axis=1) == pytest.approx([sqrt(2 / 3)] * 3, abs=1e-12)
    for a, b in ((0, 1), (1, 2), (2, 0)):
        assert degrees(acos(seen[a] @ seen[b] * 1.5)) == pytest.approx(120, abs=1e-9)
    # seen from the corner between east and north: east goes to the lower left, north to the lower right
    assert seen[0] == pytest.approx([-sqrt(1 / 2), -sqrt(1 / 6)], abs=1e-12)
    assert seen[1] == pytest.approx([sqrt(1 / 2), -sqrt(1 / 6)], abs=1e-12)
    assert seen[2] == pytest.approx([0, sqrt(2 / 3)], abs=1e-12)


def test_a_mast_seen_from_the_south_shows_its_legs_lean_inwards() -> None:
    truss = bundled("curlew_mast").truss
    seen = dict(zip(truss.joint_names, look(truss.joint_coordinates, Direction(-90, 0)), strict=True))
    assert [list(seen[name]) for name in ("A0", "C1", "W1", "P")] == [
        pytest.approx([2, 0]),
        pytest.approx([-1.5, 4]),
        pytest.approx([-1.5, 4]),
        pytest.approx([0, 8]),
    ]


@given(st.lists(st.tuples(lengths, lengths), min_size=1, max_size=8), angles, heights)
def test_a_plane_truss_is_seen_square_on_wherever_one_stands(
    drawn: list[tuple[float, float]], azimuth: float, elevation: float
) -> None:
    given_points = np.array(drawn)
    assert (look(given_points, Direction(azimuth, elevation)) == given_points).all()


margins = st.floats(0, 90)
spots = st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=2, max_size=9, unique=True)


@given(spots, margins, margins, margins, margins)
def test_what_is_fitted_lies_inside_its_margins_centred_and_touches_two_of_them(
    drawn: list[tuple[float, float]], left: float, right: float, top: float, bottom: float
) -> None:
    seen = np.array(drawn)
    frame = fit(seen, 640.0, 480.0, Margins(left, right, top, bottom))
    pixels = frame.place(seen)
    rooms = [pixels[:, 0].min() - left, 640 - right - pixels[:, 0].max()]
    rooms += [pixels[:, 1].min() - top, 480 - bottom - pixels[:, 1].max()]
    assert min(rooms) >= -1e-6
    assert rooms[0] == pytest.approx(rooms[1], abs=1e-6)
    assert rooms[2] == pytest.approx(rooms[3], abs=1e-6)
    assert min(rooms) <= 1e-6
    # what is farther up has a smaller pixel, and a metre is as long across as upwards
    assert pixels[:, 0] - pixels[0, 0] == pytest.approx(frame.scale * (seen[:, 0] - seen[0, 0]), abs=1e-6)
    assert pixels[0, 1] - pixels[:, 1] == pytest.approx(frame.scale * (seen[:, 1] - seen[0, 1]), abs=1e-6)


def test_a_frame_by_hand() -> None:
    # 8 m by 3 m into 400 x 300 px with 20 px around: 45 px a metre, 135 px high in the middle of 260
    frame = fit(np.array([[0.0, 0.0], [8.0, 3.0]]), 400.0, 300.0, Margins(20, 20, 20, 20))
    assert frame.scale == pytest.approx(45)
    assert frame.place(np.array([[0.0, 0.0], [8.0, 3.0]])) == pytest.approx(
        np.array([[20, 217.5], [380, 82.5]])
    )


@cache
def bundled(name: str) -> Study:
    return read_study(find_bundled(name).path).study


@pytest.mark.parametrize("name", [item.name for item in list_bundled("study")])
def test_the_whole_truss_lies_on_its_plate_and_its_train_has_room_at_both_ends(name: str) -> None:
    study = bundled(name)
    plate = lay_plate(study, Direction())
    pixels = plate.frame.place(look(study.truss.joint_coordinates, Direction()))
    assert pixels.min() >= 0 and (pixels.max(axis=0) <= [WIDTH, plate.frame.height]).all()
    for crossing in study.crossings.values():
        length = study.chords[crossing.chord].length
        train = max(axle.distance for axle in crossing.trains[0].axles)
        ends = plate.axes[crossing.name].place(np.array([-train, length + train]))
        assert ends.min() >= EDGE - 1e-9 and ends.max() <= WIDTH - EDGE + 1e-9


@pytest.mark.parametrize("name", ["avocet_bridge", "egret_span", "fulmar_gantry", "godwit_girder"])
def test_positions_lie_straight_under_the_joints_they_belong_to(name: str) -> None:
    study = bundled(name)
    plate = lay_plate(study, Direction())
    pixels = plate.frame.place(study.truss.joint_coordinates)
    for crossing in study.crossings.values():
        chord = study.chords[crossing.chord]
        assert plate.axes[crossing.name].place(chord.positions) == pytest.approx(
            pixels[list(chord.joints), 0], abs=1e-9
        )


def crossed(chord: str) -> Study:
    truss = build_truss(
        {"L0": (2, 1), "L1": (6, 2), "L2": (10, 1), "U1": (6, 5)},
        ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
        {"L0": "xy", "L2": "y"},
    )
    return build_study(truss, chord=chord.split(), axles=[(0, 10), (3, 5)])


def test_a_road_follows_its_chord_and_runs_on_level_beyond_it() -> None:
    study = crossed("L0 L1 L2")
    plate = lay_plate(study, Direction())
    places = road(study, "train", plate, np.array([-3.0, 0.0, 2.0, 4.0, 8.0, 10.0]))
    # joints at x = 2, 6 and 10 m; halfway up the first panel the road lies at 1.5 m
    expected = plate.frame.place(np.array([[-1, 1], [2, 1], [4, 1.5], [6, 2], [10, 1], [12, 1]]))
    assert places == pytest.approx(expected, abs=1e-9)


def test_a_chord_against_the_x_axis_has_its_positions_run_to_the_left() -> None:
    study = crossed("L2 L1 L0")
    plate = lay_plate(study, Direction())
    places = road(study, "train", plate, np.array([-3.0, 0.0, 2.0, 8.0, 10.0]))
    expected = plate.frame.place(np.array([[13, 1], [10, 1], [8, 1.5], [2, 1], [0, 1]]))
    assert places == pytest.approx(expected, abs=1e-9)
    assert plate.axes["train"].scale < 0
