"""The walk: each step as question, joint, sentence, rows and what else the member does; then the end."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from explorer.markup import Markup, element, join
from explorer.pages.learn.ending import show_ending
from explorer.pages.learn.setting import Setting
from explorer.pages.learn.steps import ORDER, Step, list_steps
from explorer.pages.learn.told import ask, tell_place, tell_rows
from explorer.pages.proofs.joint import JointAlone, draw_joint
from explorer.pages.proofs.loss import draw_loss, draw_movement_of
from explorer.pages.proofs.names import keep_names
from explorer.pages.proofs.part import draw_cut
from explorer.pages.proofs.waking import draw_waking_loads
from explorer.wording.if_gone import list_grounds, tell_if_gone
from explorer.wording.numbers import listed, several
from explorer.wording.reasons import tell_reason
from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import (
    CUT,
    INDETERMINATE,
    JOINT_INSPECTION,
    KNOWN_REACTION,
    VIRTUAL_WORK,
    Movement,
    Reason,
)
from solver.virtual_work import VirtualWork, examine_virtual_work

WIDE = 420.0
"""Width of the picture of a step [px]."""

MOST_STEPS = 200
"""Steps that a walk shows; of more the end tells, and the list of reasons has them all."""

MOST_LOSSES = 150
"""Members up to which every step shows the truss without its member: each is a picture of the whole truss."""


def show_walk(setting: Setting) -> list[dict[str, object]]:
    """Return every step as the page shows it, the end last."""
    steps = list_steps(setting.reasons)
    known: set[int] = set()
    shown = []
    for number, step in enumerate(steps[:MOST_STEPS]):
        shown.append(_show_step(setting, steps, number, frozenset(known)))
        known |= set(step.members)
    return [*shown, show_ending(setting, steps, max(0, len(steps) - MOST_STEPS))]


def _show_step(setting: Setting, steps: list[Step], number: int, known: frozenset[int]) -> dict[str, object]:
    step = steps[number]
    work = _work(setting, step)
    sentences = [
        element("p", keep_names(tell_reason(setting.told, reason)), {"class": "say"})
        for reason in step.reasons[:1]
    ]
    if len(step.reasons) > 1:
        others = [setting.told.member(member) for member in step.members[1:]]
        sentences.append(element("p", keep_names(f"The same holds for {listed(others)}."), {"class": "same"}))
    sentences += _also(setting, step)
    return {
        "kind": step.kind,
        "joint": step.joint,
        "part": _part(step),
        "members": list(step.members),
        "label": setting.told.joint(step.joint) if step.joint >= 0 else setting.told.member(step.members[0]),
        "question": ask(setting, step),
        "where": tell_place(steps, number),
        "picture": _picture(setting, step, known, work),
        "picture_title": _picture_title(setting, step),
        "says": join([*sentences, _rows(tell_rows(setting, step, work))]),
        "beside": _beside(setting, step),
    }


def _also(setting: Setting, step: Step) -> list[Markup]:
    """A joint that shows a later zero too, once those that joints, reactions and cuts gave are known."""
    if step.kind not in (CUT, VIRTUAL_WORK, INDETERMINATE):
        return []
    before = {r.member for r in setting.reasons if r.kind in ORDER[: ORDER.index(step.kind)]}
    state = setting.told.state
    rule = setting.worked.answers.reasoner.joint_rule
    for finding in rule.inspect(state.joint_loads, state.largest_contribution, before - set(step.members)):
        if finding.member == step.members[0]:
            sentence = tell_reason(setting.told, Reason(finding.member, JOINT_INSPECTION, finding))
            return [
                element(
                    "p",
                    keep_names(f"With the zeros found before, a joint shows it as well: {sentence}"),
                    {"class": "same"},
                )
            ]
    return []


def _part(step: Step) -> list[int]:
    """Joints (indices) to stand out in the drawing."""
    proof = step.reasons[0].proof
    return (
        list(proof.part)
        if isinstance(proof, Cut)
        else list(proof.moves)
        if isinstance(proof, Movement)
        else []
    )


def _work(setting: Setting, step: Step) -> VirtualWork | None:
    proof = step.reasons[0].proof
    if not isinstance(proof, Movement):
        return None
    answers = setting.worked.answers
    stiffness, member = answers.reasoner.stiffness, step.members[0]
    return examine_virtual_work(stiffness, answers.statics, setting.told.state, member, proof.moves)


def _picture(setting: Setting, step: Step, known: frozenset[int], work: VirtualWork | None) -> Markup:
    proof, truss = step.reasons[0].proof, setting.worked.answers.study.truss
    if isinstance(proof, Finding):
        given = step.kind == KNOWN_REACTION
        alone = JointAlone(setting.told, step.joint, step.members, known, proof, False, given)
        return draw_joint(alone, WIDE)
    if isinstance(proof, Cut):
        return draw_cut(setting.told, proof, WIDE)
    if work is not None:
        return draw_movement_of(truss, step.members[:1], work.movement)
    member = truss.members[step.members[0]]
    loads = np.linalg.norm(setting.told.state.joint_loads, axis=1)
    joint = member.second if loads[member.second] > loads[member.first] else member.first
    return draw_joint(JointAlone(setting.told, joint, step.members), WIDE)


def _picture_title(setting: Setting, step: Step) -> str:
    if isinstance(step.reasons[0].proof, Cut):
        return "The part alone"
    return "The movement" if step.kind == VIRTUAL_WORK else "The joint alone"


def _rows(rows: list[tuple[str, str]]) -> Markup:
    items = [element("li", [element("b", name), element("span", keep_names(text))]) for name, text in rows]
    return element("ul", items, {"class": "because"})


def _beside(setting: Setting, step: Step) -> Markup:
    """What else the member does: what if it were gone, and what would wake it."""
    member, answers = step.members[0], setting.worked.answers
    asked = replace(setting.asked, member=member)
    told, grounds = tell_if_gone(asked), [sentence for _, sentence in list_grounds(asked)]
    name = setting.told.member(member)
    parts = [element("h2", ["Zero, and yet ", element("small", keep_names(f"what if {name} were gone"))])]
    if len(answers.study.truss.members) <= MOST_LOSSES:
        pictures = [draw_loss(answers, member), draw_waking_loads(answers, member)]
        titles = ("without it", "what wakes it")
        shown = [
            element("figure", [picture, element("figcaption", title)])
            for picture, title in zip(pictures, titles, strict=True)
        ]
        parts.append(element("div", shown, {"class": "pictures"}))
        if answers.removals.mechanism[member]:
            parts.append(element("button", "show it move", {"type": "button", "data-do": "move"}))
    # The weightiest ground, where it is not what was just told, and the waking load.
    more = [
        sentence for sentence in dict.fromkeys((grounds[0], grounds[-1])) if sentence not in told.sentences
    ]
    parts += [element("p", keep_names(sentence)) for sentence in (*told.sentences, *more)]
    parts.append(element("p", keep_names(told.caution), {"class": "caution"}))
    if len(step.members) > 1:
        others = several(len(step.members) - 1, "other member", "other members")
        parts.append(element("p", f"The {others} found here: choose it on the drawing in Explore."))
    return join(parts)
