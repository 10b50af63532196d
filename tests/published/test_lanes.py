"""Lanes of adverse length, relieving axles left out, second trains: worked out by hand and in fractions.

No publication: triangles of influence lines by hand where a few loads decide, elsewhere every placing that
can be worst, in fractions. The small truss has panels of 3 m, is 4 m deep and has diagonals of 5 m, so that
all its forces are rational.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import cache
from math import hypot

import pytest

from solver.answers import Answers, answer
from solver.chords import make_chord
from solver.combining import Combination
from solver.crossings import Crossing, Direction
from solver.study import Study
from solver.trains import Axle, Lane, Second, Train
from solver.truss import Truss
from tests.building import load_case
from tests.published.forms import deck, peaks, pratt
from tests.published.fractions_by_hand import exact_densities
from tests.published.lines_in_fractions import Line, axles_on, largest, line, passing
from tests.published.record import agree_relatively, agree_within, published

F = Fraction
BOTH: tuple[Direction, ...] = ("forward", "backward")
# the small truss's diagonal U1-L2: shear of the second panel over the sine 4/5
DIAGONAL = line([0, 3, 6, 9, 12], [0, F(-5, 16), F(5, 8), F(5, 16), 0])
# above zero: triangles 4-6 and 9-12 and the trapezium between; below: base 4, 5/16 deep
PULLING, PUSHING = F(5, 2), F(5, 8)
CAR = ((0.0, 1.5), (2.0, 4.0), (5.0, 2.0))


@cache
def small_truss() -> Truss:
    return pratt([0, 3, 6, 9, 12], 4)


def study_of(
    truss: Truss, crossings: Sequence[Crossing], combinations: Sequence[Combination] = (), **loads: float
) -> Study:
    """A study of crossings of the bottom chord, and a case "dead" of downward loads if there are any."""
    joints = [name for name in truss.joint_names if name.startswith("L")]
    chord = make_chord("deck", tuple(truss.joint_index(f"L{i}") for i in range(len(joints))), truss)
    dead = load_case(truss, "dead", **{joint: (0.0, -load) for joint, load in loads.items()})
    cases = {"dead": dead} if loads else {}
    return Study("lanes", truss, {"deck": chord}, cases, {c.name: c for c in crossings}, tuple(combinations))


def cross(
    train: Train, directions: tuple[Direction, ...] = BOTH, factors: tuple[float, float, float] = (1, 0, 0)
) -> Answers:
    """One train crosses the small truss; factors are the crossing's own, the impact and the lane impact."""
    factor, impact, lane_impact = factors
    crossing = Crossing("train", (train,), "deck", directions, factor, impact, lane_impact=lane_impact)
    return answer(study_of(small_truss(), [crossing]))


def axles(pairs: Sequence[tuple[float, float]]) -> tuple[Axle, ...]:
    return tuple(Axle(distance, load) for distance, load in pairs)


def fractions(pairs: Sequence[tuple[float, float]]) -> list[tuple[Fraction, Fraction]]:
    return [(F(str(distance)), F(str(load))) for distance, load in pairs]


@cache
def small_lines() -> Mapping[str, Line]:
    """The influence line of every member of the small truss, by Gauss-Jordan elimination."""
    truss = small_truss()
    cases = [{truss.joint_index(name): (F(0), F(-1))} for name in deck(4)]
    lines = {}
    for member, densities in zip(truss.members, exact_densities(truss, cases), strict=True):
        squares = [
            (b - a) ** 2
            for a, b in zip(truss.coordinates[member.first], truss.coordinates[member.second], strict=True)
        ]
        length = F(round(float(sum(squares)) ** 0.5))
        assert length**2 == sum(squares), "a length that is not whole"
        lines[member.name] = line([0, 3, 6, 9, 12], [density * length for density in densities])
    return lines


def agree_on_all_members(answers: Answers, brought: Callable[[Line], Fraction]) -> None:
    """Hold peaks of all members of the small truss against the largest that is `brought` to their lines.

    A load that travels both ways meets a line and its mirror image.
    """
    for name, influence in small_lines().items():
        turned = influence.turned_over()
        pull = max(brought(influence), brought(influence.reversed()))
        push = max(brought(turned), brought(turned.reversed()))
        agree_within(peaks(answers, name), [float(pull), -float(push)], 1e-11 * (1 + float(max(pull, push))))


