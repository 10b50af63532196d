"""Question 4: what if it were gone?"""

from __future__ import annotations

import numpy as np

from explorer.wording.asked import Asked, Told
from explorer.wording.numbers import MINUS, listed, significant
from solver.truss import AXES

LOSS_CAUTION = "Strength after a loss is not worked out here."


def tell_if_gone(asked: Asked) -> Told:
    """Tell whether the truss without the member is a mechanism, what moves, and which load wakes it."""
    removals = asked.answers.removals
    share = float(asked.answers.redundancy.shares[asked.member])
    moving = [asked.joint(joint) for joint in removals.moves[asked.member]]
    if removals.mechanism[asked.member]:
        answer = _what_moves(moving)
        verb = "moves" if len(moving) == 1 else "move"
        sentence = (
            f"Without it the truss is a mechanism: {listed(moving)} {verb}. "
            "Redundancy share 0: the geometry needs it."
        )
    else:
        answer = "Strength unproven"
        sentence = (
            f"Without it the truss is no mechanism; its redundancy share is {significant(share)}. "
            "That says nothing about whether the others could bear it."
        )
    return Told(answer, (sentence, _waking(asked)), _duties(asked), "what moves", _rows(asked, moving))


def _what_moves(moving: list[str]) -> str:
    if len(moving) == 1:
        return f"{moving[0]} moves"
    if len(moving) == 2:
        return f"{moving[0]} and {moving[1]} move"
    return f"{len(moving)} joints move"


def _waking(asked: Asked) -> str:
    redundancy = asked.answers.redundancy
    joint = int(redundancy.waking_joints[asked.member])
    if joint < 0:
        return "No joint load reaches it: it is held at both ends."
    force = float(redundancy.waking_forces[asked.member])
    unit = asked.teller.units.label("force")
    way = describe_direction(redundancy.waking_directions[asked.member])
    most = f"T {significant(force)} {unit} for each {unit}"
    return f"A load at {asked.joint(joint)} {way} puts most tension into it (its waking load): {most}."


def describe_direction(vector: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> str:
    """Tell a direction in words where it lies along an axis, else by its components.

    >>> describe_direction(np.array([0.0, -1.0])), describe_direction(np.array([0.6, 0.8]))
    ('straight down', 'along (x 0.600, y 0.800)')
    >>> describe_direction(np.array([-1.0, 0.0])).replace(MINUS, "minus ")
    'along minus x'
    """
    size = np.abs(vector)
    axis = int(size.argmax())
    if np.delete(size, axis).max(initial=0.0) < 1e-9:
        if axis == len(vector) - 1:
            return "straight up" if vector[axis] > 0 else "straight down"
        return f"along {'+' if vector[axis] > 0 else MINUS}{AXES[axis]}"
    tidy = np.where(size < 1e-9, 0.0, vector)
    parts = [f"{axis} {significant(float(part))}" for axis, part in zip(AXES, tidy, strict=False)]
    return f"along ({', '.join(parts)})".replace("-", MINUS)


def _duties(asked: Asked) -> str:
    duties = asked.answers.study.truss.members[asked.member].group.duties
    if duties:
        return f"Not in this model, and yet its work: it {'; it '.join(duties)}. {LOSS_CAUTION}"
    return (
        "Not in this model: whatever else it does. That no duties are written down for it does not mean "
        f"that it has none. {LOSS_CAUTION}"
    )


def _rows(asked: Asked, moving: list[str]) -> tuple[tuple[str, ...], ...]:
    share = float(asked.answers.redundancy.shares[asked.member])
    rows = [
        ("mechanism without it", "yes" if moving else "no"),
        ("joints that move", " ".join(moving) or "none"),
        ("redundancy share", significant(share) if share else "0"),
        ("static indeterminacy of the truss", str(asked.answers.statics.static_indeterminacy)),
    ]
    return tuple(rows)
