"""Props: joints of a piece that nothing holds across any more, and what that does to its buckling."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from solver.propping import critical
from solver.propping.critical import Beam
from solver.tolerances import ZERO
from solver.truss import Piece, Truss

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Unpropped:
    """Joints of a piece (places along it) that a loss leaves unheld, between joints that stay.

    before [m]: the longest bar of the piece; after [m]: the longest distance between neighbouring joints
    that stay with unheld ones in between.
    """

    piece: Piece
    moving: tuple[int, ...]
    before: float
    after: float


def find_unpropped(truss: Truss, moves: tuple[int, ...]) -> Unpropped | None:
    """Find the piece on which all joints that move lie, each between two that stay; None where none is."""
    moving = set(moves)
    for piece in truss.pieces:
        if not moving or not moving <= set(piece.joints):
            continue
        if piece.joints[0] in moving or piece.joints[-1] in moving:
            continue
        places = [place for place, joint in enumerate(piece.joints) if joint in moving]
        lengths = bar_lengths(truss, piece)
        at = np.concatenate([[0.0], np.cumsum(lengths)])
        stays = [place for place in range(len(piece.joints)) if place not in places]
        gaps = [float(at[b] - at[a]) for a, b in pairwise(stays) if any(a < place < b for place in places)]
        return Unpropped(piece, tuple(places), float(lengths.max()), max(gaps))
    return None


def bars_of(truss: Truss, piece: Piece) -> list[int]:
    """The members (indices) between neighbouring joints of a piece."""
    found = []
    for a, b in pairwise(piece.joints):
        found.append(next(m for m in truss.members_at[a] if b in truss.ends[m].tolist()))
    return found


def bar_lengths(truss: Truss, piece: Piece) -> Array:
    """Lengths of a piece's bars [m]."""
    return np.asarray(truss.lengths[bars_of(truss, piece)])


@dataclass(frozen=True)
class Critical:
    """By what a piece's forces must grow for it to buckle, with all its joints held and without those lost.

    `known`: EI is given; where not, only the ratio of the two means anything.
    """

    held: float
    unheld: float
    known: bool

    @property
    def ratio(self) -> float:
        """The critical load with all joints held over that without those lost."""
        return self.held / self.unheld


def find_critical(truss: Truss, unpropped: Unpropped, forces: Array) -> Critical | None:
    """Find how near a piece is to buckling under its own axial forces (members,) [N], before and after.

    It is a beam held across where its joints stay. None where nothing is compressed, or where bars of
    different sections lack a second moment of area.
    """
    bars = bars_of(truss, unpropped.piece)
    bending, known = _bending(truss, bars)
    if bending is None or (forces[bars] >= -ZERO * np.abs(forces).max(initial=0.0)).all():
        return None
    beam = bar_lengths(truss, unpropped.piece), bending, forces[bars]
    held = critical_factor(*beam, ())
    unheld = critical_factor(*beam, unpropped.moving)
    return None if held is None or unheld is None else Critical(held, unheld, known)


def critical_factor(lengths: Array, bending: Array, forces: Array, unheld: tuple[int, ...]) -> float | None:
    """Return by what a beam's axial forces must grow for it to buckle; None if they never make it.

    lengths [m], bending stiffness EI [N m2] and axial force [N], tension positive, by bar; every joint is
    held firmly across but those `unheld` (places).
    """
    beam = Beam(tuple(lengths.tolist()), tuple(bending.tolist()), tuple(forces.tolist()))
    props = np.full(beam.joints, np.inf)
    props[list(unheld)] = 0.0
    return critical.critical_factor(beam, props)


def _bending(truss: Truss, bars: list[int]) -> tuple[Array | None, bool]:
    """EI of each bar and that it is known; else 1 each where all are of one section and material."""
    groups = [truss.members[bar].group for bar in bars]
    seconds = [group.section.second_moment for group in groups]
    if not any(second is None for second in seconds):
        moduli = [group.material.elastic_modulus for group in groups]
        return np.array([(s or 0.0) * m for s, m in zip(seconds, moduli, strict=True)]), True
    alike = len({(group.section, group.material) for group in groups}) == 1
    return (np.ones(len(bars)) if alike else None), False
