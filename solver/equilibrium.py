"""The check of every run: do the reported states balance at every joint, and are the peaks theirs?

Loads are worked out afresh here, from the train's axles and the cases, and not taken from the rows that
made the peaks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.combining import Combination
from solver.crossings import Direction, joint_loads_at
from solver.demand import standing_part
from solver.errors import UntrustworthyError
from solver.progress import Progress, blocks, silent
from solver.response import Responses
from solver.statics import equilibrium_matrix, support_matrix
from solver.study import Study
from solver.sweep import Governing
from solver.tolerances import CONDITION, IMBALANCE

Array = NDArray[np.float64]
STATES = 500


@dataclass(frozen=True)
class Peaks:
    """Reported extremes of member forces: `sign` x force is largest where `governing` says."""

    governing: Governing
    sign: float


@dataclass(frozen=True)
class Reported:
    """What a run reports: rows, combinations and their scales (combinations,) [N]."""

    study: Study
    responses: Responses
    combinations: Sequence[Combination]
    scales: Array


@dataclass(frozen=True)
class _State:
    combination: int
    direction: int
    position: float


def largest_imbalance(
    reported: Reported,
    peaks: Sequence[Peaks],
    others: Sequence[Governing] = (),
    progress: Progress = silent,
) -> float:
    """Return the largest joint imbalance over the scale of its state, over all reported states.

    Those are every load case, the unit load at each chord joint, and every state in which a peak of
    `peaks` or an extreme of `others` (reactions, deflections) occurs. Raises UntrustworthyError where a
    reported peak is not the force of its member in its own state.
    """
    worst = _of_rows(reported.responses)
    truss = reported.study.truss
    equilibrium, supports = equilibrium_matrix(truss), support_matrix(truss)
    governed = {state for peak in peaks for state in _states(peak.governing, peak.governing.values > 0)}
    governed |= {state for other in others for state in _states(other, np.ones(len(other.values), bool))}
    states = sorted(governed, key=_order)
    for block in blocks(len(states), STATES, "equilibrium of the governing states", progress):
        chosen = states[block]
        forces, reactions, loads = _recompute(reported, chosen)
        lacking = equilibrium @ forces - loads - supports @ reactions
        scale = reported.scales[[state.combination for state in chosen]]
        worst = max(worst, _over(np.abs(lacking).max(axis=0, initial=0.0), scale))
        for peak in peaks:
            _compare(reported, peak, chosen, forces)
    return worst


def require_trust(imbalance: float, condition: float) -> None:
    """Raise UntrustworthyError where joints do not balance or forces have lost their digits."""
    if not imbalance <= IMBALANCE:
        raise UntrustworthyError(
            f"the joints do not balance: {imbalance:.2g} of the scale is missing at one, "
            f"at most {IMBALANCE:g} is accepted; a truss too near a mechanism does that"
        )
    if not condition <= CONDITION:
        raise UntrustworthyError(
            f"a unit joint load puts {condition:.2g} into a member (at most {CONDITION:g} is accepted): "
            "the truss is too near a mechanism for its forces to mean anything"
        )


def _of_rows(responses: Responses) -> float:
    largest = np.maximum(_largest(responses.forces.cases), _largest(responses.loads.cases))
    worst = _over(_largest(responses.imbalance.cases), np.maximum(largest, _largest(responses.fully_held)))
    for chord, imbalance in responses.imbalance.influence.items():
        loads = responses.loads.influence[chord]
        largest = np.maximum(_largest(responses.forces.influence[chord]), _largest(loads))
        worst = max(worst, _over(_largest(imbalance), largest))
    return worst


def _largest(columns: Array) -> Array:
    return np.asarray(np.abs(columns).max(axis=0, initial=0.0))


def _over(imbalance: Array, scale: Array) -> float:
    """The largest ratio; nothing missing is nothing, whatever the scale."""
    return float(np.max(imbalance / np.maximum(scale, np.finfo(float).tiny), initial=0.0))


def _states(governing: Governing, chosen: NDArray[np.bool_]) -> Iterator[_State]:
    """The state of each chosen row's extreme, in order; position 0 stands for none."""
    positions = np.nan_to_num(governing.positions[chosen])
    directions = governing.directions[chosen]
    for row, combination in enumerate(governing.combinations[chosen]):
        yield _State(int(combination), int(directions[row]), float(positions[row]))


def _order(state: _State) -> tuple[int, int, float]:
    return state.combination, state.direction, state.position


def _recompute(reported: Reported, states: list[_State]) -> tuple[Array, Array, Array]:
    """Forces, reactions and joint loads of each state, (rows, states)."""
    responses = reported.responses
    combinations = tuple(reported.combinations[state.combination] for state in states)
    kinds = (responses.forces, responses.reactions, responses.loads)
    totals = [standing_part(rows, responses.case_names, combinations) for rows in kinds]
    for name in reported.study.crossings:
        chord, placed = _placed(reported, name, states)
        for total, rows in zip(totals, kinds, strict=True):
            total += rows.influence[chord] @ placed
    return totals[0], totals[1], totals[2]


def _placed(reported: Reported, name: str, states: list[_State]) -> tuple[str, Array]:
    """Downward loads [N] at the joints of a crossing's chord in each state, (joints, states)."""
    crossing = reported.study.crossings[name]
    chord = reported.study.chords[crossing.chord]
    ways: tuple[Direction, ...] = ("forward", "backward")
    placed = np.zeros((len(chord.joints), len(states)))
    for column, state in enumerate(states):
        combination = reported.combinations[state.combination]
        if combination.crossing == name and state.direction >= 0:
            loads = joint_loads_at(crossing, chord, ways[state.direction], state.position)
            placed[:, column] = combination.crossing_factor * loads
    return crossing.chord, placed


def _compare(reported: Reported, peak: Peaks, states: list[_State], forces: Array) -> None:
    """Hold each reported peak against its member's force in its own recomputed state."""
    column = {state: place for place, state in enumerate(states)}
    governing = peak.governing
    working = governing.values > 0
    for member, state in zip(np.flatnonzero(working), _states(governing, working), strict=True):
        combination = reported.combinations[state.combination]
        if state not in column or _jumps(reported, combination, int(member)):
            continue
        found = peak.sign * forces[member, column[state]]
        if abs(found - governing.values[member]) > IMBALANCE * reported.scales[state.combination]:
            name = reported.study.truss.members[member].name
            raise UntrustworthyError(f"the peak of member {name} is not its force in its own state", [name])


def _jumps(reported: Reported, combination: Combination, member: int) -> bool:
    """Whether the member's force jumps as the train enters or leaves: its peak may be a one-sided limit."""
    if combination.crossing is None:
        return False
    chord = reported.study.crossings[combination.crossing].chord
    ordinates = reported.responses.forces.influence[chord][member]
    return bool(max(abs(ordinates[0]), abs(ordinates[-1])) > IMBALANCE * np.abs(ordinates).max())
