"""The stage of the page: the plate with its truss, the small whole truss, the words that go with them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.document.units import SYSTEMS
from explorer.drawing.loads import (
    JointLoads,
    draw_joint_loads,
    draw_train,
)
from explorer.drawing.plate import lay_plate
from explorer.drawing.still import mark_axles
from explorer.drawing.view import Direction, look
from explorer.markup import Markup, element, join
from explorer.pages.choices import choose_opening, draw_choices
from explorer.pages.explore.facts import show_facts
from explorer.pages.explore.packing import pack_study
from explorer.pages.explore.train_list import choose_train
from explorer.pages.plate import show_plate
from explorer.store import Worked
from explorer.wording.asked import Asked
from explorer.wording.just_now import sentences
from explorer.wording.numbers import Teller
from solver.answers import Answers
from solver.state import joint_loads_of

Array = NDArray[np.float64]
MIDDLE_OF_THE_WAY = 0.588
"""A train is first seen a little past the middle, where some members work and some do not."""


def show_stage(worked: Worked, direction: Direction) -> dict[str, object]:
    """Return everything the browser needs to show a study: rows, sentences, and the pictures."""
    answers = worked.answers
    packed = pack_study(worked)
    packed["sentences"] = {name: sentences(answers, Teller(system)) for name, system in SYSTEMS.items()}
    packed["first"] = choose_first(answers)
    packed["start"] = MIDDLE_OF_THE_WAY
    packed["opening"] = choose_opening(answers)
    pictures = show_plate(worked, direction)
    choices = {**draw_choices(answers), "trains": choose_train(answers)}
    return {"packed": packed, "choices": choices, "facts": show_facts(worked), **pictures}


def show_loads(worked: Worked, asked: Asked, direction: Direction, number: int = 0) -> Markup:
    """Draw what acts under a load: joint loads of its cases, and its train (of a set the one `number`)."""
    answers, teller = worked.answers, asked.teller
    plate = lay_plate(answers.study, direction)
    truss, load = answers.study.truss, asked.combination
    pixels = plate.frame.place(look(truss.joint_coordinates, direction))
    parts = []
    if load.cases:
        loads = joint_loads_of(answers.study, answers.responses, load)
        parts.append(draw_joint_loads(JointLoads(truss, loads, direction, teller.load), pixels))
    if load.crossing:
        marks = mark_axles(asked, plate, number)
        parts.append(draw_train(marks, np.zeros((len(marks.loads), 2))))
    elif load.lanes:
        parts.append(element("g", [element("g", (), {"class": "bands"})], {"class": "lanes"}))
    return join(parts)


def choose_first(answers: Answers) -> int:
    """The member first chosen: zero on part of the way (or in some cases), needed, near the middle."""
    truss, forces = answers.study.truss, answers.forces
    opening = choose_opening(answers)
    share = forces.shares[:, opening] if answers.study.crossings else forces.zero_share
    partly = np.flatnonzero((share > 1e-9) & (share < 1 - 1e-9))
    chosen = partly if len(partly) else np.arange(len(truss.members))
    needed = answers.removals.mechanism[chosen]
    x = truss.joint_coordinates[truss.ends].mean(axis=1)[chosen]
    away = np.linalg.norm(x - truss.joint_coordinates.mean(axis=0), axis=1)
    return int(chosen[np.lexsort((np.round(away, 6), ~needed))[0]])
