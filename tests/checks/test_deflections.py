"""Deflections against the limits of the study: of the whole truss and of single joints, by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from solver.answers import answer
from solver.checks.check import Check
from solver.combining import Combination
from solver.combining.combination import Purpose
from solver.resistance.plain import Plain
from solver.rules import Limits, Rules
from tests.building import build_study, build_truss, load_case
from tests.checks.made_of import made_of, ruled
from tests.checks.props_by_matrices import matrices_of

STRETCH = 10e3 / (200e9 * 1e-3)
"""A bar of 1 m under 10 kN: 0.05 mm."""


def hanging(limits: Limits, purposes: tuple[Purpose, Purpose] = ("both", "both")) -> tuple[Check, ...]:
    """Two bars in a row under a ceiling, 10 kN at the end; twice that, then half of it up."""
    points = {"T": (0, 0), "M": (0, -1), "E": (0, -2)}
    truss = made_of(build_truss(points, ["T-M", "M-E"], {"T": "xy", "M": "x", "E": "x"}), {})
    combinations = [
        Combination("down", {"load": 2.0}, purpose=purposes[0]),
        Combination("up", {"load": -0.5}, purpose=purposes[1]),
    ]
    study = ruled(truss, [load_case(truss, E=(0, -10e3))], Rules(Plain(), (), limits), combinations)
    return answer(study).checks.whole


def test_without_a_limit_no_deflection_is_asked_for() -> None:
    assert hanging(Limits()) == ()


def test_the_largest_deflection_anywhere_is_held_against_the_limit_of_the_whole() -> None:
    (check,) = hanging(Limits(deflection=5 * STRETCH))
    assert check.key == "deflection" and check.by == "the study" and check.kind == "radius"
    assert check.demand == pytest.approx(4 * STRETCH, rel=1e-9)
    assert check.utilisation == pytest.approx(0.8, rel=1e-9) and check.holds
    assert (check.joint, check.axis, check.combination) == (2, 1, 0)


def test_single_joints_are_held_against_limits_of_their_own() -> None:
    whole, middle, end = hanging(
        Limits(deflection=1.0, deflections={1: 1.6 * STRETCH, 2: 4 * STRETCH * (1 + 1e-6)})
    )
    assert whole.joint == 2 and whole.utilisation == pytest.approx(4 * STRETCH, rel=1e-9)
    assert middle.joint == 1 and middle.utilisation == pytest.approx(2 / 1.6, rel=1e-9)
    assert not middle.holds
    assert end.joint == 2 and end.holds


@pytest.mark.parametrize(
    ("purposes", "demand", "combination"),
    [
        (("both", "service"), 4, 0),
        (("strength", "service"), 1, 1),
        (("nothing", "both"), 1, 1),
        (("strength", "nothing"), 0, -1),
    ],
)
def test_only_combinations_for_service_count(
    purposes: tuple[Purpose, Purpose], demand: float, combination: int
) -> None:
    (check,) = hanging(Limits(deflection=STRETCH), purposes)
    assert check.demand == pytest.approx(demand * STRETCH, rel=1e-9)
    assert check.combination == combination and check.holds == (demand <= 1)


def test_a_movement_upwards_counts_as_one_downwards() -> None:
    truss = made_of(build_truss({"T": (0, 0), "E": (0, -1)}, ["T-E"], {"T": "xy", "E": "x"}), {})
    loads = [load_case(truss, "down", E=(0, -5e3)), load_case(truss, "up", E=(0, 10e3))]
    (check,) = answer(ruled(truss, loads, Rules(Plain(), (), Limits(deflection=2 * STRETCH)))).checks.whole
    assert check.utilisation == pytest.approx(0.5, rel=1e-9) and check.combination == 1


def test_under_a_train_the_larger_of_up_and_down_counts() -> None:
    """A span of 4 m with 18 m beyond it: an axle at the far end lifts the middle by most.

    Movements under an axle at each joint by plain matrices; between joints they run straight.
    """
    points = {"L0": (0, 0), "M": (2, 0), "L1": (4, 0), "N": (13, 0), "E": (22, 0), "U0": (2, 2), "U1": (4, 2)}
    bars = ["L0-M", "M-L1", "L1-N", "N-E", "L0-U0", "M-U0", "U0-L1", "U0-U1", "L1-U1", "U1-N", "U1-E"]
    truss = made_of(build_truss(points, bars, {"L0": "y", "L1": "xy"}), {})
    chord = ["L0", "M", "L1", "N", "E"]
    study = build_study(truss, chord=chord, axles=[(0, 8e3)])
    rules = Rules(Plain(), (), Limits(deflections={1: 1.0}))
    (check,) = answer(replace(study, rules=rules)).checks.whole
    under = [2 * truss.joint_index(name) + 1 for name in chord]
    moved = -8e3 * matrices_of(truss).movements[2:4][:, under]
    assert moved.max() > -moved.min() > 0
    assert check.demand == pytest.approx(moved.max(), rel=1e-9)
    # The single axle stands over E, 22 m along the chord.
    along = int(np.abs(moved).max(axis=1).argmax())
    assert (check.axis, check.position, check.direction) == (along, pytest.approx(22.0, abs=1e-9), 0)


def test_a_movement_across_counts_as_one_along() -> None:
    """A bar lengthened along x moves its end that far; nothing moves along y."""
    truss = made_of(build_truss({"A": (0, 0), "B": (1, 0)}, ["A-B"], {"A": "xy", "B": "y"}), {})
    rules = Rules(Plain(), (), Limits(deflection=2 * STRETCH, deflections={0: STRETCH}))
    whole, held = answer(ruled(truss, [load_case(truss, B=(-10e3, 0))], rules)).checks.whole
    assert whole.demand == pytest.approx(STRETCH) and (whole.joint, whole.axis) == (1, 0)
    assert np.isnan(whole.position) and whole.direction == -1
    assert held.demand == 0 and held.combination == -1 and held.holds
    assert not np.isnan(held.utilisation)
