"""The words of a step: its question, its place in the walk, and the rows that bear its sentence out."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Decimal

import numpy as np

from explorer.pages.learn.setting import Setting
from explorer.pages.learn.steps import Step
from explorer.wording.asked import begin
from explorer.wording.if_gone import describe_direction
from explorer.wording.numbers import MINUS, count, listed, significant
from explorer.wording.reasons import Reasoning
from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import INDETERMINATE, JOINT_INSPECTION, KNOWN_REACTION, VIRTUAL_WORK, Indeterminate
from solver.tolerances import NO_LOAD
from solver.virtual_work import VirtualWork

Row = tuple[str, str]
ORDINALS = ["First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth", "Ninth", "Tenth"]
KINDS_TOLD = {
    KNOWN_REACTION: "with the reactions known",
    VIRTUAL_WORK: "by the work of the loads",
    INDETERMINATE: "where equilibrium alone is not enough",
}


def ask(setting: Setting, step: Step) -> str:
    """The question of a step."""
    told, names = setting.told, [setting.told.member(member) for member in step.members]
    if step.joint >= 0:
        what = "Which member" if len(names) == 1 else f"Which {count(len(names))} members"
        return f"{what} at {told.joint(step.joint)} must be zero?"
    proof = step.reasons[0].proof
    if isinstance(proof, Cut):
        passed = listed([told.member(member) for member in proof.members])
        return f"Cut through {passed}: which must be zero?"
    return f"What would move without {names[0]}?" if step.kind == VIRTUAL_WORK else f"Why is {names[0]} zero?"


def tell_place(steps: list[Step], number: int) -> str:
    """Which of how many of its kind a step is."""
    kind = steps[number].kind
    alike = [step for step in steps if step.kind == kind]
    place = sum(step.kind == kind for step in steps[: number + 1])
    ordinal, total = _ordinal(place), count(len(alike)) if len(alike) <= len(ORDINALS) else str(len(alike))
    if kind == JOINT_INSPECTION:
        if len(alike) == 1:
            return "The only joint that shows one"
        return f"{ordinal} of {total} joints that show one"
    what = KINDS_TOLD.get(kind, "by a cut")
    if len(alike) == 1:
        return begin(f"{what}: the only one")
    return begin(f"{what}: {ordinal.lower()} of {total}")


def _ordinal(place: int) -> str:
    """A place in a row: in words up to the tenth.

    >>> [_ordinal(place) for place in (1, 11, 12, 13, 21, 22, 103, 111)]
    ['First', '11th', '12th', '13th', '21st', '22nd', '103rd', '111th']
    """
    if place <= len(ORDINALS):
        return ORDINALS[place - 1]
    ending = "th" if place % 100 in (11, 12, 13) else {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{ending}"


def tell_rows(setting: Setting, step: Step, work: VirtualWork | None) -> list[Row]:
    """The rows under a step's sentence."""
    proof = step.reasons[0].proof
    if isinstance(proof, Finding):
        return _joint_rows(setting, step)
    if isinstance(proof, Cut):
        return _cut_rows(setting.told, proof)
    if isinstance(proof, Indeterminate):
        return _stiffness_rows(setting, step, proof)
    return _work_rows(setting.told, step, work) if work else []


def _joint_rows(setting: Setting, step: Step) -> list[Row]:
    told, truss = setting.told, setting.worked.answers.study.truss
    here = [m for m in truss.members_at[step.joint] if m not in step.members and m not in step.because]
    joint = told.joint(step.joint)
    rows = [(f"load on {joint}", tell_load(told, step.joint))]
    if any(support.joint == step.joint for support in truss.supports):
        known = (
            "known from the whole truss" if step.kind == KNOWN_REACTION else "its line is known, its size not"
        )
        rows.append((f"support at {joint}", known))
    if step.because:
        rows.append(("zero before", listed([told.member(m) for m in step.because])))
    rows.append(("left there", listed([told.member(m) for m in here]) if here else "nothing else"))
    alone = listed([told.member(m) for m in step.members])
    each = "N = 0" if len(step.members) == 1 else "N = 0 in each"
    rows.append(("across all that" if here else "so", f"{alone}: {each}"))
    return rows


def tell_load(told: Reasoning, joint: int) -> str:
    """The load on a joint in words."""
    load = told.state.joint_loads[joint]
    size = float(np.linalg.norm(load))
    if size <= NO_LOAD * float(told.state.largest_contribution[joint]):
        return "none"
    return f"{told.teller.force(size)} {describe_direction(load / size)}"


def _cut_rows(told: Reasoning, cut: Cut) -> list[Row]:
    others = [m for m in cut.members if m != cut.member and m not in cut.known]
    rows = [("freed part", listed([told.joint(joint) for joint in cut.part], most=8))]
    if cut.known:
        rows.append(("zero before", listed([told.member(m) for m in cut.known])))
    if others:
        rows.append(("take no part", listed([told.member(m) for m in others]) + ", nor do the loads"))
    rows.append(("one unknown left", f"{told.member(cut.member)}: N = 0"))
    return rows


def _work_rows(told: Reasoning, step: Step, work: VirtualWork) -> list[Row]:
    member = step.members[0]
    moving = [told.joint(j) for j in np.flatnonzero(work.movement.any(axis=1)).tolist()]
    terms = [one for one in work.works if one.work]
    done = "none of the loaded joints moves" if not work.works else "each load stands square to its movement"
    if terms:
        sizes, together = _add_up([float(told.teller.value("force", one.work)) for one in terms])
        parts = [f"{size} at {told.joint(one.joint)}" for size, one in zip(sizes, terms, strict=True)]
        unit = told.teller.units.label("force")
        done = f"load × its joint's movement, the largest being 1, in {unit}: {', '.join(parts)}; {together}"
    exact = "no other member changes its length, exactly" if work.exact else "to twelve digits"
    return [
        ("taken out", told.member(member)),
        ("moves", listed(moving, most=8)),
        ("work of the loads", done),
        ("checked", exact),
    ]


def _add_up(values: list[float]) -> tuple[list[str], str]:
    """Write numbers whose sum is 0 with so many decimals that what is written adds up to 0, if that can be.

    From three significant digits of the largest on, at most three more. Returns the numbers, and what they
    come to together.
    """
    largest = max(abs(value) for value in values)
    first = max(0, 2 - Decimal(largest).adjusted())
    for decimals in range(first, first + 4):
        step = Decimal(1).scaleb(-decimals)
        written = [Decimal(value).quantize(step, ROUND_HALF_EVEN) for value in values]
        if all(written) and not sum(written):
            return [_write(value) for value in written], "together 0"
    return [_write(value) for value in written], "together 0 but for the rounding of these numbers"


def _write(value: Decimal) -> str:
    return f"{value:f}".replace("-", MINUS)


def _stiffness_rows(setting: Setting, step: Step, proof: Indeterminate) -> list[Row]:
    share = float(setting.worked.answers.redundancy.shares[step.members[0]])
    rows = [("redundancy share", f"{significant(share)}: without it the truss is no mechanism")]
    if proof.always:
        return [*rows, ("any stiffnesses", "N = 0" + (", exactly" if proof.exact else ", as tried"))]
    changed = setting.told.teller.member_force(proof.change)
    return [*rows, (f"{setting.told.member(proof.grown)} 10\u00a0% larger", f"N = {changed}")]
