"""Question 3: why is it zero? Or, where it is not: which load does it answer?"""

from __future__ import annotations

import numpy as np

from explorer.wording.asked import Asked, Told, begin, words
from explorer.wording.reasons import tell_reason
from explorer.wording.trains import name_placed
from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import LOAD_IN_LINE, LOAD_IN_PLANE, SUPPORT, Finding
from solver.reasons.reason import KNOWN_REACTION, NOT_ZERO, Indeterminate, Reason
from solver.state import Part
from solver.virtual_work import examine_virtual_work

BY_LIMIT = "The study counts up to its zero_limit as zero; beyond that limit: "
UNLOADED_RULES = (LOAD_IN_LINE, LOAD_IN_PLANE, SUPPORT)


def tell_why_zero(asked: Asked) -> Told:
    """Tell the first reason that fits: a proof that the member is zero, or what its force comes from."""
    reason = asked.reason
    sentence = tell_reason(asked.told, reason)
    if reason.kind == NOT_ZERO:
        if not asked.force:
            return Told(
                "Zero by the limit", (BY_LIMIT + sentence,), "", "what each load brings", _part_rows(asked)
            )
        return _tell_force(asked, sentence)
    title, rows = _prove(asked, reason)
    return Told(_in_short(asked, reason), (sentence,), "", title, rows)


def _in_short(asked: Asked, reason: Reason) -> str:
    """A few words for a proof."""
    proof = reason.proof
    if isinstance(proof, Finding):
        joint = asked.joint(proof.joint)
        unloaded = proof.rule not in UNLOADED_RULES and reason.kind != KNOWN_REACTION
        return f"{joint} has no load" if unloaded else f"{joint} decides"
    if isinstance(proof, Cut):
        return "A cut decides"
    if isinstance(proof, Indeterminate):
        return "Whatever the stiffness" if proof.always else "Stiffnesses meet"
    return "Loads do no work"


def _prove(asked: Asked, reason: Reason) -> tuple[str, tuple[tuple[str, ...], ...]]:
    """The title and the rows of a proof."""
    proof = reason.proof
    if isinstance(proof, Finding):
        if reason.kind == KNOWN_REACTION:
            return "what acts at the joint", _joint_rows(asked, proof.joint)
        rows = (("step", "joint", "member", "rule"), *_chain(asked, proof))
        return f"the proof, step {proof.step}", rows
    if isinstance(proof, Indeterminate):
        return "what each load puts into it", _part_rows(asked)
    return (
        ("the movement and its work", _work_rows(asked))
        if not isinstance(proof, Cut)
        else _cut_rows(asked, proof)
    )


def _chain(asked: Asked, finding: Finding) -> list[tuple[str, ...]]:
    """The finding with all that it rests on, first things first."""
    by_member = {f.member: f for f in asked.findings}
    needed, waiting = {finding.member}, [finding]
    while waiting:
        for member in waiting.pop().because:
            if member not in needed:
                needed.add(member)
                waiting.append(by_member[member])
    chain = [f for f in asked.findings if f.member in needed]
    return [(str(f.step), asked.joint(f.joint), asked.member_names((f.member,))[0], f.rule) for f in chain]


def _joint_rows(asked: Asked, joint: int) -> tuple[tuple[str, ...], ...]:
    """Everything at a joint, with the forces that balance there."""
    truss, teller = asked.answers.study.truss, asked.teller
    rows = [("at " + asked.joint(joint), "force")]
    for index in truss.members_at[joint]:
        force = float(asked.state.forces[index])
        told = "0" if abs(force) <= asked.band else teller.member_force(force)
        rows.append((truss.members[index].name, told))
    load = float(np.linalg.norm(asked.state.joint_loads[joint]))
    return (*rows, ("load", teller.force(load) if load else "none"))


def _cut_rows(asked: Asked, cut: Cut) -> tuple[str, tuple[tuple[str, ...], ...]]:
    rows = [("cut through", " ".join(asked.member_names(cut.members)))]
    rows.append(("part set free", " ".join(asked.joint(joint) for joint in cut.part)))
    if cut.known:
        rows.append(("zero before", " ".join(asked.member_names(cut.known))))
    return "the cut", tuple(rows)


def _work_rows(asked: Asked) -> tuple[tuple[str, ...], ...]:
    """Each load's work in the movement, the largest joint moving by 1."""
    answers = asked.answers
    moves = answers.removals.moves[asked.member]
    work = examine_virtual_work(answers.reasoner.stiffness, answers.statics, asked.state, asked.member, moves)
    unit = asked.teller.units.label("force")
    rows = [("loaded joint", f"work, {unit} × movement")]
    for one in work.works:
        size = 0.0 if abs(one.work) <= asked.band else asked.teller.value("force", one.work)
        rows.append((asked.joint(one.joint), f"{size:.4g}"))
    verified = "exactly, in fractions" if work.exact else "to twelve digits"
    return (*rows, ("together", "0"), ("all other lengths kept", verified))


def _tell_force(asked: Asked, reason: str) -> Told:
    """Which load brings most of it, and where or how that can be seen."""
    force = asked.force
    parts = [part for part in asked.state.parts if float(part.forces[asked.member]) * force > 0]
    main = max(parts, key=lambda part: abs(float(part.forces[asked.member])))
    share = asked.teller.member_force(float(main.forces[asked.member]))
    told = asked.teller.member_force(force)
    source = name_part(asked, main)
    sentence = (
        f"It is not zero now: {told}, all of it from {source}."
        if len(asked.state.parts) == 1
        else f"It is not zero now: {told}, most of it ({share}) from {source}."
    )
    crossings = asked.answers.study.crossings
    answer = begin(words(main.case)) if main.case else f"The {words(crossings[main.crossing].called)}"
    rows = _part_rows(asked)
    sentences = (sentence, reason)
    return Told(answer, sentences, "", "what each load puts into it", rows, "What does it answer?")


def name_part(asked: Asked, part: Part) -> str:
    """Name a load that acts: a case with its factor, or an axle with its place."""
    if part.case is not None:
        factor = "" if part.factor == 1 else f"{part.factor:g} × "
        return f"{factor}{words(part.case)}"
    if part.placed is not None:
        return name_placed(part.placed, asked.teller)
    return f"the load on {asked.joint(part.joint)}"


def _part_rows(asked: Asked) -> tuple[tuple[str, ...], ...]:
    rows = [
        (name_part(asked, part), asked.teller.member_force(_tidy(asked, part))) for part in asked.state.parts
    ]
    return (("load", "force in it"), *rows, ("together", asked.teller.member_force(asked.force)))


def _tidy(asked: Asked, part: Part) -> float:
    force = float(part.forces[asked.member])
    return 0.0 if abs(force) <= asked.band else force
