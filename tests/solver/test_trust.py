"""The checks of every run: a wrong row, a wrong peak or a form near a mechanism is never silent."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver import answers as door
from solver import sensitivity
from solver.answers import answer
from solver.cases import LoadCase
from solver.combining import Combination
from solver.equilibrium import largest_imbalance, require_trust
from solver.errors import Cancelled, MechanismError, UntrustworthyError
from solver.peak_states import Peaks, Reported
from solver.redundancy import condition
from solver.response import Responses
from solver.sensitivity import examine_sensitivity, moved, softest_movement
from solver.stiffness import Stiffness
from solver.study import Study
from tests.building import build_study, build_truss, load_case

JOINTS = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3)}
MEMBERS = ["A-B", "B-C", "A-D", "D-C", "B-D"]
TRUSS = build_truss(JOINTS, MEMBERS, {"A": "xy", "C": "y"})


def king_post() -> Study:
    case = load_case(TRUSS, "dead", B=(0, -2), D=(1, 0))
    both = Combination("both", {"dead": 1.5}, "train", 2.0)
    return build_study(TRUSS, [case], chord=["A", "B", "C"], axles=[(0.0, 3.0)], combinations=[both])


def with_forces(responses: Responses, change: float) -> Responses:
    influence = {name: rows.copy() for name, rows in responses.forces.influence.items()}
    influence["deck"][4, 1] += change
    return replace(responses, forces=replace(responses.forces, influence=influence))


def imbalance_with(study: Study, responses: Responses, *peaks: Peaks) -> float:
    answers = answer(study)
    return largest_imbalance(Reported(study, responses, answers.combinations, answers.forces.scales), peaks)


def test_a_sound_run_balances_to_rounding() -> None:
    answers = answer(king_post())
    assert answers.imbalance < 1e-14


def test_a_row_that_does_not_balance_is_found_in_the_state_of_a_peak() -> None:
    study = king_post()
    answers = answer(study)
    wrong = with_forces(answers.responses, 1e-6)
    # the peak of the rafters is not touched by the wrong ordinate of the post, its joints are
    rafters = np.array([0.0, 0.0, 1.0, 1.0, 0.0])
    governing = answers.forces.compression
    peak = Peaks(
        replace(governing, values=governing.values * rafters), -1.0, answers.responses.forces, forces=True
    )
    # 2 x 3 x 1e-6 lacks at B and D; the scale is the largest force, 1.5 x 2 + 6 = 9 in the post
    assert imbalance_with(study, wrong, peak) == pytest.approx(6e-6 / 9, rel=1e-6)


def test_a_peak_that_is_not_its_members_force_is_refused() -> None:
    study = king_post()
    answers = answer(study)
    tension = answers.forces.tension
    wrong = replace(tension, values=tension.values * 1.0001)
    with pytest.raises(UntrustworthyError, match="the peak of member") as caught:
        imbalance_with(study, answers.responses, Peaks(wrong, 1.0, answers.responses.forces, forces=True))
    assert caught.value.culprits[0] in MEMBERS


def test_a_peak_at_another_position_is_refused() -> None:
    study = king_post()
    answers = answer(study)
    tension = answers.forces.tension
    wrong = replace(tension, positions=tension.positions + 0.1)
    with pytest.raises(UntrustworthyError):
        imbalance_with(study, answers.responses, Peaks(wrong, 1.0, answers.responses.forces, forces=True))


def test_a_row_that_does_not_balance_is_found_in_the_state_of_an_extreme_reaction() -> None:
    study = king_post()
    answers = answer(study)
    wrong = with_forces(answers.responses, 1e-6)
    reported = Reported(study, wrong, answers.combinations, answers.forces.scales)
    extreme = replace(answers.reactions.largest, combinations=answers.reactions.largest.combinations + 2)
    # the train over the end joints: the wrong ordinate at midspan does not enter; over B it does
    over_b = replace(extreme, positions=np.full(3, 4.0))
    assert largest_imbalance(reported, [Peaks(extreme, 1.0, wrong.reactions)]) < 1e-12
    assert largest_imbalance(reported, [Peaks(over_b, 1.0, wrong.reactions)]) == pytest.approx(
        6e-6 / 9, rel=1e-6
    )


def test_a_case_row_that_does_not_balance_is_found() -> None:
    study = king_post()
    responses = answer(study).responses
    lacking = np.zeros((8, 1))
    lacking[3, 0] = 5e-3
    wrong = replace(responses, imbalance=replace(responses.imbalance, cases=lacking))
    # the case's own scale: 2 in the post
    assert imbalance_with(study, wrong) == pytest.approx(5e-3 / np.abs(responses.forces.cases).max())


def test_the_imbalance_of_a_case_is_weighed_against_its_load_where_that_is_larger_than_any_force() -> None:
    study = build_study(TRUSS, [load_case(TRUSS, "top", D=(0, -5))])
    responses = answer(study).responses
    lacking = np.zeros((8, 1))
    lacking[3, 0] = 5e-3
    wrong = replace(responses, imbalance=replace(responses.imbalance, cases=lacking))
    # the rafters take 25/6 each
    assert imbalance_with(study, wrong) == pytest.approx(1e-3, rel=1e-9)


def test_the_imbalance_of_a_heated_truss_is_weighed_against_fully_held_forces() -> None:
    truss = build_truss(JOINTS, MEMBERS, {"A": "xy", "C": "y"}, areas=2.0, modulus=5.0, expansion=1e-5)
    study = build_study(truss, [LoadCase("heat", temperature=(10.0,) * 5)])
    responses = answer(study).responses
    lacking = np.zeros((8, 1))
    lacking[3, 0] = 1e-6
    # no force at all; E A times expansion times change is 1e-3
    wrong = replace(responses, imbalance=replace(responses.imbalance, cases=lacking))
    assert imbalance_with(study, wrong) == pytest.approx(1e-3, rel=1e-9)


def test_a_unit_load_row_that_does_not_balance_is_found() -> None:
    study = king_post()
    responses = answer(study).responses
    lacking = np.zeros((8, 3))
    lacking[3, 1] = 5e-3
    wrong = replace(responses, imbalance=replace(responses.imbalance, influence={"deck": lacking}))
    assert imbalance_with(study, wrong) == pytest.approx(5e-3)


def test_a_unit_load_rows_imbalance_is_weighed_against_its_largest_force() -> None:
    truss = build_truss({**JOINTS, "D": (4, 1)}, MEMBERS, {"A": "xy", "C": "y"})
    study = build_study(truss, [load_case(truss, "none")], chord=["A", "B", "C"], axles=[(0.0, 1.0)])
    responses = answer(study).responses
    lacking = np.zeros((8, 3))
    lacking[3, 1] = 5e-3
    wrong = replace(responses, imbalance=replace(responses.imbalance, influence={"deck": lacking}))
    # 1 at midspan of a truss of depth 1 and span 8: sqrt(17)/2 in the rafters, 2 in the ties
    assert imbalance_with(study, wrong) == pytest.approx(5e-3 / (17**0.5 / 2), rel=1e-9)


@pytest.mark.parametrize(("imbalance", "condition"), [(1.1e-9, 1.0), (0.0, 1.1e9), (float("nan"), 1.0)])
def test_beyond_its_limits_a_result_is_not_trusted(imbalance: float, condition: float) -> None:
    with pytest.raises(UntrustworthyError):
        require_trust(imbalance, condition)


def test_at_its_limits_a_result_is_trusted() -> None:
    require_trust(0.9e-9, 0.9e9)


def test_an_answer_whose_rows_do_not_balance_is_not_handed_out(monkeypatch: pytest.MonkeyPatch) -> None:
    original = door.respond
    monkeypatch.setattr(door, "respond", lambda *given: with_forces(original(*given), 1e-6))
    with pytest.raises(UntrustworthyError):
        answer(king_post())


def test_a_mechanism_is_told_with_the_joints_that_move() -> None:
    truss = build_truss(JOINTS, MEMBERS[:4], {"A": "xy", "C": "y"})
    with pytest.raises(MechanismError, match=r"1 members or held directions too few") as caught:
        answer(build_study(truss, [load_case(truss, D=(0, -1))]))
    assert caught.value.culprits == ("B",)


def test_enough_members_in_a_poor_arrangement_are_told_apart_from_too_few() -> None:
    truss = build_truss(JOINTS, [*MEMBERS[:4], "A-C"], {"A": "xy", "C": "y"})
    with pytest.raises(MechanismError, match="enough in number"):
        answer(build_study(truss, [load_case(truss, D=(0, -1))]))


def worst_of_arch(rise: float) -> float:
    return float(1 / np.sin(2 * np.arctan(rise / 5)))


def flat_arch(rise: str) -> Study:
    joints = {"A": (0, 0), "B": (5, rise), "C": (10, 0)}
    truss = build_truss(joints, ["A-B", "B-C"], {"A": "xy", "C": "xy"})
    return build_study(truss, [load_case(truss, B=(0, -1))])


def test_the_condition_of_a_flat_arch_is_that_of_the_pencil() -> None:
    # 1 down puts 1 / (2 sin a) into each bar, 1 across 1 / (2 cos a): the worst direction 1 / sin 2a
    answers = answer(flat_arch("0.01"))
    assert answers.redundancy.condition == pytest.approx(worst_of_arch(0.01), rel=1e-9)


def test_a_flat_arch_is_near_critical_and_a_steep_one_is_not() -> None:
    # span 10, so joints move by 0.002: a rise of 0.003 shrinks to 0.001, forces grow threefold
    flat = answer(flat_arch("0.003"))
    assert flat.sensitivity.offset == pytest.approx(0.002)
    assert flat.sensitivity.worst == pytest.approx(worst_of_arch(0.001), rel=1e-4)
    assert any("near-critical" in notice and "span/5000" in notice for notice in flat.notices)
    assert answer(flat_arch("1")).notices == ()
    assert not answer(flat_arch("0.007")).sensitivity.near_critical
    assert answer(flat_arch("0.005")).sensitivity.near_critical


def test_a_form_that_is_critical_within_the_tolerance_is_told_as_unbounded() -> None:
    answers = answer(flat_arch("0.002"))
    assert answers.sensitivity.worst > 1e9


def test_huge_forces_are_told_even_where_moving_joints_changes_little() -> None:
    assert sensitivity.Sensitivity(1.1e4, 1.1e4, 1.1e4, 0.01).near_critical
    assert not sensitivity.Sensitivity(0.9e4, 0.9e4, 0.9e4, 0.01).near_critical
    assert not sensitivity.Sensitivity(100.0, 149.0, 67.0, 0.01).near_critical
    assert sensitivity.Sensitivity(100.0, 151.0, 100.0, 0.01).near_critical
    assert sensitivity.Sensitivity(100.0, 100.0, 66.0, 0.01).near_critical


def test_a_form_too_near_a_mechanism_gives_no_answer() -> None:
    with pytest.raises(UntrustworthyError):
        answer(flat_arch("1e-10"))


def test_the_softest_movement_of_a_flat_arch_is_its_crown_going_up_or_down() -> None:
    stiffness = Stiffness(flat_arch("0.1").truss)
    movement = softest_movement(stiffness).reshape(3, 2)
    assert np.abs(movement[1, 1]) > 1e3 * np.abs(movement[1, 0])
    assert not movement[[0, 2]].any()


@pytest.mark.parametrize(("rise", "ways"), [("1", 2), ("0.0001", 4)])
def test_joints_move_at_random_only_where_forces_are_large_for_the_offset(
    rise: str, ways: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried: list[object] = []
    original = sensitivity.moved
    monkeypatch.setattr(sensitivity, "moved", lambda *given: tried.append(given) or original(*given))
    answer(flat_arch(rise))
    assert len(tried) == ways


def test_moving_joints_adds_to_their_coordinates() -> None:
    truss = flat_arch("0.1").truss
    shifted = moved(truss, np.array([[0.5, 0], [0, 0.25], [0, 0]]))
    assert shifted.joint_coordinates.tolist() == [[0.5, 0], [5, 0.35], [10, 0]]
    assert condition(Stiffness(truss)) == pytest.approx(worst_of_arch(0.1))
    assert examine_sensitivity(Stiffness(truss), 7.0).as_written == 7.0


def test_work_that_is_called_off_ends_at_once() -> None:
    def call_off(what: str, share: float) -> None:
        raise Cancelled(what)

    with pytest.raises(Cancelled):
        answer(king_post(), call_off)
