"""The truss without a member: how it moves, or that it stands; and the movement in which loads do no work."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.figures import Movement, Standing, draw_movement, draw_standing
from explorer.drawing.view import Direction, look
from explorer.markup import Markup
from solver.answers import Answers
from solver.losses.releases import release
from solver.removal import movement_without
from solver.truss import Truss

Array = NDArray[np.float64]
Point = tuple[float, float]


def draw_loss(answers: Answers, member: int) -> Markup:
    """Draw the truss without a member (index); where it is a mechanism, how it moves."""
    truss = answers.study.truss
    name = truss.members[member].name
    moves = answers.removals.moves[member]
    if not answers.removals.mechanism[member]:
        label = f"The truss without {name}: what others take over of its force"
        return draw_standing(
            Standing(label, points_seen(truss), ends(truss), member, _takes(answers, member))
        )
    movement = movement_without(answers.reasoner.stiffness, member, moves)
    return draw_movement_of(truss, (member,), movement)


def _takes(answers: Answers, member: int) -> tuple[float, ...]:
    """What each member takes over of the lost one's larger peak, of its tension where it has none."""
    change = release(answers.reasoner.stiffness, np.array([member])).forces[:, 0]
    change[member] = 0.0
    forces = answers.forces
    sign = -1.0 if forces.compression.values[member] > forces.tension.values[member] else 1.0
    largest = float(np.abs(change).max(initial=0.0)) or 1.0
    return tuple((sign * change / largest).tolist())


def draw_movement_of(truss: Truss, gone: tuple[int, ...], movement: Array) -> Markup:
    """Draw a movement, (joints, dimension), of the truss without some members (indices)."""
    sizes = np.linalg.norm(movement, axis=1)
    count = int(np.count_nonzero(sizes))
    left = [m for m in range(len(truss.members)) if m == gone[0] or m not in gone]
    without = truss.members[gone[0]].name if len(gone) == 1 else f"{len(gone)} members"
    return draw_movement(
        Movement(
            label=f"The truss without {without}: {count} joints move",
            points=points_seen(truss),
            members=tuple(ends(truss)[member] for member in left),
            gone=left.index(gone[0]),
            moves=_pairs(look(movement, Direction())),
            name=truss.joint_names[int(sizes.argmax())],
        )
    )


def points_seen(truss: Truss) -> tuple[Point, ...]:
    """Joints as a picture shows them: (right, up) [m]."""
    return _pairs(look(truss.joint_coordinates, Direction()))


def ends(truss: Truss) -> tuple[tuple[int, int], ...]:
    """The two joints (indices) of each member."""
    return tuple((member.first, member.second) for member in truss.members)


def _pairs(points: Array) -> tuple[Point, ...]:
    return tuple((float(a), float(b)) for a, b in points)
