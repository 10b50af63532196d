"""How the worst force per unit load changes when joints lie a little off their written places.

A small singular value alone does not tell a near-critical form from a long truss; a force that grows
many times over when joints move by a fabrication tolerance along the softest movement does.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np
import scipy.sparse as sparse
from numpy.typing import NDArray

from solver.errors import UntrustworthyError
from solver.factor import Factor
from solver.redundancy import condition
from solver.stiffness import Stiffness
from solver.tolerances import FABRICATION, LARGE_FORCE, SHAPE_SENSITIVE
from solver.truss import Truss

ITERATIONS = 8
SEED, RANDOM_WAYS = 5000, 2


@dataclass(frozen=True)
class Sensitivity:
    """Largest member force per unit joint load as written, and with joints `offset` [m] off.

    worst and best are those over all the ways tried, as written included.
    """

    as_written: float
    worst: float
    best: float
    offset: float

    @property
    def near_critical(self) -> bool:
        """Whether a fabrication tolerance changes the worst force more than in any sound truss.

        For better or worse: a form that is nearer to a critical one than the tolerance gets stiffer
        whichever way its joints move. A form of huge forces is near-critical in any case.
        """
        ratio = SHAPE_SENSITIVE
        changes = self.worst > ratio * self.as_written or self.best * ratio < self.as_written
        return changes or self.as_written > LARGE_FORCE


def examine_sensitivity(stiffness: Stiffness, as_written: float) -> Sensitivity:
    """Move joints by span/5000 along the softest movement, both ways, and take the worst force anew.

    Some critical forms stay critical along that movement. Where the offset is large enough, for the
    forces there are, to make a truss singular (as_written x offset over the shortest member is 1 or
    more), joints are also moved at random.
    """
    truss = stiffness.truss
    offset = FABRICATION * truss.span
    if not as_written:
        # Every joint is held: none can move, and no joint load reaches a member.
        return Sensitivity(0.0, 0.0, 0.0, offset)
    softest = softest_movement(stiffness).reshape(-1, truss.dimension)
    movements = [softest, -softest]
    if as_written * offset >= truss.lengths.min():
        random = np.random.default_rng(SEED)
        movements += [random.standard_normal(softest.shape) for _ in range(RANDOM_WAYS)]
    found = [_condition_of(moved(truss, _scaled(movement, offset))) for movement in movements]
    return Sensitivity(as_written, max(as_written, *found), min(as_written, *found), offset)


def _scaled(movement: NDArray[np.float64], offset: float) -> NDArray[np.float64]:
    """The movement with its largest joint movement made `offset` [m]."""
    return np.asarray(movement * (offset / np.linalg.norm(movement, axis=1).max()))


def softest_movement(stiffness: Stiffness) -> NDArray[np.float64]:
    """Return the movement that strains unit members least for its size, (joints x dimension,).

    The singular vector to the least singular value of A^T, by inverse iteration on A A^T.
    """
    matrix = stiffness.reduced
    members = matrix.shape[1]
    system = sparse.block_array([[-sparse.eye_array(members), matrix.T], [matrix, None]], format="csc")
    factor = Factor(sparse.csc_array(system))
    vector = np.random.default_rng(0).standard_normal(matrix.shape[0])
    for _ in range(ITERATIONS):
        right = np.concatenate([np.zeros(members), vector / np.linalg.norm(vector)])
        vector = factor.solve(right[:, None])[members:, 0]
    return np.asarray(stiffness.free @ vector)


def moved(truss: Truss, movement: NDArray[np.float64]) -> Truss:
    """Return the truss with its joints moved by `movement` (joints, dimension) [m]."""
    coordinates = tuple(
        tuple(c + Fraction(float(step)) for c, step in zip(point, steps, strict=True))
        for point, steps in zip(truss.coordinates, movement, strict=True)
    )
    return replace(truss, coordinates=coordinates)


def _condition_of(truss: Truss) -> float:
    try:
        return condition(Stiffness(truss))
    except UntrustworthyError:
        return float("inf")
