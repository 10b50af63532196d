"""A beam on elastic props: by what its forces must grow to buckle it, and how stiff its props must be.

Beam elements with the geometric stiffness of a cubic (Przemieniecki, Theory of Matrix Structural Analysis,
1968, sec. 15.2, from memory). With n elements a bar the critical load of a bar pinned at its ends is missed
upwards, by 0.05 % with four and by a sixteenth of that with twice as many.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import isfinite

import numpy as np
import scipy.linalg
from numpy.typing import NDArray

from solver.errors import InputError
from solver.tolerances import NOISE, ZERO

Array = NDArray[np.float64]
ELEMENTS = 8
"""Elements a bar: a critical load within 0.004 %."""


@dataclass(frozen=True)
class Beam:
    """Bars in line that pass through their joints as one: lengths [m], EI [N m2], forces [N], tension
    positive.

    Raises InputError where these do not fit or no length or stiffness is left.
    """

    lengths: tuple[float, ...]
    bending: tuple[float, ...]
    forces: tuple[float, ...]
    elements: int = ELEMENTS

    def __post_init__(self) -> None:
        if not len(self.lengths) == len(self.bending) == len(self.forces) > 0:
            raise InputError("every bar of a beam needs a length, a bending stiffness and a force")
        if min(*self.lengths, *self.bending, self.elements) <= 0:
            raise InputError("lengths and bending stiffnesses are above zero")

    @property
    def joints(self) -> int:
        """Number of joints, ends included."""
        return len(self.lengths) + 1


def critical_factor(beam: Beam, props: Array) -> float | None:
    """Return by what the forces must grow for the beam to buckle; None if they never make it.

    props: stiffness across at each joint, ends included, (joints,) [N/m], infinite where a joint is held
    firmly; or a matrix (joints, joints) of what holds the joints together, infinite on its diagonal where
    held firmly. Raises InputError where the props leave the beam free to move.
    """
    stiffness, geometric = _assemble(beam)
    firm, matrix = _springs(beam, props)
    places = _across(beam)
    stiffness[np.ix_(places, places)] += matrix
    free = np.setdiff1d(np.arange(len(stiffness)), places[firm])
    within = np.ix_(free, free)
    if not _kept(beam, firm, matrix):
        raise InputError("nothing keeps this beam from moving as a whole")
    scale = float(np.abs(beam.forces).max())
    if not scale:
        return None
    last = [len(free) - 1, len(free) - 1]
    pair = -geometric[within] / scale, stiffness[within]
    root = float(scipy.linalg.eigh(*pair, eigvals_only=True, subset_by_index=last)[0])
    # A pulled beam has no positive root, but for roundings far below that of a pushed beam of its length.
    pushed = sum(beam.lengths) ** 2 / min(beam.bending)
    return None if root <= ZERO * pushed else 1 / (root * scale)


def needed_stiffness(beam: Beam, places: tuple[int, ...], factor: float = 1.0) -> float | None:
    """Return the least stiffness [N/m] of equal props at `places` that bears `factor` times the forces.

    The ends of the beam are held firmly; joints that are neither ends nor `places` not at all. 0 where no
    prop is needed; None where even firm props do not suffice.
    """
    if not places or not set(places) <= set(range(1, beam.joints - 1)):
        raise InputError("props are asked for at joints between the ends")
    stiffness, geometric = _assemble(beam)
    total = stiffness + factor * geometric
    across = _across(beam)
    props = across[list(places)]
    rest = np.setdiff1d(np.arange(len(total)), [*props, across[0], across[-1]])
    try:
        lower = scipy.linalg.cho_factor(total[np.ix_(rest, rest)], lower=True)
    except np.linalg.LinAlgError:
        return None
    # What the props' own directions keep when all else has followed: beta makes up for its least root.
    coupling = total[np.ix_(rest, props)]
    left = total[np.ix_(props, props)] - coupling.T @ scipy.linalg.cho_solve(lower, coupling)
    return max(-float(scipy.linalg.eigvalsh(left)[0]), 0.0)


def _across(beam: Beam) -> NDArray[np.int64]:
    """The unknowns of the joints' movements across."""
    return np.arange(beam.joints) * 2 * beam.elements


def _springs(beam: Beam, props: Array) -> tuple[NDArray[np.bool_], Array]:
    """Which joints are held firmly, and the finite stiffness between the others, (joints, joints)."""
    given = np.asarray(props, dtype=float)
    diagonal = given if given.ndim == 1 else np.diag(given)
    if len(diagonal) != beam.joints or np.isnan(given).any() or (diagonal < 0).any():
        raise InputError("one stiffness at least zero is needed for every joint of the beam")
    firm = np.array([not isfinite(value) for value in diagonal])
    matrix = np.diag(diagonal).copy() if given.ndim == 1 else given.copy()
    matrix[firm, :] = 0
    matrix[:, firm] = 0
    return firm, matrix


def _kept(beam: Beam, firm: NDArray[np.bool_], matrix: Array) -> bool:
    """Whether the props keep the beam from shifting and from turning as a whole."""
    along = np.concatenate([[0.0], np.cumsum(beam.lengths)]) / sum(beam.lengths)
    whole = np.stack([np.ones(beam.joints), along], axis=1)
    largest = float(np.abs(matrix).max(initial=0.0)) or 1.0
    resists = whole[firm].T @ whole[firm] + whole.T @ (matrix / largest) @ whole
    return bool(np.linalg.eigvalsh(resists)[0] > NOISE)


def _assemble(beam: Beam) -> tuple[Array, Array]:
    """Bending stiffness and geometric stiffness of the free beam, unknowns: across and slope by node."""
    nodes = len(beam.lengths) * beam.elements + 1
    stiffness, geometric = np.zeros((2 * nodes, 2 * nodes)), np.zeros((2 * nodes, 2 * nodes))
    for element in range(nodes - 1):
        bar = element // beam.elements
        span = slice(2 * element, 2 * element + 4)
        length = beam.lengths[bar] / beam.elements
        stiffness[span, span] += beam.bending[bar] * _bending_matrix(length)
        geometric[span, span] += beam.forces[bar] * _axial_matrix(length)
    return stiffness, geometric


def _bending_matrix(length: float) -> Array:
    a, b = 6 * length, length**2
    rows = [[12, a, -12, a], [a, 4 * b, -a, 2 * b], [-12, -a, 12, -a], [a, 2 * b, -a, 4 * b]]
    return np.array(rows) / length**3


def _axial_matrix(length: float) -> Array:
    a, b = 3 * length, length**2
    rows = [[36, a, -36, a], [a, 4 * b, -a, -b], [-36, -a, 36, -a], [a, -b, -a, 4 * b]]
    return np.array(rows) / (30 * length)
