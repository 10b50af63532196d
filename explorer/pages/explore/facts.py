"""The strip of facts on the whole truss."""

from __future__ import annotations

from explorer.markup import Markup, element, join
from explorer.store import Worked
from explorer.wording.numbers import listed, several


def show_facts(worked: Worked) -> Markup:
    """Draw what is true of the whole truss: counts, still members, how well it balances, notices."""
    answers = worked.answers
    truss, statics = answers.study.truss, answers.statics
    still = [m.name for m, is_still in zip(truss.members, answers.forces.still, strict=True) if is_still]
    needed = int(answers.removals.mechanism.sum())
    facts = [
        ("model", "pin joints, small movements, elastic"),
        ("members", str(len(truss.members))),
        ("joints", str(len(truss.joint_names))),
        ("static indeterminacy", str(statics.static_indeterminacy)),
        ("states of self-stress", str(statics.self_stress_states)),
        ("still members", f"{len(still)}: {listed(still, 12)}" if still else "none"),
        ("mechanism without it", f"{needed} of {several(len(truss.members), 'member', 'members')}"),
        ("largest imbalance of a joint", f"{answers.imbalance:.0e} of the largest force or load"),
    ]
    pairs = [join([element("dt", name), element("dd", value)]) for name, value in facts]
    parts = [element("dl", [element("div", [pair]) for pair in pairs], {"class": "facts"})]
    if answers.notices:
        notices = [element("li", notice) for notice in answers.notices]
        parts.append(element("ul", notices, {"class": "notices", "aria-label": "Notices"}))
    return join(parts)
