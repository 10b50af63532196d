"""Gravity loads that lean: what they put into members when a share of them acts across."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.response import Responses, Rows
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import Ways, sweep

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Leaning:
    """The largest force that the vertical part of each load alone puts into a member when it leans.

    forces (members, loads alone) [N], at least 0, over all positions, at a lean of 1; upright likewise of the
    same vertical parts as they stand; share: by which they lean.
    """

    share: float
    forces: Array
    upright: Array


def lean(study: Study, stiffness: Stiffness, responses: Responses, ways: Ways) -> Leaning:
    """Let the vertical part of every load lean by the study's share, in any direction."""
    truss = study.truss
    dimension = truss.dimension
    shape = len(truss.joint_names), dimension, len(study.cases)
    vertical = responses.loads.cases.reshape(shape)[:, -1]
    upright = _along(study, stiffness, vertical, dimension - 1)
    sides = [_along(study, stiffness, vertical, axis) for axis in range(dimension - 1)]
    names = responses.case_names
    swept = [sweep(ways, rows, names, study.alone) for rows in (upright, *sides)]
    sizes = [np.maximum(np.abs(one.smallest), np.abs(one.largest)) for one in swept]
    forces = np.max(sizes[1:], axis=0)
    if len(sides) > 1:
        # Of what stands still the worst direction is known; of what travels no more than its axes.
        still = np.flatnonzero([load.stands_still for load in study.alone])
        forces[:, still] = np.hypot(*(size[:, still] for size in sizes[1:]))
    return Leaning(study.lean, np.asarray(forces), sizes[0])


def _along(study: Study, stiffness: Stiffness, vertical: Array, axis: int) -> Rows:
    """Rows of member forces under the vertical parts of all loads, turned along one axis.

    vertical (joints, cases) [N], upwards positive; along a horizontal axis a downward load acts forwards.
    """
    truss = study.truss
    count = vertical.shape[1]
    joints = [joint for chord in study.chords.values() for joint in chord.joints]
    loads = np.zeros((truss.freedoms, count + len(joints)))
    sign = 1.0 if axis == truss.dimension - 1 else -1.0
    loads[axis :: truss.dimension, :count] = sign * vertical
    loads[np.array(joints, dtype=int) * truss.dimension + axis, count + np.arange(len(joints))] = -sign
    forces = stiffness.respond(loads).forces
    influence, start = {}, count
    for name, chord in study.chords.items():
        influence[name] = forces[:, start : start + len(chord.joints)]
        start += len(chord.joints)
    sizes = np.abs(vertical).max(axis=0, initial=0.0)
    return Rows(forces[:, :count], influence, sizes)