@published("lanes_by_areas", "a lane alone on diagonals of eight panels: triangles on both sides of zero")
@pytest.mark.parametrize("panel", [2, 3, 4])
def test_a_lane_loads_the_triangle_of_a_diagonal_that_is_adverse(panel: int) -> None:
    # Shear of panel p of n: -(p - 1)/n left of it and (n - p)/n right of it, so it turns (p - 1)/(n - 1) of
    # a panel d past its left joint; both triangles have the slope 1/(n d) x n/(n - 1) of their bases.
    count, width, depth, load = 8, 4.0, 5.0, 30e3
    truss = pratt([4 * i for i in range(9)], 5)
    lane = Crossing("lane", (Train("lane", lane=Lane(load)),), "deck", BOTH)
    answers = answer(study_of(truss, [lane]))
    sine = depth / hypot(width, depth)
    pull = (count - panel) ** 2 * width / (2 * (count - 1)) / sine
    push = (panel - 1) ** 2 * width / (2 * (count - 1)) / sine
    agree_relatively(peaks(answers, f"U{panel - 1}-L{panel}"), [load * pull, -load * push], 1e-12)
    # all of it on the span bears equally on both ends
    agree_relatively(answers.reactions.largest.values[1:], [load * 16, load * 16], 1e-12)


@published("lanes_by_areas", "an axle with a lane beside it, factor, impact and lane impact apart")
def test_impact_counts_for_the_axle_and_lane_impact_for_the_lane() -> None:
    train = Train("train", axles([(0, 100)]), lane=Lane(8))
    plain = [100 * 5 / 8 + 8 * PULLING, -(100 * 5 / 16 + 8 * PUSHING)]
    agree_relatively(peaks(cross(train), "U1-L2"), plain, 1e-12)
    # 1.5 x 1.25 on the axle, 1.5 x 1.1 on the lane
    raised = [187.5 * 5 / 8 + 13.2 * PULLING, -(187.5 * 5 / 16 + 13.2 * PUSHING)]
    agree_relatively(peaks(cross(train, factors=(1.5, 0.25, 0.1)), "U1-L2"), raised, 1e-12)
    # each alone
    impact = [125 * 5 / 8 + 8 * PULLING, -(125 * 5 / 16 + 8 * PUSHING)]
    agree_relatively(peaks(cross(train, factors=(1, 0.25, 0)), "U1-L2"), impact, 1e-12)
    lane = [100 * 5 / 8 + 10 * PULLING, -(100 * 5 / 16 + 10 * PUSHING)]
    agree_relatively(peaks(cross(train, factors=(1, 0, 0.25)), "U1-L2"), lane, 1e-12)


@published("lanes_by_areas", "lanes alone beside a train that travels and a load that stands still")
def test_lanes_alone_add_their_adverse_areas_to_a_combination() -> None:
    # Dead load 40 at L2 gives 25; an axle of 100: 62.5 and -31.25; the crowd 6 a metre: 15 and -3.75; the
    # queue 4 a metre with lane impact 0.5: 15 and -3.75.
    crossings = [
        Crossing("train", (Train("train", axles([(0, 100)])),), "deck", BOTH),
        Crossing("crowd", (Train("crowd", lane=Lane(6)),), "deck", BOTH),
        Crossing("queue", (Train("queue", lane=Lane(4)),), "deck", BOTH, impact=9.0, lane_impact=0.5),
    ]
    asked = [
        (Combination("one", {"dead": 1.0}, "train", 1.5, {"crowd": 2.0}), (148.75, -29.375)),
        (Combination("two", {"dead": 0.5}, "train", 1.0, {"crowd": 1.0, "queue": 3.0}), (135.0, -33.75)),
        (Combination("lanes", {}, None, 1.0, {"crowd": 1.0, "queue": 1.0}), (30.0, -7.5)),
        # a lane that counts negatively pulls where it would push
        (Combination("lifted", {}, "train", 1.0, {"crowd": -1.0}), (66.25, -46.25)),
    ]
    for combination, wanted in asked:
        answers = answer(study_of(small_truss(), crossings, [combination], L2=40.0))
        agree_relatively(peaks(answers, "U1-L2"), wanted, 1e-12)


@published("lanes_by_areas", "relieving axles left out, car and trailer by hand, and where they stand")
@pytest.mark.parametrize(
    ("direction", "pull", "push", "fronts"),
    [
        # pull: 4 over L2, 1.5 two metres beyond, 2 over L1 left out; push: 4 over L1, 1.5 left out, 2 at L0
        ("forward", 4 * F(5, 8) + F(3, 2) * F(5, 12), 4 * F(5, 16), (8, 5)),
        # pull: 4 over L2, 2 over L3, 1.5 where the line turns; push: 4 over L1, 1.5 a metre from L0
        ("backward", 4 * F(5, 8) + 2 * F(5, 16), 4 * F(5, 16) + F(3, 2) * F(5, 48), (4, 1)),
    ],
)
def test_axles_that_relieve_are_left_out(
    direction: Direction, pull: Fraction, push: Fraction, fronts: tuple[float, float]
) -> None:
    answers = cross(Train("car", axles(CAR), relieving_left_out=True), (direction,))
    agree_relatively(peaks(answers, "U1-L2"), [float(pull), -float(push)], 1e-12)
    row = answers.study.truss.member_index("U1-L2")
    forces = answers.forces
    agree_within([forces.tension.positions[row], forces.compression.positions[row]], fronts, 1e-9)


