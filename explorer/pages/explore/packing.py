"""What the browser gets once per study: rows and finished polynomials, so that a train moves without asking.

A member's force (or a reaction) with a train's front at s is what stands still under the load chosen plus
the factor of its crossing times the sum over a few chord joints of influence x weight, a weight being
start + slope x t on each piece of the way. All numbers are in SI units and 64 bits, for whether a force
is zero is decided by the same rule as in the tables.
"""

from __future__ import annotations

from base64 import b64encode
from math import isfinite

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.alone import HALF_STROKE
from explorer.pages.truss_data import pack_truss
from explorer.store import Worked
from explorer.wording.checks import PROPS, tell_ratio, utilisation_of
from explorer.wording.trains import train_name
from solver.answers import Answers
from solver.arranged import arrange_travel, seconds_along
from solver.combining import Combination
from solver.crossings import Crossing
from solver.demand import standing_part
from solver.losses.after import Kind, look_after
from solver.placement import Arrangement, joint_loads, lane_stretches
from solver.tolerances import zero_band
from solver.trains import Train
from solver.travel import Travel

Array = NDArray[np.float64]
Packed = dict[str, object]


def pack_study(worked: Worked) -> Packed:
    """Pack everything the page evaluates by itself."""
    answers = worked.answers
    truss = answers.study.truss
    return {
        **pack_truss(worked),
        "strokes": _pack_strokes(answers),
        "half": HALF_STROKE,
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
    weights = [
        sum(factor * answers.study.cases[name].self_weight for name, factor in load.cases.items())
        for load in answers.combinations
    ]
    largest = np.maximum(np.abs(forces.sweep.smallest), np.abs(forces.sweep.largest)).max(axis=0)
    return [
        {
            "name": combination.name,
            "crossing": combination.crossing,
            "factor": combination.crossing_factor,
            "loaded": bool(combination.cases),
            "lanes": [[name, factor] for name, factor in combination.lanes.items()],
            "arranges": _arranges(answers, combination),
            "weight": float(weights[index]),
            "band": float(bands[index]),
            "scale": float(forces.scales[index]),
            "largest": float(largest[index]),
        }
        for index, combination in enumerate(answers.combinations)
    ]


def _arranges(answers: Answers, load: Combination) -> bool:
    """Whether something of a load is placed otherwise for one member than for another."""
    trains = answers.study.crossings[load.crossing].trains if load.crossing else ()
    return bool(load.lanes) or any(train.depends_on_the_row for train in trains)


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
    laid = answers.forces.sweep.motions.ways
    ways = [laid.travels[place] for place in laid.of(name)]
    return {
        "joints": list(chord.joints),
        "positions": chord.positions.tolist(),
        "influence": encode(influence),
        "trains": [_pack_train(crossing, train) for train in crossing.trains],
        "ways": [_pack_way(way) for way in ways],
    }


def pack_loss(answers: Answers, member: int) -> Packed | None:
    """Pack what the loss of a member changes; None for one without which the truss is a mechanism.

    changes (members, then reactions): per newton that it bore; shifts: per unit of own weight.
    """
    if answers.removals.mechanism[member]:
        return None
    study, stiffness = answers.study, answers.reasoner.stiffness
    after = look_after(study, stiffness, answers.responses, np.array([member]))
    kinds: tuple[Kind, ...] = ("forces", "reactions")
    changes = np.concatenate([after.changes(kind)[:, 0] for kind in kinds])
    shifts = np.concatenate([after.shifts(kind)[:, 0] for kind in kinds])
    return {"changes": encode(changes), "shifts": encode(shifts)}


def pack_arranged(answers: Answers, column: int, number: int, arrangement: Arrangement) -> Packed:
    """Pack a load's train and lanes arranged for one member: ways, where a second train is, lanes alone."""
    load = answers.combinations[column]
    laid = answers.forces.sweep.motions.ways
    ways = [laid.travels[place] for place in laid.of(load.crossing or "")]
    return {
        "ways": [_pack_second(way, arrangement, load) for way in ways if way.number == number],
        "lanes": [
            _pack_lane(answers, name, factor, arrangement, alone=True) for name, factor in load.lanes.items()
        ],
        "own": _pack_lane(answers, load.crossing, load.crossing_factor, arrangement, number=number)
        if load.crossing
        else None,
    }


def _pack_second(way: Travel, arrangement: Arrangement, load: Combination) -> Packed:
    arranged = arrange_travel(way, arrangement, load.crossing_factor)
    fronts, moves = seconds_along(arranged, arrangement, load.crossing_factor)
    return {**_pack_way(arranged), "seconds": encode(fronts), "moves": encode(moves)}


def _pack_lane(
    answers: Answers,
    name: str,
    factor: float,
    arrangement: Arrangement,
    *,
    number: int = 0,
    alone: bool = False,
) -> Packed:
    """Stretches of a lane, and for a lane alone its weights at the chord's joints [N]."""
    crossing = answers.study.crossings[name]
    chord = answers.study.chords[crossing.chord]
    train = crossing.trains[number]
    placed = lane_stretches(crossing, chord, arrangement, factor, number) if train.lane else []
    return {
        "crossing": name,
        "load": crossing.lane_loads[number],
        "stretches": [[one.start, one.end] for one in placed],
        "clear": list(train.lane.clear) if train.lane and train.lane.clear else None,
        "weights": joint_loads(chord, placed).tolist() if alone else [],
    }


def _pack_train(crossing: Crossing, train: Train) -> Packed:
    """A train's loads as they act on this truss; the end of an endless strip is none."""
    moving = crossing.moving_factor
    return {
        "name": train.name,
        "told": train_name(train.name),
        "axles": [[axle.distance, axle.load * moving] for axle in train.axles],
        "strips": [
            [strip.start, strip.end if isfinite(strip.end) else None, strip.load * moving]
            for strip in train.strips
        ],
        "second": _pack_following(train, moving),
        "lane": train.lane is not None,
        "relieving": train.relieving_left_out,
    }


def _pack_following(train: Train, moving: float) -> Packed | None:
    if train.second is None:
        return None
    return {
        "axles": [[axle.distance, axle.load * moving] for axle in train.second.axles],
        "strips": [[s.start, s.end, s.load * moving] for s in train.second.strips],
    }


def _pack_way(way: Travel) -> Packed:
    pieces = (way.weights != 0).any(axis=0)
    joints, counts = _sparse(pieces)
    chosen = pieces.T
    at = way.at != 0
    at_joints, at_counts = _sparse(at)
    return {
        "direction": way.direction,
        "train": way.number,
        "breaks": encode(way.breaks),
        "counts": encode(counts),
        "joints": encode(joints),
        "weights": [encode(part.T[chosen]) for part in way.weights],
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
        "outcome if gone": [loss.outcome for loss in answers.losses.each],
        "still": forces.still.astype(int).tolist(),
        **_pack_utilisations(answers),
    }


def _pack_utilisations(answers: Answers) -> Packed:
    """How much of its limits is asked of each member, none where its strength is not known; and as told."""
    each = [utilisation_of(answers, member) for member in range(len(answers.study.truss.members))]
    return {
        "utilisation": [value if isfinite(value) else None for value in each],
        "utilisation told": [tell_ratio(value) for value in each],
    }


def _pack_strokes(answers: Answers) -> list[list[float]]:
    """Where strokes lie across members, as shares of their lengths: idle ones have one at what they hold."""
    truss, strokes = answers.study.truss, [list[float]() for _ in answers.study.truss.members]
    for member in answers.checks.idle:
        held = {check.joint for check in answers.checks.each[member] if check.key in PROPS}
        ends = enumerate(truss.ends[member].tolist())
        strokes[member] = [float(share) for share, joint in ends if joint in held]
    return strokes
