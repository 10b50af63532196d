"""What would wake a member: at each joint the direction of the load that puts most tension into it."""

from __future__ import annotations

import numpy as np

from explorer.drawing.figures import WakingPicture, draw_waking
from explorer.drawing.view import Direction, look
from explorer.markup import Markup
from explorer.pages.proofs.loss import ends, points_seen
from explorer.wording.numbers import significant
from solver.answers import Answers
from solver.reasons.causes import waking_loads
from solver.tolerances import NOISE


def draw_waking_loads(answers: Answers, member: int) -> Markup:
    """Draw the waking loads of a member (index), per unit load and tension positive."""
    truss = answers.study.truss
    wakes = waking_loads(answers.reasoner.stiffness, member)
    sizes = np.linalg.norm(wakes, axis=1)
    wakes[sizes <= NOISE * max(1.0, float(sizes.max()))] = 0.0
    most = int(np.flatnonzero(sizes >= sizes.max() * (1 - 1e-9))[0])
    pulls = look(wakes, Direction())
    count = int(np.count_nonzero(wakes.any(axis=1)))
    return draw_waking(
        WakingPicture(
            label=f"Loads at {count} joints wake {truss.members[member].name}",
            points=points_seen(truss),
            members=ends(truss),
            asked=member,
            pulls=tuple((float(x), float(y)) for x, y in pulls),
            name=truss.joint_names[most] if count else "",
            text=f"T {significant(float(sizes[most]))} for 1" if count else "",
        )
    )
