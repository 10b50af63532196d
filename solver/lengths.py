"""Unbraced lengths: between which joints a member may buckle, in the plane of the truss and out of it.

In its plane a truss that stands holds every joint: a bar buckles between its own two. Out of its plane
nothing in the model holds a joint; only what the study writes down does (`lateral_props` of its pieces).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.tolerances import DIRECTION
from solver.truss import Piece, Truss


@dataclass(frozen=True)
class Unbraced:
    """Between what a member may buckle [m].

    in_plane: between its joints; across: out of the plane, None where the study does not say what holds it.
    piece: that it belongs to. holders: the members (indices) that hold its first and its second joint across
    it, in the file's order; of a joint held by a support alone none.
    """

    in_plane: float
    across: float | None
    piece: Piece | None
    holders: tuple[tuple[int, ...], tuple[int, ...]]


def find_unbraced(truss: Truss) -> tuple[Unbraced, ...]:
    """Find the unbraced lengths of every member of a truss that stands, in the file's order."""
    pieces = _pieces_of(truss)
    held = {joint for piece in truss.pieces for joint in piece.lateral_props or ()}
    found = []
    for index, member in enumerate(truss.members):
        length = float(truss.lengths[index])
        piece = pieces.get(index)
        ends = (member.first, member.second)
        if truss.dimension == 3:
            across: float | None = length
        elif piece is not None:
            across = _between_props(truss, piece, ends)
        else:
            across = length if held.issuperset(ends) else None
        first, second = (holders_at(truss, joint, index) for joint in ends)
        found.append(Unbraced(length, across, piece, (first, second)))
    return tuple(found)


def holders_at(truss: Truss, joint: int, bar: int) -> tuple[int, ...]:
    """Return the members at a joint that are not in line with a bar there: what can hold it across."""
    along = truss.directions[bar]
    found = []
    for other in truss.members_at[joint]:
        direction = truss.directions[other]
        across = direction - float(direction @ along) * along
        if other != bar and np.linalg.norm(across) > DIRECTION:
            found.append(other)
    return tuple(found)


def _pieces_of(truss: Truss) -> dict[int, Piece]:
    """The piece of every member (index) that belongs to one."""
    found = {}
    for piece in truss.pieces:
        joints = set(piece.joints)
        steps = {frozenset(pair) for pair in zip(piece.joints, piece.joints[1:], strict=False)}
        for joint in joints:
            for index in truss.members_at[joint]:
                if frozenset(truss.ends[index].tolist()) in steps:
                    found[index] = piece
    return found


def _between_props(truss: Truss, piece: Piece, ends: tuple[int, int]) -> float | None:
    """The distance between the lateral props on both sides of a bar of a piece; None beyond the last one."""
    if not piece.lateral_props:
        return None
    points = truss.joint_coordinates[list(piece.joints)]
    at = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(points, axis=0), axis=1))])
    places = sorted(piece.joints.index(joint) for joint in piece.lateral_props)
    low, high = sorted(piece.joints.index(joint) for joint in ends)
    before = [place for place in places if place <= low]
    after = [place for place in places if place >= high]
    return float(at[after[0]] - at[before[-1]]) if before and after else None
