"""What acts together at the peaks of a member: how to get there, what makes it up, what stands beside it."""

from __future__ import annotations

import numpy as np

from explorer.drawing.figures import MakeUp, Segment, draw_make_up
from explorer.markup import Markup, element
from explorer.pages.explore.line import draw_line_of
from explorer.store import Worked
from explorer.wording.asked import WAYS, Asked, words
from explorer.wording.make_up import loaded_lengths, make_up
from solver.answers import PeakState, state_at_peak

ONLY = (
    "Lanes and left-out axles stand only where they add to the peak: elsewhere more may stand at that time."
)


def draw_together(worked: Worked, asked: Asked) -> Markup:
    """Draw for both peaks of a member a way to go there, its make-up, and all that acts at its joints."""
    found = [state_at_peak(worked.answers, asked.member, sign) for sign in (1, -1)]
    peaks = [peak for peak in found if peak is not None]
    if not peaks:
        return Markup("")
    buttons = [_draw_jump(asked, peak) for peak in peaks]
    head = element("h3", ["At its peaks ", *buttons], {"class": "jumps"})
    lanes = [element("p", line) for peak in peaks for line in loaded_lengths(asked, peak)]
    made = element("div", [draw_make_up(tuple(_make_up(asked, peak) for peak in peaks)), *lanes])
    tables = [_draw_beside(asked, peak) for peak in peaks]
    beside = element("details", [element("summary", "what acts beside it then"), element("p", ONLY), *tables])
    both = element("div", [made, beside], {"class": "together"})
    return element("section", [head, both, draw_line_of(asked)])


def _draw_jump(asked: Asked, peak: PeakState) -> Markup:
    """A word that brings the page to the state of a peak."""
    told = "tension" if peak.value > 0 else "compression"
    attributes: dict[str, object] = {
        "type": "button",
        "data-peak": told,
        "data-under": peak.column,
        "data-arranged": 0 if peak.arrangement is None else int(np.sign(peak.value)),
        "data-force": f"{peak.value:.15g}",
    }
    if peak.standing:
        attributes |= {
            "data-way": peak.standing.direction,
            "data-position": f"{peak.standing.position:.15g}",
            "data-train": peak.standing.number,
        }
    return element("button", f"go to the peak of {told}", attributes)


def _make_up(asked: Asked, peak: PeakState) -> MakeUp:
    tell = asked.teller.member_force
    parts = tuple(Segment(one.label, one.force, tell(one.force), one.kind) for one in make_up(asked, peak))
    return MakeUp(_place(asked, peak), parts, peak.value, tell(peak.value), tell)


def _place(asked: Asked, peak: PeakState) -> str:
    under = words(asked.answers.combinations[peak.column].name)
    if peak.standing is None:
        return under
    if not any(part.placed and np.any(part.forces) for part in peak.state.parts):
        return f"{under}, whatever the train does"
    way = WAYS[0] if peak.standing.direction == "forward" else WAYS[1]
    return f"{under}, front at {asked.teller.position(peak.standing.position)} {way}"


def _draw_beside(asked: Asked, peak: PeakState) -> Markup:
    """Forces of all members at its two joints, and the reactions there, in the state of a peak."""
    truss = asked.answers.study.truss
    joints = (truss.members[asked.member].first, truss.members[asked.member].second)
    band = 1e-9 * float(asked.answers.forces.scales[peak.column])
    rows = [(f"{asked.teller.member_force(peak.value)} in {asked.name}", _place(asked, peak))]
    for joint in joints:
        for member in truss.members_at[joint]:
            force = float(peak.state.forces[member])
            told = asked.teller.member_force(force if abs(force) > band else 0.0)
            rows.append((f"at {asked.joint(joint)}: {truss.members[member].name}", told))
    for label, value in _reactions(asked, peak, joints):
        told = asked.teller.force(value) if abs(value) > band else "0"
        rows.append((label, f"−{told}" if value < -band else told))
    cells = [element("tr", [element("td", cell) for cell in row]) for row in rows]
    return element("table", cells)


def _reactions(asked: Asked, peak: PeakState, joints: tuple[int, int]) -> list[tuple[str, float]]:
    answers = asked.answers
    responses, load = answers.responses, answers.combinations[peak.column]
    factors = np.array([load.cases.get(name, 0.0) for name in responses.case_names])
    values = responses.reactions.cases @ factors
    for chord, weights in peak.state.weights.items():
        values = values + responses.reactions.influence[chord] @ weights
    found, row = [], 0
    for support in answers.study.truss.supports:
        for label in support.labels:
            if support.joint in joints:
                found.append((f"reaction at {asked.joint(support.joint)} along {label}", float(values[row])))
            row += 1
    return found
