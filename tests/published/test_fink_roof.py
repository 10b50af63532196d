"""A Fink roof whose zero members change places with the load.

R. C. Hibbeler, Engineering Mechanics: Statics, Sec. 6.3, zero-force members (from memory, recomputed): 5 kN
at the apex and 2 kN square to the left rafter leave GC, DF and FC at zero and press 2 kN into BH. The other
forces and the other loading were worked out by the method of joints; the geometry is chosen here.
"""

from __future__ import annotations

from functools import cache
from math import sqrt

from solver.answers import Answers, answer
from tests.building import build_study, build_truss, load_case
from tests.published.forms import case_forces
from tests.published.record import agree_as_printed, agree_exactly, agree_relatively, agree_within, published

JOINTS = {
    "A": (0, 0),
    "B": (3, "1.5"),
    "C": (6, 3),
    "D": (9, "1.5"),
    "E": (12, 0),
    "H": ("3.75", 0),
    "G": (6, 0),
    "F": ("8.25", 0),
}
MEMBERS = [
    *["A-B", "B-C", "C-D", "D-E", "A-H", "H-G", "G-F", "F-E"],
    *["B-H", "H-C", "G-C", "F-C", "D-F"],
]
ROOT = sqrt(5)
LEFT, RIGHT = 0, 1


@cache
def roof() -> Answers:
    """5 kN at the apex and 2 kN square to the left rafter; then 2 kN down at D and 1 kN at G."""
    truss = build_truss(JOINTS, MEMBERS, {"A": "xy", "E": "y"})
    left = load_case(truss, "left", C=(0, -5), B=(2 / ROOT, -4 / ROOT))
    right = load_case(truss, "right", D=(0, -2), G=(0, -1))
    return answer(build_study(truss, [left, right]))


def zeros(case: int) -> set[str]:
    """Members at zero by the study's rule."""
    shares = roof().forces.shares[:, case]
    return {name for name, share in zip(MEMBERS, shares, strict=True) if share == 1.0}


def inspected(case: int) -> set[str]:
    """Members that looking at joints finds to be zero."""
    return {MEMBERS[finding.member] for finding in roof().inspections[case].findings}


@published("hibbeler_statics", "zero members GC, DF, FC and the force in BH")
def test_gc_df_and_fc_are_zero_and_bh_carries_the_load_square_to_the_rafter() -> None:
    agree_exactly(zeros(LEFT), {"G-C", "D-F", "F-C"})
    agree_exactly(inspected(LEFT), {"G-C", "D-F", "F-C"})
    agree_as_printed(case_forces(roof(), ["B-H"], LEFT), "-2")


@published("fink_by_joints", "all 13 forces with the left half loaded, and the reactions")
def test_all_forces_with_the_left_half_loaded_follow_from_the_joints() -> None:
    found = case_forces(roof(), MEMBERS, LEFT)
    rafters = "-8.3402 -8.3402 -6.8402 -6.8402"
    agree_as_printed(found, f"{rafters} 8.3541 6.1180 6.1180 6.1180 -2.0000 2.2361 0 0 0")
    agree_as_printed(roof().responses.reactions.cases[:, LEFT], "-0.8944 3.7298 3.0590")


@published("fink_by_joints", "all 13 forces with the right half loaded")
def test_all_forces_with_the_right_half_loaded_follow_from_the_joints() -> None:
    found = case_forces(roof(), MEMBERS, RIGHT)
    rafters, chord = "-2.2361 -2.2361 -3.5777 -4.4721", "2.0 2.0 2.0 4.0"
    agree_as_printed(found, f"{rafters} {chord} 0 0 1.0 2.0 -1.7889")
    exact = [-ROOT, -ROOT, -1.6 * ROOT, -2 * ROOT, 2, 2, 2, 4, 0, 0, 1, 2, -0.8 * ROOT]
    agree_relatively(found, exact, 1e-13)


@published("fink_by_joints", "the zero members change places: BH and HC instead of GC, DF and FC")
def test_the_zero_members_change_places_with_the_load() -> None:
    agree_exactly(zeros(RIGHT), {"B-H", "H-C"})
    agree_exactly(inspected(RIGHT), {"B-H", "H-C"})
    agree_exactly(bool(roof().forces.still.any()), False)
    rows = [MEMBERS.index(name) for name in ("G-C", "D-F", "F-C", "B-H", "H-C", "A-B")]
    agree_within(roof().forces.zero_share[rows], [0.5] * 5 + [0.0], 0.0)
