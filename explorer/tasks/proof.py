"""Whether what no joint shows can be shown with pencil and paper: by a known reaction, or by a cut."""

from __future__ import annotations

from solver.answers import answer, give_reasons
from solver.reasons.reason import CUT, KNOWN_REACTION
from solver.study import Study


def shows_on_the_whole(study: Study) -> bool:
    """Tell whether, in the only case of a study that stands, a reaction or a cut shows a member to be zero.

    Without that a task would ask for a zero of which only a movement of the whole truss tells.
    """
    (reasoned,) = give_reasons(answer(study))
    return any(reason.kind in (KNOWN_REACTION, CUT) for reason in reasoned.reasons)
