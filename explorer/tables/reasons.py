"""Tables of joint inspection, reasons, waking loads and removals."""

from __future__ import annotations

from explorer.tables.context import Context
from explorer.tables.table import Cell, Table, text, tidy
from explorer.wording.numbers import Teller, plain
from explorer.wording.reasons import Reasoning, tell_reason
from solver.answers import give_reasons
from solver.state import take_state
from solver.tolerances import ZERO


def inspection_table(context: Context) -> Table:
    """Every finding of joint inspection, step by step, with the earlier findings it rests on."""
    truss = context.truss
    rows = tuple(
        (
            inspection.kind,
            inspection.under,
            finding.step,
            truss.joint_names[finding.joint],
            truss.members[finding.member].name,
            finding.rule,
            context.member_names(finding.because),
        )
        for inspection in context.answers.inspections
        for finding in inspection.findings
    )
    return Table("inspection", ("kind", "under", "step", "joint", "member", "rule", "because"), rows)


def reasons_table(context: Context) -> Table:
    """Why every member bears what it bears in each load that stands still, as a sentence."""
    answers, teller = context.answers, Teller(context.units)
    rows: list[tuple[Cell, ...]] = []
    for reasoned in give_reasons(answers):
        load = answers.combinations[reasoned.column]
        state = take_state(answers.study, answers.responses, load, None)
        told = Reasoning(answers, teller, state, ZERO * float(answers.forces.scales[reasoned.column]))
        for member, reason in zip(context.truss.members, reasoned.reasons, strict=True):
            sentence = plain(tell_reason(told, reason))
            rows.append((reasoned.kind, reasoned.under, member.name, reason.kind, sentence))
    return Table("reasons", ("kind", "under", "member", "reason", "sentence"), tuple(rows))


def waking_table(context: Context) -> Table:
    """The unit joint load that puts most tension into each member; empty for one that none reaches."""
    redundancy = context.answers.redundancy
    rows: list[tuple[Cell, ...]] = []
    for index, member in enumerate(context.truss.members):
        joint = int(redundancy.waking_joints[index])
        if joint < 0:
            rows.append((member.name, "", "", ""))
            continue
        direction = tidy(redundancy.waking_directions[index], 1.0)
        told = " ".join(text(float(component)) for component in direction)
        force = float(redundancy.waking_forces[index])
        rows.append((member.name, context.truss.joint_names[joint], told, force))
    return Table("waking", ("member", "joint", "direction", "force"), tuple(rows))
