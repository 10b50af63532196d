"""Steps to a prop's force and to its stiffness: each leads where it says, without clauses of the other."""

from __future__ import annotations

import pytest

from solver.propping.aisc_appendix_6 import PanelBracing, PointBracing
from solver.propping.demand import Rule
from solver.propping.en_1993_1_1_bracing import InitialBow
from solver.propping.rules import ALL
from solver.propping.winter import TwoPercent, Winter
from tests.propping.lines import middle

EVERY: tuple[Rule, ...] = (
    *ALL,
    PointBracing(by_number=True),
)


@pytest.mark.parametrize(
    ("rule", "force", "stiffness"),
    [
        (PointBracing("LRFD"), ["A-6-3"], ["A-6-4a"]),
        (PointBracing("ASD"), ["A-6-3"], ["A-6-4b"]),
        (PanelBracing("LRFD"), ["A-6-1"], ["A-6-2a"]),
    ],
    ids=lambda given: getattr(given, "name", None),
)
def test_the_clauses_of_force_and_of_stiffness_stand_apart(
    rule: Rule, force: list[str], stiffness: list[str]
) -> None:
    demand = rule.demand(middle())
    assert [step.clause.split()[-1] for step in demand.force_steps] == force
    assert [step.clause.split()[-1] for step in demand.stiffness_steps] == stiffness


def test_a_lowered_factor_belongs_to_the_stiffness() -> None:
    demand = PointBracing(by_number=True).demand(middle())
    assert len(demand.force_steps) == 1 and "commentary" in demand.stiffness_steps[0].clause


def test_winters_force_needs_the_stiffness_and_the_stiffness_no_force() -> None:
    demand = Winter().demand(middle())
    assert [step.result.symbol for step in demand.stiffness_steps] == ["β_i [N/m]", "β [N/m]"]
    assert demand.force_steps[:2] == demand.stiffness_steps
    assert [step.result.symbol for step in demand.force_steps[2:]] == ["d_0", "F"]


def test_rules_without_a_stiffness_have_no_steps_to_one() -> None:
    for rule in (InitialBow(), TwoPercent()):
        assert rule.demand(middle()).stiffness_steps == ()


@pytest.mark.parametrize("rule", EVERY, ids=lambda rule: rule.name)
def test_the_last_step_of_each_holds_what_is_asked_and_all_steps_stand_once_in_both(rule: Rule) -> None:
    demand = rule.demand(middle())
    assert demand.force_steps[-1].result.value == demand.force
    if demand.stiffness is not None:
        assert demand.stiffness_steps[-1].result.value == demand.stiffness
    assert len(demand.steps) == len(set(demand.steps))
    assert set(demand.steps) == {*demand.force_steps, *demand.stiffness_steps}
