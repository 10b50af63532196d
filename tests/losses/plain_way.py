"""Losing a member the plain way: build the study without it, sweep that, and read its tables."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from solver.cases import LoadCase
from solver.losses.before import Before
from solver.losses.whole import hold_against
from solver.peaks import Forces, sweep_extremes, sweep_forces
from solver.response import respond
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import Governing, lay_ways


@dataclass(frozen=True)
class Tables:
    """Forces with their peaks, extremes of reactions (2, held) [N], the largest deflection [m]."""

    forces: Forces
    reactions: np.ndarray
    deflection: float

    @property
    def scale(self) -> float:
        return float(self.forces.asked_scales.max())

    @property
    def peaks(self) -> np.ndarray:
        return np.maximum(self.forces.tension.values, self.forces.compression.values)


def work_out(study: Study) -> tuple[Tables, Before, Stiffness]:
    """Sweep a study; its own limit of zero left aside."""
    study = replace(study, zero_limit=0.0)
    stiffness = Stiffness(study.truss)
    responses, ways = respond(study, stiffness), lay_ways(study)
    forces = sweep_forces(ways, responses)
    held, moved = (
        sweep_extremes(ways, rows, responses.case_names)
        for rows in (responses.reactions, responses.deflections)
    )
    reactions = np.stack([held.smallest.values, held.largest.values])
    deflection = max(float(np.abs(side.values).max()) for side in (moved.smallest, moved.largest))
    before = hold_against(responses, forces, held, moved)
    return Tables(forces, reactions, deflection), before, stiffness


def take_away(study: Study, lost: int) -> Study:
    """The study without a member: what is numbered by members moves up."""
    members = study.truss.members
    truss = replace(study.truss, members=members[:lost] + members[lost + 1 :], pieces=())
    cases = {name: _case_without(case, lost) for name, case in study.cases.items()}
    return replace(study, truss=truss, cases=cases)


def _case_without(case: LoadCase, lost: int) -> LoadCase:
    heat = case.temperature
    return replace(
        case,
        temperature=heat and heat[:lost] + heat[lost + 1 :],
        misfit={i - 1 if i > lost else i: far for i, far in case.misfit.items() if i != lost},
    )


def resistances(study: Study) -> np.ndarray:
    """In tension and in compression, (2, members), NaN where there is none."""
    groups = [member.group for member in study.truss.members]
    both = [(group.tension, group.compression) for group in groups]
    return np.array([[np.nan if r is None else r for r in pair] for pair in both]).T


@dataclass(frozen=True)
class Expected:
    """What a loss leaves, from tables before and after it; the lost member has a place of zero."""

    study: Study
    before: Tables
    after: Tables
    lost: int

    @property
    def demands(self) -> np.ndarray:
        """Peak tension and compression of every member, (2, members)."""
        forces = self.after.forces
        return np.insert([forces.tension.values, forces.compression.values], self.lost, 0.0, axis=1)

    @property
    def utilisations(self) -> np.ndarray:
        """Of every other member; NaN for the lost one and for one without a resistance."""
        values = np.fmax(*self.demands / resistances(self.study))
        values[self.lost] = np.nan
        return values

    @property
    def worst(self) -> float | None:
        known = self.utilisations[~np.isnan(self.utilisations)]
        return float(known.max()) if len(known) else None

    @property
    def over(self) -> dict[int, str]:
        """Members beyond their resistances, with how."""
        forces = self.before.forces
        was = np.fmax(*np.array([forces.tension.values, forces.compression.values]) / resistances(self.study))
        found = {}
        for member in np.flatnonzero(self.utilisations > 1 + 1e-9):
            grown = self.utilisations[member] > was[member] * (1 + 1e-9)
            found[int(member)] = "new" if was[member] <= 1 + 1e-9 else "worse" if grown else "already"
        return found

    @property
    def unproven(self) -> float:
        """The largest force of any other member for whose sign it has no resistance [N]."""
        return float(self.demands[np.isnan(resistances(self.study))].max(initial=0.0))

    @property
    def rises(self) -> np.ndarray:
        """By how much each other member's larger peak rises, (members,)."""
        rises = self.demands.max(axis=0) - self.before.peaks
        rises[self.lost] = -np.inf
        return rises

    def governing(self, member: int, compression: bool) -> Governing:
        """Where a peak of another member occurs, one row."""
        forces = self.after.forces
        whole = forces.compression if compression else forces.tension
        row = slice(member - (member > self.lost), member - (member > self.lost) + 1)
        alone = len(self.study.alone) if self.study.combinations else 0
        return Governing(
            whole.values[row], whole.combinations[row] - alone, whole.positions[row],
            whole.directions[row], whole.trains[row],
        )  # fmt: skip


def expect(study: Study, before: Tables, lost: int) -> Expected:
    """Lose a member the plain way."""
    return Expected(study, before, work_out(take_away(study, lost))[0], lost)
