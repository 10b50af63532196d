"""Pratt trusses under travelling loads, worked out by the method of sections (no publication).

The through truss is held against a table (data/published/pratt_through_truss.toml); the truss of six
panels shows a member's whole range under one rolling unit load and how long it rests.
"""

from __future__ import annotations

from functools import cache
from math import hypot, sqrt

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.combining import Combination
from tests.building import build_study, load_case
from tests.published.forms import FOOT, KIP, deck, ordinates, peaks, pratt
from tests.published.record import (
    agree_as_printed,
    agree_exactly,
    agree_relatively,
    agree_within,
    published,
    read,
)

TABLE = read("pratt_through_truss")
TRUCK = [(float(distance * FOOT), load * KIP) for distance, load in read("hs20_truck")["axles"]]


@cache
def through_truss() -> Answers:
    positions = [TABLE["panel"] * i * FOOT for i in range(TABLE["panels"] + 1)]
    truss = pratt(positions, TABLE["depth"] * FOOT)
    return answer(build_study(truss, chord=deck(TABLE["panels"]), axles=TRUCK))


@published("pratt_by_sections", "ordinates of 13 members of a through truss of 8 panels")
@pytest.mark.parametrize("member", TABLE["members"])
def test_ordinates_of_the_through_truss_are_those_of_the_sections(member: str) -> None:
    agree_as_printed(ordinates(through_truss(), member), TABLE["members"][member]["ordinates"])


@published("pratt_by_sections", "HS20 truck in both directions: largest and smallest force of 13 members")
@pytest.mark.parametrize("member", TABLE["members"])
def test_the_truck_puts_the_forces_of_the_table_into_the_through_truss(member: str) -> None:
    agree_as_printed(np.array(peaks(through_truss(), member)) / KIP, TABLE["members"][member]["hs20"])


@published("pratt_by_sections", "diagonals and posts of the through truss are panel shear over sine")
def test_a_diagonal_is_the_panel_shear_over_the_sine() -> None:
    sine = 25 / hypot(20, 25)
    for panel, member in ((2, "U1-L2"), (3, "U2-L3"), (4, "U3-L4")):
        # left of the load the panel's shear is minus the far reaction, right of it the near one
        shear = [-k / 8 if k < panel else 1 - k / 8 for k in range(9)]
        agree_relatively(ordinates(through_truss(), member), np.array(shear) / sine, 1e-12)


@published("pratt_by_sections", "a post that no position loads is vital")
def test_the_idle_middle_post_of_the_through_truss_cannot_be_taken_out() -> None:
    answers = through_truss()
    post = answers.study.truss.member_index("L4-U4")
    agree_exactly(bool(answers.forces.still[post]), True)
    agree_within(answers.forces.zero_share[post], 1.0, 1e-12)
    moving = [answers.study.truss.joint_names[joint] for joint in answers.removals.moves[post]]
    agree_exactly((bool(answers.removals.mechanism[post]), moving), (True, ["U4"]))


@cache
def rolling_unit_load() -> Answers:
    """Six panels of 4 m, 4 m deep, one load of 1 N along the bottom chord; two cases stand still."""
    truss = pratt([4 * i for i in range(7)], 4)
    middle = load_case(truss, "middle", L3=(0, -1))
    every = load_case(truss, "every", **{f"L{i}": (0, -1) for i in range(1, 6)})
    alone = [Combination("rolling", {}, "train")]
    return answer(build_study(truss, [middle, every], chord=deck(6), axles=[(0.0, 1.0)], combinations=alone))


ROLLING = {
    "L1-U1": (1.0, 0.0),
    "L5-U5": (1.0, 0.0),
    "L3-U3": (0.0, 0.0),
    "U2-L3": (1 / sqrt(2), -sqrt(2) / 3),
    "L3-U4": (1 / sqrt(2), -sqrt(2) / 3),
    "L2-U2": (1 / 3, -1 / 2),
    "L4-U4": (1 / 3, -1 / 2),
    "L2-L3": (4 / 3, 0.0),
    "U2-U3": (0.0, -3 / 2),
    "U3-U4": (0.0, -3 / 2),
}


@published("pratt_by_sections", "rolling unit load on six panels: largest tension and compression")
@pytest.mark.parametrize("member", ROLLING)
def test_a_rolling_unit_load_puts_the_forces_of_the_sections_into(member: str) -> None:
    agree_within(peaks(rolling_unit_load(), member), ROLLING[member], 1e-12)


@published("pratt_by_sections", "rolling unit load on six panels: share of the way at zero")
def test_end_hangers_rest_on_two_thirds_of_the_way_and_the_middle_post_on_all_of_it() -> None:
    answers = rolling_unit_load()
    members = answers.study.truss.member_index
    rows = [members(name) for name in ("L1-U1", "L5-U5", "L3-U3", "U2-L3", "L2-U2")]
    travelling = len(answers.study.cases)
    found = answers.forces.shares[rows, travelling]
    agree_within(found, [2 / 3, 2 / 3, 1, 0, 0], 1e-12)


@published("pratt_by_sections", "zero verticals of six panels under two loads that stand still")
def test_verticals_at_zero_change_with_the_load() -> None:
    answers = rolling_unit_load()
    verticals = [f"L{i}-U{i}" for i in range(1, 6)]
    rows = [answers.study.truss.member_index(name) for name in verticals]
    zero = answers.forces.shares[rows, :2] == 1.0
    agree_exactly([v for v, z in zip(verticals, zero[:, 0], strict=True) if z], ["L1-U1", "L3-U3", "L5-U5"])
    agree_exactly([v for v, z in zip(verticals, zero[:, 1], strict=True) if z], ["L3-U3"])
