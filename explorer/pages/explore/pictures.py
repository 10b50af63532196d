"""The five small pictures of the sheet, made from results."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from explorer.drawing.figures import (
    CaseTick,
    CaseTicks,
    Ladder,
    Miniature,
    PeakPicture,
    PeakRow,
    Rung,
    ShareCurve,
    draw_case_ticks,
    draw_ladder,
    draw_peaks,
    draw_share_curve,
)
from explorer.drawing.view import Direction, look
from explorer.markup import Markup
from explorer.pages.proofs.loss import draw_loss
from explorer.pages.proofs.proof import draw_proof
from explorer.store import Worked
from explorer.wording.asked import Asked, words
from explorer.wording.numbers import percent
from explorer.wording.rungs import WHOLE, list_rungs
from solver.passage import follow, spread_out
from solver.state import joint_loads_of
from solver.sweep import Governing
from solver.travel import moving_points

Array = NDArray[np.float64]
Point = tuple[float, float]
MOST_LOADS = 12


def draw_pictures(worked: Worked, asked: Asked) -> tuple[Markup, ...]:
    """Draw the pictures of the five questions in their order."""
    return (
        draw_shares(asked),
        draw_peak_picture(asked),
        draw_proof(asked),
        draw_loss(asked.answers, asked.member),
        draw_limits(asked),
    )


def draw_shares(asked: Asked) -> Markup:
    """Picture 1: the force sorted over the way of the crossing chosen, or the first; else a tick a case."""
    answers = asked.answers
    study = answers.study
    travelling = (name for name, crossing in study.crossings.items() if crossing.travels)
    name = asked.combination.crossing or next(travelling, None)
    if name is None:
        return _draw_ticks(asked)
    alone = len(study.cases) + list(study.crossings).index(name)
    column = asked.column if asked.combination.crossing else alone
    spread = spread_out(follow(answers.forces, asked.member, column))
    peaks = [
        asked.teller.member_force(sign * float(curve[0, 1])) if len(curve) else ""
        for sign, curve in ((1.0, spread.tension), (-1.0, spread.compression))
    ]
    return draw_share_curve(
        ShareCurve(
            label=f"{asked.name}, forces sorted over {words(name)}: zero on {percent(spread.zero)}",
            tension=_points(spread.tension),
            compression=_points(spread.compression),
            zero=spread.zero,
            tension_peak=peaks[0],
            compression_peak=peaks[1],
            foot=_tell_foot(spread.zero),
        )
    )


def _tell_foot(zero: float) -> str:
    """Where zero begins on the way, as a share of it; nothing where it is zero on all of it or on none.

    A share is a sum of lengths: what lacks a rounding of all of it is all of it.
    """
    working = round(1 - zero, 12)
    return percent(working) if 0 < working < 1 else ""


def _draw_ticks(asked: Asked) -> Markup:
    answers = asked.answers
    forces = answers.forces
    count = len(answers.study.cases)
    zero = forces.shares[asked.member, :count] == 1
    values = np.where(zero, 0.0, forces.sweep.standing[asked.member, :count])
    cases = tuple(
        CaseTick(words(name), float(v)) for name, v in zip(answers.study.cases, values, strict=True)
    )
    high, low = float(values.max()), float(values.min())
    return draw_case_ticks(
        CaseTicks(
            label=f"Force in {asked.name} in each load case; zero in {int(zero.sum())} of {count}",
            cases=cases,
            tension_peak=asked.teller.member_force(high) if high > 0 else "",
            compression_peak=asked.teller.member_force(low) if low < 0 else "",
        )
    )


def draw_peak_picture(asked: Asked) -> Markup:
    """Picture 2: peaks under the load chosen and over the combinations; the truss with what governs."""
    forces, group = asked.answers.forces, asked.answers.study.truss.members[asked.member].group
    tension, compression = (
        float(forces.tension.values[asked.member]),
        float(forces.compression.values[asked.member]),
    )
    rows = (_alone_row(asked), _row(asked, "all combinations", tension, compression))
    governing = forces.tension if tension >= compression else forces.compression
    return draw_peaks(
        PeakPicture(
            label=f"Peaks of {asked.name}, and the truss with the load that governs",
            rows=rows,
            tension_resistance=group.tension,
            compression_resistance=group.compression,
            tension_resistance_text=asked.teller.member_force(group.tension) if group.tension else "",
            compression_resistance_text=asked.teller.member_force(-group.compression)
            if group.compression
            else "",
            resistance="limits",
            miniature=_miniature(asked, governing, max(tension, compression), tension >= compression),
        )
    )


def _alone_row(asked: Asked) -> PeakRow:
    swept, band = asked.answers.forces.sweep, 1e-12 * asked.answers.forces.scales[asked.column]
    high, low = (float(part[asked.member, asked.column]) for part in (swept.largest, swept.smallest))
    return _row(asked, asked.load_label, high if high > band else 0.0, -low if -low > band else 0.0)


def _row(asked: Asked, name: str, tension: float, compression: float) -> PeakRow:
    return PeakRow(
        name,
        tension,
        compression,
        asked.teller.member_force(tension) if tension else "",
        asked.teller.member_force(-compression) if compression else "",
    )


def _miniature(asked: Asked, governing: Governing, peak: float, tensile: bool) -> Miniature:
    answers, truss = asked.answers, asked.answers.study.truss
    combination = answers.combinations[int(governing.combinations[asked.member])]
    chord = (
        answers.study.chords[answers.study.crossings[combination.crossing].chord]
        if combination.crossing
        else None
    )
    axles: tuple[Point, ...] = ()
    way = int(governing.directions[asked.member])
    if chord and way >= 0 and combination.crossing:
        crossing = answers.study.crossings[combination.crossing]
        front, sign = float(governing.positions[asked.member]), 1.0 if way == 0 else -1.0
        train = crossing.trains[int(governing.trains[asked.member])]
        places = np.array([front - sign * distance for distance in moving_points(train)])
        places = places[(places >= -1e-9) & (places <= chord.length * (1 + 1e-9))]
        joints = truss.joint_coordinates[list(chord.joints)]
        spots = np.column_stack([np.interp(places, chord.positions, column) for column in joints.T])
        axles = _pairs(look(spots, Direction())) if len(places) else ()
    return Miniature(
        points=_pairs(_seen(asked)),
        members=_ends(asked),
        marked=asked.member,
        look=("t" if tensile else "c") if peak else "z",
        chord=_chord_members(asked, chord.joints) if chord else (),
        axles=axles,
        loads=() if combination.crossing else _loads(asked, int(governing.combinations[asked.member])),
    )


def _chord_members(asked: Asked, joints: tuple[int, ...]) -> tuple[int, ...]:
    steps = {frozenset(pair) for pair in pairwise(joints)}
    members = asked.answers.study.truss.members
    return tuple(i for i, member in enumerate(members) if frozenset((member.first, member.second)) in steps)


def _loads(asked: Asked, column: int) -> tuple[tuple[Point, Point], ...]:
    """The largest joint loads of a combination that stands still, as points and directions seen."""
    answers = asked.answers
    loads = joint_loads_of(answers.study, answers.responses, answers.combinations[column])
    sizes = np.linalg.norm(loads, axis=1)
    largest = [
        int(j) for j in np.argsort(-sizes, kind="stable")[:MOST_LOADS] if sizes[j] > 1e-9 * sizes.max()
    ]
    if not largest:
        return ()
    seen = look(loads[largest] / sizes[largest, None], Direction())
    return tuple(zip(_pairs(_seen(asked)[largest]), _pairs(seen), strict=True))


def draw_limits(asked: Asked) -> Markup:
    """Picture 5: every limit as a rung; what asks most of the member itself is in ink."""
    most = asked.answers.checks.hardest(asked.member)
    rungs = tuple(
        Rung(
            one.name,
            one.text,
            one.ratio,
            governs=one.governing is not None and one.governing is most and most.utilisation > 0,
            unknown=not one.known,
            under=WHOLE if one.of_whole else "",
        )
        for one in list_rungs(asked)
    )
    told = "; ".join(f"{rung.name} {rung.text}{f' ({rung.under})' if rung.under else ''}" for rung in rungs)
    return draw_ladder(Ladder(f"Limits of {asked.name}, of which 1 is all: {told}", rungs))


def _seen(asked: Asked) -> Array:
    return look(asked.answers.study.truss.joint_coordinates, Direction())


def _pairs(points: Array) -> tuple[Point, ...]:
    return tuple((float(a), float(b)) for a, b in points)


def _points(curve: Array) -> tuple[Point, ...]:
    return tuple((float(a), float(b)) for a, b in curve)


def _ends(asked: Asked) -> tuple[tuple[int, int], ...]:
    return tuple((member.first, member.second) for member in asked.answers.study.truss.members)
