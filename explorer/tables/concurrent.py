"""The table of what acts together: forces and reactions in the states in which peaks occur."""

from __future__ import annotations

import numpy as np

from explorer.tables.context import Context
from explorer.tables.table import Cell, Table, text, tidy
from solver.answers import give_concurrent
from solver.concurrent import Together

HEADER = (
    "of",
    "along",
    "extreme",
    "under",
    "at",
    "train",
    "second_at",
    "what",
    "name",
    "direction",
    "value",
)
WAYS = ("forward", "backward")


def concurrent_table(context: Context) -> Table:
    """For each member's peaks the forces and reactions at its joints; for each reaction's extremes all."""
    members, reactions = give_concurrent(context.answers)
    names = [member.name for member in context.truss.members]
    supports = context.support_rows()
    rows: list[tuple[Cell, ...]] = []
    for one in members:
        start = (names[one.row], "", "tension" if one.largest else "compression")
        rows += _rows(context, one, start)
    for one in reactions:
        start = (*supports[one.row], "largest" if one.largest else "smallest")
        rows += _rows(context, one, start)
    return Table("concurrent", HEADER, tuple(rows))


def _rows(context: Context, one: Together, start: tuple[str, str, str]) -> list[tuple[Cell, ...]]:
    """All that is told with one extreme; computed true zeros are written as 0."""
    scale = context.answers.forces.scales[one.moment.combination]
    forces = context.force(tidy(one.forces, scale))
    reactions = context.force(tidy(one.reactions, scale))
    state = (*start, *_state(context, one))
    supports = context.support_rows()
    told: list[tuple[Cell, ...]] = [
        (*state, "force", context.truss.members[member].name, "", float(force))
        for member, force in zip(one.members, forces, strict=True)
    ]
    for held, reaction in zip(one.held, reactions, strict=True):
        told.append((*state, "reaction", *supports[held], float(reaction)))
    return told


def _state(context: Context, one: Together) -> tuple[str, str, str, str]:
    """Under what, where, which train of a set, and where its second stands."""
    combination = context.answers.combinations[one.moment.combination]
    if one.moment.direction < 0 or combination.crossing is None:
        return combination.name, "", "", ""
    crossing = context.answers.study.crossings[combination.crossing]
    position, second = (
        float(context.units.from_si("length", place)) for place in (one.moment.position, one.second)
    )
    return (
        combination.name,
        f"{text(position)} {WAYS[one.moment.direction]}",
        crossing.trains[one.moment.train].name if len(crossing.trains) > 1 else "",
        "" if np.isnan(second) else text(second),
    )
