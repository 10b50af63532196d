"""Small studies and what losing one member by name leaves of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from explorer.bundled import list_bundled
from explorer.document import read_study
from solver.answers import answer
from solver.losses.mechanisms import Mechanism
from solver.losses.stable import Stable
from solver.losses.whole import Loss
from solver.study import Study
from solver.truss import Piece, Truss


def lose(study: Study, name: str) -> Loss:
    """What losing a member leaves."""
    return answer(study).losses.each[study.truss.member_index(name)]


def mechanism(loss: Loss) -> Mechanism:
    """The mechanism that a loss leaves."""
    assert loss.mechanism is not None and loss.stable is None
    return loss.mechanism


def stable(loss: Loss) -> Stable:
    """What a loss leaves of a truss that stands."""
    assert loss.stable is not None and loss.mechanism is None
    return loss.stable


def with_piece(truss: Truss, *joints: str) -> Truss:
    """The truss with a piece along joints."""
    piece = Piece("piece", tuple(truss.joint_index(name) for name in joints))
    return replace(truss, pieces=(*truss.pieces, piece))


def resisting(truss: Truss, each: Mapping[str, tuple[float | None, float | None]]) -> Truss:
    """The truss with resistances in tension and compression by member, "" for all others; none without."""
    members = []
    for member in truss.members:
        tension, compression = each.get(member.name, each.get("", (None, None)))
        group = replace(member.group, tension=tension, compression=compression)
        members.append(replace(member, group=group))
    return replace(truss, members=tuple(members))


def bundled(name: str, cases: Sequence[str] | None = None, pieces: bool = True) -> Study:
    """A bundled study; `cases`: only these cases and crossings, and no combinations."""
    (path,) = [item.path for item in list_bundled("study") if item.name == name]
    study = read_study(path).study
    if not pieces:
        study = replace(study, truss=replace(study.truss, pieces=()))
    if cases is None:
        return study
    return replace(
        study,
        cases={key: case for key, case in study.cases.items() if key in cases},
        crossings={key: crossing for key, crossing in study.crossings.items() if key in cases},
        combinations=(),
    )


def elongations(truss: Truss) -> np.ndarray:
    """Elongations of the members per joint movement, (members, joints, dimension)."""
    points = truss.joint_coordinates
    rows = np.zeros((len(truss.members), *points.shape))
    for row, bar in zip(rows, truss.members, strict=True):
        along = points[bar.second] - points[bar.first]
        row[bar.second] = along / np.linalg.norm(along)
        row[bar.first] = -row[bar.second]
    return rows
