"""Rows: the response of every quantity to each load case and to a unit load at each chord joint.

Everything later is an extreme of rows: a combination adds the columns of its cases and lets its train
travel over the columns of its chord.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.cases import work_out
from solver.progress import Progress, silent
from solver.stiffness import Stiffness
from solver.study import Study
from solver.tolerances import NOISE

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Rows:
    """Rows of one kind: `cases` (rows, cases) and, by chord, `influence` (rows, joints of the chord).

    Influence is per unit downward load [N/N or m/N]. `sizes` (cases,) is what a sum of cases is weighed
    against: of deflections the largest of the case, else the case's scale.
    """

    cases: Array
    influence: Mapping[str, Array]
    sizes: Array


@dataclass(frozen=True)
class Responses:
    """All rows of a study: member forces, reactions, deflections, joint loads and imbalances.

    forces (members), reactions (held), deflections, loads and imbalance (joints x dimension); loads are
    themselves rows, so that whatever combines forces combines the loads that go with them. `fully_held`
    (members, cases) [N]; `largest_contribution` (joints, cases) [N].
    """

    case_names: tuple[str, ...]
    forces: Rows
    reactions: Rows
    deflections: Rows
    loads: Rows
    imbalance: Rows
    fully_held: Array
    largest_contribution: Array


def respond(study: Study, stiffness: Stiffness, progress: Progress = silent) -> Responses:
    """Work out the rows of a study in one solve: load cases first, then the chords' unit loads."""
    progress("rows of influence", 0.0)
    actions = [work_out(case, study.truss, study.chords) for case in study.cases.values()]
    cases = len(actions)
    unit_loads, slices = _unit_loads(study, cases)
    freedoms = study.truss.freedoms
    loads = np.hstack([_columns([a.joint_loads for a in actions], freedoms), unit_loads])
    elongations = np.zeros((len(study.truss.members), loads.shape[1]))
    elongations[:, :cases] = _columns([a.free_elongations for a in actions], len(study.truss.members))
    settlements = np.zeros_like(loads)
    settlements[:, :cases] = _columns([a.settlements for a in actions], freedoms)
    answer = stiffness.respond(loads, elongations, settlements)

    scales = np.max([_sizes(part) for part in (answer.forces, loads, answer.fully_held)], axis=0)[:cases]

    def rows(values: Array, sizes: Array = scales, tidy: bool = True) -> Rows:
        unit = tidied(values[:, cases:]) if tidy else values[:, cases:]
        influence = {name: unit[:, part.start - cases : part.stop - cases] for name, part in slices.items()}
        return Rows(values[:, :cases], influence, sizes)

    return Responses(
        case_names=tuple(study.cases),
        forces=rows(answer.forces),
        reactions=rows(answer.reactions),
        deflections=rows(answer.movements, _sizes(answer.movements)[:cases]),
        loads=rows(loads),
        imbalance=rows(answer.imbalance, tidy=False),
        fully_held=answer.fully_held[:, :cases],
        largest_contribution=_columns(
            [a.largest_contribution for a in actions], len(study.truss.joint_names)
        ),
    )


def tidied(columns: Array) -> Array:
    """Return answers to unit loads with computed true zeros as 0: roundings must not place a load."""
    return np.where(np.abs(columns) <= NOISE * _sizes(columns), 0.0, columns)


def _sizes(columns: Array) -> Array:
    """The largest absolute value of each column."""
    return np.asarray(np.abs(columns).max(axis=0, initial=0.0))


def _columns(arrays: list[Array], height: int) -> Array:
    """The arrays, each flattened to one column, side by side; (height, 0) where there are none."""
    return np.stack([array.ravel() for array in arrays], axis=1) if arrays else np.zeros((height, 0))


def _unit_loads(study: Study, first: int) -> tuple[Array, dict[str, slice]]:
    """A unit downward load at each joint of each chord, and each chord's columns after `first`."""
    joints = [joint for chord in study.chords.values() for joint in chord.joints]
    loads = np.zeros((study.truss.freedoms, len(joints)))
    up = study.truss.dimension - 1
    loads[np.array(joints, dtype=int) * study.truss.dimension + up, np.arange(len(joints))] = -1.0
    slices, start = {}, first
    for name, chord in study.chords.items():
        slices[name] = slice(start, start + len(chord.joints))
        start += len(chord.joints)
    return loads, slices
