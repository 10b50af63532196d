"""Where no choice of sections holds: what cannot be met, and the choice that comes nearest to it."""

from __future__ import annotations

from collections.abc import Sequence
from math import isnan

from explorer.wording.asked import begin
from explorer.wording.lighter_checks import (
    OUTSIDE,
    failing,
    name_of,
    tell_by,
    tell_rung,
    tell_unanswered,
    use_of,
    utilisation,
)
from explorer.wording.numbers import several
from solver.checks.check import Check
from solver.sizing.candidates import Candidate, Candidates, Rung

NO_CANDIDATE = "not a candidate"


def tell_none(found: Candidates) -> str:
    """Tell that nothing holds, of no choice only where that is proven; first which groups lack a section."""
    lacking = _tell_lacking(found)
    if found.proven:
        return f"{lacking}No choice from these families meets every check made here; {OUTSIDE}."
    tried = several(found.tried, "choice", "choices")
    return (
        f"{lacking}None that meets every check made here was found among {tried} worked out; "
        f"others were not tried. As for those checks, {OUTSIDE}."
    )


def _tell_lacking(found: Candidates) -> str:
    """Name groups of which no section meets all of its checks; nothing where each has one that does."""
    told = [_tell_short(found, one) for one in found.each if one.lacks is not None]
    return f"{begin('; '.join(told))}, under the forces of the nearest choice. " if told else ""


def _tell_short(found: Candidates, one: Candidate) -> str:
    """What the nearest section lacks; where that is not known, what fails in the nearest choice too."""
    assert one.lacks is not None
    check, name = one.lacks.check, found.sizes.groups[one.place].name
    none = f"{name}: no section to choose from"
    if not isnan(check.utilisation):
        return (
            f"{none} meets all of its checks, the nearest has {check.key} at {utilisation(check.utilisation)}"
        )
    over = [rung for rung in failing(found.nearest) if rung.member in one.members] if found.nearest else []
    fails = f"; that of the nearest choice has {over[0].check.key} at " if over else ""
    ratio = utilisation(over[0].check.utilisation) if over else ""
    return f"{none} is known to meet all of its checks, of one {check.key} cannot be answered{fails}{ratio}"


def tell_lacks(found: Candidates, one: Candidate) -> str:
    """Tell what the section of a group nearest to holding lacks; nothing where one meets all of its own."""
    if one.lacks is None:
        return ""
    check = one.lacks.check
    which = f"{check.key} of {name_of(found.sizes.study, one.lacks)}"
    known = not isnan(check.utilisation)
    stands = f"stands {_at(found, one.lacks)}" if known else "cannot be answered"
    meets = "meets" if known else "is known to meet"
    return (
        f"No section to choose from {meets} all of its own checks under the forces of the nearest choice: "
        f"with the one that comes nearest {which} {stands} ({tell_by(check)})."
    )


def _at(found: Candidates, rung: Rung) -> str:
    """The utilisation alone, as a rung is told."""
    return "at " + tell_rung(found.sizes.study, rung).rpartition(" at ")[2]


def tell_in_nearest(found: Candidates, one: Candidate) -> str:
    """Tell a group's hardest check in the nearest choice, and that it is no candidate."""
    if found.nearest is None:
        return ""
    member = max(one.members, key=lambda each: _rank(found.nearest.checks.each[each]) if found.nearest else 0)
    ratio, check = use_of(found.nearest.checks.each[member])
    if check is None:
        return f"Nothing asked of it; {NO_CANDIDATE}."
    met = "not known" if isnan(ratio) else "met" if check.holds else "not met"
    told = tell_rung(found.sizes.study, Rung(check, member))
    return f"{begin(told)} ({tell_by(check)}){'' if isnan(ratio) else f', {met}'}; {NO_CANDIDATE}."


def _rank(checks: Sequence[Check]) -> float:
    """What is over its limit before what is not known, that before all that is met."""
    ratio, _ = use_of(checks)
    return 1.0 + 1e-9 if isnan(ratio) else ratio


def tell_nearest(found: Candidates) -> str:
    """Tell of the nearest choice what it is and what it is not; nothing where none is known."""
    if found.nearest is None:
        return ""
    number = len(failing(found.nearest))
    over = f"{several(number, 'check', 'checks')} of it {'is' if number == 1 else 'are'} not met"
    if not number:
        over = "nothing of it is known to fail, and not all of it can be answered"
    which = "the truss as it is" if found.nearest.choice == found.sizes.now else "the nearest"
    return (
        f"Of the choices worked out {which} exceeds its limits least; {over}. "
        f"It is shown to see what is lacking, and is {NO_CANDIDATE}."
    )


def tell_no_answer(found: Candidates) -> str:
    """Tell why the sections of now are no answer; nothing where some check is known not to be met."""
    told = tell_unanswered(found.sizes.study, found.now)
    if not told or failing(found.now):
        return ""
    return f"As it is, the truss is no answer either: {'; '.join(told)}."
