"""Checks as the page on lighter sections tells them: which, of whom, how much of what, by whose rule."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import isfinite, isnan, nan
from typing import Protocol

from explorer.wording.asked import WAYS, words
from explorer.wording.checks import FIRM, RESISTED, find_beside, kind_of, tell_ratio
from explorer.wording.numbers import Teller, listed, several, significant, trimmed
from solver.checks.check import Check
from solver.combining import Combination
from solver.response import Responses
from solver.sizing.candidates import Candidates, Rung
from solver.sizing.trial import Trial
from solver.study import Study
from solver.truss import AXES

JOINT = "joint not checked"
OUTSIDE = "joints are not among them"
BOTH = "(own + prop) / N_R"
"""What the utilisation of a prop's force is: a member's own force and what it holds, of its resistance."""

MOST_BROKEN = 12
"""Checks not met that are told, the hardest first."""

SIDES = {
    "slenderness in tension": "at most",
    "slenderness in compression": "at most",
    "deflection": "at most",
    "depth": "at least",
    "prop stiffness": "the truss gives",
}
"""How a limit bounds what stands beside it; one of a force is what the member resists."""


class Known(Protocol):
    """A study and how its rows respond: answers have both, and so has what a trial is held against."""

    @property
    def study(self) -> Study:
        """The study as it is, or as tried."""

    @property
    def responses(self) -> Responses:
        """Its rows under unit loads and load cases."""


def shown_trial(found: Candidates) -> Trial:
    """The trial whose checks are told: what was found, else the nearest, else what there is."""
    return found.then or found.nearest or found.now


def amount(teller: Teller, check: Check, value: float) -> str:
    """Write a demand or a limit of a check with its unit."""
    if isnan(value):
        return "not known"
    if not isfinite(value):
        return FIRM
    kind = kind_of(check)
    return trimmed(significant(value)) if kind == "none" else teller.tell(kind, value)


def utilisation(value: float) -> str:
    """Write a utilisation as briefly as in a drawing; what is over its limit is never rounded down to it.

    >>> [utilisation(value) for value in (0.876, 1.001, float("nan"), 0.0004, 0.0)]
    ['0.88', '1.001', '?', '0.01', '0']
    """
    if isnan(value):
        return "?"
    return "0.01" if 0 < value < 0.005 else tell_ratio(value)


def tell_demand(teller: Teller, checks: Sequence[Check], check: Check) -> str:
    """Write what is asked; of a prop's force with the member's own force, as both together count."""
    own = find_beside(checks, check)
    told = amount(teller, check, check.demand)
    if check.key == "prop stiffness":
        return f"{told} asked"
    return told if own is None else f"own {amount(teller, own, own.demand)} + prop {told}"


def tell_limit(teller: Teller, checks: Sequence[Check], check: Check) -> str:
    """Write what a demand is held against, and whether it is the most or the least that may be."""
    own = find_beside(checks, check)
    if own is not None:
        return f"N_R {amount(teller, own, own.limit)} in {own.key}"
    told = amount(teller, check, check.limit)
    side = SIDES.get(check.key)
    return told if side is None or not isfinite(check.limit) else f"{side} {told}"


def tell_rung(study: Study, rung: Rung) -> str:
    """Tell which check of which member, which other one is lost where that is it, and its utilisation."""
    check = rung.check
    which = f"{check.key} of {name_of(study, rung)}{_lost(study, check)}"
    if isnan(check.utilisation):
        return f"{which} not known"
    both = f" = {BOTH}" if check.key == "prop force" else ""
    return f"{which} at {utilisation(check.utilisation)}{both}"


def _lost(study: Study, check: Check) -> str:
    if check.key != "another's loss" or not check.others:
        return ""
    return f", with {_names(study, check.others)} lost,"


def _names(study: Study, members: Iterable[int]) -> str:
    return listed([study.truss.members[member].name for member in members])


def name_of(study: Study, rung: Rung) -> str:
    """The member of a rung, or that it is the truss as a whole."""
    return study.truss.members[rung.member].name if rung.member >= 0 else "the whole truss"


def tell_key(check: Check) -> str:
    """Which check; of a prop's force also what its utilisation is."""
    return f"{check.key}, {BOTH}" if check.key == "prop force" else check.key


def tell_by(check: Check) -> str:
    """Whose rule a check is."""
    return check.by or "no rule"


def tell_place(known: Known, teller: Teller, rung: Rung, lost_too: bool = True) -> str:
    """Tell under what a demand governs, where its train stands, at which joint, and about which members.

    `lost_too`: also who is lost, where that has not been said beside it.
    """
    study, check = known.study, rung.check
    told = []
    if check.combination >= 0:
        told.append(f"under {words(study.asked[check.combination].name)}")
    if check.direction >= 0:
        told.append(_front(known, teller, rung))
    if check.joint >= 0:
        along = f" along {AXES[check.axis]}" if check.axis >= 0 else ""
        told.append(f"at joint {study.truss.joint_names[check.joint]}{along}")
    if check.others and check.key != "another's loss":
        told.append(f"for {_names(study, check.others)}")
    elif check.others and lost_too:
        told.append(f"with {_names(study, check.others)} lost")
    return ", ".join(told)


def _front(known: Known, teller: Teller, rung: Rung) -> str:
    """Where the front of the train stands; no place where the member's force knows of none."""
    check = rung.check
    members = [rung.member, *(check.others if check.key == "another's loss" else ())]
    if rung.member >= 0 and _is_untouched(known, known.study.asked[check.combination], members):
        return "at every position"
    return f"front at {teller.position(check.position)} {WAYS[check.direction]}"


