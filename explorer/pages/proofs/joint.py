"""A joint cut free, with what acts on it: as it is known so far, or with the forces of all members."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.figures import Arm, FreeBody, Push, draw_free_body
from explorer.drawing.view import Direction, look
from explorer.markup import Markup
from explorer.wording.numbers import listed
from explorer.wording.reasons import Reasoning
from solver.reasons.joint_rule import Finding
from solver.reasons.whole_truss import known_reactions
from solver.tolerances import DIRECTION, NO_LOAD

Array = NDArray[np.float64]


@dataclass(frozen=True)
class JointAlone:
    """A joint (index) as a picture shows it.

    asked: the members (indices) in question. known: members known to be zero. finding: what shows it, if
    the joint does. forces: whether members show what they bear, or only what is known of them.
    reactions_known: whether the whole truss has given the support's force before.
    """

    told: Reasoning
    joint: int
    asked: tuple[int, ...]
    known: frozenset[int] = field(default_factory=frozenset)
    finding: Finding | None = None
    forces: bool = True
    reactions_known: bool = False


def draw_joint(alone: JointAlone, width: float | None = None) -> Markup:
    """Draw the joint; `width` [px]: as wide as that, else as a small figure."""
    name = alone.told.joint(alone.joint)
    loaded = _is_loaded(alone)
    body = FreeBody(
        label=f"Joint {name} alone, with what acts on it",
        arms=tuple(_arms(alone)),
        pushes=tuple(_pushes(alone, loaded)),
        axis=_deciding_axis(alone) if alone.finding and len(alone.asked) == 1 else None,
        joint=name,
        note="" if loaded else "no load",
        sums=_sums(alone) if alone.finding else (),
    )
    return draw_free_body(body) if width is None else draw_free_body(body, width)


def _is_loaded(alone: JointAlone) -> bool:
    state = alone.told.state
    size = float(np.linalg.norm(state.joint_loads[alone.joint]))
    return size > NO_LOAD * float(state.largest_contribution[alone.joint])


def _arms(alone: JointAlone) -> list[Arm]:
    truss, forces = alone.told.answers.study.truss, alone.told.state.forces
    here = truss.members_at[alone.joint]
    largest = float(np.abs(forces[list(here)]).max(initial=0.0)) or 1.0
    arms = []
    for index in here:
        force = float(forces[index])
        arms.append(
            Arm(
                name=truss.members[index].name,
                angle=_angle(_away(alone, index)),
                look=_look_of(alone, index, force),
                force=_written(alone, index, force),
                asked=index in alone.asked,
                fraction=abs(force) / largest,
            )
        )
    return arms


def _look_of(alone: JointAlone, index: int, force: float) -> str:
    if not alone.forces:
        return "z" if index in alone.known else "plain"
    return "z" if abs(force) <= alone.told.band else "t" if force > 0 else "c"


def _written(alone: JointAlone, index: int, force: float) -> str:
    if not alone.forces:
        return "0" if index in alone.known else "N = 0" if index in alone.asked else ""
    zero = abs(force) <= alone.told.band
    return "0" if zero else f"{'T' if force > 0 else 'C'} {alone.told.teller.brief(force)}"


def _away(alone: JointAlone, index: int) -> Array:
    """Unit vector of a member away from the joint."""
    truss = alone.told.answers.study.truss
    return np.asarray(truss.directions[index] * (1.0 if truss.members[index].first == alone.joint else -1.0))


def _held(alone: JointAlone) -> Array:
    """Unit vectors along which the joint is held, (held, dimension)."""
    truss = alone.told.answers.study.truss
    rows = [
        [float(c) for c in direction]
        for support in truss.supports
        if support.joint == alone.joint
        for direction in support.directions
    ]
    held = np.array(rows).reshape(-1, truss.dimension)
    return np.asarray(held / np.linalg.norm(held, axis=1)[:, None])


def _pushes(alone: JointAlone, loaded: bool) -> list[Push]:
    """The load on the joint, and what its support gives: as much as is known, else its lines."""
    state, teller = alone.told.state, alone.told.teller
    load = state.joint_loads[alone.joint]
    pushes = []
    if loaded:
        pushes.append(Push(_angle(load), teller.load(float(np.linalg.norm(load)))))
    if not len(_held(alone)):
        return pushes
    if not (alone.forces or alone.reactions_known):
        return pushes + [Push(_angle(direction), "?", support=True) for direction in _held(alone)]
    reaction = _reaction(alone)
    size = float(np.linalg.norm(reaction))
    if size > alone.told.band:
        pushes.append(Push(_angle(reaction), teller.load(size), support=True))
    return pushes


def _reaction(alone: JointAlone) -> Array:
    """The support's force on the joint: whatever balances all the rest."""
    truss, state = alone.told.answers.study.truss, alone.told.state
    pull = sum(state.forces[i] * _away(alone, i) for i in truss.members_at[alone.joint])
    return np.asarray(-(pull + state.joint_loads[alone.joint]))


