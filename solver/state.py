"""One state: a combination with its train standing at one place; who brings what, and what joints show."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.combining import Combination
from solver.crossings import Direction, joint_loads_at
from solver.response import Responses
from solver.study import Study
from solver.tolerances import NOISE

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Standing:
    """Where a train's front stands [m] and which way it faces."""

    direction: Direction
    position: float


@dataclass(frozen=True)
class Part:
    """What one load brings into every member, (members,) [N].

    A load case by its name and factor; an axle by its load [N] (all factors in) and position [m].
    """

    case: str | None
    factor: float
    load: float
    position: float
    forces: Array


@dataclass(frozen=True)
class State:
    """One state.

    forces (members,) [N]; joint_loads (joints, dimension) [N], weighed against largest_contribution
    (joints,) [N]; parts; weights: downward loads of the train at its chord's joints [N], none without one.
    """

    forces: Array
    joint_loads: Array
    largest_contribution: Array
    parts: tuple[Part, ...]
    weights: Array


def take_state(
    study: Study, responses: Responses, combination: Combination, standing: Standing | None
) -> State:
    """Work out one state of a combination; without a standing, or off the chord, its train adds nothing."""
    parts = [_case_part(responses, name, factor) for name, factor in combination.cases.items()]
    indices = [responses.case_names.index(name) for name in combination.cases]
    factors = np.array(list(combination.cases.values()))
    loads = responses.loads.cases[:, indices] @ factors
    contributions = (responses.largest_contribution[:, indices] * np.abs(factors)).max(axis=1, initial=0.0)
    total = np.zeros(0)
    if combination.crossing and standing:
        crossing = study.crossings[combination.crossing]
        chord = study.chords[crossing.chord]
        total = np.zeros(len(chord.joints))
        for axle in crossing.train.axles:
            alone = replace(crossing, train=replace(crossing.train, axles=(axle,)))
            weights = combination.crossing_factor * joint_loads_at(
                alone, chord, standing.direction, standing.position
            )
            total += weights
            loads = loads + responses.loads.influence[crossing.chord] @ weights
            contributions[list(chord.joints)] = np.maximum(contributions[list(chord.joints)], np.abs(weights))
            sign = 1.0 if standing.direction == "forward" else -1.0
            parts.append(
                Part(
                    None,
                    combination.crossing_factor,
                    combination.crossing_factor * crossing.axle_factor * axle.load,
                    standing.position - sign * axle.distance,
                    responses.forces.influence[crossing.chord] @ weights,
                )
            )
    brought = np.array([part.forces for part in parts]).reshape(-1, len(study.truss.members))
    forces, sizes = brought.sum(axis=0), np.abs(brought).max(axis=0, initial=0.0)
    cancelled = np.abs(forces).max(initial=0.0) <= NOISE * sizes.max(initial=0.0)
    return State(
        forces=np.zeros_like(forces) if cancelled else forces,
        joint_loads=loads.reshape(len(study.truss.joint_names), -1),
        largest_contribution=contributions,
        parts=tuple(parts),
        weights=total,
    )


def _case_part(responses: Responses, name: str, factor: float) -> Part:
    column = responses.case_names.index(name)
    return Part(name, factor, 0.0, np.nan, factor * responses.forces.cases[:, column])


def joint_loads_of(study: Study, responses: Responses, combination: Combination) -> Array:
    """Return the joint loads of a combination's cases, (joints, dimension) [N]; what cancels is 0."""
    factors = np.array([combination.cases.get(name, 0.0) for name in responses.case_names])
    loads = responses.loads.cases @ factors
    largest = (responses.largest_contribution * np.abs(factors)).max(initial=0.0)
    return np.where(np.abs(loads) <= NOISE * largest, 0.0, loads).reshape(len(study.truss.joint_names), -1)
