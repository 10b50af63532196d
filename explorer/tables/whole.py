"""All tables of a run, in the order in which the format page describes them, and its summary."""

from __future__ import annotations

from explorer.document import UnitSystem
from explorer.tables.candidates import candidates_table
from explorer.tables.checks import checks_table
from explorer.tables.concurrent import concurrent_table
from explorer.tables.context import Context
from explorer.tables.forces import forces_table, influence_table, members_table, zero_shares_table
from explorer.tables.losses import removals_table, verdicts_table
from explorer.tables.reasons import inspection_table, reasons_table, waking_table
from explorer.tables.supports import deflections_table, reactions_table, totals_table
from explorer.tables.table import Table
from solver.answers import Answers
from solver.sizing.candidates import Candidates

MAKERS = (
    members_table,
    forces_table,
    totals_table,
    zero_shares_table,
    influence_table,
    reactions_table,
    deflections_table,
    concurrent_table,
    inspection_table,
    reasons_table,
    waking_table,
    removals_table,
    verdicts_table,
    checks_table,
)


def make_tables(answers: Answers, units: UnitSystem, candidates: Candidates | None = None) -> list[Table]:
    """Make every table of `stillbar run` in the study's own units; without candidates theirs is empty."""
    context = Context(answers, units)
    return [*(make(context) for make in MAKERS), candidates_table(context, candidates)]


def summarise(answers: Answers, units: UnitSystem) -> dict[str, object]:
    """The facts of summary.json."""
    truss, statics = answers.study.truss, answers.statics
    still = answers.forces.still
    return {
        "title": answers.study.title,
        "units": units.name,
        "joints": len(truss.joint_names),
        "members": len(truss.members),
        "combinations": len(answers.study.asked),
        "self_stress_states": statics.self_stress_states,
        "static_indeterminacy": statics.static_indeterminacy,
        "still": [member.name for member, is_still in zip(truss.members, still, strict=True) if is_still],
        "largest_imbalance": answers.imbalance,
        "condition": answers.redundancy.condition,
        "notices": list(answers.notices),
    }
