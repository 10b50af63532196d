"""Lighter sections in words: what meets the checks, what governs, what stops it, and what is not checked.

Whatever is told here is a question for the engineer: the cautions belong to every sentence.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from math import isnan

from explorer.wording.asked import begin
from explorer.wording.lighter_checks import (
    JOINT,
    OUTSIDE,
    amount,
    failing,
    list_unchecked,
    shown_trial,
    tell_by,
    tell_rung,
)
from explorer.wording.lighter_nothing import tell_none
from explorer.wording.numbers import MINUS, NO_BREAK, Teller, count, listed, several, significant
from solver.checks.check import Check
from solver.sizing.candidates import Candidate, Candidates
from solver.sizing.choice import Sizes
from solver.study import Study

QUESTION = "A question for the engineer, not a proposal: local codes and a licensed engineer decide."
NEVER_CHECKED = "Joints are not checked, nor fatigue, fire, erection and whatever this study does not hold."
BESIDE = "Joint not checked; a question for the engineer."
NO_FAMILY = "No group of this study names a family of sections to choose from."
AT_SERVICE = (
    "Allowable strengths are held against the combinations as written, which must be at service level."
)
MOST_PASSED = 4
"""Sections passed over for the same reason that are named."""

LONGEST_CAUTION = 60
"""A caution longer than this many letters stands by its candidate only, not in the list at the top."""


def weight(teller: Teller, sizes: Sizes, value: float) -> str:
    """Write a weight of groups, or their volume where a material has no unit weight."""
    if sizes.weighed:
        return teller.force(value)
    unit = teller.value("length", 1.0)
    return f"{significant(value * unit**3)}{NO_BREAK}{teller.units.label('length')}³"


def difference(teller: Teller, sizes: Sizes, value: float) -> str:
    """Write a difference of weights with its sign; nothing where there is none."""
    if abs(value) < 1e-9 * max(sizes.weight(sizes.now), 1e-12):
        return "0"
    return f"{'+' if value > 0 else MINUS}{weight(teller, sizes, abs(value))}"


def tell_title(found: Candidates, teller: Teller) -> str:
    """Tell what the lightest choice that meets every check weighs, beside what there is."""
    if found.then is None:
        return tell_none(found)
    now = weight(teller, found.sizes, found.now.weight)
    instead = _tell_exchange(found, teller)
    if any(not isnan(rung.check.utilisation) for rung in failing(found.now)):
        return f"As it is, not every check made here is met; with {instead} all of them are; {OUTSIDE}."
    if not found.now.holds:
        met = f"With {instead} every check made here is met"
        return f"{met}; as it is, not every one can be answered; {OUTSIDE}."
    if found.then.weight < found.now.weight * (1 - 1e-12):
        return f"Every check made here is also met with {instead}; {OUTSIDE}."
    if found.proven:
        return f"Nothing lighter from these families meets every check made here: {now} as it is; {OUTSIDE}."
    met = "Nothing lighter was found in these families that meets every check made here"
    return f"{met}: {now} as it is; {OUTSIDE}."


def _tell_exchange(found: Candidates, teller: Teller) -> str:
    """The weight found and that of now; of one that is heavier, that it is."""
    assert found.then is not None
    now, then = (weight(teller, found.sizes, trial.weight) for trial in (found.now, found.then))
    noun = "a weight of" if found.sizes.weighed else "a volume of"
    if difference(teller, found.sizes, found.then.weight - found.now.weight) == "0":
        return f"other sections of the same weight, {now},"
    if found.then.weight > found.now.weight:
        return f"{noun} {then}, heavier than the {now} of now,"
    return f"{noun} {then} instead of {now}"


def tell_proven(found: Candidates) -> str:
    """Tell whether anything lighter could have been missed."""
    passed = [found.sizes.groups[one.place].name for one in found.each if one.passed_over]
    or_unknown = f", or has a section that cannot be answered for ({listed(passed)})" if passed else ""
    if found.then is None:
        # Where that is not proven the title has told how many were worked out.
        every = "Every choice of these families fails a check or cannot be answered for."
        return every if found.proven else ""
    if found.proven:
        return f"Proven least: every lighter choice of these families fails a check{or_unknown}."
    tried = several(found.tried, "choice", "choices")
    return f"Not proven least: {tried} were worked out, not all of them; a lighter one may exist."


def tell_not_among(study: Study) -> str:
    """Tell what of a study is not among the checks made here, and what its strengths are held against."""
    told = []
    if not study.rules.limits.after_loss:
        told.append("The loss of a member is not among the checks made here: this study does not ask for it.")
    standard = study.rules.standard
    if standard is not None and standard.name.endswith("ASD"):
        told.append(AT_SERVICE)
    return " ".join(told)


def tell_scope(found: Candidates) -> str:
    """Tell whose weights are told, where not all groups name a family."""
    named = {group.name for group in found.sizes.groups}
    others = {member.group.name: None for member in found.sizes.study.truss.members}
    left = [name for name in others if name not in named]
    if not left:
        return ""
    stay = "stays as it is and is" if len(left) == 1 else "stay as they are and are"
    return f"Weights are those of the groups that name a family: {listed(left)} {stay} not in them."


def tell_fails(found: Candidates, one: Candidate) -> str:
    """Tell what of a group is not met now, and with which section it is; nothing where all is met."""
    if one.fails is None:
        return ""
    if one.then is not None:
        met = f"{one.then.name} meets the checks made here, together with the other sections found"
    elif found.proven:
        met = "no choice from these families meets the checks made here"
    else:
        met = "none that meets the checks made here was found"
    fails = f"{tell_rung(found.sizes.study, one.fails)} ({tell_by(one.fails.check)})"
    return f"Not met now: {fails}; {met}."


def tell_governs(study: Study, one: Candidate) -> str:
    """Tell which of a group's own checks is nearest to its limit with the section found, or not known."""
    if one.governs is None:
        return "not known"
    return f"{tell_rung(study, one.governs)} ({tell_by(one.governs.check)})"


