"""One state: a load with its train at one place, held against the plain way's superposition and a pencil."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from explorer.bundled import find_bundled, list_bundled
from explorer.document import read_study
from solver.answers import Answers, answer
from solver.combining import Combination
from solver.crossings import Direction
from solver.placement import Standing
from solver.state import State, joint_loads_of, take_state
from tests.building import build_study, build_truss, load_case
from tests.laws.studies import draw_study
from tests.laws.trying import law
from tests.plain.expected import Expected, work_out_plainly
from tests.plain.plain import placed

SOUND = 1e-10
"""A tenth of what the project promises of an answer's balance."""
STUDIES = [item.name for item in list_bundled("study")]


@cache
def bundled(name: str) -> tuple[Answers, Expected]:
    study = read_study(find_bundled(name).path).study
    return answer(study), work_out_plainly(study)


def take(answers: Answers, load: Combination, standing: Standing | None) -> State:
    return take_state(answers.study, answers.responses, load, standing)


def plain_forces(expected: Expected, load: Combination, standing: Standing | None) -> np.ndarray:
    """Cases with their factors and the train's joint loads, response by response, (members,)."""
    forces = expected.standing("forces", load)[:, 0]
    if load.crossing and standing:
        chord = expected.study.crossings[load.crossing].chord
        places = np.array([standing.position])
        weights = placed(expected.study, load.crossing, standing.direction, places)[:, 0]
        forces = forces + load.crossing_factor * expected.chords[chord].forces @ weights
    return np.asarray(forces)


def plain_loads(expected: Expected, load: Combination, standing: Standing | None) -> np.ndarray:
    loads = expected.standing("loads", load)[:, 0].copy()
    if load.crossing and standing:
        chord = expected.study.chords[expected.study.crossings[load.crossing].chord]
        places = np.array([standing.position])
        weights = placed(expected.study, load.crossing, standing.direction, places)[:, 0]
        d = expected.study.truss.dimension
        for joint, weight in zip(chord.joints, weights, strict=True):
            loads[d * joint + d - 1] -= load.crossing_factor * weight
    return loads.reshape(-1, expected.study.truss.dimension)


def standings(expected: Expected, load: Combination, seed: int) -> list[Standing | None]:
    """Nowhere; at every event of every way; at some places between, and beyond both ends."""
    random = np.random.default_rng(seed)
    found: list[Standing | None] = [None]
    for passage in expected.passages_of(load):
        first, last = passage.events[[0, -1]]
        between = random.uniform(first - 5, last + 5, 12)
        way: Direction = "forward" if passage.direction == "forward" else "backward"
        found += [Standing(way, float(place)) for place in (*passage.events, *between)]
    return found


def check_states(answers: Answers, expected: Expected, seed: int) -> None:
    for column, load in enumerate(answers.combinations):
        noise = SOUND * expected.scales[column]
        for standing in standings(expected, load, seed):
            state = take(answers, load, standing)
            assert np.abs(state.forces - plain_forces(expected, load, standing)).max() <= noise
            assert np.abs(state.joint_loads - plain_loads(expected, load, standing)).max() <= noise
            total = np.sum([part.forces for part in state.parts], axis=0)
            assert np.abs(total - state.forces).max() <= noise
            assert [part.case for part in state.parts if part.case] == list(load.cases)
            for part in state.parts:
                if part.case:
                    alone = expected.standing("forces", Combination("one", {part.case: part.factor}))
                    assert part.factor == load.cases[part.case]
                    assert np.abs(part.forces - alone[:, 0]).max() <= noise


@pytest.mark.parametrize("name", STUDIES)
def test_states_are_the_superposition_of_the_plain_way_and_parts_add_up(name: str) -> None:
    check_states(*bundled(name), seed=1)


@law(15)
def test_states_of_random_studies_are_the_superposition_and_parts_add_up(seed: int) -> None:
    study = draw_study(seed).study
    check_states(answer(study), work_out_plainly(study), seed)


@law(10)
def test_states_at_an_event_are_what_counts_exactly_there(seed: int) -> None:
    study = draw_study(seed).study
    answers, expected = answer(study), work_out_plainly(study)
    for column, load in enumerate(answers.combinations):
        for passage in expected.passages_of(load):
            way: Direction = "forward" if passage.direction == "forward" else "backward"
            rows = load.crossing_factor * expected.moving("forces", passage)
            there = expected.standing("forces", load) + rows @ passage.at
            for place, forces in zip(passage.events, there.T, strict=True):
                state = take(answers, load, Standing(way, float(place)))
                assert np.abs(state.forces - forces).max() <= SOUND * expected.scales[column]
                # nothing of a load is lost between the joints of its panel
                assert sum(part.sum() for part in state.weights.values()) == pytest.approx(
                    load.crossing_factor * passage.at[:, list(passage.events).index(place)].sum(), rel=1e-9
                )


KING_POST = build_truss(
    {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)},
    ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
    {"L0": "xy", "L2": "y"},
)
ALL = ("L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1")


def king_post(combination: Combination) -> Answers:
    """10 two metres ahead of 4; 5 down at U1; the same up."""
    cases = [load_case(KING_POST, "down", U1=(0, -5)), load_case(KING_POST, "up", U1=(0, 5))]
    axles, chord = [(0, 10), (2, 4)], ["L0", "L1", "L2"]
    return answer(build_study(KING_POST, cases, chord=chord, axles=axles, combinations=[combination]))


