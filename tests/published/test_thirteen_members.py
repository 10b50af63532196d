"""A plane truss of 13 members whose member 7 no load on the bottom chord reaches, and which needs it.

C. B. Moler, Numerical Computing with MATLAB, 2004, and M. T. Heath, Scientific Computing, exercises. The
statement was seen (13 members, loads at joints 2, 5, 6, joint 1 fixed, joint 8 held vertically); numbering
and loads are from memory; the forces are worked out in fractions and no print of them was seen.
"""

from __future__ import annotations

from functools import cache
from math import sqrt

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.errors import MechanismError
from solver.statics import examine
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_as_printed, agree_exactly, agree_relatively, agree_within, published

JOINTS = {
    "1": (0, 0),
    "2": (1, 0),
    "3": (1, 1),
    "4": (2, 1),
    "5": (2, 0),
    "6": (3, 0),
    "7": (3, 1),
    "8": (4, 0),
}
MEMBERS = ["1-3", "1-2", "2-3", "3-4", "3-5", "2-5", "4-5", "4-7", "5-7", "5-6", "6-7", "7-8", "6-8"]
SEVEN = MEMBERS.index("4-5")
DENSITIES = [-20, 20, 10, -30, 10, 20, 0, -30, 5, 25, 20, -25, 25]
"""Exact forces over lengths under 10 at joint 2, 15 at 5, 20 at 6."""


def truss(members: list[str]) -> Truss:
    return build_truss(JOINTS, members, {"1": "xy", "8": "y"})


@cache
def loaded() -> Answers:
    whole = truss(MEMBERS)
    case = load_case(whole, **{"2": (0, -10), "5": (0, -15), "6": (0, -20)})
    top = load_case(whole, "top", **{"4": (0, -1)})
    return answer(build_study(whole, [case, top], chord=["1", "2", "5", "6", "8"], axles=[(0.0, 1.0)]))


@published("moler_thirteen", "all 13 forces, exact and as printed")
def test_the_thirteen_forces_are_those_of_the_exercise() -> None:
    found = loaded().responses.forces.cases[:, 0]
    agree_as_printed(found, "-28.284 20 10 -30 14.142 20 0 -30 7.071 25 20 -35.355 25")
    lengths = [sqrt(2) if m in ("1-3", "3-5", "5-7", "7-8") else 1.0 for m in MEMBERS]
    agree_relatively(found, np.array(DENSITIES) * lengths, 1e-14)


@published("moler_thirteen", "member 7 under every load on the bottom chord and under one at joint 4")
def test_member_seven_is_zero_for_every_load_on_the_bottom_chord_and_wakes_at_joint_four() -> None:
    forces = loaded().responses.forces
    agree_within(forces.influence["deck"][SEVEN], np.zeros(5), 1e-14)
    agree_relatively(forces.cases[SEVEN, 1], -1.0, 1e-14)
    redundancy = loaded().redundancy
    agree_exactly(loaded().study.truss.joint_names[redundancy.waking_joints[SEVEN]], "4")
    agree_relatively(redundancy.waking_forces[SEVEN], 1.0, 1e-14)


@published("moler_thirteen", "the truss without member 7: rank, joints that move")
def test_without_member_seven_the_rank_falls_by_one_and_joint_four_moves() -> None:
    without = truss([name for name in MEMBERS if name != "4-5"])
    agree_exactly((examine(truss(MEMBERS)).rank, examine(without).rank), (16, 15))
    removals = loaded().removals
    agree_exactly([JOINTS_BY_PLACE[joint] for joint in removals.moves[SEVEN]], ["4"])
    with pytest.raises(MechanismError, match="joints that move: 4") as caught:
        answer(build_study(without, [load_case(without, **{"4": (0, -1)})]))
    agree_exactly(caught.value.culprits, ("4",))


@published("moler_thirteen", "a determinate truss has no redundancy and needs every member")
def test_every_member_of_a_determinate_truss_is_needed() -> None:
    agree_exactly(loaded().removals.mechanism.tolist(), [True] * 13)
    agree_exactly(loaded().redundancy.shares.tolist(), [0.0] * 13)


JOINTS_BY_PLACE = tuple(JOINTS)