def tell_stops(study: Study, one: Candidate) -> str:
    """Tell the next lighter section and what stops it."""
    if one.then is None:
        return ""
    if one.below is None:
        return "The family has nothing lighter."
    if one.stops is None:
        return f"{one.below.name} was not tried to its end."
    return f"{one.below.name}: {tell_rung(study, one.stops)} ({tell_by(one.stops.check)})."


def tell_passed_over(one: Candidate) -> str:
    """Tell which lighter sections nothing is known of, and why; nothing where there are none."""
    by_why: dict[str, list[str]] = {}
    for passed in one.passed_over:
        by_why.setdefault(passed.why, []).append(passed.section.name)
    told = [f"{_few(names)} ({why})" for why, names in by_why.items()]
    return f"Passed over, not answered for: {'; '.join(told)}." if told else ""


def _few(names: list[str]) -> str:
    if len(names) <= MOST_PASSED:
        return listed(names)
    return f"{', '.join(names[:MOST_PASSED])} and {len(names) - MOST_PASSED} more"


def tell_idle(found: Candidates, teller: Teller) -> tuple[str, ...]:
    """Tell of members that look idle what they hold, and what that asks of them; a sentence each."""
    idle = found.now.checks.idle
    if not idle:
        return ()
    reach = tell_reach(found.sizes.study)
    who, hold, they = (
        ("One member looks idle", "it holds", "it")
        if len(idle) == 1
        else (f"{begin(count(len(idle)))} members look idle", "they hold", "they")
    )
    first = (
        f"{who}: {reach} reaches {'it' if len(idle) == 1 else 'them'} under any combination. "
        f"Yet {hold} compressed bars in place, and {they} may not shrink below what that asks."
    )
    return (first, *(_holding(found, member, teller) for member in idle))


def tell_reach(study: Study) -> str:
    """What reaches a member that looks idle: own weight alone, or nothing where no case has any."""
    weighs = any(case.self_weight for case in study.cases.values())
    return "nothing but own weight" if weighs else "nothing"


