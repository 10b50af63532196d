"""Passages of small trusses worked out by hand: tents, jumps, and places where decimals meet."""

from __future__ import annotations

import numpy as np
import pytest

from explorer.bundled import find_bundled
from explorer.document import read_study
from solver.answers import answer
from solver.combining import Combination
from solver.passage import Passage, follow, spread_out
from solver.study import Study
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case

KING_POST = build_truss(
    {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)},
    ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
    {"L0": "xy", "L2": "y"},
)


def passages(study: Study, member: str, load: str = "train") -> tuple[Passage, ...]:
    answers = answer(study)
    column = [combination.name for combination in answers.combinations].index(load)
    return follow(answers.forces, study.truss.member_index(member), column)


def king_post(axles: list[tuple[float, float]], **more: object) -> Study:
    return build_study(KING_POST, chord=["L0", "L1", "L2"], axles=axles, **more)  # type: ignore[arg-type]


def test_a_hanger_under_one_axle_bears_its_tent_and_is_zero_up_to_the_limit() -> None:
    # at s the hanger bears 10 s / 4 up to the middle: 2 at 0.8 and at 7.2
    forward, backward = passages(king_post([(0, 10)], zero_limit=2.0), "L1-U1")
    assert (forward.direction, backward.direction) == ("forward", "backward")
    for way in (forward, backward):
        assert np.array(way.zeros) == pytest.approx(np.array([[0, 0.8], [7.2, 8]]), abs=1e-12)
        assert way.zero_length == pytest.approx(1.6, abs=1e-12)
        assert way.loaded_length == pytest.approx(8, abs=1e-12)
        assert (way.forces.max(), way.band) == (pytest.approx(10, abs=1e-12), 2.0)


def test_a_curve_begins_with_the_force_it_has_even_if_that_is_within_the_limit() -> None:
    # 2 from a weight, within the limit of 3; the axle adds 10 s / 4: 7 at s = 2, and 3 at s = 0.4
    weight = load_case(KING_POST, "weight", L1=(0, -2))
    both = [Combination("both", {"weight": 1.0}, "train")]
    study = build_study(
        KING_POST, [weight], chord=["L0", "L1", "L2"], axles=[(0, 10)], combinations=both, zero_limit=3.0
    )
    way = passages(study, "L1-U1", "both")[0]
    assert way.zeros[0] == pytest.approx((0, 0.4), abs=1e-12)
    assert np.interp(2.0, way.positions, way.forces) == pytest.approx(7, abs=1e-9)


def test_a_tent_is_spread_evenly_over_its_sizes_and_those_up_to_the_limit_are_zero() -> None:
    spread = spread_out(passages(king_post([(0, 10)]), "L1-U1"))
    assert spread.tension == pytest.approx(np.array([[0, 10], [1, 0]]), abs=1e-12)
    assert (spread.zero, len(spread.compression)) == (0, 0)
    # of 8 m it is within 2 on 1.6
    spread = spread_out(passages(king_post([(0, 10)], zero_limit=2.0), "L1-U1"))
    assert (spread.zero, spread.tension[-1, 0]) == pytest.approx((0.2, 0.8), abs=1e-12)


def test_a_way_with_a_gap_longer_than_the_chord_is_loaded_at_both_ends_only() -> None:
    for way in passages(king_post([(0, 10), (20, 4)]), "L1-U1"):
        assert way.loaded_length == pytest.approx(16, abs=1e-12)
        assert way.zeros == ()
        empty = np.diff(way.positions)[~way.loaded].sum()
        assert empty == pytest.approx(12, abs=1e-12)


def strip(bottom: str, top: str, height: int, at_c: str = "y") -> Truss:
    """Four joints along the chord, held at the middle two, and a top joint over each panel."""
    joints = {name: (x, 0) for name, x in zip("ABCD", bottom.split(), strict=True)}
    joints |= {name: (x, height) for name, x in zip("abc", top.split(), strict=True)}
    members = ["A-a", "a-B", "B-b", "b-C", "C-c", "c-D", "A-B", "B-C", "C-D", "a-b", "b-c"]
    return build_truss(joints, members, {"B": "xy", "C": at_c}, areas=1e-3, modulus=2e11)


