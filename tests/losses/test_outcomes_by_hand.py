"""The outcome of a loss, each of the seven, on trusses small enough to work out by hand."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from typing import Any

import numpy as np
import pytest

from solver.cases import LoadCase
from solver.chords import make_chord
from solver.crossings import Crossing
from solver.study import Study
from solver.trains import Lane, Train
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.losses.losing import lose, mechanism, resisting, stable, with_piece


def propped(length: float = 4.0, **more: Any) -> Truss:
    """A strut A-M-B in line, pinned at A, free to slide at B; M is propped from P above it."""
    joints = {"A": (0, 0), "M": (3, 0), "B": (3 + length, 0), "P": (3, 2)}
    return build_truss(joints, ["A-M", "M-B", "A-P", "P-B", "M-P"], {"A": "xy", "B": "y"}, **more)


def pushed(truss: Truss, force: float, **more: Sequence[float]) -> Study:
    """B pushed towards A; A-M and M-B alone bear it, since A, M and B are in line."""
    return build_study(truss, [load_case(truss, "push", B=(-force, 0), **more)])


# ---- mechanisms: the prop M-P lets M go up and down -------------------------------------------------------


def test_a_prop_of_a_pushed_piece_leaves_it_unpropped() -> None:
    loss = lose(pushed(with_piece(propped(), "A", "M", "B"), 10), "M-P")
    found = mechanism(loss)
    assert loss.outcome == "unpropped"
    assert found.unpropped is not None
    assert (found.unpropped.before, found.unpropped.after) == (4.0, 7.0)
    assert found.driven is None and found.pushed is None


def test_compression_carries_the_joint_of_two_separate_bars_away() -> None:
    loss = lose(pushed(propped(), 10), "M-P")
    found = mechanism(loss)
    assert loss.outcome == "tips"
    # M moves by 1 across bars of 3 m and 4 m under 10 N of compression: -10 (1/3 + 1/4) N/m
    assert found.carried_away is not None
    assert found.carried_away.value == pytest.approx(-10 * (1 / 3 + 1 / 4), rel=1e-12)
    assert found.carried_away.share == pytest.approx(1.0, rel=1e-12)
    np.testing.assert_array_equal(found.movement, [[0, 0], [0, -1], [0, 0], [0, 0]])


@pytest.mark.parametrize("piece", [(), ("A", "M", "B")])
def test_a_pulled_strut_without_its_prop_is_loose(piece: tuple[str, ...]) -> None:
    truss = with_piece(propped(), *piece) if piece else propped()
    loss = lose(pushed(truss, -10), "M-P")
    assert loss.outcome == "loose"
    assert mechanism(loss).carried_away is None and mechanism(loss).driven is None


@pytest.mark.parametrize("piece", [(), ("A", "M", "B")])
@pytest.mark.parametrize("load", [-2.0, 3.0])
def test_a_load_across_the_strut_makes_it_fall_piece_or_not(piece: tuple[str, ...], load: float) -> None:
    truss = with_piece(propped(), *piece) if piece else propped()
    loss = lose(pushed(truss, 10, M=(0, load)), "M-P")
    assert loss.outcome == "falls"
    driven = mechanism(loss).driven
    # the movement is told downwards; an upward load does negative work in it, and drives all the same
    assert driven is not None and driven.value == pytest.approx(-load, rel=1e-12)


def test_own_weight_bends_a_piece_but_makes_two_separate_bars_fall() -> None:
    truss = propped(unit_weight=6.0)
    weighed = LoadCase("weight", self_weight=1.0)

    def study(truss: Truss) -> Study:
        return build_study(truss, [load_case(truss, "push", B=(-100, 0)), weighed])

    # at M hang half of A-M and of M-B: (3 + 4) / 2 x 6 = 21 N, and of M-P nothing, for it is gone
    driven = mechanism(lose(study(truss), "M-P")).driven
    assert lose(study(truss), "M-P").outcome == "falls"
    assert driven is not None and driven.value == pytest.approx(21.0, rel=1e-12)
    loss = lose(study(with_piece(truss, "A", "M", "B")), "M-P")
    assert loss.outcome == "unpropped"
    assert mechanism(loss).driven is not None and mechanism(loss).pushed is None


@pytest.mark.parametrize("factor", [1.0, 1.35, 0.9, 1.1])
def test_own_weight_with_a_factor_never_counts_as_another_load(factor: float) -> None:
    outcomes = set()
    for length in (2.0, 3.0, 4.0, 5.0):
        truss = with_piece(propped(length, unit_weight=3.0), "A", "M", "B")
        case = LoadCase("weight", self_weight=factor, joints={truss.joint_index("B"): (-300.0, 0.0)})
        loss = lose(build_study(truss, [case]), "M-P")
        outcomes.add((loss.outcome, mechanism(loss).pushed))
    assert outcomes == {("unpropped", None)}


def test_the_weight_of_the_lost_member_goes_with_it() -> None:
    # Q can slide up and down below P; the half of P-Q at Q is all that is there
    joints = {"A": (0, 0), "B": (4, 0), "P": (2, 2), "Q": (2, 1)}
    supports = {"A": "xy", "B": "y", "Q": "x"}
    truss = build_truss(joints, ["A-B", "A-P", "B-P", "P-Q"], supports, unit_weight=5.0)
    weight = LoadCase("weight", self_weight=1.0)
    assert lose(build_study(truss, [weight]), "P-Q").outcome == "loose"
    with_load = lose(build_study(truss, [weight, load_case(truss, "lamp", Q=(0, -0.25))]), "P-Q")
    driven = mechanism(with_load).driven
    assert with_load.outcome == "falls"
    assert driven is not None and (driven.column, driven.value) == (1, pytest.approx(0.25, rel=1e-12))


def test_what_the_weight_of_the_lost_member_held_in_tension_is_pushed_once_it_has_gone() -> None:
    # M-P weighs 2 x 7 = 14 N, all of it at P once hung there: it pulls A-M-B by 14 x 4/7 x 3/2 = 12 N against
    # the 10 N of the push. Without it 10 N of compression are left; the other bars weigh next to nothing.
    truss = with_piece(propped(areas=[1e-6] * 4 + [1.0], unit_weight=7.0), "A", "M", "B")
    case = LoadCase("all", self_weight=1.0, joints={truss.joint_index("B"): (-10.0, 0.0)})
    loss = lose(build_study(truss, [case]), "M-P")
    away = mechanism(loss).carried_away
    assert loss.outcome == "unpropped"
    assert away is not None and away.value == pytest.approx(-10 * (1 / 3 + 1 / 4), rel=1e-4)


def test_a_lane_lies_where_it_drives_the_joint_and_stands_nowhere() -> None:
    # 2 N/m on A-M-B: M gets half of 3 m and half of 4 m of it
    truss = with_piece(propped(), "A", "M", "B")
    chord = make_chord("deck", tuple(map(truss.joint_index, "AMB")), truss)
    crossing = Crossing("crowd", (Train("crowd", lane=Lane(2.0)),), "deck", ("forward", "backward"))
    loss = lose(Study("crowd", truss, {"deck": chord}, {}, {"crowd": crossing}), "M-P")
    driven = mechanism(loss).driven
    assert loss.outcome == "falls"
    assert driven is not None and driven.value == pytest.approx(2.0 * 3.5, rel=1e-12)
    assert driven.standing is None and driven.arrangement is not None


@pytest.mark.parametrize(("length", "ratio"), [(3.0, 4.0), (6.0, 3.3909)])
def test_an_unpropped_piece_is_told_with_the_ratio_of_its_critical_loads(length: float, ratio: float) -> None:
    # 3 m and 3 m: pi^2 / 3^2 to pi^2 / 6^2. 3 m and 6 m, k the root of 1/3k - cot 3k + 1/6k - cot 6k = 0,
    # 0.64278: k^2 to pi^2 / 9^2 is 3.3909
    truss = with_piece(propped(length), "A", "M", "B")
    found = mechanism(lose(pushed(truss, 10), "M-P")).critical
    assert found is not None
    assert found.ratio == pytest.approx(ratio, rel=3e-3)


def test_a_combination_that_lets_a_load_go_does_not_undo_what_it_drives_alone() -> None:
    # states are all load cases and combinations: the two loads cancel only together
    truss = propped()
    up, down = load_case(truss, "up", M=(0, 3)), load_case(truss, "down", M=(0, -3))
    both = LoadCase("both", joints={1: (0.0, 0.0), 2: (-10.0, 0.0)})
    assert lose(build_study(truss, [up, down, both]), "M-P").outcome == "falls"
    assert lose(build_study(truss, [both]), "M-P").outcome == "tips"


# ---- losses that leave the truss standing: a square with two diagonals (test_indeterminate_panels) ---------

SQUARE = {"A": (0, 0), "B": (0, 1), "C": (1, 1), "D": (1, 0)}
PANEL = ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D"]
BEFORE = {"A-C": 0.8536, "C-D": -0.6036, "B-D": -0.5607}
"""Under 1 N at C to the right (note on least work). Without B-D, by joints: A-C sqrt 2, C-D -1, rest 0."""


def square(each: dict[str, tuple[float | None, float | None]], hung: bool = False) -> Study:
    """The square; `hung`: with a joint E, 1 N pulling it to the right, which D-E takes alone."""
    joints = {**SQUARE, "E": (2, 0)} if hung else SQUARE
    members = [*PANEL, "D-E", "C-E"] if hung else PANEL
    truss = resisting(build_truss(joints, members, {"A": "xy", "D": "y"}), each)
    pull = {"E": (1, 0)} if hung else {}
    return build_study(truss, [load_case(truss, C=(1, 0), **pull)])


def test_a_loss_that_all_others_can_bear_is_carried() -> None:
    loss = lose(square({"": (1.5, 1.1)}), "B-D")
    found = stable(loss)
    assert (loss.outcome, found.over, found.unproven) == ("carried", (), False)
    assert found.worst is not None
    assert (found.worst.member, found.worst.compression) == (PANEL.index("A-C"), False)
    assert found.worst.utilisation == pytest.approx(sqrt(2) / 1.5, rel=1e-12)


def test_growth_is_the_largest_rise_of_another_peak() -> None:
    found = stable(lose(square({}), "B-D"))
    assert found.grown == PANEL.index("A-C")
    assert found.growth == pytest.approx(sqrt(2) - BEFORE["A-C"], abs=1e-4)
    assert found.growth_ratio == pytest.approx(sqrt(2) / BEFORE["A-C"], rel=1e-4)
    assert found.worst is None


def test_deflection_grows_with_the_work_of_the_load() -> None:
    # of one load the deflection along it is the work over it; EA = 1, L = 1. Before, with X = B-D = -0.560660
    # (the note): x = sum n^2 L = 2.707107 + X 2.707107. After: sqrt 2 x 2 + 1. C moves farthest, and along x.
    found = stable(lose(square({}), "B-D"))
    forces = np.array([0.3964466, 0.3964466, -0.6035534, 0.3964466, 0.8535534, -0.5606602])
    lengths = np.array([1, 1, 1, 1, sqrt(2), sqrt(2)])
    assert found.deflection_ratio == pytest.approx((2 * sqrt(2) + 1) / (forces**2 @ lengths), rel=1e-6)


def test_a_member_that_was_within_its_resistance_and_is_over_it_now_is_a_new_overload() -> None:
    loss = lose(square({"": (1.2, 1.1)}), "B-D")
    (over,) = stable(loss).over
    assert (loss.outcome, over.member, over.how) == ("overload", PANEL.index("A-C"), "new")
    assert over.utilisation == pytest.approx(sqrt(2) / 1.2, rel=1e-12)


def test_a_member_that_was_over_its_resistance_and_is_more_so_now_is_an_overload_too() -> None:
    loss = lose(square({"": (0.8, 1.1)}), "B-D")
    assert loss.outcome == "overload"
    assert [(over.member, over.how) for over in stable(loss).over] == [(PANEL.index("A-C"), "worse")]


def test_a_member_that_was_over_before_and_stays_so_leaves_the_rest_unproven() -> None:
    # D-E bears the 1 N at E whatever the square does, and 0.9 N is all it can
    loss = lose(square({"": (3.0, 3.0), "D-E": (0.9, 3.0)}, hung=True), "B-D")
    (over,) = stable(loss).over
    assert (loss.outcome, over.member, over.how) == ("stands", 6, "already")
    assert over.utilisation == pytest.approx(1 / 0.9, rel=1e-12)


def test_without_a_resistance_for_the_sign_that_a_member_bears_it_stands_unproven() -> None:
    loss = lose(square({"": (1.5, None)}), "B-D")
    assert loss.outcome == "stands"
    assert stable(loss).unproven
    # C-D is pushed by 1 N and has no resistance to that; what bears nothing, or is pulled, needs none
    assert lose(square({"": (1.5, None), "C-D": (None, 1.0)}), "B-D").outcome == "carried"
    assert lose(square({"A-C": (1.5, None), "C-D": (None, 1.0)}), "B-D").outcome == "carried"
    assert lose(square({"A-C": (None, 9.0), "C-D": (None, 1.0)}), "B-D").outcome == "stands"


def test_a_resistance_that_is_just_reached_is_not_exceeded() -> None:
    assert lose(square({"": (2.0, 1.0)}), "B-D").outcome == "carried"
    assert lose(square({"": (2.0, 1 - 1e-8)}), "B-D").outcome == "overload"


def test_where_no_other_bears_force_against_a_resistance_the_worst_is_nothing_without_a_name() -> None:
    found = stable(lose(square({"A-B": (1.0, 1.0), "D-A": (1.0, None)}), "B-D"))
    assert found.worst is not None
    assert (found.worst.utilisation, found.worst.member, found.worst.combination) == (0.0, -1, -1)


def test_a_study_whose_limit_of_zero_hides_everything_is_lost_as_any_other() -> None:
    truss = resisting(build_truss(SQUARE, PANEL, {"A": "xy", "D": "y"}), {"": (1.2, 1.1)})
    hidden = build_study(truss, [load_case(truss, C=(1, 0))], zero_limit=1e6)
    found = stable(lose(hidden, "B-D"))
    assert found.worst is not None and found.worst.utilisation == pytest.approx(sqrt(2) / 1.2, rel=1e-12)
    assert lose(hidden, "B-D").outcome == "overload"
    assert lose(pushed(propped(), 10), "M-P").outcome == "tips"
    strut = propped()
    limited = build_study(strut, [load_case(strut, B=(-10, 0))], zero_limit=1e6)
    assert lose(limited, "M-P").outcome == "tips"


# ---- heat and misfit --------------------------------------------------------------------------------------


def test_a_misfit_goes_with_the_member_that_has_it_and_stays_with_all_others() -> None:
    # a square with one diagonal left is determinate: no misfit puts a force into it
    truss = resisting(build_truss(SQUARE, PANEL, {"A": "xy", "D": "y"}), {"": (9.0, 9.0)})
    study = build_study(truss, [LoadCase("short", misfit={PANEL.index("B-D"): -1.0})])
    for name in PANEL:
        found = stable(lose(study, name))
        assert found.worst is not None and found.worst.utilisation == 0.0
        assert (found.growth, found.grown) == (0.0, -1)


def test_the_weight_of_a_lost_member_no_longer_holds_down_what_is_lifted() -> None:
    # p is lifted by 1 N; m-p weighs 1.8 N, half of it at p. Without it l-p and r-p bear 1 / sqrt 2 each, more
    # than the 0.5 N of n-q elsewhere, which is the most before. All other bars weigh next to nothing.
    joints = {"l": (-1, 0), "m": (0, 0), "r": (1, 0), "p": (0, -1), "n": (5, 0), "o": (6, 0), "q": (5, -1)}
    truss = build_truss(
        joints,
        ["l-p", "m-p", "r-p", "n-q", "o-q"],
        dict.fromkeys("lmrno", "xy"),
        areas=[1e-6, 1.0, 1e-6, 1e-6, 1e-6],
        unit_weight=1.8,
    )
    case = LoadCase("all", self_weight=1.0, joints={3: (0.0, 1.0), 6: (0.0, -0.5)})
    found = stable(lose(build_study(resisting(truss, {"": (1.0, 1.0)}), [case]), "m-p"))
    assert found.worst is not None
    assert (found.worst.member, found.worst.compression) == (0, True)
    assert found.worst.utilisation == pytest.approx(1 / sqrt(2), rel=1e-5)