def _is_untouched(known: Known, load: Combination, members: list[int]) -> bool:
    """Whether the train of a load brings nothing to members (indices), wherever along its way it stands."""
    if load.crossing is None:
        return False
    lines = known.responses.forces.influence[known.study.crossings[load.crossing].chord]
    return not load.crossing_factor or not lines[members].any()


def tell_broken(trial: Trial, teller: Teller, rung: Rung) -> str:
    """Tell a check that is not met: its member, its numbers, its place, whose rule it is."""
    study, check = trial.before.study, rung.check
    checks = trial.checks.each[rung.member] if rung.member >= 0 else trial.checks.whole
    told = [tell_rung(study, rung)]
    if find_beside(checks, check) is not None:
        told.append(f"{tell_demand(teller, checks, check)} of {tell_limit(teller, checks, check)}")
    place = tell_place(trial.before, teller, rung, lost_too=False)
    return f"{', '.join([*told, *([place] if place else [])])} ({tell_by(check)})"


def list_broken(trial: Trial, teller: Teller) -> tuple[str, ...]:
    """List what is not met, the hardest first, and what cannot be answered; nothing where all is met."""
    rungs = failing(trial)
    told = [tell_broken(trial, teller, rung) for rung in rungs[:MOST_BROKEN]]
    if len(rungs) > MOST_BROKEN:
        told.append(f"and {len(rungs) - MOST_BROKEN} more")
    return (*told, *tell_unanswered(trial.before.study, trial))


def asked_checks(checks: Sequence[Check]) -> tuple[Check, ...]:
    """The checks that a study asks for: those after the loss of another member only where it says so."""
    return tuple(check for check in checks if check.asked)


def list_unchecked(checks: Iterable[Check]) -> tuple[str, ...]:
    """List what checks leave out, the joint always."""
    return tuple(dict.fromkeys([JOINT, *(text for check in checks for text in check.unchecked)]))


def _all_rungs(trial: Trial) -> list[Rung]:
    rungs = [Rung(check, member) for member, own in enumerate(trial.checks.each) for check in own]
    return rungs + [Rung(check, -1) for check in trial.checks.whole]


def failing(trial: Trial) -> tuple[Rung, ...]:
    """Everything that is known not to be met, the hardest first."""
    over = [rung for rung in _all_rungs(trial) if rung.check.utilisation > 1 and not rung.check.holds]
    return tuple(sorted(over, key=lambda rung: -rung.check.utilisation))


def unanswered(trial: Trial) -> dict[tuple[str, str], tuple[Rung, ...]]:
    """Everything that cannot be answered, by its check and why."""
    found: dict[tuple[str, str], list[Rung]] = {}
    for rung in _all_rungs(trial):
        if isnan(rung.check.utilisation):
            found.setdefault((rung.check.key, "; ".join(rung.check.refused)), []).append(rung)
    return {what: tuple(rungs) for what, rungs in found.items()}


def tell_unanswered(study: Study, trial: Trial) -> tuple[str, ...]:
    """Tell what cannot be answered, of whom and why, a sentence each; by two rules is once."""
    return tuple(
        f"{key} cannot be answered of {_tell_who(study, rungs)}{f' ({why})' if why else ''}"
        for (key, why), rungs in unanswered(trial).items()
    )


def _tell_who(study: Study, rungs: Sequence[Rung]) -> str:
    """Name members; by their groups where all of these are among them, and at once where all of all are."""
    members = study.truss.members
    about = {rung.member for rung in rungs}
    if about == set(range(len(members))):
        return "any member"
    names = list(dict.fromkeys(name_of(study, rung) for rung in rungs))
    groups = list(dict.fromkeys(members[member].group.name for member in about if member >= 0))
    whole = {place for place, member in enumerate(members) if member.group.name in groups}
    return f"any member of {listed(sorted(groups), 8)}" if about == whole else listed(names, 8)


def tell_outcome(study: Study, trial: Trial, as_now: bool) -> str:
    """Tell whether every check is met with the sections tried, else how many are not and the hardest."""
    subject = "As it is," if as_now else "With these sections"
    over = failing(trial)
    unknown: dict[str, list[Rung]] = {}
    for (key, _), rungs in unanswered(trial).items():
        unknown.setdefault(key, []).extend(rungs)
    told = []
    if over:
        checks = f"{several(len(over), 'check', 'checks')} {'is' if len(over) == 1 else 'are'}"
        told.append(f"{checks} not met, the hardest {tell_rung(study, over[0])}")
    told += [f"{key} cannot be answered of {_tell_how_many(study, rungs)}" for key, rungs in unknown.items()]
    if not told:
        return f"{subject} every check made here is met; {OUTSIDE}."
    rest = "" if over else "; all others made here are met"
    return f"{subject} {'; '.join(told)}{rest}; {OUTSIDE}."


def _tell_how_many(study: Study, rungs: Sequence[Rung]) -> str:
    names = list(dict.fromkeys(name_of(study, rung) for rung in rungs))
    if {rung.member for rung in rungs} == set(range(len(study.truss.members))):
        return "any member"
    return names[0] if len(names) == 1 else several(len(names), "member", "members")


def use_of(checks: Sequence[Check]) -> tuple[float, Check | None]:
    """The hardest check of a member with its utilisation; NaN where its strength is not known.

    What is known to be over its limit counts before what is not known; that too, of whatever kind, before
    nothing at all.
    """
    known = [check for check in checks if not isnan(check.utilisation)]
    hardest = max(known, key=lambda check: check.utilisation, default=None)
    unknown = [check for check in checks if isnan(check.utilisation)]
    of_strength = [check for check in unknown if check.key in RESISTED]
    if of_strength and (hardest is None or hardest.holds):
        return nan, of_strength[0]
    if hardest is not None and hardest.utilisation:
        return hardest.utilisation, hardest
    return (nan, unknown[0]) if unknown else (0.0, None)