def test_a_king_post_under_a_weight_and_two_axles_by_hand() -> None:
    load = Combination("both", {"down": 2.0}, "train", 0.5)
    state = take(king_post(load), load, Standing("forward", 5.0))
    # axles of 5 at 5 m and of 2 at 3 m: on L1 3.75 + 1.5, on L0 0.5, on L2 1.25; 10 on U1
    assert state.weights["deck"] == pytest.approx([0.5, 5.25, 1.25], abs=1e-12)
    # each inclined bar bears (10 + 5.25) / 2 by its rise of 3 in 5; the bottom 4 in 3 of that
    half = 15.25 / 2
    expected = [half * 4 / 3, half * 4 / 3, -half * 5 / 3, -half * 5 / 3, 5.25]
    assert state.forces == pytest.approx(expected, abs=1e-12)
    weight, front, rear = state.parts
    assert (weight.case, weight.factor) == ("down", 2.0)
    assert (front.case, front.load, front.placed.start) == (None, pytest.approx(5), pytest.approx(5))
    assert (rear.case, rear.load, rear.placed.start) == (None, pytest.approx(2), pytest.approx(3))
    hanger = [float(part.forces[ALL.index("L1-U1")]) for part in state.parts]
    assert hanger == pytest.approx([0, 3.75, 1.5], abs=1e-12)
    assert state.joint_loads == pytest.approx(np.array([[0, -0.5], [0, -5.25], [0, -1.25], [0, -10]]))
    # each joint's load is weighed against the largest thing that adds to it
    assert state.largest_contribution == pytest.approx([0.5, 3.75, 1.25, 10])


def test_a_train_that_faces_backward_has_its_axles_beyond_its_front() -> None:
    load = Combination("train", {}, "train")
    state = take(king_post(load), load, Standing("backward", 5.0))
    assert [part.placed.start for part in state.parts] == pytest.approx([5, 7])
    assert state.weights["deck"] == pytest.approx([0, 7.5 + 1, 2.5 + 3], abs=1e-12)


@pytest.mark.parametrize("place", [-0.5, -1e-9, 10 + 1e-9, 13.0])
def test_a_train_off_the_chord_adds_nothing(place: float) -> None:
    load = Combination("both", {"down": 2.0}, "train")
    answers = king_post(load)
    off, none = take(answers, load, Standing("forward", place)), take(answers, load, None)
    # 10 on U1: 5 by a rise of 3 in 5
    expected = [20 / 3, 20 / 3, -25 / 3, -25 / 3, 0]
    assert off.forces == pytest.approx(expected, abs=1e-12)
    assert none.forces == pytest.approx(expected, abs=1e-12)
    assert off.weights == none.weights == {}
    assert [part.case for part in none.parts] == ["down"]


def test_an_axle_over_the_tip_of_an_overhang_counts_and_a_hair_beyond_does_not() -> None:
    # 24 kN a wheel, 2 m apart; U5-L6 lifts what lies on L6 by its rise of 3 in 5
    answers, _ = bundled("fulmar_gantry")
    load = next(c for c in answers.combinations if c.name == "trolley_run")
    member = answers.study.truss.member_index("U5-L6")

    def force(way: Direction, place: float) -> float:
        return float(take(answers, load, Standing(way, place)).forces[member]) / 1e3

    assert force("forward", 24.0) == pytest.approx((24 + 12) / 0.6)
    assert force("forward", 24.0 + 1e-7) == pytest.approx(12 / 0.6, abs=1e-5)
    assert force("forward", 26.0) == pytest.approx(24 / 0.6)
    assert force("forward", 26.0 + 1e-7) == 0
    assert force("backward", 22.0) == pytest.approx((12 + 24) / 0.6)
    assert force("backward", 22.0 + 1e-7) == pytest.approx(12 / 0.6, abs=1e-5)


def test_loads_that_cancel_leave_no_force_and_no_joint_load() -> None:
    load = Combination("none", {"down": 1.1, "up": 1.1})
    answers = king_post(load)
    state = take(answers, load, None)
    assert not state.forces.any()
    # a part is what it brings, even where another takes it away
    assert np.abs([part.forces[2] for part in state.parts]) == pytest.approx([5.5 / 1.2, 5.5 / 1.2])
    assert not joint_loads_of(answers.study, answers.responses, load).any()


def test_loads_that_cancel_in_decimals_leave_no_rounding_behind() -> None:
    # 0.1 + 0.2 - 0.3 is 0 on paper and 5.6e-17 in binary
    cases = [
        load_case(KING_POST, name, U1=(0, load)) for name, load in (("a", -0.1), ("b", -0.2), ("c", 0.3))
    ]
    load = Combination("none", {"a": 1.0, "b": 1.0, "c": 1.0})
    answers = answer(build_study(KING_POST, cases, combinations=[load]))
    assert not take(answers, load, None).forces.any()
    assert not joint_loads_of(answers.study, answers.responses, load).any()


@pytest.mark.parametrize("name", STUDIES)
def test_joint_loads_of_a_load_are_those_of_its_cases_without_its_train(name: str) -> None:
    answers, expected = bundled(name)
    for column, load in enumerate(answers.combinations):
        loads = joint_loads_of(answers.study, answers.responses, load)
        assert np.abs(loads - plain_loads(expected, load, None)).max() <= SOUND * expected.scales[column]
