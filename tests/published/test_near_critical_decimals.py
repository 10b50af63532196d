"""Critical forms written in a few decimals: they stand by arithmetic and are told to be near-critical.

E. D. Bolker & B. Roth, Pacific J. Math. 90(1), 27-44, 1980 (hexagon on a conic); A. Föppl, Das Fachwerk im
Raume, 1892 (even network dome; from memory). Rounding leaves the joints nearer to the critical form than
any shop can build, and a unit load puts hundreds to hundreds of thousands into a member.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import pytest

from solver.answers import Answers, answer
from solver.statics import examine
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_exactly, published
from tests.published.test_critical_forms import hexagon
from tests.published.test_critical_forms import regular as regular_hexagon
from tests.published.test_network_dome import regular as regular_dome


def told(truss: Truss, loads: Mapping[str, Any]) -> Answers:
    answers = answer(build_study(truss, [load_case(truss, **loads)]))
    agree_exactly(answers.sensitivity.near_critical, True)
    agree_exactly(any("near-critical" in notice for notice in answers.notices), True)
    return answers


@published("critical_in_decimals", "regular hexagon in three to six decimals: told to be near-critical")
@pytest.mark.parametrize(("digits", "turn"), [(3, 0.3), (4, 0.3), (5, 0.3), (6, 0.7)])
def test_a_regular_hexagon_in_few_decimals_is_told_to_be_near_critical(digits: int, turn: float) -> None:
    truss = hexagon(regular_hexagon(digits, turn)).truss
    agree_exactly(examine(truss).rank, 12)
    told(truss, {"1": (0, -1)})


@published("critical_in_decimals", "two bars nearly in one line: told to be near-critical, however flat")
@pytest.mark.parametrize("rise", ["0.003", "0.001", "0.0001", "0.00001"])
def test_two_bars_nearly_in_one_line_are_told_to_be_near_critical_however_flat(rise: str) -> None:
    joints = {"A": (0, 0), "B": (5, rise), "C": (10, 0)}
    told(build_truss(joints, ["A-B", "B-C"], {"A": "xy", "C": "xy"}), {"B": (0, -1)})


@published("critical_in_decimals", "one ring of eight in three to five decimals: told to be near-critical")
@pytest.mark.parametrize("digits", [3, 4, 5])
def test_an_even_ring_in_few_decimals_is_told_to_be_near_critical(digits: int) -> None:
    truss = regular_dome(8, digits, rings=1)
    agree_exactly(examine(truss).rank, 24 + 24)
    told(truss, {"1a": (0, 0, -1)})
