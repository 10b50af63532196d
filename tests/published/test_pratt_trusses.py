"""Pratt trusses under travelling loads, worked out by the method of sections (no publication).

The through truss is held against a table (data/published/pratt_through_truss.toml); the truss of six
panels shows a member's whole range under one rolling unit load and how long it rests.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from math import hypot, sqrt

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.chords import make_chord
from solver.combining import Combination
from solver.crossings import Crossing
from solver.study import Study
from solver.trains import Lane, Train
from tests.building import build_study, load_case
from tests.published.forms import FOOT, KIP, deck, ordinates, peaks, pratt
from tests.published.lines_in_fractions import Line, axles_on, largest, line, passing
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


PANELS, PANEL, DEPTH = TABLE["panels"], TABLE["panel"], TABLE["depth"]
POSITIONS = [PANEL * i * FOOT for i in range(PANELS + 1)]


@cache
def through_truss() -> Answers:
    truss = pratt(POSITIONS, DEPTH * FOOT)
    return answer(build_study(truss, chord=deck(PANELS), axles=TRUCK))


@cache
def under_a_lane() -> Answers:
    """The through truss under 1 N/m wherever it is adverse: peaks are areas of influence lines [m]."""
    truss = pratt(POSITIONS, DEPTH * FOOT)
    chord = make_chord("deck", tuple(truss.joint_index(name) for name in deck(PANELS)), truss)
    lane = Crossing("lane", (Train("lane", lane=Lane(1.0)),), "deck", ("forward",))
    return answer(Study("areas", truss, {"deck": chord}, {}, {"lane": lane}))


def mirrored(member: str) -> str:
    """The member of the other half that is a member's mirror image."""
    turned = [f"{joint[0]}{PANELS - int(joint[1:])}" for joint in member.split("-")]
    names = [member.name for member in through_truss().study.truss.members]
    return next(name for name in ("-".join(turned), "-".join(reversed(turned))) if name in names)


@published("pratt_by_sections", "ordinates of 13 members of a through truss of 8 panels")
@pytest.mark.parametrize("member", TABLE["members"])
def test_ordinates_of_the_through_truss_are_those_of_the_sections(member: str) -> None:
    agree_as_printed(ordinates(through_truss(), member), TABLE["members"][member]["ordinates"])


@published("pratt_by_sections", "HS20 truck in both directions: largest and smallest force of 13 members")
@pytest.mark.parametrize("member", TABLE["members"])
def test_the_truck_puts_the_forces_of_the_table_into_the_through_truss(member: str) -> None:
    agree_as_printed(np.array(peaks(through_truss(), member)) / KIP, TABLE["members"][member]["hs20"])


@published("pratt_by_sections", "areas of the influence lines of 13 members above and below zero")
@pytest.mark.parametrize("member", TABLE["members"])
def test_a_lane_measures_the_areas_of_the_table(member: str) -> None:
    agree_as_printed(np.array(peaks(under_a_lane(), member)) / float(FOOT), TABLE["members"][member]["areas"])


@published("pratt_by_sections", "ordinates, areas and HS20 forces of the far half mirror the near half")
@pytest.mark.parametrize("member", [name for name in TABLE["members"] if name != "L4-U4"])
def test_the_far_half_answers_as_the_mirror_image_of_the_near_one(member: str) -> None:
    other, rows = mirrored(member), TABLE["members"][member]
    agree_as_printed(ordinates(through_truss(), other)[::-1], rows["ordinates"])
    agree_as_printed(np.array(peaks(under_a_lane(), other)) / float(FOOT), rows["areas"])
    agree_as_printed(np.array(peaks(through_truss(), other)) / KIP, rows["hs20"])


def by_sections(member: str) -> tuple[Line, float]:
    """A member's influence line by sections, and 1 or the sine that its ordinates are to be divided by.

    Written for the near half: chord = moment at the joint opposite over the depth, web = shear of its panel.
    """
    places = [PANEL * k for k in range(PANELS + 1)]
    sine = DEPTH / hypot(PANEL, DEPTH)
    start, end = sorted(int(joint[1:]) for joint in member.split("-"))

    def moment(centre: int) -> list[Fraction]:
        near = [Fraction(min(k, centre) * (PANELS - max(k, centre)), PANELS) for k in range(PANELS + 1)]
        return [value * PANEL / DEPTH for value in near]

    def shear(panel: int) -> list[Fraction]:
        return [Fraction(-k, PANELS) + (k >= panel) for k in range(PANELS + 1)]

    if member.count("L") == 2:
        return line(places, moment(max(start, 1))), 1.0
    if member.count("U") == 2:
        return line(places, [-value for value in moment(end)]), 1.0
    if start == 0:
        # a load over the end joint goes into the support
        return line(places, [-value if k else Fraction(0) for k, value in enumerate(shear(0))]), sine
    if start < end:
        return line(places, shear(end)), sine
    if start == 1:
        return line(places, [Fraction(k == 1) for k in range(PANELS + 1)]), 1.0
    post = [-value for value in shear(start + 1)] if start < PANELS // 2 else [Fraction(0)] * (PANELS + 1)
    return line(places, post), 1.0


NEAR_HALF = [
    *(f"L{i}-L{i + 1}" for i in range(4)),
    *(f"U{i}-U{i + 1}" for i in range(1, 4)),
    "L0-U1",
    *(f"L{i}-U{i}" for i in range(1, 5)),
    *(f"U{i}-L{i + 1}" for i in range(1, 4)),
]


@published("pratt_by_sections", "ordinates, areas and HS20 forces of all 29 members, not rounded")
@pytest.mark.parametrize("member", NEAR_HALF)
def test_every_member_follows_from_sections_to_the_last_digit(member: str) -> None:
    influence, sine = by_sections(member)
    truck = [(Fraction(distance), Fraction(load)) for distance, load in read("hs20_truck")["axles"]]

    def most(way: Line) -> Fraction:
        fronts = passing(way, [distance for distance, _ in truck])
        return largest(lambda front: axles_on(way, truck, front), fronts)

    turned = influence.turned_over()
    pull, push = (max(most(way), most(way.reversed())) for way in (influence, turned))
    areas = np.array([float(influence.above()), -float(turned.above())]) / sine
    forces = np.array([float(pull), -float(push)]) / sine
    for name in {member, mirrored(member)}:
        expected = np.array([float(y) for y in influence.ordinates]) / sine
        agree_within(ordinates(through_truss(), name), expected if name == member else expected[::-1], 1e-12)
        agree_within(np.array(peaks(under_a_lane(), name)) / float(FOOT), areas, 1e-9)
        agree_within(np.array(peaks(through_truss(), name)) / KIP, forces, 1e-9)


@published("pratt_by_sections", "the middle top chord is the moment at midspan of 160 ft over the depth")
def test_the_middle_top_chord_carries_the_moment_at_midspan() -> None:
    # Truck on 160 ft with its middle axle at midspan: 72 kip x 40 ft of triangle less 40 x 14 / 2
    agree_within(peaks(through_truss(), "U3-U4")[1] / KIP, -(72 * 40 - (32 + 8) * 14 / 2) / 25, 1e-9)


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
