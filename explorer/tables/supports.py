"""Tables of reactions, deflections and of the totals that a checker adds up first."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from explorer.tables.context import Context
from explorer.tables.table import Cell, Table, tidy
from solver.peaks import Extremes
from solver.statics import support_matrix

EXTREMES_HEADER = (
    "joint",
    "direction",
    "largest",
    "largest_in",
    "largest_at",
    "smallest",
    "smallest_in",
    "smallest_at",
)


def reactions_table(context: Context) -> Table:
    """Largest and smallest reaction along each held direction."""
    return _extremes_table("reactions", context, context.answers.reactions, "force", context.support_rows())


def deflections_table(context: Context) -> Table:
    """Largest and smallest movement of each joint along each axis."""
    rows = context.movement_rows()
    return _extremes_table("deflections", context, context.answers.deflections, "small_length", rows)


def _extremes_table(
    name: str, context: Context, extremes: Extremes, kind: str, labels: list[tuple[str, str]]
) -> Table:
    names = tuple(combination.name for combination in context.answers.study.asked)
    sides = (extremes.largest, extremes.smallest)
    scale = max((float(np.abs(side.values).max(initial=0.0)) for side in sides), default=0.0)
    values = [context.units.from_si(kind, tidy(side.values, scale)) for side in sides]
    rows = []
    for row, label in enumerate(labels):
        cells: list[Cell] = [*label]
        for side, told in zip(sides, values, strict=True):
            cells += [float(told[row]), context.under(side, row, names), context.at(side, row)]
        rows.append(tuple(cells))
    return Table(name, EXTREMES_HEADER, tuple(rows))


def totals_table(context: Context) -> Table:
    """Sum of the loads and of the reactions of each load case along each axis."""
    responses = context.answers.responses
    applied = _along_axes(context, responses.loads.cases)
    carried = _along_axes(context, support_matrix(context.truss) @ responses.reactions.cases)
    # A case of temperature alone has neither: what its strains would put into held members is its size.
    sums = np.abs(responses.loads.cases).sum(axis=0) + np.abs(responses.reactions.cases).sum(axis=0)
    scale = np.maximum(sums, responses.loads.sizes)
    applied, carried = (context.force(tidy(part, scale)) for part in (applied, carried))
    rows = tuple(
        (name, axis, float(applied[a, c]), float(carried[a, c]))
        for c, name in enumerate(responses.case_names)
        for a, axis in enumerate(context.axes())
    )
    return Table("totals", ("case", "direction", "applied", "reactions"), rows)


def _along_axes(context: Context, forces: NDArray[np.float64]) -> NDArray[np.float64]:
    """Sum of forces at all joints, (dimension, cases)."""
    return np.asarray(forces.reshape(len(context.truss.joint_names), context.truss.dimension, -1).sum(axis=0))
