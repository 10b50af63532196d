"""Under the drawing: the track of the chosen member, or its row of ticks where no train travels."""

from __future__ import annotations

import numpy as np

from explorer.document.units import UnitSystem
from explorer.drawing.plate import WIDTH, lay_plate
from explorer.drawing.ticks import Tick, draw_ticks
from explorer.drawing.track import Track, draw_track
from explorer.drawing.view import Direction
from explorer.markup import Markup
from explorer.store import Worked
from explorer.wording.asked import words
from explorer.wording.numbers import Teller
from solver.answers import Answers
from solver.passage import follow


def show_strip(worked: Worked, column: int, member: int, units: UnitSystem) -> Markup:
    """Draw the track of a member under a load with a crossing, else the ticks of all loads without one."""
    answers, teller = worked.answers, Teller(units)
    crossing = answers.combinations[column].crossing
    if crossing is None:
        return draw_ticks(_ticks(answers, column, member, teller))
    plate = lay_plate(answers.study, Direction())
    chord = answers.study.chords[answers.study.crossings[crossing].chord]
    passages = follow(answers.forces, member, column)
    return draw_track(Track(passages, plate.axes[crossing], chord.positions, WIDTH, teller))


def _ticks(answers: Answers, column: int, member: int, teller: Teller) -> list[Tick]:
    """One tick a load without a crossing: cases first, then combinations; heights on one scale."""
    forces = answers.forces
    loads = [i for i, load in enumerate(answers.combinations) if load.crossing is None]
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
