"""The checks of a whole study in a line: how many are not met, which asks most, how many are not known."""

from __future__ import annotations

from math import isnan

from explorer.wording.asked import words
from explorer.wording.checks import tell_ratio
from explorer.wording.numbers import count, listed, several
from solver.answers import Answers
from solver.checks.check import Check

LONGEST = 70
"""A text longer than this many letters stands in the table of checks alone."""

Of = tuple[str, Check]
"""A check, and the name of the member that it is of."""


def tell_checks(answers: Answers) -> str:
    """Tell what of a study's checks is not met and not known; empty where nothing is known of any.

    That of its checks which the study does not ask for counts for nothing.
    """
    asked = [one for one in _all(answers) if one[1].asked]
    if all(isnan(check.limit) for _, check in asked):
        return ""
    over = [one for one in asked if not one[1].holds and not isnan(one[1].utilisation)]
    unknown = sum(isnan(check.utilisation) for _, check in asked)
    told = [_over(answers, over) if over else "all that are known are met" if unknown else "all are met"]
    if unknown:
        told.append(f"not known: {several(unknown, 'check', 'checks')}")
    return f"checks made here: {'; '.join(told)}; joints are not among them"


def tell_left_out(answers: Answers) -> str:
    """Tell what the checks leave out, each with the groups that it is about; empty where nothing."""
    members = answers.study.truss.members
    about: dict[str, dict[str, None]] = {}
    for member, own in zip(members, answers.checks.each, strict=True):
        for check in own:
            for text in check.unchecked if check.asked else ():
                about.setdefault(text, {})[member.group.name] = None
    every = len({member.group.name for member in members})
    told = [
        text if len(groups) == every else f"{text} ({listed(list(groups))})"
        for text, groups in about.items()
        if len(text) <= LONGEST
    ]
    return f"left out: {'; '.join(told)}" if told else ""


def _all(answers: Answers) -> list[Of]:
    members, checks = answers.study.truss.members, answers.checks
    each = zip(members, checks.each, strict=True)
    found = [(member.name, check) for member, own in each for check in own]
    return found + [("the whole truss", check) for check in checks.whole]


def _over(answers: Answers, over: list[Of]) -> str:
    name, check = max(over, key=lambda one: one[1].utilisation)
    under = ""
    if check.combination >= 0:
        under = f" under {words(answers.study.asked[check.combination].name)}"
    hardest = f"{check.key} of {name} at {tell_ratio(check.utilisation)}{under}"
    return f"{count(len(over))} not met, the hardest {hardest}"
