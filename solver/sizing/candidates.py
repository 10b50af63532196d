"""Candidates: of every group what it is now, what it could be, what governs then and what stops it there.

A candidate is a question for the engineer. Nothing is removed, only sorted; joints, erection, fatigue and
whatever else the study does not hold are not in it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from solver.checks.check import Check
from solver.progress import Progress, silent
from solver.removal import Removals
from solver.sizing.choice import Choice, Sizes, find_sizes, members_of
from solver.sizing.least import find_least
from solver.sizing.sound import check_section
from solver.sizing.trial import Bench, Trial
from solver.statics import Statics
from solver.study import Study
from solver.truss import Section

State = Literal["lighter", "as it is", "heavier", "none holds"]
"""Whether what was found weighs less than now, as much, or more because something fails now."""


@dataclass(frozen=True)
class Rung:
    """A check of a member (index), or of the truss as a whole (-1)."""

    check: Check
    member: int


@dataclass(frozen=True)
class PassedOver:
    """A section lighter than what was found of whose strength nothing is known, and why."""

    section: Section
    why: str


@dataclass(frozen=True)
class Candidate:
    """A group (place among those that name a family) with its sections now and then.

    weights (now, then) as `Sizes.weight`; fails: the hardest of its own checks that is known not to be met
    now. governs: that of its own rungs nearest to its limit then. below: the next lighter section of the
    family, None where there is none; stops: the hardest rung that breaks with it. idle: as `Checks.idle`, as
    it is now. lacks: where nothing holds, the check that no section of the family meets under the forces of
    the choice nearest to holding, as that section has it which comes nearest; None where one meets all.
    passed_over: lighter sections that cannot be answered for.
    """

    place: int
    members: tuple[int, ...]
    state: State
    now: Section
    then: Section | None
    weights: tuple[float, float]
    fails: Rung | None
    governs: Rung | None
    below: Section | None
    stops: Rung | None
    idle: tuple[int, ...]
    lacks: Rung | None = None
    passed_over: tuple[PassedOver, ...] = ()


@dataclass(frozen=True)
class Candidates:
    """Of all groups, most saving first; the truss now and then, each worked out as a whole.

    proven: nothing lighter of these families holds; tried: how many choices were worked out. nearest: where
    nothing holds, the choice tried of which least is exceeded.
    """

    sizes: Sizes
    each: tuple[Candidate, ...]
    now: Trial
    then: Trial | None
    proven: bool
    tried: int
    nearest: Trial | None = None


def find_candidates(
    study: Study, geometry: tuple[Statics, Removals], progress: Progress = silent
) -> Candidates:
    """Find the lightest choice that holds; raises InputError where no group names a family."""
    sizes = find_sizes(study)
    bench = Bench(sizes, geometry)
    now = bench.try_out(sizes.now)
    found = find_least(bench, progress)
    then = found.trial
    if now.holds and (then is None or now.weight <= then.weight):
        then = now
    tried = bench.tried
    nearest = None if then else bench.nearest()
    each = [_candidate(bench, now, (then, nearest), place) for place in range(len(sizes.groups))]
    each.sort(key=lambda one: one.weights[1] - one.weights[0])
    return Candidates(sizes, tuple(each), now, then, found.proven, tried, nearest)


def _candidate(bench: Bench, now: Trial, met: tuple[Trial | None, Trial | None], place: int) -> Candidate:
    """What there is to say of a group; met: what holds, else what is nearest to it."""
    sizes, (then, nearest) = bench.sizes, met
    group = sizes.groups[place]
    weight = sizes.weight_of(place, -1)
    members = tuple(members_of(sizes.study, group.name))
    chosen = -1 if then is None else then.choice[place]
    after = weight if then is None else sizes.weight_of(place, chosen)
    below = None if then is None else _below(sizes, place, after)
    lighter = None if then is None or below is None else bench.try_out(_with(then.choice, place, below))
    return Candidate(
        place=place,
        members=members,
        state=_state(then, weight, after),
        now=group.section,
        then=None if then is None else sizes.section(place, chosen),
        weights=(weight, after),
        fails=_exceeded(now, members),
        governs=None if then is None else _hardest(then, members),
        below=None if below is None else sizes.section(place, below),
        stops=None if lighter is None else _broken(lighter, members),
        idle=tuple(member for member in members if member in now.checks.idle),
        lacks=None if nearest is None else _lacking(sizes, nearest, place),
        passed_over=() if then is None else _passed_over(sizes, then, place),
    )


def _state(then: Trial | None, now: float, after: float) -> State:
    if then is None:
        return "none holds"
    return "lighter" if after < now else "heavier" if after > now else "as it is"


def _below(sizes: Sizes, place: int, weight: float) -> int | None:
    """The heaviest section of a group's family that is lighter than some weight, None where none is."""
    family = range(len(sizes.families[place]))
    lighter = [one for one in family if sizes.weight_of(place, one) < weight * (1 - 1e-12)]
    return max(lighter, key=lambda one: sizes.weight_of(place, one), default=None)


