"""A trial: one choice of sections, the truss worked out afresh as a whole and held against everything."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import isnan

import numpy as np

from solver.checks.check import Check
from solver.checks.whole import Checks, check_members
from solver.losses.before import Before
from solver.losses.whole import hold_against
from solver.peaks import sweep_extremes, sweep_forces
from solver.removal import Removals
from solver.response import respond
from solver.sizing.choice import Choice, Sizes, members_of
from solver.statics import Statics
from solver.stiffness import Stiffness
from solver.sweep import lay_ways


@dataclass(frozen=True)
class Trial:
    """What became of a choice: checks by group and of the whole truss, and the demands they rest on.

    weight: as `Sizes.weight` has it.
    """

    choice: Choice
    weight: float
    checks: Checks
    before: Before
    groups: tuple[tuple[Check, ...], ...]

    @property
    def holds(self) -> bool:
        """Whether every check of every member and of the whole truss is met."""
        return all(check.holds for checks in (*self.checks.each, self.checks.whole) for check in checks)

    @cached_property
    def exceeded(self) -> float:
        """The sum of what exceeds 1 over all checks; one that cannot be answered counts 1."""
        checks = [check for checks in (*self.checks.each, self.checks.whole) for check in checks]
        return sum(1.0 if isnan(check.utilisation) else max(check.utilisation - 1, 0.0) for check in checks)


class Bench:
    """Tries choices of one study, each once."""

    def __init__(self, sizes: Sizes, geometry: tuple[Statics, Removals]) -> None:
        self.sizes = sizes
        self._statics, self._removals = geometry
        self._known: dict[Choice, Trial] = {}

    @property
    def tried(self) -> int:
        """How many choices were worked out."""
        return len(self._known)

    @property
    def determinate(self) -> bool:
        """Whether the truss is statically determinate: no member can be lost."""
        return bool(self._removals.mechanism.all())

    @cached_property
    def forces_stay(self) -> bool:
        """Whether no choice changes a force: statically determinate, and own weight counts nowhere."""
        return self.determinate and not self.try_out(self.sizes.now).before.weights.any()

    def nearest(self) -> Trial:
        """Of all choices worked out that of which least is exceeded, of equals the lightest."""
        return min(self._known.values(), key=lambda trial: (trial.exceeded, trial.weight))

    def try_out(self, choice: Choice) -> Trial:
        """Work a choice out; raises UntrustworthyError where joints do not balance."""
        if choice not in self._known:
            self._known[choice] = self._work(choice)
        return self._known[choice]

    def _work(self, choice: Choice) -> Trial:
        study = self.sizes.study_with(choice)
        stiffness = Stiffness(study.truss)
        responses = respond(study, stiffness)
        ways = lay_ways(study)
        forces = sweep_forces(ways, responses, shares_too=False)
        limits = study.rules.limits
        moves = limits.deflection is not None or limits.deflections
        deflections = sweep_extremes(ways, responses.deflections, responses.case_names) if moves else None
        before = hold_against(responses, forces, None, deflections)
        removals = self._removals
        if not limits.after_loss:
            removals = Removals(np.ones(len(study.truss.members), dtype=bool), removals.moves)
        checks = check_members(before, stiffness, (forces, None), removals)
        groups = tuple(
            tuple(check for member in members_of(study, group.name) for check in checks.each[member])
            for group in self.sizes.groups
        )
        return Trial(choice, self.sizes.weight(choice), checks, before, groups)
