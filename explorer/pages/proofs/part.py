"""The part that a cut sets free, with the loads on it and the one point or direction that decides."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.figures import CutArm, PartPicture, PartPush, draw_part
from explorer.drawing.view import Direction, look
from explorer.markup import Markup
from explorer.wording.cuts import name_centre
from explorer.wording.reasons import Reasoning
from solver.reasons.cuts import Cut
from solver.reasons.whole_truss import known_reactions
from solver.truss import Truss

Array = NDArray[np.float64]
MOST_PUSHES = 12


def draw_cut(told: Reasoning, cut: Cut, width: float | None = None) -> Markup:
    """Draw the part; `width` [px]: as wide as that, else as a small figure."""
    truss = told.answers.study.truss
    place = {joint: number for number, joint in enumerate(cut.part)}
    points = look(truss.joint_coordinates[list(cut.part)], Direction())
    pushes = _pushes(told, cut, place)
    arms = _arms(truss, cut, place)
    lettered = {arm.joint for arm in arms} | {push.joint for push in pushes}
    names = tuple(truss.joint_names[j] if place[j] in lettered else "" for j in cut.part)
    inside = tuple(
        (place[m.first], place[m.second]) for m in truss.members if {m.first, m.second} <= place.keys()
    )
    centre, across = _deciding(cut)
    picture = PartPicture(
        label=f"The part around {truss.joint_names[cut.part[0]]}, cut free",
        points=tuple((float(x), float(y)) for x, y in points),
        names=names,
        members=inside,
        arms=arms,
        pushes=pushes,
        centre=centre,
        centre_name=name_centre(truss, cut, told.teller) if centre else "",
        across=across,
    )
    return draw_part(picture) if width is None else draw_part(picture, width)


def _arms(truss: Truss, cut: Cut, place: dict[int, int]) -> tuple[CutArm, ...]:
    arms = []
    for index in cut.members:
        member = truss.members[index]
        outwards = member.first in place
        along = truss.directions[index] * (1.0 if outwards else -1.0)
        joint = place[member.first if outwards else member.second]
        arms.append(CutArm(joint, _angle(along), member.name, index == cut.member, index in cut.known))
    return tuple(arms)


def _pushes(told: Reasoning, cut: Cut, place: dict[int, int]) -> tuple[PartPush, ...]:
    """Loads on the part, the largest of many, and its reactions where the whole truss gives them."""
    truss, loads = told.answers.study.truss, told.state.joint_loads
    sizes = np.linalg.norm(loads, axis=1)
    here = [joint for joint in cut.part if sizes[joint] > 0]
    here = sorted(sorted(here, key=lambda joint: -sizes[joint])[:MOST_PUSHES])
    pushes = [PartPush(place[j], _angle(loads[j]), told.teller.load(float(sizes[j]))) for j in here]
    reactions = known_reactions(truss, loads)
    for support in truss.supports:
        if support.joint not in place:
            continue
        if reactions is None:
            pushes += [
                PartPush(place[support.joint], angle, "?", True) for angle in _lines(support.directions)
            ]
            continue
        size = float(np.linalg.norm(reactions[support.joint]))
        if size > told.band:
            text = told.teller.load(size)
            pushes.append(PartPush(place[support.joint], _angle(reactions[support.joint]), text, True))
    return tuple(pushes)


def _lines(directions: tuple[tuple[object, ...], ...]) -> list[float]:
    return [_angle(np.array([float(c) for c in direction])) for direction in directions]  # type: ignore[arg-type]


def _deciding(cut: Cut) -> tuple[tuple[float, float] | None, float | None]:
    """The moment centre as seen, or the direction of the sum; neither for an axis in space."""
    turning = cut.turning
    if turning.kind == "shift":
        return None, _angle(np.array([float(c) for c in turning.shift]))
    point = np.array([float(c) for c in turning.point])
    if len(point) == 3:
        return None, None
    return (float(point[0]), float(point[1])), None


def _angle(vector: Array) -> float:
    """Degrees from the right, upwards positive, as seen."""
    seen = look(vector[None, :], Direction())[0]
    return float(np.degrees(np.arctan2(seen[1], seen[0])))
