"""Load cases that stand still: what they do to joints, members and supports."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.chords import Chord, lever_shares
from solver.tolerances import NO_LOAD
from solver.truss import Truss

Vector = tuple[float, ...]


@dataclass(frozen=True)
class LineLoad:
    """A uniform load on a stretch of a chord: a `vector` [N/m], or `normal` [N/m] to the left of its way.

    `per` says whether the load counts per plan distance or per length along the chord (a normal load
    counts per length); `start` and `end` are plan distances [m].
    """

    chord: str
    start: float
    end: float
    vector: Vector | None = None
    normal: float | None = None
    per: Literal["plan", "length"] = "plan"


@dataclass(frozen=True)
class LoadCase:
    """One load case.

    `self_weight` counts the members' own weight; `joints` are loads [N] by joint index; `temperature`
    is the change [K] of each member; `settlement` the movement [m] of supports by joint index; `misfit`
    how much too long a member (by index) was made [m]; `counts` its weight in the zero share.
    """

    name: str
    self_weight: float = 0.0
    joints: Mapping[int, Vector] = field(default_factory=dict)
    lines: tuple[LineLoad, ...] = ()
    temperature: tuple[float, ...] | None = None
    settlement: Mapping[int, Vector] = field(default_factory=dict)
    misfit: Mapping[int, float] = field(default_factory=dict)
    counts: float = 1.0


@dataclass(frozen=True)
class Action:
    """A load case worked out on a truss.

    joint_loads (joints, dimension) [N] along the axes; largest_contribution (joints,) [N], the largest
    single load that went into each; free_elongations e0 (members,) [m], longer positive; settlements
    (joints, dimension) [m].
    """

    joint_loads: NDArray[np.float64]
    largest_contribution: NDArray[np.float64]
    free_elongations: NDArray[np.float64]
    settlements: NDArray[np.float64]


def work_out(case: LoadCase, truss: Truss, chords: Mapping[str, Chord]) -> Action:
    """Turn a load case into joint loads, free elongations and support movements."""
    contributions = [np.zeros((len(truss.joint_names), truss.dimension))]
    if case.self_weight:
        contributions += _self_weight(case, truss)
    for joint, vector in case.joints.items():
        load = np.zeros_like(contributions[0])
        load[joint] = vector
        contributions.append(load)
    for line in case.lines:
        contributions += _line_load(line, chords[line.chord], truss)
    stack = np.array(contributions)
    settlements = np.zeros_like(contributions[0])
    for joint, vector in case.settlement.items():
        settlements[joint] = vector
    joint_loads = stack.sum(axis=0)
    largest = np.linalg.norm(stack, axis=2).max(axis=0)
    # Loads that cancel on paper leave a rounding behind, which is none.
    joint_loads[np.linalg.norm(joint_loads, axis=1) <= NO_LOAD * largest] = 0.0
    return Action(
        joint_loads=joint_loads,
        largest_contribution=largest,
        free_elongations=_free_elongations(case, truss),
        settlements=settlements,
    )


def _self_weight(case: LoadCase, truss: Truss) -> list[NDArray[np.float64]]:
    """Half of each member's weight at either end, one array for the first ends, one for the second."""
    halves = []
    for end in range(2):
        load = np.zeros((len(truss.joint_names), truss.dimension))
        np.add.at(load[:, -1], truss.ends[:, end], -case.self_weight * truss.weights / 2)
        halves.append(load)
    return halves


def _line_load(line: LineLoad, chord: Chord, truss: Truss) -> list[NDArray[np.float64]]:
    """The joint loads of a line load, one array a panel: its direction may change from panel to panel."""
    plan = np.diff(chord.positions)
    lengths = np.linalg.norm(chord.vectors, axis=1)
    loads = []
    for panel, vector in enumerate(chord.vectors):
        if line.normal is not None:
            along = vector / lengths[panel]
            intensity = line.normal * np.array([-along[1], along[0]]) * lengths[panel] / plan[panel]
        else:
            stretch = lengths[panel] / plan[panel] if line.per == "length" else 1.0
            intensity = np.array(line.vector) * stretch
        start = max(line.start, chord.positions[panel])
        end = min(line.end, chord.positions[panel + 1])
        if end <= start:
            continue
        load = np.zeros((len(truss.joint_names), truss.dimension))
        load[list(chord.joints)] = np.outer(lever_shares(chord, start, end), intensity)
        loads.append(load)
    return loads


def _free_elongations(case: LoadCase, truss: Truss) -> NDArray[np.float64]:
    elongations = np.zeros(len(truss.members))
    if case.temperature is not None:
        for index, (change, member) in enumerate(zip(case.temperature, truss.members, strict=True)):
            if change:
                expansion = member.group.material.expansion
                assert expansion is not None, "checked when the study was read"
                elongations[index] = expansion * change * truss.lengths[index]
    for member_index, misfit in case.misfit.items():
        elongations[member_index] += misfit
    return elongations