def _holding(found: Candidates, member: int, teller: Teller) -> str:
    truss, checks = found.sizes.study.truss, found.now.checks.each[member]
    asked: dict[str, list[str]] = {}
    for check in checks:
        if check.key.startswith("prop"):
            bars = listed([truss.members[other].name for other in check.others])
            holds = f"holds {truss.joint_names[check.joint]} between {bars}"
            must = "stiffness" if check.key == "prop stiffness" else "force"
            needs = f"{must} {amount(teller, check, check.demand)} ({tell_by(check)})"
            asked.setdefault(holds, []).append(needs)
    told = [f"{holds}: {listed(needs)}" for holds, needs in asked.items()]
    one = truss.members[member]
    return f"{one.name} ({one.group.name}) is {_tell_bears(checks, teller)}; it {'; it '.join(told)}."


def _tell_bears(checks: Sequence[Check], teller: Teller) -> str:
    """How much of own weight a member bears that nothing else reaches."""
    own = [check for check in checks if check.key in ("tension", "compression") and check.demand]
    if not own:
        return "zero under every combination"
    told = listed([f"{check.key} {amount(teller, check, check.demand)}" for check in own])
    return f"zero but for own weight ({told} at most)"


def find_shared(found: Candidates) -> dict[str, tuple[str, ...]]:
    """Return what is not checked of most groups, but for the joint, and of which groups that is not so."""
    each = {
        group.name: list_unchecked(checks)[1:]
        for group, checks in zip(found.sizes.groups, shown_trial(found).groups, strict=True)
    }
    without = {
        text: tuple(name for name, texts in each.items() if text not in texts)
        for text in dict.fromkeys(text for texts in each.values() for text in texts)
    }
    return {text: names for text, names in without.items() if 2 * len(names) < len(each)}


def tell_unchecked(found: Candidates, one: Candidate) -> str:
    """Tell what is not checked of a group alone; what most groups share is told once for all."""
    own = list_unchecked(shown_trial(found).groups[one.place])[1:]
    shared = find_shared(found)
    return " ".join(f"{begin(text)}." for text in own if text not in shared)


def tell_shared(found: Candidates) -> str:
    """Tell what is not checked of most groups, and of which it is not so."""
    by_groups: dict[tuple[str, ...], list[str]] = {(): [JOINT]}
    for text, names in find_shared(found).items():
        by_groups.setdefault(names, []).append(text)
    told = [
        f"Of {f'all groups but {listed(list(names))}' if names else 'every group'}: {'; '.join(texts)}."
        for names, texts in by_groups.items()
    ]
    return " ".join([*told, QUESTION])


def tell_all_unchecked(found: Candidates) -> str:
    """Tell what is not checked, with the groups that it is about."""
    trial = shown_trial(found)
    about: dict[str, list[str]] = {}
    for group, checks in zip(found.sizes.groups, trial.groups, strict=True):
        for text in list_unchecked(checks)[1:]:
            about.setdefault(text, []).append(group.name)
    every = len(found.sizes.groups)
    told = [
        begin(text) + ("." if len(groups) == every else f" ({listed(groups)}).")
        for text, groups in about.items()
        if len(text) <= LONGEST_CAUTION
    ]
    return " ".join(told)


def write_family(study: Study, metric: bool) -> str:
    """Write what a study file needs for lighter sections to be looked for, with its own first group."""
    group = study.truss.members[0].group.name
    key = group if re.fullmatch(r"[A-Za-z0-9_-]+", group) else json.dumps(group, ensure_ascii=False)
    table, standard = (
        ("EN 10210-2 SHS", "EN 1993-1-1") if metric else ("ASTM A500 square", "AISC 360-22 LRFD")
    )
    lines = [
        "[families.square]",
        f'table = "{table}"',
        "",
        f"[groups.{key}]  # with what it has",
        'family = "square"',
    ]
    if study.rules.standard is None:
        lines += ["", "[standards]", f'strength = "{standard}"']
    return "\n".join(lines)
