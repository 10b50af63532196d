"""Statically indeterminate panels and fans with closed forms.

S. Timoshenko, Strength of Materials, Part I (three bars; from memory, recomputed); lecture note
"Statically indeterminant truss (principle of least work)" (square panel; seen, recomputed); J. M. Gere &
B. J. Goodno, Mechanics of Materials, problems 2.12-5 and 2.12-6 (plastic loads; seen, recomputed);
R. T. Haftka & Z. Gürdal, Elements of Structural Optimization, 3rd ed., 1992, ch. 3 (three-bar truss).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import cos, pi, radians, sqrt, tan

import numpy as np
import pytest
from scipy.optimize import linprog

from solver.answers import Answers, answer
from solver.cases import LoadCase
from solver.statics import equilibrium_matrix
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_as_printed, agree_relatively, agree_within, published

SQUARE = {"A": (0, 0), "B": (0, 1), "C": (1, 1), "D": (1, 0)}
PANEL = ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D"]


def forces(answers: Answers, case: int = 0) -> np.ndarray:
    return answers.responses.forces.cases[:, case]


def fan(places: Sequence[float], depth: float, areas: float | Sequence[float] = 1.0) -> Truss:
    """Bars from ceiling joints at `places` to one joint at (0, -depth)."""
    joints = {f"T{i}": (x, 0) for i, x in enumerate(places)} | {"P": (0, -depth)}
    members = [f"T{i}-P" for i in range(len(places))]
    return build_truss(joints, members, {f"T{i}": "xy" for i in range(len(places))}, areas=areas)


def three_bars(degrees: float) -> Answers:
    reach = tan(radians(degrees))
    truss = fan([-reach, 0, reach], 1.0)
    return answer(build_study(truss, [load_case(truss, P=(0, -1))]))


def square_panel() -> Answers:
    """A pinned, D on a roller; P = 1 at C along +x, and BD made 1 too short; EA = 1, L = 1."""
    truss = build_truss(SQUARE, PANEL, {"A": "xy", "D": "y"})
    short = LoadCase("short", misfit={PANEL.index("B-D"): -1.0})
    return answer(build_study(truss, [load_case(truss, C=(1, 0)), short]))


@published("timoshenko_strength", "middle and outer force of three bars at 30, 45 and 60 degrees")
@pytest.mark.parametrize(
    ("degrees", "printed"), [(30, "0.43496 0.32622"), (45, "0.58579 0.29289"), (60, "0.80000 0.20000")]
)
def test_three_bars_share_a_load_as_in_timoshenko(degrees: int, printed: str) -> None:
    found = forces(three_bars(degrees))
    agree_as_printed(found[[1, 0]], printed)
    agree_as_printed(found[[1, 2]], printed)


@published("timoshenko_strength", "middle and outer force of three bars, closed form")
@pytest.mark.parametrize("degrees", [15, 30, 45, 60, 75])
def test_three_bars_share_a_load_by_the_cube_of_the_cosine(degrees: int) -> None:
    c = cos(radians(degrees))
    middle, outer = 1 / (1 + 2 * c**3), c**2 / (1 + 2 * c**3)
    agree_relatively(forces(three_bars(degrees)), [outer, middle, outer], 1e-12)


@published("redundancy_shares", "three bars at five angles: R = 2c^3/(1+2c^3) and 1/(2(1+2c^3))")
@pytest.mark.parametrize("degrees", [15, 30, 45, 60, 75])
def test_redundancy_shares_of_three_bars_are_those_of_the_closed_form(degrees: int) -> None:
    c = cos(radians(degrees))
    middle, side = 2 * c**3 / (1 + 2 * c**3), 1 / (2 * (1 + 2 * c**3))
    agree_relatively(three_bars(degrees).redundancy.shares, [side, middle, side], 1e-12)


@published("haftka_fan", "three-bar truss at 45 degrees: force of the middle bar, first yield, limit load")
def test_the_three_bar_truss_yields_at_1_7071_and_collapses_at_2_4142_times_the_yield_force() -> None:
    answers = three_bars(45)
    middle = forces(answers)[1]
    limit = collapse_factor(answers.study.truss, np.ones(3))
    agree_as_printed([middle, 1 / middle, limit], "0.5858 1.7071 2.4142")


@published("least_work_note", "square panel: force in BD, self-stress flexibility, load term")
def test_the_square_panel_agrees_with_the_note_on_least_work() -> None:
    answers = square_panel()
    diagonal = PANEL.index("B-D")
    loaded, pull = forces(answers)[diagonal], forces(answers, 1)[diagonal]
    # a diagonal short by 1 pulls EA / (4.83 L), and the load term is force x flexibility
    agree_as_printed([loaded, 1 / pull, -loaded / pull], "-0.56 4.83 2.707")
    agree_relatively([1 / pull], [2 + 2 * sqrt(2)], 1e-12)


@published("x_braced_square", "all six forces of the square panel")
def test_the_forces_of_the_square_panel_follow_from_one_state_of_self_stress() -> None:
    found = forces(square_panel())
    agree_as_printed(found, "0.3964 0.3964 -0.6036 0.3964 0.8536 -0.5607")
    diagonal = -(1 + 1 / sqrt(2) + 1) / (2 + 2 * sqrt(2))
    side = -diagonal / sqrt(2)
    agree_relatively(found, [side, side, side - 1, side, sqrt(2) + diagonal, diagonal], 1e-12)


@published("redundancy_shares", "square panel: shares of sides and diagonals")
def test_redundancy_shares_of_the_square_panel_follow_from_its_self_stress() -> None:
    flexibility = 2 + 2 * sqrt(2)
    side, diagonal = 0.5 / flexibility, sqrt(2) / flexibility
    shares = square_panel().redundancy.shares
    agree_relatively(shares, [side] * 4 + [diagonal] * 2, 1e-12)
    agree_as_printed(shares, "0.1036 0.1036 0.1036 0.1036 0.2929 0.2929")


@published("x_braced_square", "load at a corner, second support a roller or a pin")
@pytest.mark.parametrize(
    ("support", "printed"),
    [
        ("y", "0.50000 -0.50000 -0.50000 0.50000 0.70711 -0.70711"),
        ("xy", "0 -0.44224 -0.44224 0.55776 0.62543 -0.78879"),
    ],
)
def test_a_second_pin_takes_the_force_out_of_the_bar_between_the_supports(support: str, printed: str) -> None:
    joints = {"A": (0, 0), "B": (1, 0), "C": (1, 1), "D": (0, 1)}
    truss = build_truss(joints, PANEL, {"A": "xy", "B": support})
    answers = answer(build_study(truss, [load_case(truss, D=(1, 0))]))
    agree_as_printed(forces(answers), printed)


def collapse_factor(truss: Truss, strengths: np.ndarray) -> float:
    """The largest factor of 1 down at P that forces within the strengths can balance (static theorem)."""
    matrix = equilibrium_matrix(truss).toarray()[-2:]
    balance = np.hstack([matrix, [[0.0], [1.0]]])
    bounds = [*((-s, s) for s in strengths), (0, None)]
    done = linprog([*np.zeros(len(strengths)), -1.0], A_eq=balance, b_eq=[0, 0], bounds=bounds)
    assert done.status == 0 and done.fun is not None
    return float(-done.fun)


FIVE_BARS = fan([-2, -1, 0, 1, 2], 2)
FOUR_BARS = fan([-48, -27, 27, 48], 36, [0.307, 0.601, 0.601, 0.307])


@published("gere_plastic", "plastic load of five bars and of four, through the equilibrium matrix")
def test_plastic_loads_of_the_fans_are_those_of_gere() -> None:
    strength = 250e6 * pi * 0.010**2 / 4
    factor = collapse_factor(FIVE_BARS, np.ones(5))
    agree_as_printed([factor, factor * strength / 1e3], "4.2031 82.5")
    areas = np.array([0.307, 0.601, 0.601, 0.307])
    agree_as_printed(collapse_factor(FOUR_BARS, 36 * areas), "47.9")


@published("redundancy_shares", "fans of five and of four bars")
@pytest.mark.parametrize(
    ("truss", "printed"),
    [
        (FIVE_BARS, "0.5553 0.6040 0.6813 0.6040 0.5553"),
        (FOUR_BARS, "0.7088 0.2912 0.2912 0.7088"),
    ],
)
def test_redundancy_shares_of_the_fans_are_those_of_the_matrix(truss: Truss, printed: str) -> None:
    answers = answer(build_study(truss, [load_case(truss, P=(0, -1))]))
    shares = answers.redundancy.shares
    agree_as_printed(shares, printed)
    agree_relatively(shares.sum(), len(truss.members) - 2, 1e-12)


@published("heat_by_hand", "even heat on determinate supports, whatever the areas")
def test_even_heat_of_a_redundant_panel_on_a_pin_and_a_roller_gives_no_force() -> None:
    areas = [1.0, 2.0, 0.5, 3.0, 0.7, 1.3]
    truss = build_truss(SQUARE, PANEL, {"A": "xy", "D": "y"}, areas=areas, expansion=1e-5)
    heat = LoadCase("heat", temperature=(40.0,) * 6)
    held = replace(truss, supports=build_truss(SQUARE, PANEL, {"A": "xy", "D": "xy"}).supports)
    free, fixed = (answer(build_study(t, [heat])) for t in (truss, held))
    fully_held = 40e-5 * np.array(areas)
    agree_within(forces(free), np.zeros(6), 1e-12 * fully_held.max())
    # between two pins the bar DA cannot grow: it carries E A alpha T
    agree_relatively(forces(fixed)[PANEL.index("D-A")], -40e-5 * 3.0, 1e-12)


@published("heat_by_hand", "one diagonal of steel, 20 cm2, heated by 40 K: force in kN")
def test_one_heated_diagonal_pushes_with_its_redundancy_share() -> None:
    truss = build_truss(SQUARE, PANEL, {"A": "xy", "D": "y"}, areas=20e-4, modulus=210e9, expansion=1.2e-5)
    heated = LoadCase("heated", temperature=(0.0, 0.0, 0.0, 0.0, 0.0, 40.0))
    answers = answer(build_study(truss, [heated]))
    push = 210e9 * 20e-4 * 1.2e-5 * 40 * sqrt(2) / (2 + 2 * sqrt(2))
    agree_as_printed(forces(answers)[5] / 1e3, "-59")
    agree_relatively(forces(answers)[5], -push, 1e-12)