def _angle(vector: Array) -> float:
    """Degrees from the right, upwards positive, as seen."""
    seen = look(vector[None, :], Direction())[0]
    return float(np.degrees(np.arctan2(seen[1], seen[0])))


def _others(alone: JointAlone, finding: Finding) -> list[Array]:
    """Directions of what else the proof leaves at the joint: members not yet zero, load, support."""
    truss = alone.told.answers.study.truss
    others = [
        _away(alone, index)
        for index in truss.members_at[alone.joint]
        if index != finding.member and index not in finding.because
    ]
    acting = alone.told.state.joint_loads[alone.joint]
    if alone.reactions_known and len(_held(alone)):
        reactions = known_reactions(truss, alone.told.state.joint_loads)
        acting = acting if reactions is None else acting + reactions[alone.joint]
    if np.linalg.norm(acting) > NO_LOAD * np.abs(alone.told.state.joint_loads).max(initial=0.0):
        others.append(acting / np.linalg.norm(acting))
    return others if alone.reactions_known else [*others, *_held(alone)]


def _deciding_axis(alone: JointAlone) -> float | None:
    """The axis square to everything else at the joint: along it the member would be alone."""
    finding = alone.finding
    assert finding is not None
    along = _away(alone, finding.member)
    others = _others(alone, finding)
    if others:
        left, sizes, _ = np.linalg.svd(np.array(others).T, full_matrices=False)
        basis = left[:, sizes > DIRECTION]
        along = along - basis @ (basis.T @ along)
    return _angle(along)


def _sums(alone: JointAlone) -> tuple[str, ...]:
    """The two sums of a joint whose other members lie in one line: along it, and across it.

    Of several members in question each has an axis of its own: none is drawn, and no sum speaks of one.
    """
    finding = alone.finding
    assert finding is not None
    if len(alone.asked) > 1:
        return (f"N = 0 in {listed([alone.told.member(member) for member in alone.asked])}",)
    others = _others(alone, finding)
    if not others:
        return (f"N = 0 in {alone.told.member(finding.member)}",)
    line = others[0]
    if any(abs(abs(float(line @ other)) - 1) > DIRECTION for other in others):
        return ("across the others: N = 0",)
    along = _sum_along(alone, finding, line) if alone.forces else ""
    return (along, "across: N = 0") if along else ("across: N = 0",)


def _sum_along(alone: JointAlone, finding: Finding, line: Array) -> str:
    """The forces along the line of the others, written as a sum; nothing where it would be long."""
    truss, state, teller = alone.told.answers.study.truss, alone.told.state, alone.told.teller
    forces = [
        float(state.forces[index] * (_away(alone, index) @ line))
        for index in truss.members_at[alone.joint]
        if index != finding.member and index not in finding.because
    ]
    terms = [f for f in (*forces, float(state.joint_loads[alone.joint] @ line)) if abs(f) > alone.told.band]
    told = " ".join(
        f"{'−' if f < 0 else '+' if place else ''} {teller.brief(f)}".strip() for place, f in enumerate(terms)
    )
    return f"along: {told} = 0" if len(terms) > 1 and len(told) < 20 else ""
