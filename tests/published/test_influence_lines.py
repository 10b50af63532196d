"""Influence lines and a car with its trailer on a bridge truss of four panels.

R. C. Hibbeler, Structural Analysis (from memory, recomputed; edition not noted), and University of
British Columbia, CIVL 228, lecture slides, 2015, for the same load in reversed order (seen, recomputed).
"""

from __future__ import annotations

from functools import cache

import pytest

from solver.answers import Answers, answer
from solver.crossings import Direction
from tests.building import build_study, build_truss, standing_loads
from tests.published.forms import ordinates, peaks
from tests.published.record import agree_as_printed, agree_relatively, agree_within, published

MEMBERS = ["A-B", "B-C", "C-D", "D-E", "A-H", "H-G", "G-F", "F-E", "B-H", "C-G", "D-F", "B-G", "G-D"]
# a car of 2 kN and 4 kN, 3 m apart, and 2 m behind it a trailer wheel of 1.5 kN; the 1.5 leads on the right
WHEELS = [(0.0, 1.5), (2.0, 4.0), (5.0, 2.0)]
ORDINATES = {
    "B-G": "0.0000 0.3536 -0.7071 -0.3536 0.0000",
    "C-G": "0.0000 0.0000 1.0000 0.0000 0.0000",
    "H-G": "0.0000 -0.7500 -0.5000 -0.2500 0.0000",
    "B-C": "0.0000 0.5000 1.0000 0.5000 0.0000",
    "A-H": "0.0000 -1.0607 -0.7071 -0.3536 0.0000",
    "B-H": "0.0000 0.7500 0.5000 0.2500 0.0000",
}


@cache
def bridge(panel: int, depth: int, directions: tuple[Direction, ...] = ("forward", "backward")) -> Answers:
    """A, B, C, D, E along the bottom, H, G, F over B, C, D; the wheels cross the bottom chord."""
    joints = {name: (panel * i, 0) for i, name in enumerate("ABCDE")}
    joints |= {"H": (panel, depth), "G": (2 * panel, depth), "F": (3 * panel, depth)}
    truss = build_truss(joints, MEMBERS, {"A": "xy", "E": "y"})
    return answer(build_study(truss, chord=list("ABCDE"), axles=WHEELS, directions=directions))


def diagonal_at(direction: Direction, front: float) -> float:
    """Force in BG with the 1.5 kN wheel at `front` [m] from A."""
    answers = bridge(3, 4)
    crossing = answers.study.crossings["train"]
    loads = standing_loads(crossing, answers.study.chords["deck"], direction, front)
    return float(ordinates(answers, "B-G") @ loads)


@published("hibbeler_influence", "influence ordinates of diagonal BG and vertical CG, panels of 6 m")
@pytest.mark.parametrize("member", ["B-G", "C-G"])
def test_influence_lines_of_diagonal_and_vertical_are_those_of_the_book(member: str) -> None:
    agree_as_printed(ordinates(bridge(6, 6), member), ORDINATES[member])


@published("hibbeler_by_sections", "influence ordinates of four more members")
@pytest.mark.parametrize("member", ["H-G", "B-C", "A-H", "B-H"])
def test_influence_lines_of_chords_end_post_and_hanger_follow_from_sections(member: str) -> None:
    agree_as_printed(ordinates(bridge(6, 6), member), ORDINATES[member])


@published("hibbeler_influence", "influence ordinates of BG, panels of 3 m and 4 m deep")
def test_the_influence_line_of_the_diagonal_under_the_car_is_that_of_the_book() -> None:
    agree_as_printed(ordinates(bridge(3, 4), "B-G"), "0 0.3125 -0.6250 -0.3125 0")


@published("hibbeler_influence", "force in BG with each wheel of car and trailer at C")
def test_each_wheel_at_c_gives_the_force_of_the_book() -> None:
    # the 1.5 kN wheel at C, the 4 kN wheel at C, the 2 kN wheel at C; C lies 6 m from A
    found = [diagonal_at("forward", front) for front in (6.0, 8.0, 11.0)]
    agree_as_printed(found, "-0.729 -2.50 -2.656")


@published("civl_228", "force in BG with car and trailer in reversed order, at three places")
def test_the_reversed_order_gives_the_forces_of_the_slides() -> None:
    # The slides count x from the end that the 2 kN wheel is nearer to: 12 - x from A here.
    found = [diagonal_at("backward", 12.0 - x) for x in (6.0, 7.0, 8.0)]
    agree_as_printed(found, "-2.8125 -2.96875 -3.125")


@published("hibbeler_influence", "largest compression of BG, car in front")
def test_the_largest_compression_of_the_diagonal_is_that_of_the_book() -> None:
    compression = peaks(bridge(3, 4, ("forward",)), "B-G")[1]
    agree_as_printed(compression, "-2.656")
    agree_within(compression, -(0.625 * 2 + 0.3125 * 4 + 0.3125 * 1.5 / 3), 1e-12)


@published("civl_228", "largest compression of BG over both orders")
def test_the_larger_compression_comes_from_the_reversed_order() -> None:
    agree_as_printed(peaks(bridge(3, 4), "B-G")[1], "-3.125")
    agree_as_printed(peaks(bridge(3, 4, ("backward",)), "B-G")[1], "-3.125")
    place = bridge(3, 4).forces.compression
    row = MEMBERS.index("B-G")
    agree_within([place.positions[row], place.directions[row]], [4.0, 1.0], 1e-12)


@published("hibbeler_by_sections", "largest tension of BG in either order")
def test_the_largest_tension_of_the_diagonal_depends_on_the_order_too() -> None:
    forward, backward = (peaks(bridge(3, 4, (way,)), "B-G")[0] for way in ("forward", "backward"))
    agree_as_printed([forward, backward], "0.8854 0.6250")
    agree_within(peaks(bridge(3, 4), "B-G")[0], forward, 1e-14)
    # forward: 1.5 at B and 4 two metres short of it; backward: 2 at B while 4 has just left at A
    agree_relatively([forward, backward], [85 / 96, 5 / 8], 1e-12)
