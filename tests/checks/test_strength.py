"""Tension and compression against resistances: by hand on a bracket and a bar."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest

from solver.answers import answer
from solver.checks.bending import NOT_CHECKED
from solver.checks.check import KEYS, Check, hardest
from solver.combining import Combination
from solver.combining.combination import Purpose
from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.en_1993_1_1 import En1993
from solver.resistance.plain import Plain
from solver.resistance.standard import Standard
from solver.rules import Rules
from solver.study import Study
from solver.truss import Group, Piece
from tests.building import build_study, build_truss, load_case
from tests.checks.made_of import BAR, STEEL, all_checks_of, checks_of, made_of, ruled
from tests.resistance.members import tube

BY_STRESS = Plain()
GIVEN = Group("given", BAR, STEEL, tension=60e3, compression=50e3)
TUBE = tube(0.1, 0.005)


def bracket(standard: Standard | None = BY_STRESS, group: Group | None = None, down: float = 30e3) -> Study:
    """W and V on a wall, T out in front of W: W-T bears 4/3 of the load pulled, V-T 5/3 of it pushed."""
    truss = build_truss({"W": (0, 3), "V": (0, 0), "T": (4, 3)}, ["W-T", "V-T"], {"W": "xy", "V": "xy"})
    truss = made_of(truss, {}, group)
    props = Piece("all", (1, 2), (1, 2)), Piece("top", (0, 2), (0, 2))
    return ruled(replace(truss, pieces=props), [load_case(truss, T=(0, -down))], Rules(standard))


def close(found: float, expected: float) -> None:
    assert found == pytest.approx(expected, rel=1e-9)


def test_a_pulled_and_a_pushed_bar_against_given_resistances() -> None:
    study = bracket(None, GIVEN)
    pulled, pushed = checks_of(study, "W-T")["tension"], checks_of(study, "V-T")["compression"]
    close(pulled.demand, 40e3)
    close(pulled.limit, 60e3)
    close(pulled.utilisation, 2 / 3)
    close(pushed.demand, 50e3)
    close(pushed.utilisation, 1.0)
    assert pushed.holds and pulled.by == pushed.by == "given with the group"


def test_a_hair_beyond_the_resistance_does_not_hold() -> None:
    assert not checks_of(bracket(None, GIVEN, 30e3 * (1 + 1e-7)), "V-T")["compression"].holds


def test_the_plain_rule_holds_a_pushed_bar_against_the_load_of_euler() -> None:
    study = bracket(Plain(stress_share=0.6, euler_share=0.5))
    pulled, pushed = checks_of(study, "W-T")["tension"], checks_of(study, "V-T")["compression"]
    close(pulled.utilisation, 40e3 / (0.6 * 250e3))
    euler = 0.5 * pi**2 * 200e9 * 1e-3 * (0.02 / 5) ** 2
    close(pushed.limit, euler)
    close(pushed.utilisation, 50e3 / euler)
    assert pulled.by == pushed.by == "stress limit 0.6 f_y, Euler's load times 0.5"


def test_the_eurocode_holds_a_tube_against_curve_a_or_its_yield() -> None:
    study = bracket(En1993(), Group("tube", replace(BAR, area=TUBE.area, profile=TUBE), STEEL))
    close(checks_of(study, "W-T")["tension"].utilisation, 40e3 / (TUBE.area * 250e6))
    slenderness = 5 / TUBE.radius / pi / sqrt(200e9 / 250e6)
    phi = 0.5 * (1 + 0.21 * (slenderness - 0.2) + slenderness**2)
    chi = 1 / (phi + sqrt(phi**2 - slenderness**2))
    pushed = checks_of(study, "V-T")["compression"]
    close(pushed.utilisation, 50e3 / (chi * TUBE.area * 250e6))
    assert pushed.by == "EN 1993-1-1:2005"


@pytest.mark.parametrize(("method", "factor"), [("LRFD", 0.9), ("ASD", 1 / 1.67)])
def test_the_american_rule_holds_a_tube_against_e3_or_its_yield(method: str, factor: float) -> None:
    standard = Aisc360(method)  # type: ignore[arg-type]
    study = bracket(standard, Group("tube", replace(BAR, area=TUBE.area, profile=TUBE), STEEL))
    close(checks_of(study, "W-T")["tension"].utilisation, 40e3 / (factor * TUBE.area * 250e6))
    elastic = pi**2 * 200e9 / (5 / TUBE.radius) ** 2
    stress = 0.658 ** (250e6 / elastic) * 250e6 if 250e6 / elastic <= 2.25 else 0.877 * elastic
    pushed = checks_of(study, "V-T")["compression"]
    close(pushed.utilisation, 50e3 / (factor * stress * TUBE.area))
    assert method in pushed.by


def test_what_bears_nothing_needs_nothing_and_the_reason_for_no_limit_is_told_all_the_same() -> None:
    nothing = Group("nothing", replace(BAR, radius=None), STEEL)
    checks = checks_of(bracket(Plain(), nothing), "W-T")
    unborne = checks["compression"]
    assert unborne.demand == unborne.utilisation == 0 and unborne.holds
    assert (unborne.refused, unborne.combination, unborne.direction) == (("no radius of gyration",), -1, -1)
    assert np.isnan(unborne.limit) and np.isnan(unborne.position)


def test_what_cannot_be_answered_does_not_hold_and_says_why() -> None:
    bare = Group("bare", replace(BAR, radius=None), STEEL)
    pushed = checks_of(bracket(Plain(), bare), "V-T")["compression"]
    assert np.isnan(pushed.utilisation) and not pushed.holds
    assert pushed.refused == ("no radius of gyration",)
    without = checks_of(bracket(None), "V-T")["compression"]
    assert without.refused == ("no resistance in compression given",) and without.by == ""


def test_what_a_rule_leaves_out_is_told_with_the_number() -> None:
    study = bracket(Plain())
    free = replace(study, truss=replace(study.truss, pieces=()))
    pushed = checks_of(free, "V-T")["compression"]
    assert "out of plane not checked" in pushed.unchecked
    assert "out of plane not checked" not in checks_of(study, "V-T")["compression"].unchecked


def bar_under(*purposes: Purpose) -> Study:
    """A bar of 1 m pulled with 10 kN by one case, pushed with 5 by another; combinations 3, 2 and 1 times."""
    truss = made_of(build_truss({"A": (0, 0), "B": (1, 0)}, ["A-B"], {"A": "xy", "B": "y"}), {})
    cases = [load_case(truss, "pull", B=(10e3, 0)), load_case(truss, "push", B=(-5e3, 0))]
    names = ["pull", "push", "pull"]
    combinations = [
        Combination(f"{times} {name}", {name: float(times)}, purpose=purpose)
        for times, name, purpose in zip((3, 2, 1), names, purposes, strict=True)
    ]
    return ruled(truss, cases, Rules(Plain()), combinations)


@pytest.mark.parametrize(
    ("purposes", "tension", "compression"),
    [
        (("both", "both", "both"), (30e3, 0), (10e3, 1)),
        (("service", "strength", "strength"), (10e3, 2), (10e3, 1)),
        (("nothing", "nothing", "both"), (10e3, 2), (0.0, -1)),
        (("strength", "service", "service"), (30e3, 0), (0.0, -1)),
        (("service", "service", "nothing"), (0.0, -1), (0.0, -1)),
    ],
)
def test_only_combinations_for_strength_count_against_resistances(
    purposes: tuple[Purpose, ...], tension: tuple[float, int], compression: tuple[float, int]
) -> None:
    checks = checks_of(bar_under(*purposes), "A-B")
    for key, (demand, combination) in {"tension": tension, "compression": compression}.items():
        close(checks[key].demand, demand)
        assert checks[key].combination == combination


def two_bars(purpose: Purpose) -> Study:
    """Two bars of a given resistance of 16 kN each share 20 kN; losing one leaves it to the other."""
    points = {"A": (0, 0), "B": (0, 2), "P": (1, 1)}
    truss = build_truss(points, ["A-P", "B-P"], {"A": "xy", "B": "xy", "P": "y"})
    truss = made_of(truss, {}, Group("given", BAR, STEEL, tension=16e3, compression=16e3))
    pull = load_case(truss, "pull", P=(20e3, 0))
    combinations = [
        Combination("half", {"pull": 0.5}, purpose="strength"),
        Combination("all", {"pull": 1.0}, purpose=purpose),
    ]
    return ruled(truss, [pull], Rules(), combinations)


@pytest.mark.parametrize(
    ("purpose", "share", "over"),
    [("both", 1.0, True), ("strength", 1.0, True), ("service", 0.5, False), ("nothing", 0.5, False)],
)
def test_losses_too_are_held_against_combinations_for_strength_alone(
    purpose: Purpose, share: float, over: bool
) -> None:
    answers = answer(two_bars(purpose))
    for loss in answers.losses.each:
        assert loss.stable is not None and loss.stable.worst is not None
        close(loss.stable.worst.utilisation, share * 20 * sqrt(2) / 16)
        assert bool(loss.stable.over) == over
        assert loss.stable.worst.combination == int(share == 1.0)
    for member, other in ((0, 1), (1, 0)):
        (lost,) = [check for check in answers.checks.each[member] if check.key == "another's loss"]
        close(lost.demand, share * 20e3 * sqrt(2))
        assert (lost.others, lost.combination) == ((other,), int(share == 1.0))
        # the force before: half of it
        close(answers.checks.each[member][0].demand, share * 20e3 / sqrt(2))


def test_a_train_tells_where_it_stands_when_the_peak_occurs() -> None:
    """The bottom chord of a triangle bears L/4 over its height times the load with the axle in the middle."""
    points = {"L0": (0, 0), "M": (3, 0), "L1": (6, 0), "U": (3, 4)}
    truss = build_truss(points, ["L0-M", "M-L1", "L0-U", "U-L1", "M-U"], {"L0": "xy", "L1": "y"})
    truss = made_of(truss, {})
    study = build_study(truss, chord=["L0", "M", "L1"], axles=[(0, 8e3)])
    checks = checks_of(replace(study, rules=Rules(Plain())), "L0-M")
    close(checks["tension"].demand, 8e3 * 6 / 4 / 4)
    close(checks["tension"].position, 3.0)
    assert NOT_CHECKED in checks["tension"].unchecked
    assert (checks["tension"].direction, checks["tension"].combination) == (0, 0)
    assert checks["compression"].demand == 0


def test_only_members_that_loads_lie_on_or_travel_along_are_told_to_be_bent() -> None:
    points = {"L0": (0, 0), "M": (3, 0), "L1": (6, 0), "U": (3, 4)}
    truss = build_truss(points, ["L0-M", "M-L1", "L0-U", "U-L1", "M-U"], {"L0": "xy", "L1": "y"})
    study = build_study(made_of(truss, {}), chord=["L0", "M", "L1"], axles=[(0, 8e3)])
    study = replace(study, rules=Rules(Plain()))
    for name, bent in (("L0-M", True), ("M-L1", True), ("U-L1", False), ("M-U", False)):
        told = [text for check in all_checks_of(study, name) for text in check.unchecked]
        assert (NOT_CHECKED in told) == bent, name
    unborne = checks_of(study, "L0-M")["compression"]
    assert unborne.demand == 0 and NOT_CHECKED in unborne.unchecked


def test_checks_come_in_the_order_of_the_ladder_and_the_first_of_the_hardest_is_the_hardest() -> None:
    keys = [check.key for check in all_checks_of(bracket(), "V-T")]
    assert keys == sorted(keys, key=KEYS.index) and keys[:2] == ["tension", "compression"]
    one, two = Check("tension", "", 1, 2, 0.5), Check("compression", "", 1, 2, 0.5)
    unknown = Check("depth", "", 1, 2, np.nan)
    assert hardest((one, two, unknown)) is one
    assert hardest((unknown,)) is None
