"""What acts together: with each peak the forces around it and the reactions there, in that same state."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.peak_states import Moment, Peaks, Reported, moment_of, recompute, second_at
from solver.progress import Progress, blocks, silent
from solver.truss import Truss

Array = NDArray[np.float64]
STATES = 500


@dataclass(frozen=True)
class Together:
    """One extreme and what acts in its state.

    row: the member or the held direction; largest: whether it is the largest value of its row or the
    smallest. members, held: indices of what is told with it; forces, reactions [N] theirs. second: where
    the front of the second train stands [m], NaN without one on the chord.
    """

    row: int
    largest: bool
    moment: Moment
    second: float
    members: tuple[int, ...]
    forces: Array
    held: tuple[int, ...]
    reactions: Array


def around_members(reported: Reported, peaks: Sequence[Peaks], progress: Progress = silent) -> list[Together]:
    """Tell with each member's two peaks the forces in all members at its two joints and the reactions there.

    peaks: those of tension and of compression. Members come in the file's order, tension first; a peak of
    0 has no state and is left out.
    """
    truss = reported.study.truss
    around = [_at_joints(truss, (member.first, member.second)) for member in truss.members]
    found = _together(reported, peaks, around, progress)
    return sorted(found, key=lambda one: (one.row, not one.largest))


def with_reactions(reported: Reported, peaks: Sequence[Peaks], progress: Progress = silent) -> list[Together]:
    """Tell with the largest and smallest of each reaction all reactions of that state."""
    everything: tuple[tuple[int, ...], tuple[int, ...]] = ((), tuple(range(reported.study.truss.held)))
    around = [everything] * reported.study.truss.held
    found = _together(reported, peaks, around, progress)
    return sorted(found, key=lambda one: (one.row, not one.largest))


def _at_joints(truss: Truss, joints: tuple[int, int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Members and held directions at two joints, in the file's order."""
    members = sorted({member for joint in joints for member in truss.members_at[joint]})
    held, row = [], 0
    for support in truss.supports:
        for _ in support.directions:
            if support.joint in joints:
                held.append(row)
            row += 1
    return tuple(members), tuple(held)


def _together(
    reported: Reported,
    peaks: Sequence[Peaks],
    around: Sequence[tuple[tuple[int, ...], tuple[int, ...]]],
    progress: Progress,
) -> list[Together]:
    wanted = [(number, int(row)) for number, peak in enumerate(peaks) for row in peak.told]
    found = []
    for block in blocks(len(wanted), STATES, "what acts together", progress):
        chosen = wanted[block]
        moments = [moment_of(reported, peaks, number, row) for number, row in chosen]
        forces, reactions, _ = recompute(reported, peaks, moments)
        for column, ((number, row), moment) in enumerate(zip(chosen, moments, strict=True)):
            members, held = around[row]
            found.append(
                Together(
                    row,
                    peaks[number].sign > 0,
                    moment,
                    second_at(reported, peaks, moment),
                    members,
                    forces[list(members), column],
                    held,
                    reactions[list(held), column],
                )
            )
    return found
