"""The stage of the page: the plate with its truss, the small whole truss, the words that go with them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.document.units import UnitSystem
from explorer.drawing.loads import (
    JointLoads,
    draw_joint_loads,
    draw_reactions,
    draw_train,
)
from explorer.drawing.plate import BELOW, WIDTH, Plate, lay_plate
from explorer.drawing.scene import Scene, draw_scene
from explorer.drawing.still import mark_axles
from explorer.drawing.view import Direction, look
from explorer.markup import Markup, element, join
from explorer.pages.explore.choices import draw_choices
from explorer.pages.explore.facts import show_facts
from explorer.pages.explore.packing import pack_study
from explorer.store import Worked
from explorer.wording.asked import Asked
from explorer.wording.just_now import sentences
from explorer.wording.numbers import Teller, brief
from solver.answers import Answers
from solver.state import joint_loads_of

Array = NDArray[np.float64]
MIDDLE_OF_THE_WAY = 0.588
"""A train is first seen a little past the middle, where some members work and some do not."""


def show_stage(worked: Worked, direction: Direction, units: UnitSystem) -> dict[str, object]:
    """Return everything the browser needs to show a study: rows, sentences, and the pictures."""
    answers = worked.answers
    packed = pack_study(worked)
    packed["sentences"] = sentences(answers, Teller(units))
    packed["first"] = choose_first(answers)
    packed["start"] = MIDDLE_OF_THE_WAY
    packed["opening"] = choose_opening(answers)
    pictures = show_plate(worked, direction)
    return {"packed": packed, "choices": draw_choices(answers), "facts": show_facts(worked), **pictures}


def show_plate(worked: Worked, direction: Direction) -> dict[str, str]:
    """Return the plate and the small whole truss as markup, in space seen from a direction."""
    plate = lay_plate(worked.answers.study, direction)
    return {"plate": _draw_plate(worked.answers, plate), "overview": _draw_overview(worked.answers, plate)}


def _draw_plate(answers: Answers, plate: Plate) -> Markup:
    frame, truss = plate.frame, answers.study.truss
    largest = float(
        max(np.abs(answers.forces.sweep.largest).max(), np.abs(answers.forces.sweep.smallest).max())
    )
    letters = len(f"T {brief(largest / 1000)}")
    scene = Scene(truss, frame, plate.direction, letters=max(4, letters))
    supports, bars, joints, texts = draw_scene(scene)
    content = [
        supports,
        element("g", (), {"class": "capsule-place"}),
        bars,
        joints,
        element("g", (), {"class": "load-place"}),
        draw_reactions(truss, scene.pixels, plate.direction),
        texts,
        element("g", (), {"class": "tag-place"}),
    ]
    attributes = {
        "class": "truss",
        "width": WIDTH,
        "height": frame.height,
        "data-width": WIDTH,
        "data-height": frame.height,
        "data-top": plate.top,
        "data-scale": f"{frame.scale:.9g}",
        "data-left": f"{frame.left:.9g}",
        "data-base": f"{frame.base:.9g}",
        "data-azimuth": plate.direction.azimuth,
        "data-elevation": plate.direction.elevation,
        "aria-hidden": "true",
    }
    return element("svg", content, attributes)


def _draw_overview(answers: Answers, plate: Plate) -> Markup:
    """The whole truss without letters, for a page too narrow for it: the part shown large is shaded."""
    scene = Scene(answers.study.truss, plate.frame, plate.direction)
    supports, bars, _, *_ = [*draw_scene(scene, lettered=False), None]
    top, height = plate.top - 30, plate.frame.height - plate.top - BELOW + 60
    shade = element("rect", attributes={"class": "window", "y": top, "height": height, "width": WIDTH})
    box = f"0 {top:g} {WIDTH:g} {height:g}"
    content = [part for part in (shade, supports, bars) if part is not None]
    return element("svg", content, {"class": "truss overview", "viewBox": box, "aria-hidden": "true"})


def show_loads(worked: Worked, column: int, direction: Direction, units: UnitSystem) -> Markup:
    """Draw what acts under a load: joint loads of its cases, and its train."""
    answers, teller = worked.answers, Teller(units)
    plate = lay_plate(answers.study, direction)
    truss, load = answers.study.truss, answers.combinations[column]
    pixels = plate.frame.place(look(truss.joint_coordinates, direction))
    parts = []
    if load.cases:
        loads = joint_loads_of(answers.study, answers.responses, load)
        parts.append(draw_joint_loads(JointLoads(truss, loads, direction, teller.load), pixels))
    if load.crossing:
        marks = mark_axles(Asked(answers, teller, 0, column, None), plate)
        parts.append(draw_train(marks, np.zeros((len(marks.loads), 2))))
    return join(parts)


def choose_opening(answers: Answers) -> int:
    """The load the page opens on: the first crossing alone, else the first case in which one is zero."""
    study, shares = answers.study, answers.forces.shares
    if study.crossings:
        return len(study.cases)
    return next((c for c in range(len(study.cases)) if shares[:, c].any()), 0)


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
