"""A reason as one sentence with its joints and numbers: for the table of reasons, the sheet and the walk."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from explorer.wording.cuts import tell_cut
from explorer.wording.numbers import Teller, listed
from solver.answers import Answers
from solver.reasons import joint_rule
from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import KNOWN_REACTION, NOT_ZERO, Brought, Indeterminate, Movement, Reason, Seen
from solver.reasons.whole_truss import known_reactions
from solver.state import State
from solver.tolerances import NO_LOAD

UNLOADED = "No load stands on {joint}"
SENTENCES = {
    joint_rule.ONLY_MEMBER: f"{UNLOADED}, and no other member there works: nothing could answer {{member}}.",
    joint_rule.TWO_MEMBERS: (
        f"{UNLOADED}, where two members meet that are not in line: neither can answer the other."
    ),
    joint_rule.THREE_MEMBERS: (
        f"{UNLOADED}, and the other two members there lie in one line: across it, {{member}} is alone."
    ),
    joint_rule.OTHERS_IN_LINE: (
        f"{UNLOADED}, and all other members there lie in one line: across it, {{member}} is alone."
    ),
    joint_rule.OTHERS_IN_PLANE: (
        f"{UNLOADED}, and all other members there lie in one plane: out of it, {{member}} is alone."
    ),
    joint_rule.LOAD_IN_LINE: (
        "The {load} on {joint} lies in line with the others there: across that line, {member} is alone."
    ),
    joint_rule.LOAD_IN_PLANE: (
        "The {load} on {joint} lies in one plane with the others there: out of it, {member} is alone."
    ),
    joint_rule.SUPPORT: (
        "The support at {joint} acts along a known line and stands in for a member: "
        "across what else is there, {member} is alone."
    ),
}


@dataclass(frozen=True)
class Reasoning:
    """The answers a reason belongs to, the state it speaks of, and the units it is told in.

    band [N]: what counts as zero in this state.
    """

    answers: Answers
    teller: Teller
    state: State
    band: float

    def joint(self, index: int) -> str:
        """Name of a joint."""
        return self.answers.study.truss.joint_names[index]

    def joints(self, indices: tuple[int, ...]) -> str:
        """Names of joints as a list."""
        return listed([self.joint(index) for index in indices])

    def member(self, index: int) -> str:
        """Name of a member."""
        return self.answers.study.truss.members[index].name

    def force(self, index: int) -> str:
        """Force in a member with its letter and unit."""
        return self.teller.member_force(float(self.state.forces[index]))


def tell_reason(told: Reasoning, reason: Reason) -> str:
    """Tell why a member bears what it bears: one sentence, or two where it rests on something."""
    proof = reason.proof
    if isinstance(proof, Finding):
        return _tell_finding(told, proof, reason.kind == KNOWN_REACTION)
    if isinstance(proof, Cut):
        return tell_cut(told.answers.study.truss, proof, told.teller)
    if isinstance(proof, Indeterminate):
        return _tell_indeterminate(told, proof) + _tell_stopped(told)
    if isinstance(proof, Movement):
        return _tell_movement(told, reason, proof) + (_tell_stopped(told) if reason.kind != NOT_ZERO else "")
    return _tell_seen(told, reason, proof) if isinstance(proof, Seen) else _tell_brought(told, reason, proof)


def _tell_stopped(told: Reasoning) -> str:
    """Where the search for cuts ended before it was through, a sentence that says so."""
    return (
        ""
        if told.answers.reasoner.cuts.complete
        else " This truss is too large for all its cuts to be tried."
    )


def _tell_finding(told: Reasoning, finding: Finding, with_reactions: bool) -> str:
    joint, member = told.joint(finding.joint), told.member(finding.member)
    sentence = SENTENCES[finding.rule].format(
        joint=joint, member=member, load=_acting(told, finding.joint) if with_reactions else "load"
    )
    if with_reactions:
        sentence = f"The whole truss gives the reactions{_reaction(told, finding.joint)}. {sentence}"
    if finding.because:
        earlier = listed([told.member(index) for index in finding.because])
        sentence += f" Known before at {joint}: {earlier} {_are(finding.because)} zero."
    return sentence


def _are(members: tuple[int, ...]) -> str:
    return "is" if len(members) == 1 else "are"


def _acting(told: Reasoning, joint: int) -> str:
    """What acts on a joint whose reaction is known: that, the load, or both together."""
    largest = told.state.largest_contribution[joint]
    loaded = float(np.linalg.norm(told.state.joint_loads[joint])) > NO_LOAD * largest
    supported = any(s.joint == joint for s in told.answers.study.truss.supports)
    return "load" if not supported else "load together with the reaction" if loaded else "reaction"


def _reaction(told: Reasoning, joint: int) -> str:
    """The reaction at a supported joint, in brackets; nothing elsewhere."""
    truss = told.answers.study.truss
    if not any(support.joint == joint for support in truss.supports):
        return ""
    reactions = known_reactions(truss, told.state.joint_loads)
    size = 0.0 if reactions is None else float(np.linalg.norm(reactions[joint]))
    if size <= NO_LOAD * float(np.abs(told.state.joint_loads).max(initial=0.0)):
        return f" (at {told.joint(joint)} none)"
    return f" (at {told.joint(joint)} {told.teller.force(size)})"


def _tell_indeterminate(told: Reasoning, proof: Indeterminate) -> str:
    if proof.always:
        how = "exactly" if proof.exact else "tried with stiffnesses drawn at random"
        return (
            "More members hold here than equilibrium asks for, and yet it is zero whatever their "
            f"stiffnesses are ({how}): what acts is carried without it."
        )
    change = told.teller.member_force(proof.change)
    return (
        "Equilibrium alone leaves it open; it is zero only because the members are as stiff as they are, as "
        f"in a symmetric truss or by chance. Were the area of {told.member(proof.grown)} 10\u00a0% larger, "
        f"it would bear {change}."
    )


def _tell_movement(told: Reasoning, reason: Reason, proof: Movement) -> str:
    name, moving = told.member(reason.member), told.joints(proof.moves)
    verb = "moves" if len(proof.moves) == 1 else "move"
    start = f"Without {name} the truss is a mechanism with one movement, in which {moving} {verb}"
    if reason.kind != NOT_ZERO:
        return f"{start}; the loads do no work in it, so nothing drives it and {name} bears nothing now."
    return f"{start}; the loads do work in it, and {told.force(reason.member)} in {name} holds against them."


def _tell_seen(told: Reasoning, reason: Reason, proof: Seen) -> str:
    joint, name = told.joint(proof.joint), told.member(reason.member)
    force = told.force(reason.member)
    idle = [
        told.member(index)
        for index in told.answers.study.truss.members_at[proof.joint]
        if abs(float(told.state.forces[index])) <= told.band
    ]
    if idle:
        joint += f", where {listed(idle)} {'is' if len(idle) == 1 else 'are'} zero"
    if proof.reaction:
        acting = _acting(told, proof.joint)
        return f"At {joint}, only {name} can balance the {acting} across the other unknowns: {force}."
    load = told.teller.force(float(np.linalg.norm(told.state.joint_loads[proof.joint])))
    return f"At {joint}, only {name} can balance the load of {load} across the other unknowns: {force}."


def _tell_brought(told: Reasoning, reason: Reason, proof: Brought) -> str:
    """The force, what its main cause alone would put in, and what all others add or take off."""
    bears = f"It bears {told.force(reason.member)}"
    if proof.cause == "load" and proof.joint < 0:
        return f"{bears}, which the loads bring together."
    source = {
        "load": f"the load on {told.joint(proof.joint)}",
        "temperature": "the change of temperature",
        "misfit": "the misfit of members",
        "settlement": "the settlement of supports",
    }[proof.cause]
    others = _other_causes(told, proof)
    if not others:
        return f"{bears}, all of it from {source}."
    rest = float(told.state.forces[reason.member]) - proof.force
    subject, plural = others
    if abs(rest) <= told.band:
        does = f"add{'' if plural else 's'} nothing to that"
    elif (rest > 0) == (proof.force > 0):
        does = f"add{'' if plural else 's'} {told.teller.force(rest)} to that"
    else:
        does = f"take{'' if plural else 's'} {told.teller.force(rest)} of that off"
    alone = told.teller.member_force(proof.force)
    return f"{bears}: {source} alone would put {alone} into it, and {subject} {does}."


def _other_causes(told: Reasoning, proof: Brought) -> tuple[str, bool] | None:
    """What acts besides a cause, and whether that is grammatically many; None where nothing does."""
    state = told.state
    loads = int(np.count_nonzero(state.loaded))
    strains = {
        "temperature": state.strains.temperature,
        "misfit": state.strains.misfit,
        "settlement": state.strains.settlement,
    }
    if any(values.any() for cause, values in strains.items() if cause != proof.cause):
        return "everything else that acts", False
    if proof.cause != "load":
        return (("the loads", True) if loads > 1 else ("the load", False)) if loads else None
    return (("the other loads", True) if loads > 2 else ("the other load", False)) if loads > 1 else None
