"""What the browser gets once per study: rows and finished polynomials, so that a train moves without asking.

A member's force (or a reaction) with a train's front at s is what stands still under the load chosen plus
the factor of its crossing times the sum over a few chord joints of influence x weight, a weight being
start + slope x t on each piece of the way. All numbers are in SI units and 64 bits, for whether a force
is zero is decided by the same rule as in the tables.
"""

from __future__ import annotations

from base64 import b64encode

import numpy as np
from numpy.typing import NDArray

from explorer.pages.truss_data import pack_truss
from explorer.store import Worked
from solver.answers import Answers
from solver.crossings import Travel
from solver.demand import standing_part
from solver.tolerances import zero_band

Array = NDArray[np.float64]
Packed = dict[str, object]


def pack_study(worked: Worked) -> Packed:
    """Pack everything the page evaluates by itself."""
    answers = worked.answers
    truss = answers.study.truss
    return {
        **pack_truss(worked),
        "rows": len(truss.members) + truss.held,
        "unders": _pack_unders(answers),
        "standing": encode(_standing(answers)),
        "crossings": {name: _pack_crossing(answers, name) for name in answers.study.crossings},
        "measures": _pack_measures(answers),
    }


def encode(values: NDArray[np.generic]) -> str:
    """Encode an array's bytes, little-endian, row by row."""
    return b64encode(np.ascontiguousarray(values).astype(values.dtype.newbyteorder("<")).tobytes()).decode()


def _pack_unders(answers: Answers) -> list[Packed]:
    forces = answers.forces
    bands = zero_band(forces.scales, answers.study.zero_limit)
    largest = np.maximum(np.abs(forces.sweep.smallest), np.abs(forces.sweep.largest)).max(axis=0)
    return [
        {
            "name": combination.name,
            "crossing": combination.crossing,
            "factor": combination.crossing_factor,
            "loaded": bool(combination.cases),
            "band": float(bands[index]),
            "scale": float(forces.scales[index]),
            "largest": float(largest[index]),
        }
        for index, combination in enumerate(answers.combinations)
    ]


def _standing(answers: Answers) -> Array:
    """What stands still under each load to choose, members first, then reactions: (rows, loads)."""
    responses = answers.responses
    reactions = standing_part(responses.reactions, responses.case_names, answers.combinations)
    return np.vstack([answers.forces.sweep.standing, reactions])


def _pack_crossing(answers: Answers, name: str) -> Packed:
    study, responses = answers.study, answers.responses
    crossing = study.crossings[name]
    chord = study.chords[crossing.chord]
    influence = np.vstack(
        [rows.influence[crossing.chord] for rows in (responses.forces, responses.reactions)]
    )
    ways = [way for crossed, way in answers.forces.sweep.motions.ways.travels if crossed == name]
    return {
        "joints": list(chord.joints),
        "positions": chord.positions.tolist(),
        "influence": encode(influence),
        "axles": [[axle.distance, axle.load * crossing.axle_factor] for axle in crossing.train.axles],
        "ways": [_pack_way(way) for way in ways],
    }


def _pack_way(way: Travel) -> Packed:
    pieces = (way.starts != 0) | (way.slopes != 0)
    joints, counts = _sparse(pieces)
    chosen = pieces.T
    at = way.at != 0
    at_joints, at_counts = _sparse(at)
    return {
        "direction": way.direction,
        "breaks": encode(way.breaks),
        "counts": encode(counts),
        "joints": encode(joints),
        "starts": encode(way.starts.T[chosen]),
        "slopes": encode(way.slopes.T[chosen]),
        "jumps": encode(way.jumps),
        "jumpCounts": encode(at_counts),
        "jumpJoints": encode(at_joints),
        "jumpWeights": encode(way.at.T[at.T]),
    }


def _sparse(filled: NDArray[np.bool_]) -> tuple[NDArray[np.int32], NDArray[np.int32]]:
    """Joints with a weight, piece after piece, and where each piece begins among them."""
    begins = np.concatenate([[0], np.cumsum(filled.sum(axis=0))]).astype(np.int32)
    return np.nonzero(filled.T)[1].astype(np.int32), begins


def _pack_measures(answers: Answers) -> Packed:
    forces = answers.forces
    return {
        "zero share": forces.zero_share.tolist(),
        "peak tension": forces.tension.values.tolist(),
        "peak compression": forces.compression.values.tolist(),
        "redundancy share": answers.redundancy.shares.tolist(),
        "mechanism without it": answers.removals.mechanism.astype(int).tolist(),
        "still": forces.still.astype(int).tolist(),
    }
