"""One state: a combination with its train standing at one place; who brings what, and what joints show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.cases import LoadCase, work_out
from solver.combining import Combination
from solver.errors import UntrustworthyError
from solver.placement import Arrangement, Placed, Standing, brought_to_joints, place_lane, place_train
from solver.response import Responses
from solver.stiffness import Stiffness
from solver.study import Study
from solver.tolerances import IMBALANCE, NO_LOAD, NOISE

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Part:
    """What one load brings into every member, (members,) [N].

    A load case by its name and factor; what stands on a chord by `placed` and the crossing it belongs to;
    a load of the reader's own by its size [N] and joint.
    """

    case: str | None
    factor: float
    load: float
    forces: Array
    joint: int = -1
    placed: Placed | None = None
    crossing: str = ""


@dataclass(frozen=True)
class Strains:
    """What acts in a state other than loads, by its cause.

    temperature, misfit (members,) [m]: free elongations, longer positive; settlement (joints, dimension)
    [m].
    """

    temperature: Array
    misfit: Array
    settlement: Array

    @property
    def any(self) -> bool:
        """Whether there is any."""
        return bool(self.temperature.any() or self.misfit.any() or self.settlement.any())


@dataclass(frozen=True)
class State:
    """One state.

    forces (members,) [N]; joint_loads (joints, dimension) [N], weighed against largest_contribution
    (joints,) [N]; parts; weights: by chord the downward loads at its joints of what stands on it [N];
    strains.
    """

    forces: Array
    joint_loads: Array
    largest_contribution: Array
    parts: tuple[Part, ...]
    weights: Mapping[str, Array]
    strains: Strains

    @property
    def loaded(self) -> NDArray[np.bool_]:
        """Whether a load stands on each joint, (joints,): what cancels on paper leaves none."""
        sizes = np.linalg.norm(self.joint_loads, axis=1)
        return np.asarray(sizes > NO_LOAD * self.largest_contribution)

    @property
    def own_scale(self) -> float:
        """The largest force or joint load [N]: what zero is judged against where no case gives a scale."""
        return float(max(np.abs(self.forces).max(initial=0.0), np.abs(self.joint_loads).max(initial=0.0)))


def take_state(
    study: Study,
    responses: Responses,
    combination: Combination,
    standing: Standing | None,
    arrangement: Arrangement | None = None,
) -> State:
    """Work out one state of a combination; without a standing, or off the chord, its train adds nothing.

    Lanes alone are placed as `arrangement` says, else as that of the standing says, else not at all.
    """
    parts = [_case_part(responses, name, factor) for name, factor in combination.cases.items()]
    indices = [responses.case_names.index(name) for name in combination.cases]
    factors = np.array(list(combination.cases.values()))
    loads = responses.loads.cases[:, indices] @ factors
    contributions = (responses.largest_contribution[:, indices] * np.abs(factors)).max(axis=1, initial=0.0)
    weights: dict[str, Array] = {}
    for name, factor, one in _placed(study, combination, standing, arrangement):
        chord = study.chords[study.crossings[name].chord]
        brought = brought_to_joints(chord, one)
        weights[chord.name] = weights.get(chord.name, np.zeros(len(chord.joints))) + brought
        loads = loads + responses.loads.influence[chord.name] @ brought
        joints = list(chord.joints)
        contributions[joints] = np.maximum(contributions[joints], np.abs(brought))
        forces = responses.forces.influence[chord.name] @ brought
        parts.append(Part(None, factor, one.load, forces, placed=one, crossing=name))
    brought_forces = np.array([part.forces for part in parts]).reshape(-1, len(study.truss.members))
    forces, sizes = brought_forces.sum(axis=0), np.abs(brought_forces).max(axis=0, initial=0.0)
    cancelled = np.abs(forces).max(initial=0.0) <= NOISE * sizes.max(initial=0.0)
    return State(
        forces=np.zeros_like(forces) if cancelled else forces,
        joint_loads=loads.reshape(len(study.truss.joint_names), -1),
        largest_contribution=contributions,
        parts=tuple(parts),
        weights=weights,
        strains=_strains_of(study, combination),
    )


def _placed(
    study: Study, combination: Combination, standing: Standing | None, arrangement: Arrangement | None
) -> Iterator[tuple[str, float, Placed]]:
    """What stands on chords in a state: the crossing it belongs to, that one's factor, and the load."""
    if combination.crossing and standing:
        crossing, factor = study.crossings[combination.crossing], combination.crossing_factor
        for one in place_train(crossing, study.chords[crossing.chord], standing, factor):
            yield crossing.name, factor, one
    wanted = arrangement or (standing.arrangement if standing else None)
    for name, factor in combination.lanes.items():
        crossing = study.crossings[name]
        for one in place_lane(crossing, study.chords[crossing.chord], wanted, factor):
            yield name, factor, one