@published("lanes_by_areas", "relieving axles left out, all members in fractions")
def test_leaving_relieving_axles_out_is_worst_as_in_fractions() -> None:
    loads = fractions(CAR)

    def brought(influence: Line) -> Fraction:
        fronts = passing(influence, [distance for distance, _ in loads], turns=True)
        return largest(lambda front: axles_on(influence, loads, front, above=True), fronts)

    agree_on_all_members(cross(Train("car", axles(CAR), relieving_left_out=True)), brought)


CLEAR = [
    (((0.0, 10.0),), (-2.0, 2.0), False),  # about the axle, less than a panel
    (((0.0, 2.0),), (-5.0, 4.0), False),  # so wide that the lane may be worth more than the axle
    (((0.0, 2.0),), (1.0, 3.5), False),  # behind the axle only
    (((0.0, 30.0), (2.5, 10.0)), (-4.0, -1.0), False),  # ahead of it only
    (CAR, (-1.0, 6.0), True),
    (((0.0, 250.0), (1.6, 250.0), (3.2, 250.0), (4.8, 250.0)), (-0.8, 5.6), True),  # LM71, its lane 80 below
]


@published("lanes_by_areas", "a lane that keeps clear of its train, all members in fractions")
@pytest.mark.parametrize(("pairs", "clear", "left_out"), CLEAR)
def test_a_lane_keeps_clear_of_its_train_as_in_fractions(
    pairs: tuple[tuple[float, float], ...], clear: tuple[float, float], left_out: bool
) -> None:
    loads, edges = fractions(pairs), [F(str(edge)) for edge in clear]
    lane = F(80 if pairs[0][1] == 250 else 3)

    def brought(influence: Line) -> Fraction:
        free = lane * influence.above()

        def together(front: Fraction) -> Fraction:
            kept = influence.area(front - edges[1], front - edges[0], above=True)
            return free - lane * kept + axles_on(influence, loads, front, above=left_out)

        start, end = loads[0][0], influence.length + loads[-1][0]
        fronts = passing(influence, [*(distance for distance, _ in loads), *edges], turns=True)
        inside = {front for front in fronts if start <= front <= end}
        # a train that is not on the chord lets its lane lie anywhere
        return max(free, largest(together, inside))

    train = Train("train", axles(pairs), lane=Lane(float(lane), clear), relieving_left_out=left_out)
    agree_on_all_members(cross(train), brought)


@published("lanes_by_areas", "a second train behind the first, all members in fractions")
@pytest.mark.parametrize("left_out", [False, True])
@pytest.mark.parametrize("gap", [0.5, 2.0, 4.5, 30.0])
def test_a_second_train_follows_at_the_worst_distance_as_in_fractions(gap: float, left_out: bool) -> None:
    behind = ((1.0, 3.0), (2.5, 5.0))
    first, second = fractions(CAR), fractions(behind)
    follow = first[-1][0] + F(str(gap)) - second[0][0]

    def brought(influence: Line) -> Fraction:
        one = passing(influence, [distance for distance, _ in first], turns=True)
        other = passing(influence, [distance for distance, _ in second], turns=True)
        # Both bring what is straight between breaks: together they are worst where each is at one, or one
        # is and the other is as near as it may be; or without the second.
        worst = F(0)
        for front in {*one, *(place + follow for place in other)}:
            near = front - follow
            places = [place for place in (*other, near) if place <= near]
            most = max([axles_on(influence, second, place, left_out) for place in places] + [F(0)])
            worst = max(worst, axles_on(influence, first, front, left_out) + most)
        return worst

    train = Train("train", axles(CAR), relieving_left_out=left_out, second=Second(axles(behind), (), gap))
    agree_on_all_members(cross(train), brought)


@published("lanes_by_areas", "two axles that follow one another on a diagonal, by hand")
def test_a_second_axle_stands_over_the_next_peak_if_the_gap_lets_it() -> None:
    # the diagonal pulls 5/8 under an axle over L2 and loses 5/48 a metre beyond it
    for gap, beyond in ((1.0, 1.0), (3.0, 3.0), (5.5, 5.5)):
        train = Train("axles", axles([(0, 8)]), second=Second(axles([(0, 8)]), (), gap))
        agree_relatively(peaks(cross(train), "U1-L2")[0], 8 * (5 / 8 + 5 / 8 - beyond * 5 / 48), 1e-12)
    # more than 6 m apart the second brings nothing while the first is over L2
    train = Train("axles", axles([(0, 8)]), second=Second(axles([(0, 8)]), (), 6.5))
    agree_relatively(peaks(cross(train), "U1-L2")[0], 8 * 5 / 8, 1e-12)


def test_the_diagonal_worked_out_by_hand_is_that_of_the_elimination() -> None:
    assert small_lines()["U1-L2"] == DIAGONAL
    assert (DIAGONAL.above(), DIAGONAL.turned_over().above()) == (PULLING, PUSHING)
