"""What a governing force is made of: cases, axles, strips, lanes, the second train; and where lanes lie."""

from __future__ import annotations

from dataclasses import dataclass

from explorer.wording.asked import Asked, words
from explorer.wording.trains import called
from solver.answers import PeakState
from solver.state import Part

KINDS = {"axle": "axles", "strip": "strips", "lane": "lane"}


@dataclass(frozen=True)
class Portion:
    """A part of a force [N] and what brings it: a case, or the axles, strips or lane of a train."""

    label: str
    kind: str
    force: float


def make_up(asked: Asked, peak: PeakState) -> list[Portion]:
    """Return what makes up a member's force at its peak, in the order of the combination."""
    portions: dict[tuple[str, str, bool], Portion] = {}
    for part in peak.state.parts:
        key = _key(part)
        before = portions.get(key)
        force = float(part.forces[asked.member]) + (before.force if before else 0.0)
        portions[key] = Portion(_label(asked, peak, part), _kind(part), force)
    scale = float(asked.answers.forces.scales[peak.column])
    return [one for one in portions.values() if abs(one.force) > 1e-9 * scale]


def loaded_lengths(asked: Asked, peak: PeakState) -> list[str]:
    """Tell on which stretches each lane lies at the peak, once for each lane."""
    told = "tension" if peak.value > 0 else "compression"
    stretches: dict[str, list[str]] = {}
    for part in peak.state.parts:
        if part.placed is not None and part.placed.kind == "lane":
            ends = (asked.teller.position(part.placed.start), asked.teller.position(part.placed.end))
            stretches.setdefault(part.crossing, []).append(f"{ends[0]} to {ends[1]}")
    return [
        f"At the peak of {told} the lane of {words(name)} lies on {', '.join(found)}."
        for name, found in stretches.items()
    ]


def _key(part: Part) -> tuple[str, str, bool]:
    if part.placed is None:
        return part.case or "", "case", False
    return part.crossing, part.placed.kind, part.placed.second


def _kind(part: Part) -> str:
    if part.placed is None:
        return "case"
    return "second" if part.placed.second else part.placed.kind


def _label(asked: Asked, peak: PeakState, part: Part) -> str:
    factor = "" if part.factor == 1 else f"{part.factor:g} × "
    if part.placed is None:
        return f"{factor}{words(part.case or '')}"
    crossing = asked.answers.study.crossings[part.crossing]
    if not crossing.travels:
        return f"{factor}{KINDS[part.placed.kind]} of {words(part.crossing)}"
    train = called(crossing, peak.standing.number if peak.standing else 0)
    second = "second train's " if part.placed.second else ""
    return f"{factor}{second}{KINDS[part.placed.kind]} of {train}"
