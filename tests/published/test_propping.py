"""What a prop must have, against print and closed form.

G. Winter, Trans. ASCE 125, 1960; J. A. Yura, Eng. J. AISC 38(1), 2001; SSRC Guide, 4th ed.; S. Timoshenko &
J. Gere, Theory of Elastic Stability, 2nd ed. 1961; AISC 360-22 Appendix 6 and its commentary; AISC LRFD 1999,
section C3; EN 1993-1-1:2005, 5.3.3. Forces and lengths of 1 show the coefficients of the print.
"""

from __future__ import annotations

from fractions import Fraction
from math import inf, pi

import numpy as np
import pytest

from solver.propping.aisc_appendix_6 import (
    AISC_360_22,
    LRFD_1999,
    Edition,
    Method,
    PanelBracing,
    PointBracing,
)
from solver.propping.critical import Beam, critical_factor, needed_stiffness
from solver.propping.demand import Demand, HeldPoint
from solver.propping.en_1993_1_1_bracing import InitialBow, Splice, reduction
from solver.propping.winter import (
    TwoPercent,
    Winter,
    WinterPanel,
    ideal_in_line,
    ideal_panel_stiffness,
    ideal_stiffness,
    prop_force,
)
from tests.published.record import agree_as_printed, agree_exactly, agree_within, published

MIDDLE = HeldPoint((1.0, 1.0), (1.0, 1.0), place=1)
"""The middle of two equal bars, each of length 1 m and pushed by 1 N."""


def line(joints: int, *, alike: int = 1) -> HeldPoint:
    """The first held joint of a line with so many between its ends, bars of 1 m pushed by 1 N."""
    return HeldPoint((1.0,) * (joints + 1), (1.0,) * (joints + 1), place=1, alike=alike)


def of(demand: Demand) -> tuple[float, float]:
    """Force [N] and stiffness [N/m] of a demand that has both."""
    assert demand.force is not None and demand.stiffness is not None
    return demand.force, demand.stiffness


def force(demand: Demand) -> float:
    """The force [N] of a demand that has one."""
    assert demand.force is not None
    return demand.force


@published("winter_1960", "ideal stiffness of 1, 2, 3 and many equally spaced braces over P / Lb")
def test_the_ideal_stiffness_of_equally_spaced_braces_is_that_of_winter() -> None:
    agree_as_printed([ideal_stiffness(1.0, 1.0, n) for n in (1, 2, 3)], "2 3 3.41")
    agree_as_printed([ideal_stiffness(1.0, 1.0, n) for n in (3, 4, 5)], "3.4142 3.6180 3.7321")
    agree_as_printed(ideal_stiffness(1.0, 1.0, 1000), "4.0000")


@published("winter_1960", "the same from the chain of rigid links itself")
def test_the_chain_of_rigid_links_gives_the_ideal_stiffness_of_winter() -> None:
    found = [ideal_in_line((1.0,) * (n + 1), (1.0,) * (n + 1)) for n in (1, 2, 3, 4, 5)]
    agree_as_printed(found, "2 3 3.4142 3.6180 3.7321")


@published("winter_1960", "ideal stiffness of a relative brace: P / Lb")
def test_the_ideal_stiffness_of_a_panel_is_the_compression_over_its_length() -> None:
    agree_within(ideal_panel_stiffness(120e3, 4.0), 30e3, 0)
    agree_within(of(WinterPanel().demand(MIDDLE))[1] / 2, 1.0, 0)


@published(
    "yura_2001", "brace force of a bow of Lb / 500 at twice, ten times the ideal stiffness, and rigid [%]"
)
def test_the_brace_forces_of_a_bowed_column_are_those_of_yura() -> None:
    ideal = ideal_stiffness(1.0, 1.0)
    found = [100 * prop_force(ideal, times * ideal, 1 / 500) for times in (2, 10, inf)]
    agree_as_printed(found, "0.8 0.44 0.40")
    agree_as_printed(100 * of(Winter().demand(MIDDLE))[0], "0.8")


@published("yura_2001", "one brace at mid-height: 2 Pe / Lb, four times the load of the bar without it")
def test_a_column_held_at_mid_height_by_twice_pe_over_lb_bears_four_times_as_much() -> None:
    euler = pi**2  # of a span of 1 m with EI of 1 N m²
    agree_as_printed(8 * ideal_stiffness(euler, 1.0), "157.914")  # over EI / L³, L = 2 spans
    ideal = needed_stiffness(beam(elements=32), (1,), euler)
    assert ideal is not None
    agree_as_printed(8 * ideal, "157.914")
    agree_as_printed([loads(share * ideal) for share in (0, 1, 1.2)], "1.0000 4.0000 4.0000")


@published("ssrc_guide", "brace force at twice the ideal stiffness, one brace and many [%]; 2 % as custom")
def test_the_two_per_cent_rule_rounds_up_what_one_and_many_braces_need() -> None:
    one, many = (100 * of(Winter().demand(line(n)))[0] for n in (1, 1000))
    agree_as_printed([one, many], "0.8 1.6")
    agree_within(force(TwoPercent().demand(line(1000))), 0.02, 1e-15)


def beam(elements: int = 8) -> Beam:
    """Two spans of 1 m pushed by 1 N, EI of 1 N m²."""
    return Beam((1.0, 1.0), (1.0, 1.0), (-1.0, -1.0), elements)


def loads(prop: float) -> float:
    """P / PE of the two spans together with a prop [N/m] in the middle."""
    found = critical_factor(beam(elements=32), np.array([inf, prop, inf]))
    assert found is not None
    return found / (pi**2 / 4)


RATIOS = [1.1, 1.25, 1.5, 2, 2.5, 3, 3.5, 3.9]
STIFFNESSES = "4.8785 12.2274 24.5643 49.6159 75.2737 101.7019 129.1340 152.0281"


