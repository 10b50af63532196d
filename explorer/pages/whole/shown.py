"""What the browser gets: the truss with its kinds, what is told of each member, one state of self-stress."""

from __future__ import annotations

from collections import Counter

import numpy as np

from explorer.drawing.bars import paint_force
from explorer.drawing.view import Direction
from explorer.pages.chosen import Data, units_of
from explorer.pages.truss_data import pack_truss
from explorer.pages.whole.drawn import HALF_STROKE, STROKES, draw_key, draw_plates
from explorer.pages.whole.listed import draw_list, draw_shares
from explorer.store import Worked
from explorer.wording.numbers import Teller
from explorer.wording.whole_truss import (
    KINDS,
    kinds_of,
    relative,
    share_by_group,
    tell_counts,
    tell_members,
    tell_partners,
    tell_sharing,
    tell_state,
)


def show_whole(worked: Worked, direction: Direction) -> dict[str, object]:
    """Return what the page needs of a study before anything is told in units."""
    answers = worked.answers
    kinds = kinds_of(answers)
    return {
        **pack_truss(worked),
        "kinds": [kind.key for kind in kinds],
        "opening": min(range(len(kinds)), key=lambda member: KINDS.index(kinds[member])),
        "letters": [kind.letter for kind in kinds],
        "strokes": [STROKES[kind.key] for kind in kinds],
        "half": HALF_STROKE,
        "states": len(answers.losses.sharing.states),
        "counts": tell_counts(kinds),
        "sharing": tell_sharing(answers),
        "legend": draw_key(Counter(kind.key for kind in kinds)),
        "shares": draw_shares(share_by_group(answers)),
        "plates": show_plates(worked, direction),
    }


def show_plates(worked: Worked, direction: Direction) -> dict[str, str]:
    """Return the drawing, seen from a direction."""
    answers = worked.answers
    return {**draw_plates(answers.study.truss, direction, bool(answers.losses.sharing.states))}


def show_told(worked: Worked, setting: Data | None) -> dict[str, object]:
    """Return what is told of each member in the reader's units, and the list of all."""
    answers = worked.answers
    told = tell_members(answers, Teller(units_of(worked, setting)))
    return {
        "key": worked.key,
        "told": [
            {
                "kind": one.kind.name,
                "group": one.group,
                "verdict": one.verdict,
                "partners": tell_partners(answers, one.member),
            }
            for one in told
        ],
        "list": draw_list(told),
    }


def show_state(worked: Worked, asked: Data) -> dict[str, object]:
    """Return how members look in one state of self-stress, and what is told of it."""
    sharing = worked.answers.losses.sharing
    state = min(max(int(asked.get("state", 0)), 0), len(sharing.states) - 1)
    forces = sharing.forces(state)
    bars = forces[: len(worked.answers.study.truss.members)]
    largest = float(np.abs(bars).max(initial=0.0))
    # The state knows exactly whom it passes through: all else bears nothing in it, rounding left out.
    inside = set(sharing.states[state])
    exact = [float(force) if member in inside else 0.0 for member, force in enumerate(bars)]
    paints = [paint_force(force, 0.0, largest) for force in exact]
    return {
        "key": worked.key,
        "state": state,
        "looks": [paint.look for paint in paints],
        "parts": [paint.fraction for paint in paints],
        "said": [_say(force) for force in exact],
        "caption": tell_state(worked.answers, state, forces.tolist()),
    }


def _say(force: float) -> str:
    return f"{'T' if force > 0 else 'C'} {relative(abs(force))}" if force else "0"
