"""The one door: a study in, everything Stillbar knows about it out.

Command line, pages, report and notebook all take their results from here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from solver.checks.grown import Grown, find_grown
from solver.checks.whole import Checks, check_members
from solver.combining import Combination
from solver.concurrent import Together, around_members, with_reactions
from solver.demand import case_factors
from solver.equilibrium import largest_imbalance, require_trust
from solver.errors import InputError, MechanismError
from solver.losses.whole import Losses, examine_losses, hold_against
from solver.notices import take_notice
from solver.peak_states import Peaks, Reported, arrangement_of, moment_of, standing_of
from solver.peaks import Extremes, Forces, sweep_extremes, sweep_forces
from solver.placement import Arrangement, Standing
from solver.progress import Progress, silent
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import Reason
from solver.reasons.reasoner import Reasoner
from solver.redundancy import Redundancy, examine_redundancy
from solver.removal import Removals, remove_each
from solver.response import Responses, respond
from solver.sensitivity import Sensitivity, examine_sensitivity
from solver.sizing.candidates import Candidates, find_candidates
from solver.state import State, take_state
from solver.statics import Statics, examine
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import Governing, Ways, lay_ways
from solver.verdicts.ground import Ground
from solver.verdicts.whole import find_grounds


@dataclass(frozen=True)
class Inspection:
    """Joint inspection under one load that stands still: a case or a combination without a crossing."""

    kind: str
    under: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class Reasoned:
    """A reason for every member, in the file's order, under one load that stands still."""

    kind: str
    under: str
    column: int
    reasons: tuple[Reason, ...]


@dataclass(frozen=True)
class Answers:
    """Everything about a study; the largest imbalance is over all reported states.

    losses, checks and grounds (why zero now does not mean removable, the weightiest first) are one a member,
    in the file's order. grown: by member (index) what a piece resists that losing it leaves longer.
    `reasoner` gives reasons in any further state and remembers what it has seen.
    """

    study: Study
    statics: Statics
    responses: Responses
    combinations: tuple[Combination, ...]
    forces: Forces
    reactions: Extremes
    deflections: Extremes
    redundancy: Redundancy
    sensitivity: Sensitivity
    removals: Removals
    losses: Losses
    checks: Checks
    grown: Mapping[int, Grown]
    grounds: tuple[tuple[Ground, ...], ...]
    inspections: tuple[Inspection, ...]
    reasoner: Reasoner
    imbalance: float
    notices: tuple[str, ...]


def answer(study: Study, progress: Progress = silent) -> Answers:
    """Answer a study.

    Raises MechanismError where the truss cannot stand, UntrustworthyError where joints do not balance
    or the truss is too near a mechanism, Cancelled where `progress` raises it.
    """
    progress("geometry", 0.0)
    statics = _require_standing(examine(study.truss))
    stiffness = Stiffness(study.truss)
    redundancy = examine_redundancy(stiffness, statics, progress)
    require_trust(redundancy.imbalance, redundancy.condition)
    responses = respond(study, stiffness, progress)
    combinations = study.alone + study.combinations
    ways = lay_ways(study)
    forces = sweep_forces(ways, responses, progress)
    reported = Reported(study, responses, combinations, forces.scales)
    reactions, deflections = _sweep_others(ways, responses, progress)
    peaks = _told(study, responses, forces, (reactions, deflections))
    imbalance = max(redundancy.imbalance, largest_imbalance(reported, peaks, progress))
    require_trust(imbalance, redundancy.condition)
    sensitivity = examine_sensitivity(stiffness, redundancy.condition)
    removals = remove_each(statics, progress)
    before = hold_against(responses, forces, reactions, deflections)
    checks = check_members(before, stiffness, (forces, deflections.sweep), removals, progress)
    losses = examine_losses(before, stiffness, (statics, removals), redundancy.shares, progress)
    reasoner = Reasoner(stiffness, statics, removals.moves, redundancy.shares)
    return Answers(
        study=study,
        statics=statics,
        responses=responses,
        combinations=combinations,
        forces=forces,
        reactions=reactions,
        deflections=deflections,
        redundancy=redundancy,
        sensitivity=sensitivity,
        removals=removals,
        losses=losses,
        checks=checks,
        grown=find_grown(before, losses.each),
        grounds=find_grounds(stiffness, forces, removals, losses, progress),
        inspections=_inspect(study, responses, reasoner, progress),
        reasoner=reasoner,
        imbalance=imbalance,
        notices=take_notice(study, sensitivity, reactions, forces.asked_scales, checks),
    )


def size(answers: Answers, progress: Progress = silent) -> Candidates:
    """Find the lightest sections of the families that groups name, with everything held that was asked.

    Raises InputError where no group names a family, UntrustworthyError where a trial's joints do not balance,
    Cancelled where `progress` raises it.
    """
    return find_candidates(answers.study, (answers.statics, answers.removals), progress)


def _sweep_others(ways: Ways, responses: Responses, progress: Progress) -> tuple[Extremes, Extremes]:
    """Extremes of reactions and of deflections."""
    reactions = sweep_extremes(ways, responses.reactions, responses.case_names, progress)
    return reactions, sweep_extremes(ways, responses.deflections, responses.case_names, progress)


