"""Forces that are zero on paper stay below 1e-12 of the scale, at area ratios of a million and 400 panels.

No publication: forces of the Pratt truss come from the method of sections in whole numbers, those of the
X-braced truss with an overhang from fractions, and an unloaded overhang with one diagonal a panel is zero
by looking at joints. Panels are 4 m by 3 m, so that every length is a whole number.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from solver.answers import answer
from solver.cases import LoadCase
from solver.peaks import Forces, sweep_forces
from solver.response import Responses, respond
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import lay_ways
from solver.tolerances import NOISE
from solver.truss import Truss
from tests.building import build_study, build_truss
from tests.published.forms import case_forces, pratt
from tests.published.fractions_by_hand import exact_elastic_forces
from tests.published.record import agree_exactly, agree_within, published

Whole = NDArray[np.int64]
RATIO = 1e6
BOTH_SIDES = ["single", "double"]


def uneven(count: int, seed: int = 0) -> list[float]:
    """Areas spread evenly in their logarithm over a ratio of a million."""
    return [float(RATIO**power) for power in np.random.default_rng(seed).uniform(-0.5, 0.5, count)]


def loads_of(panels: int) -> Whole:
    """Whole downward loads at L1..L(n-1), a row a case: one, two alike about midspan, three, and many."""
    random = np.random.default_rng(panels)
    cases = np.zeros((40, panels + 1), dtype=np.int64)
    for row, case in enumerate(cases):
        joint = int(random.integers(1, panels // 2))
        case[joint] = 1 + row
        if row % 4 >= 1:
            case[panels - joint] = 1 + row
        if row % 4 == 2:
            case[panels // 2] = 7
        if row % 4 == 3:
            case[1:panels] = random.integers(-3, 4, panels - 1)
    # loads are multiples of the number of panels, so that reactions are whole as well
    return cases * panels


def sections(name: str, shear: Whole, moment: Whole, load: Whole) -> Whole:
    """3 x the force in a member of the Pratt truss of `pratt`, (cases,).

    shear (cases, panels), moment (cases, joints) over the panel length, load (cases, joints).
    """
    panels = shear.shape[1]
    turn = panels // 2
    i, j = (int(end[1:]) for end in name.split("-"))
    if name.count("L") == 2:
        centre = max(i, 1) if i < turn else min(i + 1, panels - 1)
        return 4 * moment[:, centre]
    if name.count("U") == 2:
        return -4 * moment[:, i + 1 if i < turn else i]
    if i == j:
        return 3 * vertical(i, turn, shear, load)
    falling = name.startswith("U")
    return (5 if falling else -5) * shear[:, i]


def vertical(i: int, turn: int, shear: Whole, load: Whole) -> Whole:
    """A hanger takes its load, the middle post nothing, a post the shear of the panel it stands against."""
    if i in (1, shear.shape[1] - 1):
        return load[:, i]
    if i == turn:
        return np.zeros_like(load[:, i])
    return -shear[:, i] if i < turn else shear[:, i - 1]


def whole_forces(names: Sequence[str], loads: Whole) -> Whole:
    """3 x the force in every member under every case, in whole numbers, (members, cases)."""
    panels = loads.shape[1] - 1
    reaction = (loads * (panels - np.arange(panels + 1))).sum(axis=1) // panels
    shear = reaction[:, None] - np.cumsum(loads, axis=1)[:, :-1]
    moment = np.concatenate([np.zeros((len(loads), 1), dtype=np.int64), np.cumsum(shear, axis=1)], axis=1)
    return np.array([sections(name, shear, moment, loads) for name in names])


def work_out(study: Study) -> tuple[Responses, Forces]:
    """Forces and how much of them is zero: what follows from a loss is no matter here, and takes longer."""
    responses = respond(study, Stiffness(study.truss))
    return responses, sweep_forces(lay_ways(study), responses)


@cache
def pratt_forces(panels: int) -> tuple[Responses, Forces, Whole]:
    members = 4 * panels - 3
    truss = pratt([4 * i for i in range(panels + 1)], 3, areas=uneven(members))
    loads = loads_of(panels)
    bottom = [truss.joint_index(f"L{i}") for i in range(panels + 1)]
    cases = [
        LoadCase(f"case {row}", joints={bottom[i]: (0.0, -float(case[i])) for i in np.flatnonzero(case)})
        for row, case in enumerate(loads)
    ]
    return *work_out(build_study(truss, cases)), whole_forces([m.name for m in truss.members], loads)


@published("zeros_by_sections", "Pratt truss, areas 1 to 1e6, 40 cases: every member that is zero on paper")
@pytest.mark.parametrize("panels", [20, 100, 400])
def test_true_zeros_of_a_long_pratt_truss_stay_below_a_millionth_of_a_millionth(panels: int) -> None:
    responses, _, whole = pratt_forces(panels)
    found = responses.forces.cases
    zero = whole == 0
    bound = np.broadcast_to(NOISE * np.abs(whole / 3).max(axis=0), whole.shape)
    agree_within(found[zero], np.zeros(int(zero.sum())), bound[zero])


@published("zeros_by_sections", "Pratt truss, areas 1 to 1e6, 40 cases: every force")
@pytest.mark.parametrize("panels", [20, 100, 400])
def test_all_forces_of_a_long_pratt_truss_are_those_of_the_sections(panels: int) -> None:
    responses, _, whole = pratt_forces(panels)
    bound = NOISE * np.abs(whole / 3).max(axis=0)
    agree_within(responses.forces.cases, whole / 3, bound)


@published("zeros_by_sections", "Pratt truss: members called zero are those that are zero on paper")
@pytest.mark.parametrize("panels", [20, 100, 400])
def test_members_called_zero_in_a_long_pratt_truss_are_exactly_the_true_zeros(panels: int) -> None:
    _, swept, whole = pratt_forces(panels)
    agree_exactly(np.array_equal(swept.shares == 1.0, whole == 0), True)


def braced(panels: int, overhang: int, style: str) -> Truss:
    """X-braced panels between two supports and an overhang with one or two diagonals in each panel."""
    last = panels + overhang
    joints = {f"L{i}": (4 * i, 0) for i in range(last + 1)} | {f"U{i}": (4 * i, 3) for i in range(last + 1)}
    members = [f"{chord}{i}-{chord}{i + 1}" for chord in "LU" for i in range(last)]
    members += [f"L{i}-U{i}" for i in range(last + 1)] + [f"L{i}-U{i + 1}" for i in range(last)]
    members += [f"U{i}-L{i + 1}" for i in range(last if style == "double" else panels)]
    areas = [float(f"{area:.6g}") for area in uneven(len(members), panels)]
    return build_truss(joints, members, {"L0": "xy", f"L{panels}": "y"}, areas=areas)


def loads_between_supports(truss: Truss, panels: int) -> list[LoadCase]:
    """One load on every third inner joint of the bottom chord, and one on the top at the first support."""
    cases = [
        LoadCase(f"L{i}", joints={truss.joint_index(f"L{i}"): (3.0, -10.0)}) for i in range(1, panels, 3)
    ]
    return [*cases, LoadCase("top", joints={truss.joint_index("U0"): (2.0, -1.0)})]


def beyond(truss: Truss, panels: int) -> list[str]:
    """Members of which an end lies beyond the second support."""
    return [m.name for m in truss.members if max(int(end[1:]) for end in m.name.split("-")) > panels]


@published("zeros_by_joints", "unloaded overhang with single diagonals, areas 1 to 1e6: zero in every case")
@pytest.mark.parametrize(("panels", "overhang"), [(20, 5), (100, 20), (400, 20)])
def test_an_unloaded_overhang_with_single_diagonals_is_zero_whatever_the_areas(
    panels: int, overhang: int
) -> None:
    truss = braced(panels, overhang, "single")
    responses, swept = work_out(build_study(truss, loads_between_supports(truss, panels)))
    forces = responses.forces.cases
    rows = [truss.member_index(name) for name in beyond(truss, panels)]
    agree_within(forces[rows], np.zeros((4 * overhang, forces.shape[1])), NOISE * np.abs(forces).max(axis=0))
    agree_exactly(bool((swept.shares[rows] == 1.0).all()), True)


@published("zeros_by_joints", "unloaded overhang: looking at joints shows all of it, or nothing of it")
@pytest.mark.parametrize("style", BOTH_SIDES)
def test_looking_at_joints_shows_an_overhang_with_single_diagonals_and_no_x_braced_one(style: str) -> None:
    truss = braced(20, 5, style)
    answers = answer(build_study(truss, loads_between_supports(truss, 20)))
    expected = set(beyond(truss, 20)) if style == "single" else set()
    for inspection in answers.inspections:
        shown = {truss.members[finding.member].name for finding in inspection.findings}
        agree_exactly(shown & set(beyond(truss, 20)), expected)


@published("elastic_fractions", "X-braced truss with an overhang, areas 1 to 1e6: every force, exact zeros")
@pytest.mark.parametrize("style", BOTH_SIDES)
def test_forces_of_an_x_braced_truss_with_an_overhang_are_those_of_the_fractions(style: str) -> None:
    panels = 5
    truss = braced(panels, 2, style)
    cases = loads_between_supports(truss, panels)
    exact_cases = [{j: [Fraction(c) for c in load] for j, load in case.joints.items()} for case in cases]
    lengths = [Fraction(round(length)) for length in truss.lengths]
    rigidities = [Fraction(member.group.section.area) for member in truss.members]
    exact = exact_elastic_forces(truss, exact_cases, lengths, rigidities)
    expected = np.array([[float(force) for force in row] for row in exact])
    found = answer(build_study(truss, cases)).responses.forces.cases
    agree_within(found, expected, NOISE * np.abs(expected).max(axis=0))
    idle = [all(force == 0 for force in exact[truss.member_index(n)]) for n in beyond(truss, panels)]
    agree_exactly(idle, [style == "single"] * len(idle))


@published("elastic_fractions", "unloaded X-braced overhang with equal areas: its first panel works")
def test_an_unloaded_x_braced_overhang_is_not_zero() -> None:
    panels = 5
    names = ["L5-L6", "U5-U6", "L5-U6", "U5-L6"]
    truss = braced(panels, 2, "double")
    alike = build_truss(
        dict(zip(truss.joint_names, truss.coordinates, strict=True)),
        [member.name for member in truss.members],
        {"L0": "xy", "L5": "y"},
    )
    cases = loads_between_supports(alike, panels)
    answers = answer(build_study(alike, cases))
    lengths = [Fraction(round(length)) for length in alike.lengths]
    loads = [{j: [Fraction(c) for c in load] for j, load in case.joints.items()} for case in cases]
    exact = exact_elastic_forces(alike, loads, lengths, [Fraction(1)] * len(lengths))
    for case in range(len(cases)):
        expected = [float(exact[alike.member_index(name)][case]) for name in names]
        agree_within(case_forces(answers, names, case), expected, 1e-13)
    agree_exactly(answers.forces.zero_share[[alike.member_index(n) for n in names]].tolist(), [0.0] * 4)
