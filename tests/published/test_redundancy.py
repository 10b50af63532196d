"""What losing one member leaves of the ten-bar truss, the X-braced cantilever and the truss of 13 members.

The ten-bar truss is that of V. B. Venkayya, Comput. Struct. 1, 265-309, 1971, at the stress-only optimum of
R. T. Haftka & Z. Gürdal, Elements of Structural Optimization, 3rd ed., 1992 (from memory; data:
ten_bar.toml). The table of losses (share, worst elastic use) and the numbers of the cantilever were worked
out with dense matrices by the formulas n' = n - R_rj n_r / R_rr and R' = R - R[:, r] R[r, :] / R_rr apart
from the solver; no print of them was found.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.verdicts.ground import Ground
from tests.building import build_study, build_truss, load_case
from tests.published.forms import INCH, KIP, KSI, POUND
from tests.published.record import agree_as_printed, agree_exactly, agree_within, published, read

DATA = read("ten_bar")
STRENGTH = 25 * KSI


@cache
def ten_bars() -> Answers:
    """The stress-only optimum, each bar good for 25 ksi either way."""
    design, inch = DATA["designs"]["stress_only"], float(INCH)
    truss = build_truss(
        {name: [c * INCH for c in point] for name, point in DATA["joints"].items()},
        DATA["members"],
        {"5": "xy", "6": "xy"},
        areas=[float(area) * inch**2 for area in design["areas"].split()],
        modulus=DATA["modulus"] * KSI,
    )
    members = []
    for member in truss.members:
        good_for = STRENGTH * member.group.section.area
        members.append(replace(member, group=replace(member.group, tension=good_for, compression=good_for)))
    loads = {joint: [c * KIP for c in load] for joint, load in DATA["cases"][design["case"]].items()}
    truss = replace(truss, members=tuple(members))
    return answer(build_study(truss, [load_case(truss, **loads)]))


CANTILEVER = {"a": (0, 0), "b": (0, 1), "c": (1, 0), "d": (1, 1), "e": (2, 0), "f": (2, 1)}
BARS = ["a-c", "b-d", "c-d", "a-d", "b-c", "c-e", "d-f", "e-f", "c-f", "d-e"]
INNER, UPRIGHT = BARS.index("c-d"), BARS.index("e-f")
"""Bars 2 and 7, the two that bear nothing under equal loads at the tip."""


@cache
def cantilever() -> Answers:
    truss = build_truss(CANTILEVER, BARS, {"a": "xy", "b": "xy"})
    return answer(build_study(truss, [load_case(truss, e=(0, -1), f=(0, -1))]))


def ground(answers: Answers, member: int, key: str) -> Ground:
    (found,) = (one for one in answers.grounds[member] if one.key == key)
    return found


def use_without(bar: int) -> float:
    """The worst utilisation of any other bar of the ten once one (numbered from 1) is lost."""
    stable = ten_bars().losses.each[bar - 1].stable
    assert stable is not None and stable.worst is not None
    return stable.worst.utilisation


@published("ten_bar_shares", "share and worst elastic use of each lost bar of the stress-only optimum")
@pytest.mark.parametrize(
    ("bars", "shares", "least", "most"),
    [
        ((1, 3), "0.013 0.013", 66, 67),
        ((4, 9), "0.005 0.010", 57, 57),
        ((7, 8), "0.052 0.053", 33, 34),
    ],
)
def test_a_working_bar_of_the_ten_lost_puts_the_others_many_times_over(
    bars: tuple[int, ...], shares: str, least: float, most: float
) -> None:
    agree_as_printed(ten_bars().redundancy.shares[[bar - 1 for bar in bars]], shares)
    for bar in bars:
        agree_within(use_without(bar), (least + most) / 2, (most - least) / 2 + 0.5)
        agree_exactly(ten_bars().losses.each[bar - 1].outcome, "overload")


@published("ten_bar_shares", "share and worst elastic use of each lost thin bar of the stress-only optimum")
def test_a_thin_bar_of_the_ten_lost_hardly_shows() -> None:
    agree_as_printed(ten_bars().redundancy.shares[[1, 5, 9, 4]], "0.20 0.20 0.56 0.891")
    agree_as_printed([use_without(bar) for bar in (2, 6, 10, 5)], "1.02 1.02 1.02 1.00")


@published("ten_bar_shares", "bar 5 of the optimum: force in this case, force taken over, capacity")
def test_bar_five_bears_pounds_and_would_take_over_more_than_sixty_times_its_capacity() -> None:
    answers = ten_bars()
    agree_as_printed(abs(answers.responses.forces.cases[4, 0]) / POUND, "5.5")
    agree_as_printed(ground(answers, 4, "takeover").number / KIP, "167")
    capacity = answers.study.truss.members[4].group.tension
    assert capacity is not None
    agree_as_printed(capacity / KIP, "2.5")


@published("redundancy_shares", "what the inner zero upright of the cantilever takes over")
def test_the_inner_upright_takes_over_2_69_of_a_lost_chord() -> None:
    found = ground(cantilever(), INNER, "takeover")
    agree_as_printed(found.number, "2.69")
    agree_exactly(found.members, (BARS.index("a-c"),))


@published("redundancy_shares", "members left without a back-up once the tip upright is gone, as a ground")
def test_the_tip_upright_is_in_series_with_the_four_others_of_its_panel() -> None:
    found = ground(cantilever(), UPRIGHT, "series")
    agree_exactly({BARS[member] for member in found.members}, {"c-e", "d-f", "c-f", "d-e"})


@published("redundancy_shares", "losing either zero upright of the cantilever under its case")
def test_losing_a_zero_upright_changes_neither_force_nor_deflection_in_its_case() -> None:
    for bar in (INNER, UPRIGHT):
        stable = cantilever().losses.each[bar].stable
        assert stable is not None
        agree_within([stable.growth, stable.deflection_ratio], [0.0, 1.0], 1e-12)
        agree_exactly(stable.grown, -1)


@published("redundancy_shares", "losing the inner upright where only one joint of the tip is loaded")
def test_losing_the_inner_upright_lets_the_tip_sink_more_under_one_load_there() -> None:
    truss = cantilever().study.truss
    loaded = answer(build_study(truss, [load_case(truss, e=(0, -1))]))
    stable = loaded.losses.each[INNER].stable
    assert stable is not None
    agree_as_printed(100 * (stable.deflection_ratio - 1), "0.14")


@published("redundancy_shares", "pairs in series and members that share, of the cantilever")
def test_sixteen_pairs_of_the_cantilever_are_in_series_and_all_ten_bars_share() -> None:
    sharing = cantilever().losses.sharing
    pairs = {frozenset((bar, other)) for bar in range(10) for other in sharing.in_series(bar)}
    agree_exactly(len(pairs), 16)
    agree_exactly({len(sharing.part_of(bar)) for bar in range(10)}, {9})


@published("moler_thirteen", "what member 7 props: the joint that moves and the chord force through it")
def test_member_seven_of_the_thirteen_props_a_chord_of_thirty() -> None:
    joints = {"1": (0, 0), "2": (1, 0), "3": (1, 1), "4": (2, 1), "5": (2, 0), "6": (3, 0), "7": (3, 1)}
    members = ["1-3", "1-2", "2-3", "3-4", "3-5", "2-5", "4-5", "4-7", "5-7", "5-6", "6-7", "7-8", "6-8"]
    truss = build_truss({**joints, "8": (4, 0)}, members, {"1": "xy", "8": "y"})
    case = load_case(truss, **{"2": (0, -10), "5": (0, -15), "6": (0, -20)})
    answers = answer(build_study(truss, [case]))
    found = answers.grounds[6][0]
    agree_exactly(found.key, "prop")
    agree_as_printed(found.number, "-30")
    agree_exactly([truss.joint_names[joint] for joint in found.joints], ["4"])
    agree_exactly(answers.losses.each[6].outcome, "tips")
    agree_exactly(np.count_nonzero(answers.removals.mechanism), 13)
