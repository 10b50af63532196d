"""The schedule of members: one row each, under the load chosen and over everything."""

from __future__ import annotations

from explorer.document.units import UnitSystem
from explorer.pages.explore.choices import load_label
from explorer.store import Worked
from explorer.wording.numbers import Teller, percent

Row = dict[str, object]


def list_members(worked: Worked, column: int, units: UnitSystem) -> dict[str, object]:
    """Return the rows of the schedule and the largest peak, for the bars; forces in the reader's unit."""
    answers, teller = worked.answers, Teller(units)
    forces, truss = answers.forces, answers.study.truss
    band = 1e-12 * forces.scales[column]
    rows: list[Row] = []
    for index, member in enumerate(truss.members):
        high = float(forces.sweep.largest[index, column])
        low = float(forces.sweep.smallest[index, column])
        share = float(forces.shares[index, column])
        here = {
            "zero": share,
            "zeroTold": percent(share),
            "tension": _peak(teller, high, band),
            "compression": _peak(teller, -low, band),
        }
        overall = float(forces.zero_share[index])
        tension, compression = float(forces.tension.values[index]), float(forces.compression.values[index])
        everything = {
            "zero": overall,
            "zeroTold": percent(overall),
            "tension": teller.value("force", tension),
            "compression": teller.value("force", compression),
        }
        rows.append(
            {
                "index": index,
                "member": member.name,
                "group": member.group.name,
                "without": _without(worked, index),
                "here": here,
                "everything": everything,
                "often": overall > 0.8,
                "reverses": tension > 0 and compression > 0,
                "still": bool(forces.still[index]),
                "mechanism": bool(answers.removals.mechanism[index]),
            }
        )
    return {"rows": rows, "unit": units.label("force"), "load": load_label(answers, answers.combinations[column])}


def _peak(teller: Teller, force: float, band: float) -> float:
    return teller.value("force", force) if force > band else 0.0


def _without(worked: Worked, index: int) -> str:
    removals, truss = worked.answers.removals, worked.answers.study.truss
    if not removals.mechanism[index]:
        return "no mechanism"
    moving = removals.moves[index]
    if len(moving) <= 2:
        names = " and ".join(truss.joint_names[joint] for joint in moving)
        return f"{names} move{'s' if len(moving) == 1 else ''}"
    return f"{len(moving)} joints move"
