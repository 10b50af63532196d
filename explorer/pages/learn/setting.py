"""The setting of a lesson: the load of the study that is chosen, or loads of the reader's own."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.pages.chosen import Data, asked_of, units_of
from explorer.store import Worked
from explorer.wording.asked import Asked
from explorer.wording.numbers import Teller
from explorer.wording.reasons import Reasoning
from solver.reasons.reason import NOT_ZERO, Reason
from solver.state import take_loads
from solver.tolerances import ZERO

Array = NDArray[np.float64]
LARGEST_LOAD = 1e12
"""A load of the reader's own is at most so large [N]: more is a slip of the hand."""


@dataclass(frozen=True)
class Setting:
    """One state of a study and the reason of every member in it.

    asked: the load of the study that is chosen, also where loads of the reader's own stand in its place
    (`own`); train: downward loads of the train are among the joint loads.
    """

    worked: Worked
    asked: Asked
    told: Reasoning
    scale: float
    reasons: tuple[Reason, ...]
    own: bool

    @property
    def zeros(self) -> list[int]:
        """Members (indices) whose force is zero here."""
        return [reason.member for reason in self.reasons if reason.kind != NOT_ZERO]


def read_setting(worked: Worked, given: Data) -> Setting:
    """Read a setting as the page tells it. Raises UntrustworthyError where joints do not balance."""
    answers = worked.answers
    asked = asked_of(worked, given, None, given.get("place"))
    own = read_loads(worked, given.get("own"))
    state = asked.state if own is None else take_loads(answers.reasoner.stiffness, own)
    scale = float(answers.forces.scales[asked.column]) if own is None else state.own_scale
    told = Reasoning(answers, Teller(units_of(worked, given)), state, ZERO * scale)
    reasons = answers.reasoner.explain(state, scale)
    return Setting(worked, asked, told, scale, reasons, own is not None)


def read_loads(worked: Worked, given: object) -> Array | None:
    """Read loads of the reader's own, [[joint, [components in N]], ...]; None where there are none given."""
    if not isinstance(given, list):
        return None
    truss = worked.answers.study.truss
    loads = np.zeros((len(truss.joint_names), truss.dimension))
    for one in given:
        try:
            joint, vector = int(one[0]), np.array([float(c) for c in one[1]])
        except (IndexError, KeyError, TypeError, ValueError):
            # Not written by the page itself: as good as no load.
            continue
        if 0 <= joint < len(loads) and vector.shape == loads[joint].shape and np.isfinite(vector).all():
            loads[joint] += np.clip(vector, -LARGEST_LOAD, LARGEST_LOAD)
    return loads
