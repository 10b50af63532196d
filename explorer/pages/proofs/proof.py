"""Picture 3 of the sheet: the reason as it can be seen, whatever its kind."""

from __future__ import annotations

import numpy as np

from explorer.markup import Markup
from explorer.pages.proofs.joint import JointAlone, draw_joint
from explorer.pages.proofs.loss import draw_movement_of
from explorer.pages.proofs.part import draw_cut
from explorer.wording.asked import Asked
from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import KNOWN_REACTION, Movement, Seen
from solver.virtual_work import examine_virtual_work


def draw_proof(asked: Asked) -> Markup:
    """Draw the joint, the part or the movement that the reason speaks of."""
    proof, told = asked.reason.proof, asked.told
    if isinstance(proof, Cut):
        return draw_cut(told, proof)
    if isinstance(proof, Movement):
        answers = asked.answers
        work = examine_virtual_work(
            answers.reasoner.stiffness, answers.statics, asked.state, asked.member, proof.moves
        )
        return draw_movement_of(answers.study.truss, (asked.member,), work.movement)
    if isinstance(proof, Finding):
        known = asked.reason.kind == KNOWN_REACTION
        return draw_joint(
            JointAlone(told, proof.joint, (asked.member,), frozenset(proof.because), proof, True, known)
        )
    joint = proof.joint if isinstance(proof, Seen) else _telling_end(asked)
    return draw_joint(JointAlone(told, joint, (asked.member,)))


def _telling_end(asked: Asked) -> int:
    member = asked.answers.study.truss.members[asked.member]
    loads = np.linalg.norm(asked.state.joint_loads, axis=1)
    return member.second if loads[member.second] > loads[member.first] else member.first