def take_loads(stiffness: Stiffness, joint_loads: Array) -> State:
    """Work out the state under joint loads of one's own, (joints, dimension) [N], and nothing else.

    Raises UntrustworthyError where joints do not balance.
    """
    truss = stiffness.truss
    loaded = np.flatnonzero(joint_loads.any(axis=1))
    columns = np.zeros((truss.freedoms, len(loaded)))
    for column, joint in enumerate(loaded):
        columns[joint * truss.dimension : (joint + 1) * truss.dimension, column] = joint_loads[joint]
    answered = stiffness.respond(columns)
    scale = max(np.abs(columns).max(initial=0.0), np.abs(answered.forces).max(initial=0.0))
    if not np.abs(answered.imbalance).max(initial=0.0) <= IMBALANCE * scale:
        raise UntrustworthyError("the joints do not balance under these loads; the truss is near a mechanism")
    parts = tuple(
        Part(None, 1.0, float(np.linalg.norm(joint_loads[joint])), forces, int(joint))
        for joint, forces in zip(loaded, answered.forces.T, strict=True)
    )
    brought = np.array([part.forces for part in parts]).reshape(-1, len(truss.members))
    nothing = Strains(np.zeros(len(truss.members)), np.zeros(len(truss.members)), np.zeros_like(joint_loads))
    sizes = np.linalg.norm(joint_loads, axis=1)
    return State(brought.sum(axis=0), joint_loads, sizes, parts, {}, nothing)


def _strains_of(study: Study, combination: Combination) -> Strains:
    """What the cases of a combination strain, their factors in."""
    truss = study.truss
    temperature, misfit = np.zeros(len(truss.members)), np.zeros(len(truss.members))
    settlement = np.zeros((len(truss.joint_names), truss.dimension))
    for name, factor in combination.cases.items():
        case = study.cases[name]
        warm = work_out(LoadCase(name, temperature=case.temperature), truss, study.chords)
        temperature += factor * warm.free_elongations
        for member, amount in case.misfit.items():
            misfit[member] += factor * amount
        for joint, vector in case.settlement.items():
            settlement[joint] += factor * np.array(vector)
    return Strains(temperature, misfit, settlement)


def _case_part(responses: Responses, name: str, factor: float) -> Part:
    column = responses.case_names.index(name)
    return Part(name, factor, 0.0, factor * responses.forces.cases[:, column])


def joint_loads_of(study: Study, responses: Responses, combination: Combination) -> Array:
    """Return the joint loads of a combination's cases, (joints, dimension) [N]; what cancels is 0."""
    factors = np.array([combination.cases.get(name, 0.0) for name in responses.case_names])
    loads = responses.loads.cases @ factors
    largest = (responses.largest_contribution * np.abs(factors)).max(initial=0.0)
    return np.where(np.abs(loads) <= NOISE * largest, 0.0, loads).reshape(len(study.truss.joint_names), -1)
