"""Members that hold compressed bars in line, by hand: which, with what force, beside their own peaks."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from math import cos, pi, sqrt
from typing import Any

import numpy as np
import pytest

from solver.answers import answer
from solver.checks.check import Check
from solver.combining import Combination
from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.en_1993_1_1 import En1993
from solver.resistance.plain import Plain
from solver.resistance.standard import Standard
from solver.rules import Rules
from solver.study import Study
from solver.truss import Group, Piece, Truss
from tests.building import build_truss, load_case
from tests.checks.made_of import BAR, STEEL, all_checks_of, made_of, ruled
from tests.losses.losing import with_piece

BOTH = Group("both", BAR, STEEL, tension=40e3, compression=20e3)
STRUT = {"A": (0, 0), "M": (3, 0), "B": (7, 0), "P": (3, 2)}
BARS = ["A-M", "M-B", "A-P", "P-B", "M-P"]


def strut(push: float = 10e3, up: float = 0.0, standard: Standard | None = None) -> Study:
    """A-M-B pushed; M-P above M holds it, and bears only what is laid on M."""
    truss = made_of(build_truss(STRUT, BARS, {"A": "xy", "B": "y"}), {}, BOTH)
    return ruled(truss, [load_case(truss, B=(-push, 0), M=(0, up))], Rules(standard))


def props(study: Study, name: str) -> dict[tuple[str, str], Check]:
    """Checks of a member as a prop by key and rule."""
    found = all_checks_of(study, name)
    return {(check.key, check.by): check for check in found if check.key.startswith("prop")}


def holders(study: Study) -> set[str]:
    """Names of all members that are asked to hold something."""
    answers = answer(study)
    return {
        member.name
        for member, checks in zip(study.truss.members, answers.checks.each, strict=True)
        if any(check.key.startswith("prop") for check in checks)
    }


def close(found: float, expected: float) -> None:
    assert found == pytest.approx(expected, rel=1e-9)


def test_an_idle_post_is_asked_for_the_force_of_a_bow_and_for_stiffness() -> None:
    """Winter: beta_i = P/3 + P/4, twice that, and beta_i d / (1 - 1/2) for d = 4 m / 500."""
    found = props(strut(), "M-P")
    ideal = 10e3 * (1 / 3 + 1 / 4)
    force = found["prop force", "Winter 1960, point"]
    close(force.demand, 2 * ideal * 4 / 500)
    close(force.utilisation, 2 * ideal * 4 / 500 / 20e3)
    assert (force.joint, force.others, force.limit) == (1, (0, 1), 20e3)
    close(found["prop stiffness", "Winter 1960, point"].demand, 2 * ideal)
    close(found["prop force", "2 % rule"].demand, 200.0)
    assert ("prop stiffness", "2 % rule") not in found


def test_the_stiffness_offered_is_the_force_over_the_movement_by_virtual_work() -> None:
    """1 N across at M: 1 in M-P, sqrt(13) 2/7 and sqrt(20) 3/14 in A-P and P-B, 6/7 in the chord."""
    check = props(strut(), "M-P")["prop stiffness", "Winter 1960, point"]
    shares = np.array([6 / 7, 6 / 7, sqrt(13) * 2 / 7, sqrt(20) * 3 / 14, 1.0])
    lengths = np.array([3, 4, sqrt(13), sqrt(20), 2])
    give = float((shares**2 * lengths).sum()) / (200e9 * 1e-3)
    close(check.limit, 1 / give)
    close(check.utilisation, check.demand * give)
    assert check.holds


def test_only_members_at_the_joint_that_are_not_in_line_hold_it() -> None:
    assert holders(strut()) == {"M-P"}


def test_pulled_bars_in_line_and_unloaded_ones_need_no_holding() -> None:
    assert holders(strut(push=-10e3)) == set()
    assert holders(strut(push=0.0)) == set()


def test_the_weaker_sign_counts_beside_the_peak_of_its_own() -> None:
    """3 kN up at M pushes M-P: 3 + F of 20; 15 kN down pull it: (15 + F) of 40 is more than F of 20.

    The loads on M pull the chord with 6/7 of them where it is pushed with 30 kN.
    """
    for up, own, most in ((3e3, 3e3, 20e3), (-15e3, 15e3, 40e3)):
        check = props(strut(30e3, up), "M-P")["prop force", "2 % rule"]
        pushed = 30e3 + up * 3 * 4 / 7 / 2
        close(check.demand, 0.02 * pushed)
        close(check.limit, most - own)
        close(check.utilisation, (own + 0.02 * pushed) / most)


def test_a_member_used_up_by_its_own_force_has_nothing_left_for_holding() -> None:
    check = props(strut(100e3, 25e3), "M-P")["prop force", "2 % rule"]
    assert check.limit == 0 and check.utilisation > 1 and not check.holds


def test_combinations_for_service_push_nothing_that_must_be_held() -> None:
    study = strut()
    for purpose, expected in (("strength", {"M-P"}), ("service", set()), ("nothing", set())):
        load = Combination("all", {"load": 1.0}, purpose=purpose)  # type: ignore[arg-type]
        assert holders(replace(study, combinations=(load,))) == expected


@pytest.mark.parametrize(("method", "safety"), [("LRFD", 1 / 0.75), ("ASD", 2.0)])
def test_american_studies_ask_for_one_per_cent_and_eight_times_the_push(method: str, safety: float) -> None:
    standard = Aisc360(method)  # type: ignore[arg-type]
    found = props(strut(standard=standard), "M-P")
    assert {by for _, by in found} == {f"AISC 360-22 {method}, point"}
    close(found["prop force", f"AISC 360-22 {method}, point"].demand, 100.0)
    close(found["prop stiffness", f"AISC 360-22 {method}, point"].demand, safety * 8 * 10e3 / 3)


def test_the_eurocode_asks_by_its_bow_and_other_studies_by_general_rules() -> None:
    european = {by for _, by in props(strut(standard=En1993()), "M-P")}
    assert european == {"EN 1993-1-1 5.3.3, bow", "Winter 1960, point"}
    general = {"Winter 1960, point", "2 % rule"}
    for standard in (None, Plain()):
        assert {by for _, by in props(strut(standard=standard), "M-P")} == general


def test_rules_say_that_they_are_stretched_and_what_they_leave_out() -> None:
    check = props(strut(), "M-P")["prop force", "2 % rule"]
    assert "stiffness of the prop" in check.unchecked
    assert any("custom" in text for text in check.unchecked)
    assert check.steps


def test_what_a_resistance_leaves_out_is_told_of_the_prop_that_leans_on_it_and_not_of_the_stiffness() -> None:
    study = strut(standard=Plain())
    plain = replace(BOTH, tension=None, compression=None)
    study = replace(study, truss=made_of(study.truss, {}, plain))
    for (key, _), check in props(study, "M-P").items():
        assert ("out of plane not checked" in check.unchecked) == (key == "prop force")


def test_without_a_resistance_either_way_holding_cannot_be_answered() -> None:
    study = strut()
    bare = replace(BOTH, compression=None)
    truss = made_of(study.truss, {"M-P": bare}, BOTH)
    check = props(replace(study, truss=truss), "M-P")["prop force", "2 % rule"]
    assert np.isnan(check.utilisation) and check.refused == ("a resistance is not known",) and not check.holds


def long_strut(piece: Sequence[str] = ()) -> Study:
    """Three pushed bars of 2 m, posts at both joints between them to a chord above."""
    points = {"A": (0, 0), "M": (2, 0), "N": (4, 0), "B": (6, 0), "P": (2, 2), "Q": (4, 2)}
    bars = ["A-M", "M-N", "N-B", "M-P", "N-Q", "A-P", "P-Q", "Q-B", "P-N"]
    truss = build_truss(points, bars, {"A": "xy", "B": "y"})
    truss = made_of(with_piece(truss, *piece) if piece else truss, {}, BOTH)
    return ruled(truss, [load_case(truss, B=(-10e3, 0))], Rules())


def test_a_declared_piece_is_held_as_a_whole_and_bars_in_line_two_by_two() -> None:
    """Two bars: 2 P/L. Three with two joints held: 3 P/L, (2 + 2 cos 60°)."""
    for piece, braces in (((), 1), (("A", "M", "N", "B"), 2)):
        check = props(long_strut(piece), "M-P")["prop stiffness", "Winter 1960, point"]
        close(check.demand, 2 * (2 + 2 * cos(pi / (braces + 1))) * 10e3 / 2)


def test_of_several_joints_that_a_member_holds_the_hardest_is_told() -> None:
    """P-N and N-Q hold N between them, and M-P holds M alone: no member is asked twice by one rule."""
    assert holders(long_strut()) == {"M-P", "N-Q", "P-N"}
    found = [check for check in all_checks_of(long_strut(), "P-N") if check.key == "prop force"]
    assert len({check.by for check in found}) == len(found)


def test_a_support_that_holds_the_joint_leaves_its_members_nothing_to_hold() -> None:
    truss = build_truss(STRUT, BARS, {"A": "xy", "B": "y", "M": "y"})
    truss = made_of(truss, {}, BOTH)
    assert holders(ruled(truss, [load_case(truss, B=(-10e3, 0))], Rules())) == set()


@pytest.mark.parametrize(
    ("held_at_n", "expected"), [("xy", {"S-C": 100.0, "C-N": 100.0}), ("x", {"S-C": 200.0})]
)
def test_two_lines_through_one_joint_hold_each_other(held_at_n: str, expected: dict[str, float]) -> None:
    """Both bars of the other line take half; where one can slip away along itself, the other takes all."""
    points = {"W": (-1, 0), "O": (1, 0), "S": (0, -1), "N": (0, 1), "C": (0, 0)}
    held = {"W": "xy", "S": "xy", "O": "y", "N": held_at_n}
    truss = made_of(build_truss(points, ["W-C", "C-O", "S-C", "C-N"], held), {}, BOTH)
    study = ruled(truss, [load_case(truss, O=(-10e3, 0))], Rules())
    assert holders(study) == set(expected)
    for name, force in expected.items():
        close(props(study, name)["prop force", "2 % rule"].demand, force)


def slanted(vector: tuple[int, int], times: int) -> Truss:
    """A line A-M-B along a vector, M-B longer than A-M, its middle held by M-P."""
    x, y = vector
    points = {"A": (0, 0), "M": (x, y), "B": (times * x, times * y), "P": (x - y, y + x)}
    truss = build_truss(points, ["A-M", "M-B", "A-P", "P-B", "M-P"], {"A": "xy", "B": [(-y, x)]})
    return made_of(truss, {}, BOTH)


@pytest.mark.parametrize("vector", [(1, 1), (1, 2), (1, 3), (2, 3), (3, 7), (5, 2), (6, 7)])
@pytest.mark.parametrize("times", [2, 3, 4])
def test_bars_in_line_do_not_hold_themselves_whatever_their_slope(
    vector: tuple[int, int], times: int
) -> None:
    truss = slanted(vector, times)
    load = load_case(truss, B=(-1e3 * vector[0], -1e3 * vector[1]))
    assert holders(ruled(truss, [load], Rules())) == {"M-P"}


TURNS = [(Fraction(1), Fraction(0)), (Fraction(3, 5), Fraction(4, 5)), (Fraction(-7, 25), Fraction(24, 25))]


def in_space(turn: tuple[Any, Any]) -> Study:
    """A bar along x pushed at B and held at M by two bars at right angles; all turned about x."""
    c, s = turn

    def turned(x: int, y: int, z: int) -> tuple[Any, ...]:
        return (Fraction(x), c * y - s * z, s * y + c * z)

    points = {"A": (0, 0, 0), "M": (2, 0, 0), "B": (4, 0, 0), "P": (2, 1, 0), "Q": (2, 0, 1)}
    held = {"A": "xyz", "P": "xyz", "Q": "xyz", "B": [turned(0, 1, 0), turned(0, 0, 1)]}
    bars = ["A-M", "M-B", "M-P", "M-Q"]
    truss = build_truss({name: turned(*point) for name, point in points.items()}, bars, held)
    truss = made_of(truss, {}, BOTH)
    return ruled(truss, [load_case(truss, B=(-10e3, 0, 0))], Rules())


@pytest.mark.parametrize("turn", TURNS)
def test_in_space_each_prop_is_asked_in_its_worst_direction_however_the_truss_is_turned(
    turn: tuple[Any, Any],
) -> None:
    study = in_space(turn)
    for name in ("M-P", "M-Q"):
        found = props(study, name)
        close(found["prop force", "2 % rule"].demand, 200.0)
        close(found["prop stiffness", "Winter 1960, point"].limit, 200e9 * 1e-3 / 1.0)


def test_a_piece_with_more_bars_than_its_neighbours_is_told_with_the_bars_beside_the_joint() -> None:
    study = long_strut(("A", "M", "N", "B"))
    assert isinstance(study.truss.pieces[0], Piece)
    assert props(study, "N-Q")["prop force", "2 % rule"].others == (1, 2)
