"""A lesson: everything the page needs of one setting, handed over at once so that steps need no asking."""

from __future__ import annotations

import numpy as np

from explorer.drawing.bars import paint_force
from explorer.drawing.loads import JointLoads, draw_joint_loads
from explorer.drawing.plate import lay_plate
from explorer.drawing.view import Direction, look
from explorer.markup import Markup, element
from explorer.pages.choices import choose_opening, draw_choices, load_label
from explorer.pages.learn.setting import Setting
from explorer.pages.learn.steps import list_steps
from explorer.pages.learn.walk import show_walk
from explorer.pages.plate import show_plate
from explorer.pages.proofs.names import keep_names
from explorer.pages.truss_data import pack_truss
from explorer.store import Worked
from explorer.wording.reasons import tell_reason
from explorer.wording.stands import tell_standing
from solver.answers import Answers


def show_board(worked: Worked, direction: Direction) -> dict[str, object]:
    """Return what the page needs of a study before any load is chosen."""
    answers = worked.answers
    return {
        **pack_truss(worked),
        "names": list(answers.study.truss.joint_names),
        "unders": [
            {"name": load.name, "label": load_label(answers, load), "crossing": load.crossing}
            for load in answers.combinations
        ],
        "crossings": {
            name: {"ways": list(crossing.directions), "reach": _reach(answers, name)}
            for name, crossing in answers.study.crossings.items()
        },
        "opening": choose_opening(answers),
        "choices": draw_choices(answers)["under"],
        **show_plate(worked, direction),
    }


def _reach(answers: Answers, crossing: str) -> dict[str, list[float]]:
    """First and last position of the front each way [m]."""
    ways = answers.forces.sweep.motions.ways
    travels = [ways.travels[place] for place in ways.of(crossing)]
    # Of a set the first train stands for all.
    first = [way for way in travels if way.number == 0]
    return {way.direction: [float(way.breaks[0]), float(way.breaks[-1])] for way in first}


def show_lesson(setting: Setting, direction: Direction) -> dict[str, object]:
    """Return the walk under a setting, how bars look in the end, the loads, and every reason."""
    told, forces = setting.told, setting.told.state.forces
    zeros = set(setting.zeros)
    largest = float(np.abs(forces).max(initial=0.0))
    paints = [paint_force(0.0 if m in zeros else float(f), 0.0, largest) for m, f in enumerate(forces)]
    loads = told.state.joint_loads
    own = [[int(j), loads[j].tolist()] for j in np.flatnonzero(setting.told.state.loaded)]
    return {
        "key": setting.worked.key,
        "steps": show_walk(setting),
        "looks": [paint.look for paint in paints],
        "parts": [paint.fraction for paint in paints],
        "said": ["0" if m in zeros else _value(setting, float(f)) for m, f in enumerate(forces)],
        "zeros": sorted(zeros),
        "loads": _draw_loads(setting, direction),
        "own": own,
        "stands": "" if setting.own else tell_standing(setting.asked),
        "reasons": _list_reasons(setting),
    }


def _value(setting: Setting, force: float) -> str:
    return f"{'T' if force > 0 else 'C'} {setting.told.teller.brief(force)}"


def _draw_loads(setting: Setting, direction: Direction) -> Markup:
    study = setting.worked.answers.study
    plate = lay_plate(study, direction)
    pixels = plate.frame.place(look(study.truss.joint_coordinates, direction))
    loads = np.where(setting.told.state.loaded[:, None], setting.told.state.joint_loads, 0.0)
    return draw_joint_loads(JointLoads(study.truss, loads, direction, setting.told.teller.load), pixels)


def _list_reasons(setting: Setting) -> Markup:
    """Every zero with its reason, in the order of the walk."""
    rows = [
        element(
            "li",
            [
                element("b", setting.told.member(reason.member)),
                element("span", keep_names(tell_reason(setting.told, reason))),
            ],
        )
        for step in list_steps(setting.reasons)
        for reason in step.reasons
    ]
    nothing = element("li", [element("span", "No member is zero under these loads.", {"class": "none"})])
    return element("ul", rows or [nothing], {"class": "reasons"})
