"""Picture 3: the joint that decides, cut free, with what acts on it just now."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.figures import Arm, FreeBody, Push, draw_free_body
from explorer.drawing.view import Direction, look
from explorer.markup import Markup
from explorer.wording.asked import Asked
from explorer.wording.why_zero import find
from solver.reasons.joint_rule import Finding
from solver.tolerances import DIRECTION

Array = NDArray[np.float64]


def draw_joint_alone(asked: Asked) -> Markup:
    """Draw the joint that shows the member to be zero; else the end of the member that is loaded."""
    finding = find(asked)
    joint = finding.joint if finding else _telling_end(asked)
    loaded = np.linalg.norm(asked.state.joint_loads[joint]) > 1e-12 * asked.state.largest_contribution[joint]
    return draw_free_body(
        FreeBody(
            label=f"Joint {asked.joint(joint)} alone, with the forces that act on it",
            arms=tuple(_arms(asked, joint)),
            pushes=tuple(_pushes(asked, joint, bool(loaded))),
            axis=_deciding_axis(asked, finding) if finding else None,
            joint=asked.joint(joint),
            note="" if loaded else "no load",
            sums=_sums(asked, finding) if finding else (),
        )
    )


def _telling_end(asked: Asked) -> int:
    member = asked.answers.study.truss.members[asked.member]
    loads = np.linalg.norm(asked.state.joint_loads, axis=1)
    return member.second if loads[member.second] > loads[member.first] else member.first


def _arms(asked: Asked, joint: int) -> list[Arm]:
    truss, forces = asked.answers.study.truss, asked.state.forces
    here = truss.members_at[joint]
    largest = float(np.abs(forces[list(here)]).max(initial=0.0)) or 1.0
    arms = []
    for index in here:
        force = float(forces[index])
        zero = abs(force) <= asked.band
        arms.append(
            Arm(
                name=truss.members[index].name,
                angle=_angle(_away(asked, index, joint)),
                look="z" if zero else "t" if force > 0 else "c",
                force="0" if zero else f"{'T' if force > 0 else 'C'} {asked.teller.brief(force)}",
                asked=index == asked.member,
                fraction=abs(force) / largest,
            )
        )
    return arms


def _away(asked: Asked, index: int, joint: int) -> Array:
    """Unit vector of a member away from a joint."""
    truss = asked.answers.study.truss
    return np.asarray(truss.directions[index] * (1.0 if truss.members[index].first == joint else -1.0))


def _pushes(asked: Asked, joint: int, loaded: bool) -> list[Push]:
    """The load on the joint, and what its support gives: whatever balances all the rest."""
    truss = asked.answers.study.truss
    load = asked.state.joint_loads[joint]
    pushes = []
    if loaded:
        pushes.append(Push(_angle(load), asked.teller.load(float(np.linalg.norm(load)))))
    if any(support.joint == joint for support in truss.supports):
        pull = sum(asked.state.forces[i] * _away(asked, i, joint) for i in truss.members_at[joint])
        reaction = -(pull + load)
        size = float(np.linalg.norm(reaction))
        if size > asked.band:
            pushes.append(Push(_angle(reaction), asked.teller.load(size), support=True))
    return pushes


def _angle(vector: Array) -> float:
    """Degrees from the right, upwards positive, as seen."""
    seen = look(vector[None, :], Direction())[0]
    return float(np.degrees(np.arctan2(seen[1], seen[0])))


def _others(asked: Asked, finding: Finding) -> list[Array]:
    """Directions of what else the proof leaves at the joint: members not yet zero, load, support."""
    truss = asked.answers.study.truss
    others = [
        _away(asked, index, finding.joint)
        for index in truss.members_at[finding.joint]
        if index != finding.member and index not in finding.because
    ]
    load = asked.state.joint_loads[finding.joint]
    if np.linalg.norm(load) > 1e-12 * asked.state.largest_contribution[finding.joint]:
        others.append(load / np.linalg.norm(load))
    for support in truss.supports:
        if support.joint == finding.joint:
            held = np.array([[float(c) for c in direction] for direction in support.directions])
            others += list(held / np.linalg.norm(held, axis=1)[:, None])
    return others


def _deciding_axis(asked: Asked, finding: Finding) -> float:
    """The axis square to everything else at the joint: along it the member would be alone."""
    along = _away(asked, finding.member, finding.joint)
    others = _others(asked, finding)
    if others:
        left, sizes, _ = np.linalg.svd(np.array(others).T, full_matrices=False)
        basis = left[:, sizes > DIRECTION]
        along = along - basis @ (basis.T @ along)
    return _angle(along)


def _sums(asked: Asked, finding: Finding) -> tuple[str, ...]:
    """The two sums of a joint whose other members lie in one line: along it, and across it."""
    others = _others(asked, finding)
    line = others[0] if others else None
    if line is None:
        return (f"N = 0 in {asked.name}",)
    if any(abs(abs(float(line @ other)) - 1) > DIRECTION for other in others):
        return ("across the others: N = 0",)
    truss = asked.answers.study.truss
    forces = [
        float(asked.state.forces[index] * (_away(asked, index, finding.joint) @ line))
        for index in truss.members_at[finding.joint]
        if index != finding.member and index not in finding.because
    ]
    load = float(asked.state.joint_loads[finding.joint] @ line)
    terms = [f for f in (*forces, load) if abs(f) > asked.band]
    told = " ".join(
        f"{'−' if f < 0 else '+' if place else ''} {asked.teller.brief(f)}".strip()
        for place, f in enumerate(terms)
    )
    along = (f"along: {told} = 0",) if len(terms) > 1 and len(told) < 20 else ()
    return (*along, "across: N = 0")
