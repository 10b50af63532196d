"""Under the drawing: the track of the chosen member, or its row of ticks where no train travels."""

from __future__ import annotations

import numpy as np

from explorer.drawing.plate import WIDTH, lay_plate
from explorer.drawing.ticks import Tick, draw_ticks
from explorer.drawing.track import Track, draw_track
from explorer.drawing.view import Direction
from explorer.pages.explore.packing import pack_arranged
from explorer.store import Worked
from explorer.wording.asked import Asked, words
from explorer.wording.numbers import Teller
from solver.answers import Answers
from solver.passage import Passage, follow


def show_strip(worked: Worked, asked: Asked, number: int, beside: int = -1) -> dict[str, object]:
    """Draw the track of a member under a load with a travelling train, else the ticks of all other loads.

    `number`: which train of a set. `beside`: another load (column) whose train is drawn on the same track,
    -1 for none. With it goes what the browser needs where loads are arranged for the member.
    """
    answers, teller = worked.answers, asked.teller
    arranged = None
    if asked.arrangement is not None:
        arranged = pack_arranged(answers, asked.column, number, asked.arrangement)
    crossing = asked.combination.crossing
    if crossing is None:
        ticks = draw_ticks(_ticks(answers, asked.column, asked.member, teller))
        return {"markup": ticks, "arranged": arranged, "beside": ""}
    plate = lay_plate(answers.study, Direction())
    chord = answers.study.chords[answers.study.crossings[crossing].chord]
    passages = _passages(answers, asked.member, asked.column, number)
    comparable = _comparable(answers, asked.column, beside)
    others = _passages(answers, asked.member, beside, 0) if comparable else ()
    track = Track(passages, plate.axes[crossing], chord.positions, WIDTH, teller, others)
    told = _tell_beside(asked, beside) if comparable else ""
    return {"markup": draw_track(track), "arranged": arranged, "beside": told}


def _passages(answers: Answers, member: int, column: int, number: int) -> tuple[Passage, ...]:
    return tuple(one for one in follow(answers.forces, member, column) if one.number == number)


def _tell_beside(asked: Asked, beside: int) -> str:
    """Tell between which forces the load that is compared with keeps, and the load chosen."""
    sweep, told = asked.answers.forces.sweep, []
    for column in (beside, asked.column):
        ends = (float(part[asked.member, column]) for part in (sweep.smallest, sweep.largest))
        low, high = (asked.teller.member_force(end if abs(end) > asked.band else 0.0) for end in ends)
        name = words(asked.answers.combinations[column].name)
        told.append(f"{name}: {low}" if low == high else f"{name}: {low} to {high}")
    return "; ".join(told)


def _comparable(answers: Answers, column: int, beside: int) -> bool:
    """Whether another load has a train on the same chord."""
    if not 0 <= beside < len(answers.combinations) or beside == column:
        return False
    names = [answers.combinations[c].crossing for c in (column, beside)]
    chords = [answers.study.crossings[name].chord for name in names if name]
    return len(chords) == 2 and chords[0] == chords[1]


def _ticks(answers: Answers, column: int, member: int, teller: Teller) -> list[Tick]:
    """One tick a load without a crossing: cases first, then combinations; heights on one scale."""
    forces = answers.forces
    loads = [i for i, load in enumerate(answers.combinations) if load.stands_still]
    values = np.where(forces.shares[member, loads] == 1, 0.0, forces.sweep.standing[member, loads])
    largest = float(np.abs(values).max(initial=0.0)) or 1.0
    return [
        Tick(
            load,
            words(answers.combinations[load].name),
            float(value) / largest,
            teller.member_force(float(value)),
            load == column,
            load >= len(answers.study.alone),
        )
        for load, value in zip(loads, values, strict=True)
    ]
