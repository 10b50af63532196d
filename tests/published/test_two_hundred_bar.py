"""The 200-bar plane truss: published designs, and ten idle bars that are the only ones it cannot lose.

L. Lamberti, Comput. Struct. 86, 1936-1953, 2008, and K. S. Lee & Z. W. Geem, Comput. Struct. 82, 781-798,
2004 (from memory, recomputed); data in two_hundred_bar.toml. That bars 25, 63, 101, 139, 177 carry nothing
and bars 18, 56, 94, 132, 170 what is laid on their own joint follows by looking at joints.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from functools import cache
from typing import Any

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.statics import examine
from tests.building import build_study, build_truss, load_case
from tests.published.forms import INCH, KIP, KSI, POUND, half_unit, rounding_of_weight
from tests.published.record import agree_as_printed, agree_exactly, agree_within, published, read

DATA = read("two_hundred_bar")
ROWS = 11
NEVER_LOADED = [25, 63, 101, 139, 177]
PUSHED_BY_WIND = [18, 56, 94, 132, 170]


def rows() -> list[list[int]]:
    """Node numbers row by row from the top: 5 and 9 by turns."""
    found, first = [], 1
    for row in range(ROWS):
        width = 9 if row % 2 else 5
        found.append(list(range(first, first + width)))
        first += width
    return found


def nodes() -> dict[str, tuple[Any, Any]]:
    """All 77 nodes; the two supports lie 360 in below the last row."""
    places = {}
    for row, numbers in enumerate(rows()):
        step = 120 if row % 2 else 240
        for place, number in enumerate(numbers):
            places[str(number)] = (step * place * INCH, (360 + 144 * (ROWS - 1 - row)) * INCH)
    return places | {"76": (240 * INCH, 0 * INCH), "77": (720 * INCH, 0 * INCH)}


def between(upper: list[int], lower: list[int]) -> list[str]:
    """The 13 bars between two rows from left to right: verticals and both diagonals of every panel."""
    wide, narrow = (upper, lower) if len(upper) == 9 else (lower, upper)
    bars = []
    for place, post in enumerate(narrow):
        for neighbour in (2 * place - 1, 2 * place, 2 * place + 1):
            if 0 <= neighbour < 9:
                ends = (post, wide[neighbour])
                bars.append(f"{min(ends)}-{max(ends)}")
    return bars


def bars() -> list[str]:
    """All 200 bars by number."""
    grid = rows()
    found = []
    for row, numbers in enumerate(grid):
        found += [f"{a}-{b}" for a, b in itertools.pairwise(numbers)]
        if row + 1 < ROWS:
            found += between(numbers, grid[row + 1])
    return [*found, "71-76", "72-76", "73-76", "73-77", "74-77", "75-77"]


def groups() -> list[list[int]]:
    """Bar numbers of the 29 groups."""
    verticals = [18, 25, 56, 63, 94, 101, 132, 139, 170, 177]
    diagonals_above = [6, 7, 9, 10, 12, 13, 15, 16, 27, 28, 30, 31, 33, 34, 36, 37]
    head = [[1, 2, 3, 4], [5, 8, 11, 14, 17], list(range(19, 25)), verticals, [26, 29, 32, 35, 38]]
    diagonals = [44, 45, 47, 48, 50, 51, 53, 54, 65, 66, 68, 69, 71, 72, 74, 75]
    storey = [
        *[[39, 40, 41, 42], [43, 46, 49, 52, 55], list(range(57, 63)), [64, 67, 70, 73, 76]],
        diagonals,
    ]
    repeated = [[bar + shift for bar in group] for shift in (0, 38, 76, 114) for group in storey]
    foot = [[191, 192, 193, 194], [195, 197, 198, 200], [196, 199]]
    return [*head, diagonals_above, *repeated, *foot]


def loads() -> list[dict[str, tuple[float, float]]]:
    """Wind from the left, weight, and both."""
    wind = {str(i): (KIP, 0.0) for i in (1, 6, 15, 20, 29, 34, 43, 48, 57, 62, 71)}
    grid = rows()
    loaded = [n for row, numbers in enumerate(grid) for n in (numbers[::2] if row % 2 else numbers)]
    weight = {str(i): (0.0, -10 * KIP) for i in loaded}
    both = {name: (wind.get(name, (0.0, 0.0))[0], weight.get(name, (0.0, 0.0))[1]) for name in wind | weight}
    return [wind, weight, both]


def analyse(areas: Sequence[float]) -> Answers:
    inch = float(INCH)
    truss = build_truss(
        nodes(),
        bars(),
        {"76": "xy", "77": "xy"},
        areas=[area * inch**2 for area in areas],
        modulus=DATA["modulus"] * KSI,
        unit_weight=DATA["density"] * POUND / inch**3,
    )
    cases = [load_case(truss, f"case {i + 1}", **case) for i, case in enumerate(loads())]
    return answer(build_study(truss, cases))


@cache
def analyse_design(name: str) -> Answers:
    areas = np.zeros(200)
    for group, area in zip(groups(), DATA["designs"][name]["areas"].split(), strict=True):
        areas[np.array(group) - 1] = float(area)
    return analyse(areas.tolist())


@cache
def analyse_equal() -> Answers:
    return analyse([1.0] * 200)


def hold(name: str) -> None:
    design, answers = DATA["designs"][name], analyse_design(name)
    truss = answers.study.truss
    weight = truss.weights.sum() / POUND
    agree_within(weight, float(design["weight"]), half_unit(design["weight"]))
    lengths = np.array([truss.lengths[np.array(group) - 1].sum() for group in groups()]) / float(INCH)
    bound = rounding_of_weight(design["areas"], lengths, DATA["density"], DATA["least"], design["published"])
    agree_within(weight, float(design["published"]), bound)
    areas = np.array([m.group.section.area for m in truss.members])
    worst = np.abs(answers.responses.forces.cases).max(axis=1) / areas / KSI
    agree_as_printed(worst.max(), design["stress"])


@published("benchmark_analysis", "200-bar truss: 77 nodes, 200 bars in 29 groups, 55 loaded nodes")
def test_nodes_bars_groups_and_loads_of_the_200_bar_truss_add_up() -> None:
    agree_exactly((len(nodes()), len(set(bars())), len(groups()), len(loads()[1])), (77, 200, 29, 55))
    agree_exactly(sorted(bar for group in groups() for bar in group), list(range(1, 201)))
    truss = analyse_equal().study.truss
    agree_as_printed(truss.lengths.sum() / float(INCH), DATA["analysis"]["length"])
    agree_as_printed(truss.weights.sum() / POUND, DATA["analysis"]["weight_at_one"])


@published("lamberti", "200-bar design: weight and largest stress of three cases")
def test_the_design_of_lamberti_weighs_what_it_says_and_is_at_its_limit() -> None:
    hold("lamberti")


@published("lee_geem", "200-bar design: weight and largest stress of three cases")
def test_the_200_bar_design_by_harmony_search_weighs_what_it_says_and_is_over_its_limit() -> None:
    hold("lee_geem")


@published("benchmark_analysis", "200-bar truss: ten bars by looking at joints, three cases, three designs")
@pytest.mark.parametrize("name", ["equal", *DATA["designs"]])
def test_ten_bars_carry_only_what_is_laid_on_their_own_joint(name: str) -> None:
    answers = analyse_equal() if name == "equal" else analyse_design(name)
    forces = answers.responses.forces.cases / KIP
    scale = np.abs(forces).max()
    agree_within(forces[np.array(NEVER_LOADED) - 1], np.zeros((5, 3)), 1e-12 * scale)
    pushed = np.tile([-1.0, 0.0, -1.0], (5, 1))
    agree_within(forces[np.array(PUSHED_BY_WIND) - 1], pushed, 1e-12 * scale)
    agree_within(answers.forces.zero_share[np.array(NEVER_LOADED) - 1], np.ones(5), 0.0)
    agree_exactly((np.flatnonzero(answers.forces.still) + 1).tolist(), NEVER_LOADED)


@published("benchmark_analysis", "200-bar truss: redundancy 50, and which of 200 removals are mechanisms")
def test_exactly_the_ten_idle_bars_cannot_be_lost_from_a_truss_of_fifty_redundancies() -> None:
    answers = analyse_equal()
    agree_exactly((answers.statics.static_indeterminacy, answers.statics.self_stress_states), (50, 50))
    agree_within(answers.redundancy.shares.sum(), 50.0, 50e-12)
    needed = (np.flatnonzero(answers.removals.mechanism) + 1).tolist()
    agree_exactly(needed, sorted(NEVER_LOADED + PUSHED_BY_WIND))
    agree_exactly((np.flatnonzero(answers.redundancy.shares == 0) + 1).tolist(), needed)


@published("benchmark_analysis", "200-bar truss: 200 removals examined one by one")
def test_taking_out_each_bar_in_turn_gives_the_same_ten_mechanisms() -> None:
    names = bars()
    without = [
        examine(build_truss(nodes(), names[:i] + names[i + 1 :], {"76": "xy", "77": "xy"})).mechanisms
        for i in range(200)
    ]
    expected = [int(i + 1 in NEVER_LOADED + PUSHED_BY_WIND) for i in range(200)]
    agree_exactly(without, expected)
