"""An X-braced cantilever of two panels and the ten-bar truss: forces and redundancy shares.

The truss of ten bars is that of V. B. Venkayya, Weight minimization of structural systems, Comput.
Struct. 1, 265-309, 1971 (title from memory). The shares were worked out with dense matrices from
R = I - A^T K^-1 A diag(k); no print of them was found. Statements on zero bars follow from them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from math import sqrt

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.cases import LoadCase
from solver.statics import examine
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_as_printed, agree_exactly, agree_within, published

JOINTS = {"a": (0, 0), "b": (0, 1), "c": (1, 0), "d": (1, 1), "e": (2, 0), "f": (2, 1)}
MEMBERS = ["a-c", "b-d", "c-d", "a-d", "b-c", "c-e", "d-f", "e-f", "c-f", "d-e"]
SHARES = "0.1169 0.1169 0.1975 0.3307 0.3307 0.1048 0.1048 0.1048 0.2964 0.2964"
TEN_BAR_ORDER = ["b-d", "d-f", "a-c", "c-e", "c-d", "e-f", "b-c", "a-d", "d-e", "c-f"]
"""The same truss as the ten-bar truss numbers its bars 1 to 10."""


def cantilever(areas: float | Sequence[float] = 1.0, misfit: str | None = None) -> Answers:
    truss = build_truss(JOINTS, MEMBERS, {"a": "xy", "b": "xy"}, areas=areas, expansion=1.0)
    tip = load_case(truss, e=(0, -1), f=(0, -1))
    short = {} if misfit is None else {MEMBERS.index(misfit): -1.0}
    return answer(build_study(truss, [tip, LoadCase("short", misfit=short)]))


@published("redundancy_shares", "two-panel cantilever: forces under equal tip loads")
def test_equal_tip_loads_leave_both_uprights_at_zero() -> None:
    answers = cantilever()
    found = answers.responses.forces.cases[:, 0]
    agree_as_printed(found, "-3 3 0 -1.414 1.414 -1 1 0 -1.414 1.414")
    agree_within(found, [-3, 3, 0, -sqrt(2), sqrt(2), -1, 1, 0, -sqrt(2), sqrt(2)], 1e-13)


@published("redundancy_shares", "two-panel cantilever: ten shares, equal EA")
def test_redundancy_shares_of_the_cantilever_are_those_of_the_matrix() -> None:
    agree_as_printed(cantilever().redundancy.shares, SHARES)
    agree_within(cantilever().redundancy.shares.sum(), 2.0, 1e-12)


@published("ten_bar_shares", "ten shares at the areas of the stress-only optimum")
def test_redundancy_shares_of_the_ten_bar_optimum_are_those_of_the_matrix() -> None:
    optimum = [7.94, 0.1, 8.06, 3.94, 0.1, 0.1, 5.74, 5.57, 5.57, 0.1]
    areas = [optimum[TEN_BAR_ORDER.index(name)] for name in MEMBERS]
    shares = cantilever(areas).redundancy.shares[[MEMBERS.index(name) for name in TEN_BAR_ORDER]]
    agree_as_printed(shares, "0.0132 0.1994 0.0130 0.0051 0.8913 0.1994 0.0516 0.0531 0.0101 0.5639")
    agree_within(shares.sum(), 2.0, 1e-12)


@published("redundancy_shares", "pairs of members that can each be spared and not both")
def test_sixteen_of_forty_five_pairs_are_a_mechanism_together_and_no_member_alone_is() -> None:
    truss = cantilever().study.truss

    def stands(without: tuple[int, ...]) -> bool:
        members = tuple(m for i, m in enumerate(truss.members) if i not in without)
        return examine(replace(truss, members=members)).mechanisms == 0

    agree_exactly([stands((i,)) for i in range(10)], [True] * 10)
    agree_exactly(cantilever().removals.mechanism.tolist(), [False] * 10)
    pairs = list(combinations(range(10), 2))
    agree_exactly((len(pairs), sum(not stands(pair) for pair in pairs)), (45, 16))


@published("redundancy_shares", "zero upright made too short: pull in itself and in the diagonals")
def test_a_zero_upright_made_too_short_pulls_itself_and_pushes_the_inner_diagonals() -> None:
    found = cantilever(misfit="c-d").responses.forces.cases[:, 1]
    agree_as_printed(found[MEMBERS.index("c-d")], "0.1975")
    agree_as_printed(found[[MEMBERS.index("a-d"), MEMBERS.index("b-c")]], "-0.148 -0.148")


@published("redundancy_shares", "a zero that is a balance of stiffness: thrice the area elsewhere")
def test_the_zero_of_the_inner_upright_is_a_balance_of_stiffness() -> None:
    found = cantilever([3.0] + [1.0] * 9).responses.forces.cases[:, 0]
    agree_as_printed(found[MEMBERS.index("c-d")], "-0.227")


@published("redundancy_shares", "what zero and working bars carry once another bar is gone")
@pytest.mark.parametrize(("gone", "expected"), [("c-d", "unchanged"), ("e-f", "unchanged"), ("a-c", "2.69")])
def test_losing_a_zero_bar_changes_nothing_and_losing_a_chord_wakes_the_upright(
    gone: str, expected: str
) -> None:
    rest = [name for name in MEMBERS if name != gone]
    truss = build_truss(JOINTS, rest, {"a": "xy", "b": "xy"})
    answers = answer(build_study(truss, [load_case(truss, e=(0, -1), f=(0, -1))]))
    found = answers.responses.forces.cases[:, 0]
    if expected == "unchanged":
        before = cantilever().responses.forces.cases[:, 0]
        agree_within(found, [before[MEMBERS.index(name)] for name in rest], 1e-13)
        return
    agree_as_printed(abs(found[rest.index("c-d")]), expected)


@published("redundancy_shares", "members left without a back-up once the zero upright at the tip is gone")
def test_without_the_zero_upright_at_the_tip_four_members_lose_their_back_up() -> None:
    rest = [name for name in MEMBERS if name != "e-f"]
    truss = build_truss(JOINTS, rest, {"a": "xy", "b": "xy"})
    answers = answer(build_study(truss, [load_case(truss, e=(0, -1))]))
    alone = {name for name, share in zip(rest, answers.redundancy.shares, strict=True) if share == 0}
    agree_exactly(alone, {"c-e", "d-f", "c-f", "d-e"})
    agree_within(np.sum(answers.redundancy.shares), 1.0, 1e-12)