def _told(
    study: Study, responses: Responses, forces: Forces, others: tuple[Extremes, Extremes]
) -> list[Peaks]:
    """Every extreme that tables tell, for the check of equilibrium."""
    peaks = [
        Peaks(forces.tension, 1.0, responses.forces, forces=True),
        Peaks(forces.compression, -1.0, responses.forces, forces=True),
    ]
    for part, rows in zip(others, (responses.reactions, responses.deflections), strict=True):
        peaks.append(Peaks(_among(study, part.largest), 1.0, rows))
        peaks.append(Peaks(_among(study, part.smallest), -1.0, rows))
    return peaks


def _among(study: Study, governing: Governing) -> Governing:
    """An extreme over the combinations asked, told by their place among all (load cases alone first)."""
    before = len(study.alone) if study.combinations else 0
    return replace(governing, combinations=governing.combinations + before)


def _require_standing(statics: Statics) -> Statics:
    if not statics.mechanisms:
        return statics
    truss = statics.truss
    names = [truss.joint_names[joint] for joint in statics.moving_joints]
    enough = statics.static_indeterminacy >= 0
    form = (
        "members and supports are enough in number, their arrangement is not"
        if enough
        else (f"{-statics.static_indeterminacy} members or held directions too few")
    )
    raise MechanismError(f"the truss is a mechanism ({form}); joints that move: {', '.join(names)}", names)


def standing_loads(study: Study) -> list[tuple[str, Combination, int]]:
    """Return each case, and each combination of the file without a crossing: its kind, itself, its column."""
    kinds = ["case"] * len(study.alone) + ["combination"] * len(study.combinations)
    return [
        (kind, combination, column)
        for column, (kind, combination) in enumerate(
            zip(kinds, study.alone + study.combinations, strict=True)
        )
        if combination.stands_still
    ]


def _inspect(
    study: Study, responses: Responses, reasoner: Reasoner, progress: Progress
) -> tuple[Inspection, ...]:
    """Inspect the joints under each case, and each combination of the file without a crossing."""
    asked = standing_loads(study)
    factors = case_factors(responses.case_names, tuple(combination for _, combination, _ in asked))
    inspections = []
    for number, (kind, combination, _) in enumerate(asked):
        progress("joint inspection", number / len(asked))
        column = factors[:, number]
        loads = (responses.loads.cases @ column).reshape(-1, study.truss.dimension)
        contributions = (responses.largest_contribution * np.abs(column)).max(axis=1, initial=0.0)
        inspections.append(
            Inspection(kind, combination.name, reasoner.joint_rule.inspect(loads, contributions))
        )
    return tuple(inspections)


def give_concurrent(answers: Answers, progress: Progress = silent) -> tuple[list[Together], list[Together]]:
    """Tell what acts together: with each member's peaks, and with each reaction's extremes."""
    study, responses = answers.study, answers.responses
    reported = Reported(study, responses, answers.combinations, answers.forces.scales)
    peaks = _told(study, responses, answers.forces, (answers.reactions, answers.deflections))
    return around_members(reported, peaks[:2], progress), with_reactions(reported, peaks[2:4], progress)


@dataclass(frozen=True)
class PeakState:
    """The state of a member's governing peak.

    value [N], tension positive; the load it is under (column); where its train stands; for what lanes are
    arranged; and everything that acts in it.
    """

    value: float
    column: int
    standing: Standing | None
    arrangement: Arrangement | None
    state: State


def state_at_peak(answers: Answers, member: int, sign: int) -> PeakState | None:
    """Return the state in which a member's tension (sign 1) or compression (-1) peaks; None where it is 0."""
    study, responses = answers.study, answers.responses
    reported = Reported(study, responses, answers.combinations, answers.forces.scales)
    peaks = _told(study, responses, answers.forces, (answers.reactions, answers.deflections))
    number = 0 if sign > 0 else 1
    value = float(peaks[number].governing.values[member])
    if not value:
        return None
    moment = moment_of(reported, peaks, number, member)
    standing, arrangement = standing_of(reported, peaks, moment), arrangement_of(peaks, moment)
    combination = answers.combinations[moment.combination]
    state = take_state(study, responses, combination, standing, arrangement)
    return PeakState(sign * value, moment.combination, standing, arrangement, state)


def give_reasons(answers: Answers, progress: Progress = silent) -> tuple[Reasoned, ...]:
    """Give a reason for every member in each case, and each combination of the file without a crossing.

    Zero is judged by the scale alone; the study's zero_limit stays aside.
    """
    asked = standing_loads(answers.study)
    states = [take_state(answers.study, answers.responses, load, None) for _, load, _ in asked]
    scales = [float(answers.forces.scales[column]) for _, _, column in asked]
    found = answers.reasoner.explain_all(states, scales, progress)
    return tuple(
        Reasoned(kind, load.name, column, reasons)
        for (kind, load, column), reasons in zip(asked, found, strict=True)
    )


def give_reasons_at(answers: Answers, under: str, standing: Standing | None = None) -> tuple[Reason, ...]:
    """Give a reason for every member under the load of this name, its train standing at one place.

    A crossing or a combination with one needs `standing` for its train to weigh anything. Where a case and
    a combination share a name, the combination is meant. Raises InputError for an unknown name.
    """
    names = [combination.name for combination in answers.combinations]
    if under not in names:
        raise InputError(f"there is no load {under}; there are {', '.join(names)}", [under])
    column = len(names) - 1 - names[::-1].index(under)
    state = take_state(answers.study, answers.responses, answers.combinations[column], standing)
    return answers.reasoner.explain(state, float(answers.forces.scales[column]))
