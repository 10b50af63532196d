"""The way by hand: joint after joint, equations as they stand on a board."""

from __future__ import annotations

from explorer.markup import Markup, element, join
from explorer.pages.learn.setting import Setting
from explorer.wording.by_hand import WrittenStep, write_by_hand
from solver.by_hand import solve_by_hand

MOST_MEMBERS = 120
"""Beyond this many members nobody writes a truss down by hand."""


def show_by_hand(setting: Setting) -> Markup:
    """Write the whole order of joints under a setting."""
    truss = setting.worked.answers.study.truss
    if setting.told.state.strains.any:
        return element(
            "p",
            "Temperature, misfits and settlements are not written down by hand here: choose another load.",
        )
    if len(truss.members) > MOST_MEMBERS:
        return element("p", f"By hand ends at {MOST_MEMBERS} members; this truss has {len(truss.members)}.")
    loads, units = setting.told.state.joint_loads, setting.told.teller.units
    steps = write_by_hand(truss, solve_by_hand(truss, loads), loads, setting.told.teller)
    note = element(
        "p",
        "Tension positive; unknown members pull at their joints; forces in equations in "
        f"{units.label('force')}. In moments the arm stands first, in {units.label('length')}, "
        "then the force.",
        {"class": "note"},
    )
    return join([note, element("ol", [_draw_step(step) for step in steps], {"class": "hand-steps"})])


def _draw_step(step: WrittenStep) -> Markup:
    lines = [element("div", line, {"class": "equation"}) for line in step.lines]
    results = [element("b", result) for result in step.results]
    checks = [element("div", f"{check}, as a check", {"class": "equation check"}) for check in step.checks]
    found = element("p", _apart(results), {"class": "results"})
    return element("li", [element("h2", step.title), *lines, found, *checks])


def _apart(results: list[Markup]) -> list[Markup | str]:
    parts: list[Markup | str] = []
    for number, result in enumerate(results):
        parts += [", ", result] if number else [result]
    return parts