@published("timoshenko_gere_prop", "stiffness at mid-length for P / PE of 1.1 to 3.9, k L3 / EI")
def test_the_stiffness_that_a_middle_prop_needs_for_a_load_is_that_of_the_closed_form() -> None:
    found = [needed_stiffness(beam(elements=32), (1,), ratio * pi**2 / 4) for ratio in RATIOS]
    agree_as_printed([8 * k for k in found if k is not None], STIFFNESSES)


@published("timoshenko_gere_prop", "P / PE at .1 .25 .5 .75 .9 of the ideal stiffness")
def test_the_load_at_shares_of_the_ideal_stiffness_is_that_of_the_closed_form() -> None:
    found = [loads(share * 2 * pi**2) for share in (0.1, 0.25, 0.5, 0.75, 0.9)]
    # by halving in 25 digits: 1.3224599, 1.7989722, 2.5706516, 3.3075047, 3.7290154
    agree_as_printed(found, "1.32246 1.79897 2.57065 3.30750 3.72902")


@published("timoshenko_gere_prop", "P / PE at the stiffnesses of the table")
def test_the_load_at_the_stiffnesses_of_the_table_is_the_one_they_stand_for() -> None:
    found = [loads(float(text) / 8) for text in STIFFNESSES.split()]
    agree_within(found, RATIOS, 1e-5)


KINDS: list[tuple[Edition, Method, tuple[str, str], tuple[str, str]]] = [
    (AISC_360_22, "LRFD", ("0.005", "2.667"), ("0.01", "10.667")),
    (AISC_360_22, "ASD", ("0.005", "4.00"), ("0.01", "16.00")),
]


@published("aisc_360_22_bracing", "panel and point: strength over Pr, stiffness over Pr / Lbr, LRFD and ASD")
@pytest.mark.parametrize(("edition", "method", "panel", "point"), KINDS)
def test_columns_are_braced_as_appendix_6_of_2022_asks(
    edition: Edition, method: Method, panel: tuple[str, str], point: tuple[str, str]
) -> None:
    agree_as_printed(of(PanelBracing(method, edition).demand(MIDDLE)), panel)
    agree_as_printed(of(PointBracing(method, edition).demand(MIDDLE)), point)


@published("aisc_360_22_bracing", "commentary: factor 8 lowered by (2n - 1) / (2n); twice (4 - 2/n) over phi")
@pytest.mark.parametrize("braces", [1, 2, 3, 4, 10])
def test_the_number_of_braces_lowers_the_stiffness_as_the_commentary_allows(braces: int) -> None:
    wanted = Fraction(2) * (4 - Fraction(2, braces)) / Fraction(3, 4)
    found = of(PointBracing("LRFD", by_number=True).demand(line(braces)))[1]
    agree_within(found, float(wanted), 1e-12)


@published("aisc_lrfd_1999_bracing", "relative and nodal: strength over Pu, stiffness over Pu / Lb")
def test_the_edition_of_1999_asks_four_thousandths_of_a_panel() -> None:
    agree_as_printed(of(PanelBracing("LRFD", LRFD_1999).demand(MIDDLE)), "0.004 2.667")
    agree_as_printed(of(PointBracing("LRFD", LRFD_1999).demand(MIDDLE)), "0.01 10.667")


@published("aisc_lrfd_1999_bracing", "equations named: C3-3 to C3-6")
def test_the_steps_of_1999_name_its_equations() -> None:
    panel, point = (rule("LRFD", LRFD_1999).demand(MIDDLE).steps for rule in (PanelBracing, PointBracing))
    agree_exactly([step.clause.split()[-1] for step in (*panel, *point)], ["C3-3", "C3-4", "C3-5", "C3-6"])


@published("aisc_360_22_bracing", "equations named: A-6-1 to A-6-4, a of LRFD and b of ASD")
def test_the_steps_of_2022_name_its_equations() -> None:
    for method, letter in (("LRFD", "a"), ("ASD", "b")):
        panel, point = (rule(method).demand(MIDDLE).steps for rule in (PanelBracing, PointBracing))  # type: ignore[arg-type]
        told = [step.clause.split()[-1] for step in (*panel, *point)]
        agree_exactly(told, ["A-6-1", f"A-6-2{letter}", "A-6-3", f"A-6-4{letter}"])


MEMBERS = (1, 2, 3, 5, 8, 10, 20)


@published("en_1993_1_1_bracing", "alpha_m of 1 to 20 members")
def test_the_reduction_by_the_number_of_members_is_that_of_the_standard() -> None:
    agree_as_printed([reduction(m) for m in MEMBERS], "1 .8660 .8165 .7746 .7500 .7416 .7246")


@published("en_1993_1_1_bracing", "q_d L over the compression of all members, delta_q = 0: 1.6 % alpha_m")
def test_a_firm_bracing_bears_one_and_six_tenths_per_cent_along_its_whole_span() -> None:
    rule = InitialBow()
    found = []
    for members in (1, 2, 5, 10):
        # of two bars of 1 m the middle joint bears half of the span's whole load
        held = HeldPoint((1.0, 1.0), (1.0, 1.0), place=1, alike=members)
        found.append(100 * 2 * force(rule.demand(held)) / members)
    agree_as_printed(found, "1.600 1.386 1.239 1.187")


@published("en_1993_1_1_bracing", "local force at a splice: alpha_m N_Ed / 100 by each member")
def test_a_splice_asks_a_hundredth_of_the_compression() -> None:
    found = [100 * force(Splice().demand(line(1, alike=m))) / m for m in MEMBERS]
    agree_as_printed(found, "1 .8660 .8165 .7746 .7500 .7416 .7246")
