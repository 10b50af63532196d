"""The schedule of members: one row each, under the load chosen and over everything."""

from __future__ import annotations

from explorer.document.units import UnitSystem
from explorer.pages.choices import load_label
from explorer.store import Worked
from explorer.wording.grounds import Speaking, tell_verdict
from explorer.wording.numbers import Teller, percent

Row = dict[str, object]
MOST_NAMED = 2
OFTEN = 0.8
"""A member that is zero in more of what can happen is one to look at first."""


def list_members(worked: Worked, column: int, units: UnitSystem) -> dict[str, object]:
    """Return the rows of the schedule and the largest peak, for the bars; forces in the reader's unit."""
    answers, teller = worked.answers, Teller(units)
    load = answers.combinations[column]
    rows = [_row(worked, column, index, teller) for index in range(len(answers.study.truss.members))]
    return {"rows": rows, "unit": units.label("force"), "load": load_label(answers, load)}


def _row(worked: Worked, column: int, index: int, teller: Teller) -> Row:
    """One member: `here` under the load chosen, `everything` over the study, and what filters ask."""
    answers = worked.answers
    member, forces = answers.study.truss.members[index], answers.forces
    band = 1e-12 * forces.scales[column]
    high, low = (float(part[index, column]) for part in (forces.sweep.largest, forces.sweep.smallest))
    tension, compression = float(forces.tension.values[index]), float(forces.compression.values[index])
    share = float(forces.zero_share[index])
    return {
        "index": index,
        "member": member.name,
        "group": member.group.name,
        "without": _without(worked, index),
        "whole": tell_verdict(Speaking(answers, teller, index)),
        "here": _told(teller, float(forces.shares[index, column]), high, -low, band),
        "everything": _told(teller, share, tension, compression, 0.0),
        "often": share > OFTEN,
        "reverses": tension > 0 and compression > 0,
        "still": bool(forces.still[index]),
        "outcome": answers.losses.each[index].outcome,
    }


def _told(teller: Teller, share: float, tension: float, compression: float, band: float) -> Row:
    """A zero share and two peaks [N], which are 0 where they do not pass `band`."""
    peaks = [teller.value("force", peak) if peak > band else 0.0 for peak in (tension, compression)]
    return {"zero": share, "zeroTold": percent(share), "tension": peaks[0], "compression": peaks[1]}


def _without(worked: Worked, index: int) -> str:
    """The outcome of its loss, with what moves or how hard the worst of the others works then."""
    answers = worked.answers
    loss = answers.losses.each[index]
    moving = answers.removals.moves[index]
    if loss.mechanism:
        names = " ".join(answers.study.truss.joint_names[joint] for joint in moving)
        return f"{loss.outcome}: {names if len(moving) <= MOST_NAMED else f'{len(moving)} joints'}"
    worst = loss.stable.worst if loss.stable else None
    return loss.outcome if worst is None else f"{loss.outcome}: {worst.utilisation:.2f}"
