"""A cut as a sentence: which members it passes, which part it frees, and about what only one is left."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from explorer.wording.numbers import MINUS, Teller, listed
from solver.reasons.cuts import Cut
from solver.tolerances import DIRECTION
from solver.truss import Truss


def tell_cut(truss: Truss, cut: Cut, teller: Teller) -> str:
    """Tell the proof of a cut in one or two sentences."""
    name = truss.members[cut.member].name
    passed = listed([truss.members[index].name for index in cut.members])
    part = listed([truss.joint_names[joint] for joint in cut.part], most=4)
    start = f"A cut through {passed} sets {part} free."
    if cut.known:
        known = listed([truss.members[index].name for index in cut.known])
        start += f" {known} {'is' if len(cut.known) == 1 else 'are'} zero already."
    others = [index for index in cut.members if index != cut.member and index not in cut.known]
    return f"{start} {_equation(truss, cut, others, teller)}: so {name} is alone, and zero."


def _acting(truss: Truss, cut: Cut) -> str:
    """What acts on the part set free besides its cut members."""
    held = {support.joint for support in truss.supports}
    return "the loads and reactions on that part" if held & set(cut.part) else "the loads on that part"


def _equation(truss: Truss, cut: Cut, others: list[int], teller: Teller) -> str:
    """The one equation: its kind, where, and what takes no part in it."""
    acting = _acting(truss, cut)
    named = listed([truss.members[index].name for index in others])
    if cut.turning.kind == "shift":
        across = f"Summed across {named}" if others else "Summed in one direction"
        return f"{across}, {acting} come to nothing"
    meet = "" if not others else f", which {named} {'passes' if len(others) == 1 else 'pass'} through,"
    if cut.turning.kind == "screw":
        meet = f", in which {named} take no part,"
    return f"Taken {name_centre(truss, cut, teller)}{meet} {acting} have no moment"


def name_centre(truss: Truss, cut: Cut, teller: Teller) -> str:
    """The moment centre or axis, as "about …": by a joint it passes through where there is one."""
    point = np.array([float(c) for c in cut.turning.point])
    near = np.linalg.norm(truss.joint_coordinates - point, axis=1)
    size = max(truss.span, 1e-12)
    if truss.dimension == 2:
        if near.min() <= 1e-9 * size:
            return f"about {truss.joint_names[int(near.argmin())]}"
        x, y = (teller.position(float(c)) for c in point)
        return f"about the point {x}, {y}".replace("-", MINUS)
    axis = np.array([float(c) for c in cut.turning.axis])
    away = truss.joint_coordinates - point
    away = away - np.outer(away @ axis, axis)
    on = [int(j) for j in np.flatnonzero(np.linalg.norm(away, axis=1) <= 1e-9 * size)]
    screw = " and along it" if cut.turning.kind == "screw" else ""
    if len(on) > 1:
        first, last = name_line(truss, on)
        return f"about the line through {first} and {last}{screw}"
    if np.abs(axis[:2]).max() <= DIRECTION:
        where = f"the vertical through {truss.joint_names[on[0]]}" if on else "a vertical axis"
        return f"about {where}{screw}"
    where = f"through {truss.joint_names[on[0]]} " if on else ""
    direction = ", ".join(f"{c:.3g}" for c in axis + 0.0).replace("-", MINUS)
    return f"about an axis {where}along ({direction}){screw}"


def name_line(truss: Truss, joints: Sequence[int]) -> tuple[str, str]:
    """Two of several joints (indices) in one line, by name: a member's ends where there is one."""
    inside = set(joints)
    ends = next(((m.first, m.second) for m in truss.members if {m.first, m.second} <= inside), None)
    first, last = sorted(ends) if ends else (joints[0], joints[-1])
    return truss.joint_names[first], truss.joint_names[last]
