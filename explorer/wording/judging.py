"""What somebody marked, judged: what is right, missed and wrong, each with its reason, and slips by name.

First round: which members are zero under the load? Second: without which is the truss a mechanism?
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

import numpy as np

from explorer.wording.asked import begin
from explorer.wording.numbers import count, significant
from explorer.wording.reasons import Reasoning, tell_reason
from solver.errors import InputError
from solver.reasons import joint_rule
from solver.reasons.causes import strongest_cause
from solver.reasons.reason import JOINT_INSPECTION, NOT_ZERO, Movement, Reason
from solver.reasons.slips import (
    FOLLOWED,
    FORGOTTEN_SUPPORT,
    LOADED_JOINT,
    STANDS_WITHOUT,
    SYMMETRY,
    ZERO_TAKEN_FOR_REMOVABLE,
    Marking,
    Slip,
    slip_about_need,
    slip_of,
)

RULE_NAMES = {
    joint_rule.ONLY_MEMBER: "The rule for a single bar",
    joint_rule.TWO_MEMBERS: "The two-bar rule",
    joint_rule.THREE_MEMBERS: "The three-bar rule",
    joint_rule.OTHERS_IN_LINE: "The rule for one bar and others in line",
    joint_rule.OTHERS_IN_PLANE: "The rule for one bar and others in one plane",
}
"""What a rule is called; of the others, which reckon with a load or a support already, see ANY_RULE."""

ANY_RULE = "The joint rule"
FORGOTTEN = {
    LOADED_JOINT: "{rule} holds at an unloaded joint; on {joint} stands a load of {load}.",
    FORGOTTEN_SUPPORT: "{rule} holds where no support acts; {joint} has one, and its reaction acts there.",
}
MIRRORED = (
    "Its mirror image {other} is zero here, but symmetry carries a zero across only where loads, "
    "supports and stiffnesses are symmetric too."
)
FOLLOWING = "At {joint} it would follow if {other} were zero, but {other} bears {force}."
ABOUT_NEED = {
    ZERO_TAKEN_FOR_REMOVABLE: "That it bears nothing here is no sign that the truss stands without it.",
    STANDS_WITHOUT: (
        "Whether a truss stands is told by where its members and supports lie, not by what they bear."
    ),
}


@dataclass(frozen=True)
class Verdict:
    """About one member (index): its name, a sentence with the reason, and one that names a slip or ''."""

    member: int
    name: str
    sentence: str
    slip: str = ""


@dataclass(frozen=True)
class Judgement:
    """What was marked and rightly so, what should have been, what should not; and all of it in one sentence.

    Each in the file's order.
    """

    right: tuple[Verdict, ...]
    missed: tuple[Verdict, ...]
    wrong: tuple[Verdict, ...]
    summary: str


def judge_zeros(told: Reasoning, reasons: tuple[Reason, ...], marked: Collection[int]) -> Judgement:
    """Judge which members (indices) were marked as zero, by a reason for every member in the state told of.

    Raises InputError where a member marked is none of the truss.
    """
    chosen = _chosen(reasons, marked)
    zeros = frozenset(reason.member for reason in reasons if reason.kind != NOT_ZERO)
    marking = Marking(told.answers.reasoner.joint_rule, told.state, zeros, chosen)
    right: list[Verdict] = []
    missed: list[Verdict] = []
    wrong: list[Verdict] = []
    walk = _joints_of_walk(reasons)
    for reason in reasons:
        member = reason.member
        if member in zeros and member in chosen:
            right.append(_verdict(told, member, tell_reason(told, reason)))
        elif member in zeros:
            missed.append(_verdict(told, member, _tell_missed(told, reason, walk)))
        elif member in chosen:
            slip = slip_of(marking, member)
            wrong.append(_verdict(told, member, _tell_force(told, reason), _tell_slip(told, slip)))
    summary = _sum_up_zeros(len(right), len(missed), len(wrong))
    return Judgement(tuple(right), tuple(missed), tuple(wrong), summary)


def judge_needed(told: Reasoning, reasons: tuple[Reason, ...], marked: Collection[int]) -> Judgement:
    """Judge which members (indices) were marked as those without which the truss is a mechanism.

    `reasons`: one for every member in the state told of, for zeros that misled. Raises InputError where a
    member marked is none of the truss.
    """
    chosen = _chosen(reasons, marked)
    right: list[Verdict] = []
    missed: list[Verdict] = []
    wrong: list[Verdict] = []
    for reason in reasons:
        member = reason.member
        needed = bool(told.answers.removals.mechanism[member])
        slip = slip_about_need(member, needed, member in chosen, reason.kind != NOT_ZERO)
        said = _tell_slip(told, slip)
        if needed:
            verdict = _verdict(told, member, _tell_movement(told, member), said)
            (right if member in chosen else missed).append(verdict)
        elif member in chosen:
            wrong.append(_verdict(told, member, _tell_standing(told, member), said))
    summary = _sum_up_needed(len(right), len(missed), len(wrong))
    return Judgement(tuple(right), tuple(missed), tuple(wrong), summary)


def _chosen(reasons: tuple[Reason, ...], marked: Collection[int]) -> frozenset[int]:
    strangers = sorted(set(marked) - {reason.member for reason in reasons})
    if strangers:
        raise InputError(f"there is no member number {strangers[0]}")
    return frozenset(marked)


def _verdict(told: Reasoning, member: int, sentence: str, slip: str = "") -> Verdict:
    return Verdict(member, told.member(member), sentence, slip)


def _joints_of_walk(reasons: tuple[Reason, ...]) -> list[tuple[int, int]]:
    """Rounds and joints (indices) of joint inspection, in the order in which a walk comes by them."""
    return sorted(
        {
            (reason.proof.step, reason.proof.joint)
            for reason in reasons
            if reason.kind == JOINT_INSPECTION and isinstance(reason.proof, joint_rule.Finding)
        }
    )


def _tell_missed(told: Reasoning, reason: Reason, walk: list[tuple[int, int]]) -> str:
    sentence = tell_reason(told, reason)
    if reason.kind == JOINT_INSPECTION and isinstance(reason.proof, joint_rule.Finding):
        number = walk.index((reason.proof.step, reason.proof.joint)) + 1
        return f"Step {number} of the walk: {sentence}"
    return sentence


def _tell_force(told: Reasoning, reason: Reason) -> str:
    """The force and what causes it: of one that a movement explains, the load that brings most of it."""
    if isinstance(reason.proof, Movement):
        cause = strongest_cause(told.answers.reasoner.stiffness, told.state, reason.member)
        return tell_reason(told, Reason(reason.member, NOT_ZERO, cause))
    return tell_reason(told, reason)


def _tell_movement(told: Reasoning, member: int) -> str:
    moves = told.answers.removals.moves[member]
    verb = "moves" if len(moves) == 1 else "move"
    return f"Without {told.member(member)} the truss is a mechanism: {told.joints(moves)} {verb}."


def _tell_standing(told: Reasoning, member: int) -> str:
    share = significant(float(told.answers.redundancy.shares[member]))
    return (
        f"Without it the truss still stands; its redundancy share is {share}, "
        "which says nothing about strength."
    )


def _tell_slip(told: Reasoning, slip: Slip | None) -> str:
    """Name a slip in a sentence; '' where there is none."""
    if slip is None:
        return ""
    if slip.kind in FORGOTTEN:
        load = told.teller.force(float(np.linalg.norm(told.state.joint_loads[slip.joint])))
        rule = RULE_NAMES.get(slip.rule, ANY_RULE)
        return FORGOTTEN[slip.kind].format(rule=rule, joint=told.joint(slip.joint), load=load)
    if slip.kind == FOLLOWED:
        other = slip.other
        return FOLLOWING.format(
            joint=told.joint(slip.joint), other=told.member(other), force=told.force(other)
        )
    if slip.kind == SYMMETRY:
        return MIRRORED.format(other=told.member(slip.other))
    return ABOUT_NEED[slip.kind]


def _sum_up_zeros(right: int, missed: int, wrong: int) -> str:
    marked = f"{count(wrong)} marked that {'works' if wrong == 1 else 'work'}"
    if not right + missed:
        return f"No member is zero here; {marked if wrong else 'none was marked'}."
    return _sum_up(
        _found(right, right + missed, ("zero", "zeros")), missed if right else 0, marked if wrong else ""
    )


def _sum_up_needed(right: int, missed: int, wrong: int) -> str:
    marked = f"{count(wrong)} marked without which the truss still stands"
    if not right + missed:
        return (
            f"Without any single member the truss still stands; {count(wrong) if wrong else 'none'} marked."
        )
    return _sum_up(
        _found(right, right + missed, ("needed member", "needed members")),
        missed if right else 0,
        marked if wrong else "",
    )


def _found(right: int, total: int, words: tuple[str, str]) -> str:
    one, many = words
    if total == 1:
        return f"the only {one} {'found' if right else 'missed'}"
    if right == total:
        return f"{'both' if total == 2 else f'all {count(total)}'} {many} found"
    return f"{count(right) if right else 'none'} of {count(total)} {many} found"


def _sum_up(found: str, missed: int, marked: str) -> str:
    parts = [found, *([f"{count(missed)} missed"] if missed else []), *([marked] if marked else [])]
    return f"{begin(', '.join(parts))}."
