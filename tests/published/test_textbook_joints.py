"""Textbook trusses by the method of joints.

F. P. Beer & E. R. Johnston, Vector Mechanics for Engineers: Statics, Sample Problem 6.1; J. L. Meriam &
L. G. Kraige, Engineering Mechanics: Statics, Sample Problem 4/1. Both from memory, recomputed.
"""

from __future__ import annotations

from functools import cache
from math import sqrt

from solver.answers import Answers, answer
from tests.building import build_study, build_truss, load_case
from tests.published.forms import FOOT, POUND, case_forces
from tests.published.record import agree_as_printed, agree_relatively, published


@cache
def beer_johnston() -> Answers:
    """Feet and pounds: C pinned, E on a vertical roller, 2000 lb at A, 1000 lb at B."""
    points = {"A": (0, 8), "B": (12, 8), "C": (24, 8), "D": (6, 0), "E": (18, 0)}
    joints = {name: [c * FOOT for c in point] for name, point in points.items()}
    members = ["A-B", "A-D", "D-B", "D-E", "B-E", "B-C", "E-C"]
    truss = build_truss(joints, members, {"C": "xy", "E": "y"})
    case = load_case(truss, A=(0, -2000 * POUND), B=(0, -1000 * POUND))
    return answer(build_study(truss, [case]))


@published("beer_johnston", "all seven member forces")
def test_the_seven_forces_are_those_of_sample_problem_6_1() -> None:
    members = ["A-B", "A-D", "D-B", "D-E", "B-E", "B-C", "E-C"]
    found = case_forces(beer_johnston(), members) / POUND
    agree_as_printed(found, "1500 -2500 2500 -3000 -3750 5250 -8750")
    agree_relatively(found, [1500, -2500, 2500, -3000, -3750, 5250, -8750], 1e-13)


@published("beer_johnston", "reactions: 10000 lb up at E, 7000 lb down and nothing across at C")
def test_the_reactions_are_those_of_sample_problem_6_1() -> None:
    # held directions in the order of the supports: C x, C y, E y
    found = beer_johnston().responses.reactions.cases[:, 0] / POUND
    agree_relatively(found, [0, -7000, 10000], 1e-13)


@cache
def meriam_kraige() -> Answers:
    """Triangles of side 5 m: E pinned, D held by a tie that rises to the left at 30 degrees; kN."""
    half = "4.330127018922193"
    joints = {"E": (0, 0), "C": (5, 0), "A": (10, 0), "D": ("2.5", half), "B": ("7.5", half)}
    members = ["A-B", "A-C", "B-C", "B-D", "C-D", "C-E", "D-E"]
    tie = [("-0.8660254037844386", "0.5")]
    truss = build_truss(joints, members, {"E": "xy", "D": tie})
    return answer(build_study(truss, [load_case(truss, A=(0, -30), C=(0, -20))]))


@published("meriam_kraige", "all seven member forces")
def test_the_seven_forces_are_those_of_sample_problem_4_1() -> None:
    members = ["A-B", "A-C", "B-C", "B-D", "C-D", "C-E", "D-E"]
    found = case_forces(meriam_kraige(), members)
    agree_as_printed(found, "34.64 -17.32 -34.64 34.64 57.74 -63.51 -11.55")
    exact = [20 * sqrt(3), -10 * sqrt(3), -20 * sqrt(3), 20 * sqrt(3)]
    exact += [100 / sqrt(3), -110 / sqrt(3), -20 / sqrt(3)]
    agree_relatively(found, exact, 1e-13)


@published("meriam_kraige", "force in the tie and reaction at E")
def test_the_tie_and_the_reaction_are_those_of_sample_problem_4_1() -> None:
    found = meriam_kraige().responses.reactions.cases[:, 0]
    # E x, E y, then the tie's pull on D
    agree_as_printed(found, "69.28 10.0 80")
