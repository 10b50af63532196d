"""The end of a walk: the truss that is left does the same under this load, and what else it would do."""

from __future__ import annotations

import numpy as np

from explorer.markup import Markup, element, join
from explorer.pages.learn.setting import Setting
from explorer.pages.learn.steps import Step
from explorer.pages.proofs.loss import draw_movement_of
from explorer.pages.proofs.names import keep_names
from explorer.wording.asked import begin
from explorer.wording.numbers import count, listed, several
from solver.leaving_out import LeftOut, leave_out
from solver.tolerances import NOISE

KIND_WORDS = {
    "joint inspection": "by joints alone",
    "known reaction": "with the reactions known",
    "cut": "by a cut",
    "virtual work": "by virtual work",
    "indeterminate": "beyond equilibrium",
}


def show_ending(setting: Setting, steps: list[Step], unseen: int = 0) -> dict[str, object]:
    """Return the end as the page shows it; `unseen`: steps of the walk that were left out."""
    zeros = tuple(setting.zeros)
    left = leave_out(setting.worked.answers.reasoner.stiffness, setting.told.state, zeros)
    total = len(setting.reasons)
    return {
        "kind": "end",
        "joint": -1,
        "part": [],
        "members": [],
        "label": "what is left",
        "question": _title(setting, len(zeros), total),
        "where": begin(_by_kind(steps)) + (f"; {unseen} steps more under “other loads”" if unseen else ""),
        "picture": _movement(setting, left),
        "picture_title": "If they were really gone",
        "says": join([element("p", _same(setting, left), {"class": "say"}), _rows(setting, left)]),
        "beside": _caution(setting, left),
    }


def _acts(setting: Setting) -> bool:
    """Whether there is any load, temperature, misfit or settlement."""
    state = setting.told.state
    return state.strains.any or bool(state.loaded.any())


def _title(setting: Setting, zeros: int, total: int) -> str:
    if not zeros:
        return "Every member works under this load"
    if not _acts(setting):
        return "Without a load no member bears anything"
    if zeros == total:
        return "No member bears anything under this load"
    return f"{begin(count(total - zeros))} of {total} members carry this load"


def _by_kind(steps: list[Step]) -> str:
    parts = []
    for kind, words in KIND_WORDS.items():
        number = sum(len(step.members) for step in steps if step.kind == kind)
        if number:
            parts.append(f"{count(number)} found {words}")
    return ", ".join(parts)


def _same(setting: Setting, left: LeftOut) -> str:
    if not left.members:
        return "Nothing fades here: under another load it may be otherwise."
    if not _acts(setting):
        return "Nothing acts here, so every member fades; which of them work is for the loads to say."
    if len(left.members) == len(setting.reasons):
        return "Every member fades: no member has to work for what acts here."
    if left.forces is None:
        return (
            "Without the faded members the others bear the same, for nothing passes through those. "
            "This truss is too large to be solved a second time here."
        )
    return (
        "Under this load, and this one alone, the others bear the same without the faded members: what is "
        f"left was solved anew, and {_tell_difference(_difference(setting, left))}."
    )


def _tell_difference(share: float) -> str:
    """Tell the largest difference, a share of the largest force."""
    if not share:
        return "no force differs in any digit"
    if share <= NOISE:
        return f"the largest difference is no more than rounding ({share:.0e} of the largest force)"
    return f"the largest difference is {share:.0e} of the largest force"


def _difference(setting: Setting, left: LeftOut) -> float:
    assert left.forces is not None
    largest = float(np.abs(setting.told.state.forces).max(initial=0.0)) or 1.0
    return float(np.abs(left.forces - setting.told.state.forces).max(initial=0.0)) / largest


def _rows(setting: Setting, left: LeftOut) -> Markup:
    names = [setting.told.member(member) for member in left.members]
    rows = [("faded", listed(names, most=12) or "none"), ("free movements without them", str(left.movements))]
    if left.moves:
        rows.append(("joints that could move", listed([setting.told.joint(j) for j in left.moves], most=12)))
    items = [element("li", [element("b", name), element("span", keep_names(text))]) for name, text in rows]
    return element("ul", items, {"class": "because"})


def _movement(setting: Setting, left: LeftOut) -> Markup:
    if left.movement is None or not left.members:
        return element("p", _no_picture(setting, left), {"class": "none"})
    picture = draw_movement_of(setting.worked.answers.study.truss, left.members, left.movement)
    return join([picture, element("button", "show it move", {"type": "button", "data-do": "move"})])


def _no_picture(setting: Setting, left: LeftOut) -> str:
    if not left.movements:
        return "Nothing moves."
    if len(left.members) == len(setting.reasons):
        return "No member would be left: every joint that is not held could go anywhere."
    return "This truss is too large for its movement to be drawn here."


def _drivers(setting: Setting) -> str:
    """What drives the movements of the truss without its zeros, and what may."""
    if not _acts(setting):
        return "Without a load nothing drives them; a load may."
    return "This load does not drive them; another may, and so may any crookedness of a compressed chord."


def _caution(setting: Setting, left: LeftOut) -> Markup:
    parts = [
        element("h2", ["The other side of it"]),
        element("p", "Zero now does not mean removable.", {"class": "say"}),
    ]
    if left.movements:
        many = several(left.movements, "independent movement", "independent movements")
        parts.append(
            element(
                "p",
                f"Really taken out, they would leave a mechanism with {many}. {_drivers(setting)}",
            )
        )
    elif left.members:
        parts.append(
            element(
                "p",
                "Without them the truss is no mechanism. That says nothing about other loads, about "
                "compressed chords that they hold, or about what happens when another member is lost.",
            )
        )
    parts.append(
        element(
            "p",
            "An aid to thought, not a check: local codes and a licensed engineer decide.",
            {"class": "caution"},
        )
    )
    return join(parts)
