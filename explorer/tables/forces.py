"""Tables of member forces: members, forces by load case, zero shares, influence."""

from __future__ import annotations

from math import isnan

import numpy as np

from explorer.tables.context import Context
from explorer.tables.table import Cell, Table, tidy
from solver.sweep import Governing

MEMBERS_HEADER = (
    "member",
    "group",
    "length",
    "zero_share",
    "zero_share_combined",
    "peak_tension",
    "tension_in",
    "tension_at",
    "peak_compression",
    "compression_in",
    "compression_at",
    "redundancy_share",
    "utilisation",
    "utilisation_in",
    "utilisation_at",
    "outcome",
    "verdict",
)


def members_table(context: Context) -> Table:
    """One row a member: zero shares, peaks and where they occur, redundancy share, utilisation, outcome."""
    answers = context.answers
    forces = answers.forces
    lengths = context.units.from_si("length", context.truss.lengths)
    rows = []
    for index, member in enumerate(context.truss.members):
        start: tuple[Cell, ...] = (
            member.name,
            member.group.name,
            float(lengths[index]),
            float(forces.zero_share[index]),
            float(forces.zero_share_combined[index]),
        )
        peaks = _peak(context, forces.tension, index) + _peak(context, forces.compression, index)
        share = float(answers.redundancy.shares[index])
        grounds = answers.grounds[index]
        end = (answers.losses.each[index].outcome, grounds[0].key if grounds else "")
        rows.append((*start, *peaks, share, *_utilisation(context, index), *end))
    return Table("members", MEMBERS_HEADER, tuple(rows))


def _utilisation(context: Context, member: int) -> tuple[Cell, ...]:
    """The larger of peak tension and compression over their resistances, and where; empty without any."""
    checks = context.answers.checks.each[member]
    found = [check for check in checks if check.key in ("tension", "compression") and not isnan(check.limit)]
    if not found:
        return "", "", ""
    most = max(found, key=lambda check: check.utilisation)
    if most.utilisation == 0:
        return 0.0, "", ""
    name = context.answers.study.asked[most.combination].name
    return most.utilisation, name, context.place(most.direction, most.position)


def _peak(context: Context, governing: Governing, member: int) -> tuple[Cell, ...]:
    value = float(context.force(governing.values[member : member + 1])[0])
    if value == 0:
        return 0.0, "", ""
    names = tuple(combination.name for combination in context.answers.combinations)
    return value, context.under(governing, member, names), context.at(governing, member)


def forces_table(context: Context) -> Table:
    """Largest and smallest force of each member in each load case alone, factor 1."""
    swept = context.answers.forces.sweep
    alone = context.answers.study.alone
    scales = context.answers.forces.scales[: len(alone)]
    largest = context.force(tidy(swept.largest[:, : len(alone)], scales))
    smallest = context.force(tidy(swept.smallest[:, : len(alone)], scales))
    rows = tuple(
        (member.name, _kind(load.crossing), load.name, float(largest[m, c]), float(smallest[m, c]))
        for m, member in enumerate(context.truss.members)
        for c, load in enumerate(alone)
    )
    return Table("forces", ("member", "kind", "under", "largest", "smallest"), rows)


def zero_shares_table(context: Context) -> Table:
    """Zero share of each member in each load case and each combination of the file."""
    study, shares = context.answers.study, context.answers.forces.shares
    kinds = [_kind(load.crossing) for load in study.alone] + ["combination"] * len(study.combinations)
    rows = tuple(
        (member.name, kind, combination.name, float(shares[m, c]))
        for m, member in enumerate(context.truss.members)
        for c, (kind, combination) in enumerate(zip(kinds, context.answers.combinations, strict=True))
    )
    return Table("zero_shares", ("member", "kind", "under", "zero_share"), rows)


def influence_table(context: Context) -> Table:
    """Force in each member for a unit downward load at each joint of each chord."""
    truss = context.truss
    rows: list[tuple[Cell, ...]] = []
    for chord in context.answers.study.chords.values():
        influence = context.answers.responses.forces.influence[chord.name]
        ordinates = tidy(influence, np.maximum(1.0, np.abs(influence).max(axis=0, initial=0.0)))
        positions = context.units.from_si("length", chord.positions)
        for place, joint in enumerate(chord.joints):
            start = (chord.name, float(positions[place]), truss.joint_names[joint])
            forces = zip(truss.members, ordinates[:, place], strict=True)
            rows += [(*start, member.name, float(force)) for member, force in forces]
    return Table("influence", ("chord", "position", "joint", "member", "force"), tuple(rows))


def _kind(crossing: str | None) -> str:
    return "crossing" if crossing else "case"
