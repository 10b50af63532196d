"""Tables of losses: what follows from losing each member, and why zero now does not mean removable."""

from __future__ import annotations

import numpy as np

from explorer.tables.context import Context
from explorer.tables.table import Cell, Table
from explorer.wording.asked import begin
from explorer.wording.grounds import Speaking, tell_ground, tell_verdict
from explorer.wording.numbers import Teller, plain
from solver.losses.stable import Stable, Worst
from solver.losses.whole import Loss
from solver.verdicts.ground import QUANTITIES, Ground

REMOVALS_HEADER = (
    "member",
    "mechanism",
    "moves",
    "outcome",
    "worst_member",
    "worst_utilisation",
    "worst_in",
    "worst_at",
    "over",
    "growth",
    "grown_member",
    "growth_ratio",
    "deflection_ratio",
    "unbraced_before",
    "unbraced_after",
    "unbraced_member",
    "resistance_before",
    "resistance_after",
    "utilisation_after",
)
NO_STRENGTH: tuple[Cell, ...] = ("", "", "", "", "", "", "", "", "")


def removals_table(context: Context) -> Table:
    """One row a member: what its loss leaves, how the others fare, and unbraced lengths that grow."""
    removals = context.answers.removals
    rows = []
    for loss, member in zip(context.answers.losses.each, context.truss.members, strict=True):
        start: tuple[Cell, ...] = (
            member.name,
            "yes" if loss.mechanism else "no",
            context.joint_names(removals.moves[loss.member]),
            loss.outcome,
        )
        strength = NO_STRENGTH if loss.stable is None else _strength(context, loss.stable)
        rows.append((*start, *strength, *_unbraced(context, loss)))
    return Table("removals", REMOVALS_HEADER, tuple(rows))


def _strength(context: Context, stable: Stable) -> tuple[Cell, ...]:
    members = context.truss.members
    over = " ".join(f"{members[one.member].name}:{one.how}" for one in stable.over)
    return (
        *_worst(context, stable.worst),
        over,
        float(context.force(np.array([stable.growth]))[0]),
        members[stable.grown].name if stable.grown >= 0 else "",
        _or_empty(stable.growth_ratio),
        _or_empty(stable.deflection_ratio),
    )


def _worst(context: Context, worst: Worst | None) -> tuple[Cell, ...]:
    if worst is None:
        return "", "", "", ""
    if worst.member < 0:
        return "", 0.0, "", ""
    name = context.truss.members[worst.member].name
    asked = context.answers.study.asked[worst.combination].name
    return name, worst.utilisation, asked, context.place(worst.direction, worst.position)


def _unbraced(context: Context, loss: Loss) -> tuple[Cell, ...]:
    unpropped = loss.mechanism.unpropped if loss.mechanism else None
    if unpropped is None:
        return "", "", "", "", "", ""
    before, after = context.units.from_si("length", np.array([unpropped.before, unpropped.after]))
    return float(before), float(after), *_grown(context, loss)


def _grown(context: Context, loss: Loss) -> tuple[Cell, ...]:
    """The bar of the piece that asks most at its grown length, and what it resists before and after."""
    grown = context.answers.grown.get(loss.member)
    if grown is None:
        return "", "", "", ""
    resists = [
        "" if strength.value is None else float(context.force(np.array([strength.value]))[0])
        for strength in (grown.before, grown.after)
    ]
    return context.truss.members[grown.bar].name, *resists, _or_empty(grown.utilisation)


def _or_empty(value: float) -> Cell:
    return "" if np.isnan(value) else value


def verdicts_table(context: Context) -> Table:
    """Every ground for each member, the weightiest first; where there is none, one row that says so."""
    teller = Teller(context.units)
    rows: list[tuple[Cell, ...]] = []
    for index, member in enumerate(context.truss.members):
        speaking = Speaking(context.answers, teller, index)
        if not speaking.grounds:
            rows.append((member.name, 1, "", "", plain(tell_verdict(speaking))))
        for order, ground in enumerate(speaking.grounds, 1):
            sentence = plain(begin(tell_ground(speaking, ground)) + ".")
            rows.append((member.name, order, ground.key, _number(context, ground), sentence))
    return Table("verdicts", ("member", "order", "key", "number", "sentence"), tuple(rows))


def _number(context: Context, ground: Ground) -> Cell:
    quantity = QUANTITIES[ground.key]
    if quantity == "force":
        return float(context.force(np.array([ground.number]))[0])
    return int(ground.number) if quantity == "count" else ground.number
