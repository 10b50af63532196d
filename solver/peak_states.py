"""The states in which extremes occur: what stands where then, and all forces, reactions and loads of it.

Loads are placed afresh here, from the trains and the cases, and not taken from what made the peaks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.combining import Combination
from solver.crossings import Direction
from solver.demand import standing_part
from solver.placement import (
    Arrangement,
    Standing,
    arrange_for,
    joint_loads,
    place_lane,
    place_train,
    second_front,
    settled,
)
from solver.response import Responses, Rows
from solver.study import Study
from solver.sweep import Governing

Array = NDArray[np.float64]
WAYS: tuple[Direction, ...] = ("forward", "backward")


@dataclass(frozen=True)
class Peaks:
    """Reported extremes of one kind of rows: `sign` x row is largest where `governing` says.

    Its combinations are places among all of `Reported`. `forces`: they are member forces, of which those
    written as 0 have no state of their own.
    """

    governing: Governing
    sign: float
    rows: Rows
    forces: bool = False

    @property
    def told(self) -> NDArray[np.int64]:
        """Rows whose extreme is told with its state."""
        chosen = self.governing.values > 0 if self.forces else np.ones(len(self.governing.values), bool)
        return np.flatnonzero(chosen)


@dataclass(frozen=True)
class Reported:
    """What a run reports: rows, combinations and their scales (combinations,) [N]."""

    study: Study
    responses: Responses
    combinations: Sequence[Combination]
    scales: Array


@dataclass(frozen=True)
class Moment:
    """A state: a combination, its train's direction (-1 without one), position, place in its set, sides.

    Of which extreme (place among the peaks) and row it is counts only where loads are arranged, else -1.
    """

    combination: int
    direction: int
    position: float
    train: int
    sides: tuple[int, int]
    extreme: int
    row: int

    @property
    def order(self) -> tuple[int, int, float, int, tuple[int, int], int, int]:
        """What states are sorted by."""
        place = self.combination, self.direction, self.position, self.train
        return (*place, self.sides, self.extreme, self.row)


def moment_of(reported: Reported, peaks: Sequence[Peaks], number: int, row: int) -> Moment:
    """Return the state in which the extreme of one row of one kind occurs."""
    governing = peaks[number].governing
    combination = int(governing.combinations[row])
    train = int(governing.trains[row])
    own = _arranges(reported, combination, train)
    moment = Moment(
        combination=combination,
        direction=int(governing.directions[row]),
        position=float(np.nan_to_num(governing.positions[row])),
        train=train,
        sides=(0, 0),
        extreme=number if own else -1,
        row=row if own else -1,
    )
    return moment if train < 0 else _on_its_side(reported, peaks, moment, (number, row))


def standing_of(reported: Reported, peaks: Sequence[Peaks], moment: Moment) -> Standing | None:
    """Return where the train stands in a state; None without one."""
    if moment.direction < 0:
        return None
    return Standing(
        WAYS[moment.direction],
        moment.position,
        moment.train,
        None,
        arrangement_of(peaks, moment),
        *moment.sides,
    )


def arrangement_of(peaks: Sequence[Peaks], moment: Moment) -> Arrangement | None:
    """Return for what the loads of a state are arranged, if for anything."""
    if moment.extreme < 0:
        return None
    peak = peaks[moment.extreme]
    return arrange_for(peak.rows, moment.row, peak.sign)


def recompute(
    reported: Reported, peaks: Sequence[Peaks], moments: Sequence[Moment]
) -> tuple[Array, Array, Array]:
    """Return forces, reactions and joint loads of each state, (rows, states)."""
    responses = reported.responses
    combinations = tuple(reported.combinations[moment.combination] for moment in moments)
    kinds = (responses.forces, responses.reactions, responses.loads)
    totals = [standing_part(rows, responses.case_names, combinations) for rows in kinds]
    for chord, placed in _placed(reported, peaks, moments).items():
        for total, rows in zip(totals, kinds, strict=True):
            total += rows.influence[chord] @ placed
    return totals[0], totals[1], totals[2]


def _arranges(reported: Reported, combination: int, train: int) -> bool:
    """Whether loads of a combination stand otherwise for one row than for another."""
    load = reported.combinations[combination]
    if load.lanes:
        return True
    if load.crossing is None or train < 0:
        return False
    return reported.study.crossings[load.crossing].trains[train].depends_on_the_row


def _on_its_side(reported: Reported, peaks: Sequence[Peaks], moment: Moment, of: tuple[int, int]) -> Moment:
    """The state on that side of a jump on which an extreme (number among the peaks, row) lies."""
    number, row = of
    load = reported.combinations[moment.combination]
    crossing = reported.study.crossings[load.crossing or ""]
    chord = reported.study.chords[crossing.chord]
    line = peaks[number].rows.influence[crossing.chord][row]
    standing = standing_of(reported, peaks, moment)
    if standing is None or not (line[0] or line[-1] or standing.arrangement):
        return moment
    chosen = settled(crossing, chord, standing, load.crossing_factor, peaks[number].sign * line)
    return replace(moment, sides=(chosen.side, chosen.second_side))


def _placed(reported: Reported, peaks: Sequence[Peaks], moments: Sequence[Moment]) -> dict[str, Array]:
    """Downward loads [N] at the joints of each chord in each state, (joints, states)."""
    chords = reported.study.chords
    placed = {name: np.zeros((len(chord.joints), len(moments))) for name, chord in chords.items()}
    for column, moment in enumerate(moments):
        for name, loads in _place(reported, peaks, moment):
            placed[name][:, column] += loads
    return placed


def _place(reported: Reported, peaks: Sequence[Peaks], moment: Moment) -> Iterator[tuple[str, Array]]:
    """What stands on each chord in one state as loads at its joints, (joints,) [N]."""
    study, load = reported.study, reported.combinations[moment.combination]
    standing = standing_of(reported, peaks, moment)
    if load.crossing and standing:
        crossing = study.crossings[load.crossing]
        chord = study.chords[crossing.chord]
        yield chord.name, joint_loads(chord, place_train(crossing, chord, standing, load.crossing_factor))
    for name, factor in load.lanes.items():
        crossing = study.crossings[name]
        chord = study.chords[crossing.chord]
        yield (
            chord.name,
            joint_loads(chord, place_lane(crossing, chord, arrangement_of(peaks, moment), factor)),
        )


def second_at(reported: Reported, peaks: Sequence[Peaks], moment: Moment) -> float:
    """Return where the front of the second train stands in a state [m]; NaN without one."""
    load = reported.combinations[moment.combination]
    standing = standing_of(reported, peaks, moment)
    if load.crossing is None or standing is None:
        return float("nan")
    crossing = reported.study.crossings[load.crossing]
    front = second_front(crossing, reported.study.chords[crossing.chord], standing, load.crossing_factor)
    return float("nan") if front is None or not np.isfinite(front) else front
