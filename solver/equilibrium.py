"""The check of every run: do the reported states balance at every joint, and are the peaks theirs?"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from solver.errors import UntrustworthyError
from solver.peak_states import Moment, Peaks, Reported, moment_of, recompute
from solver.progress import Progress, blocks, silent
from solver.response import Responses
from solver.statics import equilibrium_matrix, support_matrix
from solver.tolerances import CONDITION, IMBALANCE

Array = NDArray[np.float64]
STATES = 500


def largest_imbalance(reported: Reported, peaks: Sequence[Peaks], progress: Progress = silent) -> float:
    """Return the largest joint imbalance over the scale of its state, over all reported states.

    Those are every load case, the unit load at each chord joint, and every state in which one of `peaks`
    occurs. Raises UntrustworthyError where a peak of a member force is not the force of its member in its
    own state.
    """
    worst = imbalance_of(reported.responses)
    truss = reported.study.truss
    equilibrium, supports = equilibrium_matrix(truss), support_matrix(truss)
    told = {
        moment_of(reported, peaks, number, int(row)) for number, peak in enumerate(peaks) for row in peak.told
    }
    moments = sorted(told, key=lambda moment: moment.order)
    for block in blocks(len(moments), STATES, "equilibrium of the governing states", progress):
        chosen = moments[block]
        forces, reactions, loads = recompute(reported, peaks, chosen)
        lacking = equilibrium @ forces - loads - supports @ reactions
        scale = reported.scales[[moment.combination for moment in chosen]]
        worst = max(worst, _over(np.abs(lacking).max(axis=0, initial=0.0), scale))
        for number, peak in enumerate(peaks):
            if peak.forces:
                _compare(reported, peaks, number, (chosen, forces))
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


def imbalance_of(responses: Responses) -> float:
    """Return the largest joint imbalance of all cases and unit loads, each over its scale."""
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


def _compare(
    reported: Reported, peaks: Sequence[Peaks], number: int, recomputed: tuple[list[Moment], Array]
) -> None:
    """Hold each reported peak against its member's force in its own recomputed state."""
    moments, forces = recomputed
    column = {moment: place for place, moment in enumerate(moments)}
    peak = peaks[number]
    for member in peak.told:
        moment = moment_of(reported, peaks, number, int(member))
        if moment not in column:
            continue
        found = peak.sign * forces[member, column[moment]]
        if abs(found - peak.governing.values[member]) > IMBALANCE * reported.scales[moment.combination]:
            name = reported.study.truss.members[member].name
            raise UntrustworthyError(f"the peak of member {name} is not its force in its own state", [name])