def _with(choice: Choice, place: int, chosen: int) -> Choice:
    return (*choice[:place], chosen, *choice[place + 1 :])


def _rungs(trial: Trial, members: tuple[int, ...]) -> list[Rung]:
    """The group's own checks first, then those of the truss as a whole, then those of all other members."""
    others = [member for member in range(len(trial.checks.each)) if member not in members]
    rungs = [Rung(check, member) for member in members for check in trial.checks.each[member]]
    rungs += [Rung(check, -1) for check in trial.checks.whole]
    return rungs + [Rung(check, member) for member in others for check in trial.checks.each[member]]


def _broken(trial: Trial, members: tuple[int, ...]) -> Rung | None:
    """The hardest of what is not met: of the group's own checks, else of the whole truss, else of others."""
    rungs = [rung for rung in _rungs(trial, members) if not rung.check.holds]
    own = [rung for rung in rungs if rung.member in members]
    whole = [rung for rung in rungs if rung.member < 0]
    return _hardest_of(own or whole or rungs)


def _hardest_of(rungs: list[Rung]) -> Rung | None:
    """The hardest of what is not met; what cannot be answered only where nothing is known to fail."""
    known = [rung for rung in rungs if not np.isnan(rung.check.utilisation)]
    return max(known, key=_size) if known else next(iter(rungs), None)


def _exceeded(trial: Trial, members: tuple[int, ...]) -> Rung | None:
    """The hardest of the group's own checks that is known not to be met."""
    own = [Rung(check, member) for member in members for check in trial.checks.each[member]]
    over = [rung for rung in own if not rung.check.holds and not np.isnan(rung.check.utilisation)]
    return max(over, key=_size, default=None)


def _hardest(trial: Trial, members: tuple[int, ...]) -> Rung | None:
    own = [Rung(check, member) for member in members for check in trial.checks.each[member]]
    return max(own, key=_size, default=None)


def _size(rung: Rung) -> float:
    """The utilisation; what cannot be answered is the hardest."""
    return np.inf if np.isnan(rung.check.utilisation) else rung.check.utilisation


def _lacking(sizes: Sizes, trial: Trial, place: int) -> Rung | None:
    """The hardest check of the section nearest to holding under a trial's forces; None where one does."""
    hardest = []
    for chosen in sizes.options(place):
        rungs = [Rung(check, member) for member, check in check_section(sizes, trial, (place, chosen))]
        broken = [rung for rung in rungs if not rung.check.holds]
        if not broken:
            return None
        hardest += [rung for rung in (_hardest_of(broken),) if rung]
    # A section of which nothing is known to fail is nearer than one of which something is.
    return min(hardest, key=lambda rung: np.nan_to_num(rung.check.utilisation, nan=1.0), default=None)


def _passed_over(sizes: Sizes, then: Trial, place: int) -> tuple[PassedOver, ...]:
    """Lighter sections that cannot be answered for under the forces of what was found, the lightest first."""
    found = []
    weight = sizes.weight_of(place, then.choice[place]) * (1 - 1e-12)
    for chosen in sizes.options(place):
        if sizes.weight_of(place, chosen) >= weight:
            break
        checks = [check for _, check in check_section(sizes, then, (place, chosen))]
        refused = [why for check in checks if np.isnan(check.utilisation) for why in check.refused]
        if refused and all(check.holds or np.isnan(check.utilisation) for check in checks):
            found.append(PassedOver(sizes.section(place, chosen), refused[0]))
    return tuple(found)
