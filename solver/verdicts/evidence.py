"""Evidence: everything that grounds are found in, worked out once for all members."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.losses.whole import Losses
from solver.peaks import Forces
from solver.removal import Removals
from solver.response import Responses
from solver.study import Study
from solver.tolerances import is_zero
from solver.verdicts.causes import Causes
from solver.verdicts.leaning import Leaning
from solver.verdicts.takeovers import Takeovers

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Evidence:
    """A worked study and what it says of losses, causes, leaning loads and the sharing of loads."""

    study: Study
    responses: Responses
    forces: Forces
    removals: Removals
    losses: Losses
    causes: Causes
    leaning: Leaning
    takeovers: Takeovers

    def under(self, member: int, column: int) -> float:
        """The force of larger size that a load (column) can put into a member [N], 0 where zero."""
        swept, scale = self.forces.sweep, self.forces.scales[column]
        ends = (float(swept.largest[member, column]), float(swept.smallest[member, column]))
        larger = max(ends, key=abs)
        return 0.0 if is_zero(larger, scale) else larger

    def idle(self, member: int) -> bool:
        """Whether no load, temperature, misfit or settlement of the study puts a force into a member."""
        return all(not self.under(member, column) for column in range(len(self.forces.scales)))