EVEN, DECIMAL = ("0 4 8 12", "2 6 10", 3), ("0 1.1 3.3 4.4", "0.7 2.2 3.9", 1)


def test_where_one_axle_leaves_as_another_enters_left_right_and_exact_values_differ() -> None:
    # 1 at either tip gives B-C -2/3 by moments about b; 3 leaves at D as 1 enters at A
    study = build_study(strip(*EVEN), chord="ABCD", axles=[(0, 3), (12, 1)])
    forward, backward = passages(study, "B-C")
    for way, place in ((forward, 12.0), (backward, 0.0)):
        here = way.forces[np.abs(way.positions - place) <= 1e-9]
        expected = [-2, -8 / 3, -2 / 3] if way is forward else [-2 / 3, -8 / 3, -2]
        assert here == pytest.approx(expected, abs=1e-12)
    assert (forward.positions[0], forward.positions[-1]) == pytest.approx((0, 24), abs=1e-12)
    assert (forward.forces[0], forward.forces[-1]) == pytest.approx((-2, -2 / 3), abs=1e-12)


def last_points(way: Passage) -> np.ndarray:
    """The last three points of a curve: position [m] and force [kN]."""
    return np.column_stack([way.positions, way.forces / 1e3])[-3:]


def test_the_last_diagonal_of_the_gantry_keeps_both_sides_of_the_jump_at_the_tip() -> None:
    # 24 kN a wheel; U5-L6 rises 3 in 5 and lifts all that lies on L6: N = load / 0.6
    answers = answer(read_study(find_bundled("fulmar_gantry").path).study)
    column = [combination.name for combination in answers.combinations].index("trolley_run")
    forward, backward = follow(answers.forces, answers.study.truss.member_index("U5-L6"), column)
    # wheels at 24 and 22: 24 + 12 on L6; then the second alone at 22, and at 24 with the front at 26
    assert last_points(forward) == pytest.approx(np.array([[24, 60], [24, 20], [26, 40]]), abs=1e-9)
    assert forward.zeros == (pytest.approx((0, 20), abs=1e-12),)
    # backward the second wheel is 2 m ahead: it is on L6 with the front at 22, the front alone beyond
    assert last_points(backward) == pytest.approx(np.array([[22, 60], [22, 20], [24, 40]]), abs=1e-9)
    assert backward.zeros == (pytest.approx((-2, 18), abs=1e-12),)


def test_a_jump_stands_in_its_place_where_decimals_meet_but_for_a_rounding() -> None:
    # the tip panel is 1.1 long: with axles 1.1 apart something stands on it up to 5.5, then nothing to 8.8
    axles = [(0, 3), (1.1, 4), (2.2, 5), (3.3, 2), (4.4, 1)]
    study = build_study(strip(*DECIMAL), chord="ABCD", axles=axles)
    forward, backward = passages(study, "A-B")
    for way in (forward, backward):
        assert (np.diff(way.positions) >= 0).all()
    assert forward.loaded_length == pytest.approx(8.8, abs=1e-12)
    assert forward.zeros == (pytest.approx((5.5, 8.8), abs=1e-9),)
    assert backward.zeros == (pytest.approx((1.1, 4.4), abs=1e-9),)


@pytest.mark.parametrize("chord", ["ABCD", "DCBA"])
@pytest.mark.parametrize("first", [0.0, 0.1, 0.7])
def test_between_two_pins_a_member_is_zero_in_one_stretch_where_decimals_meet(
    chord: str, first: float
) -> None:
    axles = [(first + distance, 2) for distance in (0, 1.1, 3.3, 4.4)]
    study = build_study(strip(*DECIMAL, "xy"), chord=chord, axles=axles)
    for way in passages(study, "B-C"):
        assert (np.diff(way.positions) >= 0).all()
        assert np.array(way.zeros) == pytest.approx(way.positions[[0, -1]][None], abs=1e-12)
        assert np.diff(way.positions)[way.loaded].sum() == pytest.approx(way.loaded_length, abs=1e-12)
