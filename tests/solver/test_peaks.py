"""Peaks, shares and where they occur, on a king-post truss that a pencil can check.

A(0,0) B(4,0) C(8,0) along the bottom, D(4,3) on top; a unit load at B puts 1 into B-D, 2/3 into A-B and
B-C and -5/6 into A-D and D-C; loads at A and C put nothing into any member.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.cases import LoadCase
from solver.combining import Combination
from solver.study import Study
from tests.building import build_study, build_truss, load_case

JOINTS = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3)}
MEMBERS = ["A-B", "B-C", "A-D", "D-C", "B-D"]
TRUSS = build_truss(JOINTS, MEMBERS, {"A": "xy", "C": "y"}, areas=2.0, modulus=5.0, expansion=1e-5)
POST = 4


def crossing_study(*axles: tuple[float, float], **more: object) -> Study:
    return build_study(TRUSS, chord=["A", "B", "C"], axles=axles, **more)  # type: ignore[arg-type]


def at(answers: Answers, member: int) -> tuple[float, str, float, int]:
    peak = answers.forces.tension
    name = answers.combinations[int(peak.combinations[member])].name
    return peak.values[member], name, peak.positions[member], int(peak.directions[member])


def test_forces_under_a_load_at_midspan_are_those_of_the_pencil() -> None:
    study = build_study(TRUSS, [load_case(TRUSS, B=(0, -6))])
    responses = answer(study).responses
    assert responses.forces.cases[:, 0] == pytest.approx([4, 4, -5, -5, 6], abs=1e-13)
    assert responses.reactions.cases[:, 0] == pytest.approx([0, 3, 3], abs=1e-13)
    # C moves by 2 x 4 x 4 / EA, B by the unit-load theorem
    lengths = np.array([4, 4, 5, 5, 3])
    unit = np.array([2 / 3, 2 / 3, -5 / 6, -5 / 6, 1])
    sag = (unit * 6 * unit * lengths / 10).sum()
    assert responses.deflections.cases[4, 0] == pytest.approx(2 * 4 * 4 / 10, abs=1e-12)
    assert responses.deflections.cases[3, 0] == pytest.approx(-sag, abs=1e-12)


def test_the_peak_of_the_post_lies_where_the_heavy_axle_stands_at_it() -> None:
    answers = answer(crossing_study((0.0, 2.0), (3.0, 8.0)))
    # heavy axle at B: 8 + 2 x (1 - 3/4); forward its front stands 3 past B, backward 3 short of B
    assert at(answers, POST) == (pytest.approx(8.5, abs=1e-12), "train", pytest.approx(7.0), 0)
    backward = answer(crossing_study((0.0, 2.0), (3.0, 8.0), directions=("backward",)))
    assert at(backward, POST) == (pytest.approx(8.5, abs=1e-12), "train", pytest.approx(1.0), 1)


def test_compression_is_told_as_a_positive_peak_and_tension_as_zero() -> None:
    answers = answer(crossing_study((0.0, 6.0)))
    rafter = 2
    assert answers.forces.compression.values[rafter] == pytest.approx(5.0, abs=1e-12)
    assert answers.forces.tension.values[rafter] == 0.0
    assert answers.forces.compression.positions[rafter] == 4.0


def test_a_permanent_load_governs_at_the_least_position_of_the_travel() -> None:
    case = load_case(TRUSS, "lift", B=(0, 6))
    lift = Combination("both", {"lift": 1.0}, "train", 0.5)
    answers = answer(crossing_study((1.0, 4.0), cases=[case], combinations=[lift]))
    # upward load: the post is compressed most while the train is not on the chord
    assert answers.forces.compression.values[POST] == pytest.approx(6.0, abs=1e-12)
    assert answers.forces.compression.positions[POST] == 1.0
    assert answers.forces.sweep.largest[POST, -1] == pytest.approx(-4.0, abs=1e-12)


def test_a_negative_factor_turns_the_train_around() -> None:
    turned = Combination("turned", {}, "train", -2.0)
    answers = answer(crossing_study((0.0, 3.0), combinations=[turned]))
    assert answers.forces.compression.values[POST] == pytest.approx(6.0, abs=1e-12)
    assert answers.forces.compression.positions[POST] == 4.0
    assert answers.forces.tension.values[POST] == 0.0


def test_of_equal_peaks_the_first_combination_and_forward_come_first() -> None:
    doubled = [Combination("one", {}, "train", 1.0), Combination("two", {}, "train", 1.0)]
    answers = answer(crossing_study((0.0, 3.0), combinations=doubled))
    assert at(answers, POST) == (pytest.approx(3.0), "one", 4.0, 0)


def test_zero_share_is_that_of_the_loaded_way() -> None:
    # overhanging chord: the post's neighbours work only while the axle is between A and C
    joints = {**JOINTS, "E": (12, 0)}
    truss = build_truss(joints, [*MEMBERS, "C-E", "D-E"], {"A": "xy", "C": "y"})
    study = build_study(truss, chord=["A", "B", "C"], axles=[(0.0, 1.0), (10.0, 1.0)])
    shares = answer(study).forces.zero_share
    # C-E and D-E never work; the rest works on the whole loaded way, the gap of 2 m does not count
    assert shares.tolist() == [0.0] * 5 + [1.0, 1.0]


def test_stretches_of_zero_count_and_passing_through_zero_does_not() -> None:
    # two spans of 2 panels on one chord: each post sleeps while the axle is on the other span
    joints = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "F": (13, 0), "G": (18, 0), "D": (4, 3), "H": (13, 3)}
    members = ["A-B", "B-C", "A-D", "D-C", "B-D", "C-F", "F-G", "C-H", "H-G", "F-H"]
    truss = build_truss(joints, members, {"A": "xy", "C": "y", "G": "y"})
    study = build_study(truss, chord=["A", "B", "C", "F", "G"], axles=[(0.0, 1.0)])
    answers = answer(study)
    assert answers.forces.zero_share[4] == pytest.approx(10 / 18, abs=1e-12)
    assert answers.forces.zero_share[9] == pytest.approx(8 / 18, abs=1e-12)
    lifted = replace(
        study,
        cases={"lift": load_case(truss, "lift", B=(0, 0.5))},
        combinations=(Combination("both", {"lift": 1.0}, "train"),),
    )
    combined = answer(lifted).forces
    # the post now passes through zero twice and never rests there
    assert combined.zero_share_combined[4] == 0.0
    assert combined.zero_share_combined[9] == pytest.approx(8 / 18, abs=1e-12)
    assert combined.zero_share[4] == pytest.approx((0 + 10 / 18) / 2, abs=1e-12)


def test_a_zero_limit_counts_the_stretches_within_it_exactly() -> None:
    study = crossing_study((0.0, 4.0), zero_limit=1.0)
    answers = answer(study)
    # the post takes 4 x/4 on the way up: at most 1 on the first and on the last metre of 8
    assert answers.forces.zero_share[POST] == pytest.approx(2 / 8, abs=1e-12)
    light = answer(crossing_study((0.0, 0.9), zero_limit=1.0))
    assert light.forces.zero_share[POST] == pytest.approx(1.0, abs=1e-12)
    assert light.forces.still[POST]
    assert light.forces.tension.values[POST] == 0.0


def test_counts_weigh_the_zero_share_and_nothing_else() -> None:
    idle = replace(load_case(TRUSS, "idle", D=(0, -1)), counts=3.0)
    answers = answer(crossing_study((0.0, 1.0), cases=[idle]))
    assert answers.forces.zero_share[POST] == pytest.approx(3 / 4, abs=1e-15)
    assert answers.forces.zero_share_combined[POST] == answers.forces.zero_share[POST]


def test_the_scale_knows_forces_of_fully_held_members() -> None:
    heated = LoadCase("heat", temperature=(10.0,) * 5)
    answers = answer(build_study(TRUSS, [heated]))
    # EA alpha T = 10 x 1e-5 x 10; determinate: no force at all
    assert answers.forces.scales[0] == pytest.approx(1e-3, rel=1e-12)
    assert np.abs(answers.responses.forces.cases).max() <= 1e-15
    assert answers.forces.still.all()
    assert answers.responses.deflections.cases[4, 0] == pytest.approx(8e-4, rel=1e-12)


def test_a_settlement_moves_the_truss_with_it_and_strains_nothing_determinate() -> None:
    sunk = LoadCase("sunk", settlement={2: (0.0, -0.02)})
    answers = answer(build_study(TRUSS, [sunk]))
    assert answers.responses.deflections.cases[5, 0] == pytest.approx(-0.02, abs=1e-15)
    assert answers.responses.deflections.cases[3, 0] == pytest.approx(-0.01, abs=1e-15)
    assert np.abs(answers.responses.forces.cases).max() <= 1e-12 * answers.forces.scales[0]
    # the largest force if fully held: D-C and B-C share the settlement of C; 10 / 5 x 0.02 x 3/5
    assert answers.forces.scales[0] == pytest.approx(0.024, rel=1e-12)


def test_an_axle_that_leaves_an_overhang_drops_its_load_at_once() -> None:
    joints = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3), "E": (12, 0)}
    members = ["A-B", "B-C", "A-D", "D-C", "B-D", "C-E", "D-E"]
    truss = build_truss(joints, members, {"A": "xy", "C": "y"})
    study = build_study(truss, chord=["A", "B", "C", "E"], axles=[(0.0, 8.0), (12.0, 3.0)])
    answers = answer(study)
    # over E: D-E takes 8 x sqrt(73)/3; the second axle enters at A at that very moment
    tip = 8 * np.sqrt(73) / 3
    assert at(answers, 6) == (pytest.approx(tip, abs=1e-12), "train", 12.0, 0)
    # the reaction at A: -4 while 8 stands at E, +3 as the other enters: the moment itself has -1
    row = 1
    assert answers.reactions.smallest.values[row] == pytest.approx(-4.0, abs=1e-12)
    assert answers.reactions.smallest.positions[row] == 12.0
    assert any("uplift at support A along y in 'train'" in notice for notice in answers.notices)


def test_reactions_that_only_push_give_no_notice() -> None:
    assert answer(crossing_study((0.0, 8.0))).notices == ()


def test_a_zero_limit_beside_a_permanent_load_counts_the_stretches_within_it() -> None:
    # the post: 2 at rest, and 8 up on the way to midspan with half the train turned round: 2 - 4 x/4
    dead = load_case(TRUSS, "dead", B=(0, -2))
    turned = Combination("turned", {"dead": 1.0}, "train", -0.5)
    study = crossing_study((0.0, 8.0), cases=[dead], combinations=[turned], zero_limit=1.0)
    answers = answer(study)
    # within -1..1 for x from 1 to 3, and again on the way down
    assert answers.forces.zero_share_combined[POST] == pytest.approx(4 / 8, abs=1e-12)
    lifted = crossing_study(
        (0.0, 8.0),
        cases=[dead],
        combinations=[Combination("up", {"dead": -1.0}, "train", 1.0)],
        zero_limit=1.0,
    )
    # -2 + 8 x/4: within -1..1 for x from 0.5 to 1.5, and again on the way down
    assert answer(lifted).forces.zero_share_combined[POST] == pytest.approx(2 / 8, abs=1e-12)


def test_part_of_a_train_governs_where_the_whole_train_would() -> None:
    half = Combination("half", {}, "train", 0.5)
    answers = answer(crossing_study((0.0, 2.0), (3.0, 8.0), combinations=[half]))
    assert at(answers, POST) == (pytest.approx(4.25, abs=1e-12), "half", pytest.approx(7.0), 0)


def test_a_train_that_counts_nothing_leaves_the_permanent_load() -> None:
    dead = load_case(TRUSS, "dead", B=(0, -2))
    none = Combination("none", {"dead": 1.0}, "train", 0.0)
    for limit in (0.0, 1.0):
        answers = answer(crossing_study((0.0, 2.0), cases=[dead], combinations=[none], zero_limit=limit))
        assert at(answers, POST) == (pytest.approx(2.0), "none", 0.0, 0)
        assert answers.forces.zero_share_combined[POST] == 0.0


def test_a_member_that_only_ever_pushes_is_not_still() -> None:
    study = build_study(TRUSS, [load_case(TRUSS, "down", D=(0, -1)), load_case(TRUSS, "idle", A=(0, -1))])
    still = answer(study).forces.still
    # the ties pull and the rafters push under one load of two; the post sleeps under both
    assert still.tolist() == [False, False, False, False, True]


def test_the_scale_of_a_pushed_truss_is_its_largest_compression() -> None:
    truss = build_truss({"A": (0, 0), "B": (4, 1), "C": (8, 0)}, ["A-B", "B-C"], {"A": "xy", "C": "xy"})
    answers = answer(build_study(truss, [load_case(truss, B=(0, -1))]))
    assert answers.forces.scales[0] == pytest.approx(17**0.5 / 2, rel=1e-12)


def test_heat_alone_presses_a_bar_between_fixed_joints() -> None:
    truss = build_truss(
        {"A": (0, 0), "B": (4, 0)}, ["A-B"], {"A": "xy", "B": "xy"}, areas=2.0, expansion=1e-5
    )
    answers = answer(build_study(truss, [LoadCase("heat", temperature=(10.0,))]))
    assert answers.responses.forces.cases[0, 0] == pytest.approx(-2e-4, rel=1e-12)
    assert answers.responses.reactions.cases[:, 0] == pytest.approx([2e-4, 0, -2e-4, 0], rel=1e-12)


@pytest.mark.parametrize(("load", "lifted"), [((0, -1), False), ((0, 1), True)])
def test_uplift_is_told_for_a_support_whose_direction_is_written_downward(
    load: tuple[float, float], lifted: bool
) -> None:
    truss = build_truss(JOINTS, MEMBERS, {"A": "xy", "C": [(0, -1)]})
    notices = answer(build_study(truss, [load_case(truss, B=load)])).notices
    assert [notice.split(" in ")[0] for notice in notices] == (
        ["uplift at support A along y", "uplift at support C along [0, -1]"] if lifted else []
    )


def test_uplift_in_space_is_told_along_the_last_axis_only() -> None:
    joints = {"A": (3, 0, 0), "B": (-3, 2, 0), "C": (-3, -2, 0), "P": (0, 0, 4)}
    truss = build_truss(joints, ["A-P", "B-P", "C-P"], {"A": "xyz", "B": "xyz", "C": "xyz"})
    lifted = answer(build_study(truss, [load_case(truss, P=(0, 0, 1))]))
    assert [notice.split(" in ")[0] for notice in lifted.notices] == [
        f"uplift at support {name} along z" for name in "ABC"
    ]
    assert answer(build_study(truss, [load_case(truss, P=(0, 0, -1))])).notices == ()


def test_the_scale_of_a_load_larger_than_any_force_is_the_load() -> None:
    answers = answer(build_study(TRUSS, [load_case(TRUSS, D=(0, -5))]))
    # the rafters take 25/6 each, the joints without load have none
    assert answers.forces.scales[0] == 5.0


def test_uplift_along_a_slope_is_told_by_its_upward_part() -> None:
    truss = build_truss(JOINTS, MEMBERS, {"A": "xy", "C": [("0.6", "0.8")]})
    notices = answer(build_study(truss, [load_case(truss, B=(0, 1))])).notices
    assert len(notices) == 2
    assert answer(build_study(truss, [load_case(truss, B=(0, -1))])).notices == ()


@pytest.mark.parametrize("left", [1e-3, 1e-5])
def test_what_cases_leave_that_cancel_in_part_keeps_its_own_scale(left: float) -> None:
    down, up = load_case(TRUSS, "down", B=(0, -6)), load_case(TRUSS, "up", B=(0, 6))
    rest = load_case(TRUSS, "rest", B=(0, -6 * left), D=(0, -1e-8 * left))
    combined = Combination("combined", {"down": 1.0, "up": 1.0, "rest": 1.0})
    answers = answer(build_study(TRUSS, [down, up, rest], combinations=[combined]))
    assert answers.forces.scales[-1] == pytest.approx(6 * left, rel=1e-9)
    assert answers.forces.tension.values[POST] == pytest.approx(6 * left, rel=1e-9)
    assert answers.imbalance < 1e-9
