"""Members that hold compressed bars in line on random trusses, against plain matrices."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from solver.answers import answer
from solver.cases import LoadCase
from solver.errors import MechanismError, UntrustworthyError
from solver.propping.winter import TwoPercent, Winter
from solver.study import Study
from solver.truss import ExactVector, Member, Piece, Truss
from tests.building import build_study
from tests.checks.props_by_matrices import matrices_of, props_of
from tests.laws.generator import draw_truss

RULES = (TwoPercent(), Winter())
CLOSE = 1e-7
CAMPAIGN = range(50_000, 50_400)


def drawn_of(seed: int, dimension: int) -> Truss:
    """The first random truss of a dimension from a seed on."""
    while (truss := draw_truss(seed).truss).dimension != dimension:
        seed += 100_000
    return truss


def points_along(truss: Truss, broken: int, parts: int) -> list[ExactVector]:
    """The points that break a bar into equal parts."""
    ends = truss.members[broken].first, truss.members[broken].second
    a, b = (truss.coordinates[end] for end in ends)
    return [
        tuple(x + Fraction(i, parts) * (y - x) for x, y in zip(a, b, strict=True)) for i in range(1, parts)
    ]


def with_line(truss: Truss, random: np.random.Generator) -> Truss:
    """The truss with one bar broken into two or three that pass one or two new, held joints in line."""
    broken, parts = int(random.integers(len(truss.members))), int(random.integers(2, 4))
    while set(points := points_along(truss, broken, parts)) & set(truss.coordinates):
        broken = int(random.integers(len(truss.members)))
    bar = truss.members[broken]
    first = len(truss.joint_names)
    new = range(first, first + parts - 1)
    line = (bar.first, *new, bar.second)
    bars = list(pairwise(line))
    others = [joint for joint in range(first) if joint not in (bar.first, bar.second)]
    for joint in new:
        count = min(truss.dimension - 1 + int(random.integers(0, 2)), len(others))
        bars += [(joint, int(other)) for other in random.choice(others, count, replace=False)]
    names = (*truss.joint_names, *(f"n{joint}" for joint in new))
    members = [m for i, m in enumerate(truss.members) if i != broken]
    members += [Member(f"{names[one]}-{names[two]}", one, two, bar.group) for one, two in bars]
    pieces = (Piece("line", line),) if random.random() < 0.5 else ()
    coordinates = (*truss.coordinates, *points)
    return replace(truss, joint_names=names, coordinates=coordinates, members=tuple(members), pieces=pieces)


def lined_study(seed: int, dimension: int) -> Study:
    """A random truss with a line of bars in it, two cases, and a resistance either way for every member."""
    random = np.random.default_rng([seed, dimension])
    truss = with_line(drawn_of(seed, dimension), random)
    members = []
    for member in truss.members:
        tension, compression = 10 ** random.uniform(3, 6, 2)
        section = replace(member.group.section, area=1e-3 * 10 ** random.uniform(0, 1))
        group = replace(member.group, tension=float(tension), compression=float(compression), section=section)
        members.append(replace(member, group=group))
    truss = replace(truss, members=tuple(members))
    cases = []
    for name in ("one", "two"):
        joints = random.choice(len(truss.joint_names), 3, replace=False)
        loads = {int(joint): tuple(random.normal(0, 1e3, dimension).tolist()) for joint in joints}
        cases.append(LoadCase(name, joints=loads))
    return build_study(truss, cases)


def hold(study: Study) -> int:
    """Hold all prop checks of a study against plain matrices; how many, 0 where the truss is no sound one."""
    try:
        answers = answer(study)
    except (MechanismError, UntrustworthyError):
        return 0
    matrices = matrices_of(study.truss)
    if np.abs(matrices.forces).max() > 1e3:
        return 0
    expected = props_of(study, RULES)
    found = {
        (member, check.key, check.by): (check.utilisation, check.joint)
        for member, checks in enumerate(answers.checks.each)
        for check in checks
        if check.key.startswith("prop")
    }
    # what takes next to nothing of a force may be on either side of the limit
    for at in set(found) ^ set(expected):
        assert at in found or expected[at][0] < 1e-5, at
        assert at in expected or found[at][0] < 1e-5, at
    for at in set(found) & set(expected):
        assert found[at][0] == pytest.approx(expected[at][0], rel=CLOSE, abs=1e-12), at
    return len(found)


@pytest.mark.parametrize("seed", range(25))
def test_props_in_the_plane_bear_their_share_and_the_truss_is_as_stiff_as_its_matrix(seed: int) -> None:
    hold(lined_study(seed, 2))


@pytest.mark.parametrize("seed", range(25))
def test_props_in_space_are_held_against_the_worst_direction_across(seed: int) -> None:
    hold(lined_study(seed, 3))


@pytest.mark.parametrize("dimension", [2, 3])
def test_most_random_trusses_with_a_line_have_something_to_hold(dimension: int) -> None:
    counts = [len(props_of(study, RULES)) for study in (lined_study(seed, dimension) for seed in range(8))]
    assert sum(count > 0 for count in counts) >= 4


@pytest.mark.campaign
@pytest.mark.parametrize("dimension", [2, 3])
def test_props_of_hundreds_of_trusses_are_those_of_plain_matrices(dimension: int) -> None:
    checks = sum(hold(lined_study(seed, dimension)) for seed in CAMPAIGN)
    print(f"{checks} checks of props, dimension {dimension}")
    assert checks > 1000
