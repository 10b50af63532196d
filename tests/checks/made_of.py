"""Trusses made of something: a section and a material for every member, and rules for all of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from solver.answers import answer
from solver.cases import LoadCase
from solver.checks.check import Check
from solver.combining import Combination
from solver.rules import Rules
from solver.study import Study
from solver.truss import Group, Material, Section, Truss
from tests.building import build_study

STEEL = Material("steel", 200e9, 250e6, 400e6, unit_weight=77e3)
BAR = Section("bar", area=1e-3, radius=0.02)
"""250 kN at yield; Euler's load at a length L [m] is pi² 200e9 1e-3 (0.02 / L)² = 789.6 kN / L²."""


def made_of(truss: Truss, groups: Mapping[str, Group], otherwise: Group | None = None) -> Truss:
    """The truss with groups by member; `otherwise`, or a bar of steel, for all the rest."""
    rest = otherwise or Group("rest", BAR, STEEL)
    members = tuple(replace(m, group=groups.get(m.name, rest)) for m in truss.members)
    return replace(truss, members=members)


def ruled(
    truss: Truss,
    cases: Sequence[LoadCase],
    rules: Rules,
    combinations: Sequence[Combination] = (),
    **more: Any,
) -> Study:
    """A study with rules."""
    return replace(build_study(truss, cases, combinations=combinations, **more), rules=rules)


def checks_of(study: Study, name: str) -> dict[str, Check]:
    """The checks of a member by key; of several of one key the first."""
    found: dict[str, Check] = {}
    for check in all_checks_of(study, name):
        found.setdefault(check.key, check)
    return found


def all_checks_of(study: Study, name: str) -> tuple[Check, ...]:
    """The checks of a member, in their order."""
    return answer(study).checks.each[study.truss.member_index(name)]
