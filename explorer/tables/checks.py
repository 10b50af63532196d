"""The table of checks: what every member is held against."""

from __future__ import annotations

import numpy as np

from explorer.document import UnitSystem
from explorer.tables.context import Context
from explorer.tables.table import Cell, Table
from explorer.wording.checks import kind_of
from solver.checks.check import Check

CHECKS_HEADER = (
    "member", "check", "asked", "by", "demand", "limit", "unit", "utilisation", "in", "at", "joint", "others",
    "clause", "not_known", "unchecked",
)  # fmt: skip


def checks_table(context: Context) -> Table:
    """One row a check: members in the file's order, each one's in the order of the ladder, the truss last."""
    checks, members = context.answers.checks, context.truss.members
    rows = [
        (members[member].name, *_check(context, check))
        for member, own in enumerate(checks.each)
        for check in own
    ]
    rows += [("", *_check(context, check)) for check in checks.whole]
    return Table("checks", CHECKS_HEADER, tuple(rows))


def _check(context: Context, check: Check) -> tuple[Cell, ...]:
    unit = kind_of(check)
    demand, limit = (_in(context.units, unit, value) for value in (check.demand, check.limit))
    truss = context.truss
    asked = context.answers.study.asked
    return (
        check.key,
        "yes" if check.asked else "no",
        check.by,
        demand,
        limit,
        "" if unit == "none" else context.units.label(unit),
        _known(check.utilisation),
        asked[check.combination].name if check.combination >= 0 else "",
        context.place(check.direction, check.position),
        truss.joint_names[check.joint] if check.joint >= 0 else "",
        " ".join(truss.members[other].name for other in check.others),
        "; ".join(dict.fromkeys(step.clause for step in check.steps)),
        "; ".join(check.refused),
        "; ".join(check.unchecked),
    )


def _in(units: UnitSystem, kind: str, value: float) -> Cell:
    if np.isnan(value):
        return ""
    return value if kind == "none" else float(units.from_si(kind, np.array([value]))[0])


def _known(value: float) -> Cell:
    return "" if np.isnan(value) else value
