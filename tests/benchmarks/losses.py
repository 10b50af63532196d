"""Every single loss of an X-braced bridge under 200 combinations, against factoring the truss anew for each.

Run with `python -m tests.benchmarks.losses [panels]`. The plain way takes each member out, factors, solves
and sweeps everything again, all rows under all combinations; it is timed on a few members and multiplied.
"""

from __future__ import annotations

import sys
from dataclasses import replace

import numpy as np

from explorer.document import read_text
from solver.losses.before import Before
from solver.losses.stable import Stable, examine_stable
from solver.losses.whole import hold_against
from solver.losses.without import without
from solver.peaks import sweep_extremes, sweep_forces
from solver.response import respond
from solver.statics import examine
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import lay_ways, sweep
from tests.benchmarks.timing import best
from tests.journeys.girder import girder

CASES, COMBINATIONS, LOADED = 19, 200, 10
SAMPLE = 6
MARGIN = 1.05
"""Resistances over the largest peak of each group: most losses overload something, as in a lean design."""


def bridge(panels: int) -> Study:
    """An X-braced girder under own weight, cases of loads at joints and a freight train, much combined."""
    random = np.random.default_rng(3)
    text = girder(panels).replace("E = 210_000", "E = 210_000\nunit_weight = 77")
    text = text.replace('train = "lorry"', 'train = "cooper_e80"')
    text += "[cases.dead]\nself_weight = 1\n"
    for case in range(CASES):
        joints = random.choice(panels + 1, min(LOADED, panels), replace=False)
        loads = [f"L{j} = [{random.uniform(-5, 5):.1f}, {random.uniform(-30, 0):.1f}]" for j in joints]
        text += f"[cases.c{case}]\njoints = {{ {', '.join(loads)} }}\n"
    for number in range(COMBINATIONS):
        chosen = random.choice(CASES, 3, replace=False)
        text += f"[combinations.k{number}]\ndead = {random.uniform(0.9, 1.35):.2f}\n"
        text += "".join(f"c{case} = {random.uniform(0.5, 1.5):.2f}\n" for case in chosen)
        text += f"run = {random.choice([1.0, 1.35, 1.5])}\n" if number % 2 else ""
    return read_text(text, "bridge.toml").study


def prepare(study: Study) -> tuple[Before, Stiffness]:
    """Work a study out up to its peaks."""
    stiffness, ways = Stiffness(study.truss), lay_ways(study)
    responses = respond(study, stiffness)
    extremes = [
        sweep_extremes(ways, rows, responses.case_names)
        for rows in (responses.reactions, responses.deflections)
    ]
    return hold_against(responses, sweep_forces(ways, responses), *extremes), stiffness


def resisting(study: Study, before: Before) -> Study:
    """The study with resistances a little over the peaks of each group."""
    most: dict[str, list[float]] = {}
    for member, pull, push in zip(study.truss.members, before.tension, before.compression, strict=True):
        known = most.setdefault(member.group.name, [0.0, 0.0])
        known[0], known[1] = max(known[0], pull), max(known[1], push)
    members = []
    for member in study.truss.members:
        tension, compression = (MARGIN * size or None for size in most[member.group.name])
        members.append(replace(member, group=replace(member.group, tension=tension, compression=compression)))
    return replace(study, truss=replace(study.truss, members=tuple(members)))


def anew(study: Study, member: int) -> None:
    """The plain way for one loss: factor, solve and sweep without the member, and no more than that."""
    left = without(study, member)
    responses = respond(left, Stiffness(left.truss))
    for rows in (responses.forces, responses.reactions, responses.deflections):
        sweep(lay_ways(left), rows, responses.case_names, left.asked)


def worst_difference(one: Stable, other: Stable, largest: float) -> float:
    """By how much two answers differ: growth and reactions over the largest force, ratios as they are."""
    found = [abs(one.growth - other.growth) / largest]
    found.append(float(np.abs(one.reactions - other.reactions).max(initial=0.0)) / largest)
    found.append(abs(one.deflection_ratio - other.deflection_ratio))
    if one.worst and other.worst:
        found.append(abs(one.worst.utilisation - other.worst.utilisation))
    return max(found)


def main(panels: int = 100) -> None:
    """Print times, their ratio, and the worst difference on the members worked out anew."""
    study = bridge(panels)
    study = resisting(study, prepare(study)[0])
    before, stiffness = prepare(study)
    members = np.flatnonzero(~examine(study.truss).needed)
    found = dict(examine_stable(before, stiffness, members))
    fast = best(lambda: dict(examine_stable(before, stiffness, members)), 3)
    some = members[:: max(1, len(members) // SAMPLE)]
    slow = best(lambda: [anew(study, member) for member in some.tolist()], 1) / len(some) * len(members)
    checked = dict(examine_stable(before, stiffness, some, anew=True))
    difference = max(worst_difference(found[m], checked[m], before.largest_force) for m in checked)
    print(f"{len(study.truss.members)} members, {len(study.asked)} combinations, {len(members)} losses")
    print(f"  all losses {fast:.2f} s, anew for each {slow:.1f} s: {slow / fast:.0f} times")
    print(f"  worst difference on {len(some)} losses worked out anew: {difference:.1e}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
