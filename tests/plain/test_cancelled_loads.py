"""Loads that cancel on paper load nothing: what rounding leaves of them is no scale to judge zero by."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from solver.answers import answer
from solver.cases import LineLoad, LoadCase
from solver.combining import Combination
from solver.study import Study
from tests.building import build_study, build_truss, load_case

JOINTS = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3)}
TRUSS = build_truss(JOINTS, ["A-B", "B-C", "A-D", "D-C", "B-D"], {"A": "xy", "C": "y"})


def lines(*loads: float) -> Study:
    case = LoadCase("case", lines=tuple(LineLoad("deck", 0.0, 8.0, vector=(0.0, load)) for load in loads))
    return build_study(TRUSS, [case], chord="ABC")


@pytest.mark.parametrize("loads", [(0.5, 0.25, -0.75), (0.1, 0.2, -0.3)])
def test_line_loads_that_cancel_on_paper_leave_every_member_still(loads: Sequence[float]) -> None:
    forces = answer(lines(*loads)).forces
    assert forces.zero_share.tolist() == [1.0] * 5
    assert forces.still.all()
    assert not forces.tension.values.any()
    assert not forces.compression.values.any()


@pytest.mark.parametrize("factors", [(0.5, 0.25, -0.75), (0.1, 0.2, -0.3)])
def test_a_combination_that_cancels_on_paper_is_answered_and_leaves_every_member_at_zero(
    factors: Sequence[float],
) -> None:
    cases = [load_case(TRUSS, name, B=(0, -7.0)) for name in "abc"]
    combination = Combination("none", dict(zip("abc", factors, strict=True)))
    forces = answer(build_study(TRUSS, cases, combinations=[combination])).forces
    assert forces.zero_share_combined.tolist() == [1.0] * 5
    assert not forces.tension.values.any()
    assert not forces.compression.values.any()


def test_a_joint_whose_loads_cancel_on_paper_counts_as_unloaded_in_inspection() -> None:
    loads = tuple(LineLoad("deck", 0.0, 8.0, vector=(0.0, load)) for load in (0.1, 0.2, -0.3))
    case = LoadCase("case", lines=loads, joints={TRUSS.joint_index("D"): (0.0, -0.1)})
    answers = answer(build_study(TRUSS, [case], chord="ABC"))
    # the three loads leave a rounding at B, which is none
    upright_at_b = 2 * TRUSS.joint_index("B") + 1
    assert 0.1 + 0.2 - 0.3 != 0
    assert answers.responses.loads.cases[upright_at_b, 0] == 0
    findings = answers.inspections[0].findings
    assert [(finding.step, finding.member) for finding in findings] == [(1, TRUSS.member_index("B-D"))]
