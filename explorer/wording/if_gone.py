"""Question 4: what if it were gone?"""

from __future__ import annotations

import numpy as np

from explorer.wording.asked import Asked, Told, begin, words
from explorer.wording.grounds import Speaking, tell_ground, tell_hold, tell_verdict
from explorer.wording.numbers import MINUS, count, listed, significant
from solver.losses.stable import Stable
from solver.losses.whole import Loss, Turned
from solver.truss import AXES
from solver.verdicts.ground import Key

LOSS_CAUTION = (
    "Resistances stay as given after a loss, though unbraced lengths may have grown; the jolt of a sudden "
    "loss, the joints and what bends are not in it."
)
DRAWN = "Drawn: what others take over of a force in it, compression hollow."
NEARLY = 1e-3
"""A worst utilisation within this share of 1 is told to be near the limit."""

TITLES: dict[Key, str] = {
    "prop": "holds a joint in place",
    "mechanism": "geometry needs it",
    "overload": "others would exceed their resistance",
    "deflection": "the truss moves more without it",
    "reverses": "changes sign",
    "works": "works under loads",
    "weight": "own weight",
    "strain": "temperature, settlement, misfit",
    "pair": "another idle one relies on it",
    "series": "others would be needed",
    "takeover": "takes over",
    "coincidence": "zero by stiffnesses only",
    "lean": "wakes when loads lean",
    "duty": "declared duty",
}


def tell_if_gone(asked: Asked) -> Told:
    """Tell what follows from losing the member; what speaks for it stands in `list_grounds`."""
    speaking = Speaking(asked.answers, asked.teller, asked.member)
    loss = speaking.loss
    if loss.stable is None:
        sentences = [*_holds(speaking), begin(_mechanism(speaking)) + "."]
        sentences.append("Redundancy share 0: the geometry needs it.")
    else:
        sentences = [_stands(speaking, loss.stable), *_grows(speaking, loss.stable), *_turned(asked, loss)]
    return Told(_answer(asked, loss), tuple(sentences), _duties(asked), "who shares with it", _rows(asked))


def list_grounds(asked: Asked) -> list[tuple[str, str]]:
    """List what speaks for the member, the weightiest first: a few words, and a sentence with its number."""
    speaking = Speaking(asked.answers, asked.teller, asked.member)
    told = [(TITLES[ground.key], begin(tell_ground(speaking, ground)) + ".") for ground in speaking.grounds]
    if not told:
        told.append(("none found", tell_verdict(speaking)))
    return [*told, ("waking load", _waking(asked))]


def _answer(asked: Asked, loss: Loss) -> str:
    """The outcome in a few words."""
    joints = [asked.joint(joint) for joint in asked.answers.removals.moves[asked.member]]
    one = len(joints) == 1
    who = joints[0] if one else " and ".join(joints) if len(joints) == 2 else f"{len(joints)} joints"
    worst = loss.stable.worst if loss.stable else None
    name = asked.member_names((worst.member,))[0] if worst and worst.member >= 0 else ""
    return {
        "unpropped": f"{who} {'loses its' if one else 'lose their'} hold",
        "falls": f"{who} {'falls' if one else 'fall'}",
        "tips": f"{who} {'tips' if one else 'tip'}",
        "loose": f"{who} {'is' if one else 'are'} loose",
        "overload": f"{name} is overloaded",
        "carried": _weighty(asked) or "Within given resistances",
        "stands": _weighty(asked) or "Strength unproven",
    }[loss.outcome]


def _weighty(asked: Asked) -> str:
    """What speaks most against a loss that overloads nothing, in a few words, if there is more than work."""
    for ground in asked.answers.grounds[asked.member]:
        if ground.key == "deflection":
            return f"Moves {significant(ground.number)} times as far"
        if ground.key == "pair":
            names = asked.member_names(ground.members)
            return f"Then {names[0]} is needed" if len(names) == 1 else f"Then {len(names)} more are needed"
    return ""


def _mechanism(speaking: Speaking) -> str:
    ground = next(one for one in speaking.grounds if one.key == "mechanism")
    return tell_ground(speaking, ground)


def _holds(speaking: Speaking) -> list[str]:
    """What it holds in place, in short; the whole of it stands with its grounds."""
    found = [ground for ground in speaking.grounds if ground.key == "prop"]
    return [begin(tell_hold(speaking, ground)) + "." for ground in found] + _resists(speaking)


def _resists(speaking: Speaking) -> list[str]:
    """What the piece resists once it is longer unbraced, where a standard tells."""
    grown = speaking.answers.grown.get(speaking.member)
    if grown is None or grown.after.value is None or grown.after.value == grown.before.value:
        return []
    before = speaking.teller.force(grown.before.value) if grown.before.value else "what is not known"
    after, length = speaking.teller.force(grown.after.value), speaking.teller.length(grown.length)
    name = speaking.members((grown.bar,))
    told = f"unbraced over {length}, {name} resists {after} in compression in place of {before}"
    return [begin(f"{told}: {significant(grown.utilisation)} of it is asked") + "."]


def _stands(speaking: Speaking, stable: Stable) -> str:
    share = significant(float(speaking.answers.redundancy.shares[speaking.member]))
    told = f"Without it the truss stands (redundancy share {share}); "
    outcome = speaking.loss.outcome
    if outcome == "stands":
        already = [one.member for one in stable.over]
        why = "others lack resistances"
        if already and not stable.unproven:
            why = f"{speaking.members(tuple(already))} exceeded {_their(already)} resistance before"
        return f"{told}its strength is not proved: {why}.{_worst(speaking, stable)}"
    if outcome == "overload":
        new = tuple(one.member for one in stable.over if one.how != "already")
        told += f"{speaking.members(new)} would exceed {_their(new)} resistance."
        return told + _worst(speaking, stable)
    return f"{told}every other member keeps within its resistance.{_worst(speaking, stable)}"


def _their(members: list[int] | tuple[int, ...]) -> str:
    return "its" if len(members) == 1 else "their"


def _worst(speaking: Speaking, stable: Stable) -> str:
    worst = stable.worst
    if worst is None or worst.member < 0:
        return ""
    asked = words(speaking.answers.study.asked[worst.combination].name)
    near = ", near the limit" if abs(worst.utilisation - 1) <= NEARLY else ""
    name = speaking.members((worst.member,))
    return f" Worst is {name}, {significant(worst.utilisation)} of its resistance under {asked}{near}."


def _grows(speaking: Speaking, stable: Stable) -> list[str]:
    if stable.grown < 0:
        return ["No other peak changes for the worse.", DRAWN]
    name = speaking.members((stable.grown,))
    times = "" if np.isnan(stable.growth_ratio) else f" to {significant(stable.growth_ratio)} times"
    told = f"the peak of {name} grows most, by {speaking.teller.force(stable.growth)}{times}"
    more = [ground for ground in speaking.grounds if ground.key == "deflection"]
    for ground in more:
        times = significant(ground.number)
        told += f"; under {speaking.load(ground.under)} the largest movement becomes {times} times what it is"
    return [begin(told) + ".", DRAWN]


def _turned(asked: Asked, loss: Loss) -> list[str]:
    """Supports that lift off or reverse."""
    if not loss.turned:
        return []
    names = [
        f"{asked.joint(support.joint)} along {label}"
        for support in asked.answers.study.truss.supports
        for label in support.labels
    ]

    def told(one: Turned) -> str:
        return f"{names[one.row]} {one.how}"

    return [f"At the supports: {listed([told(one) for one in loss.turned], 3)}."]


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
        return f"Not in this model, and yet its work: it {'; it '.join(duties)}."
    return (
        "Not in this model: whatever else it does. That no duties are written down does not mean it has none."
    )


def _rows(asked: Asked) -> tuple[tuple[str, str], ...]:
    """What sharing there is: with whom, and who could not be spared then."""
    answers = asked.answers
    share = float(answers.redundancy.shares[asked.member])
    sharing = answers.losses.sharing
    others = asked.member_names(sharing.part_of(asked.member))
    nobody = "none" if sharing.parts is not None else "not looked for"
    rows = [
        ("redundancy share", significant(share) if share else "0"),
        ("shares with", listed(others) or nobody),
        ("needed then", listed(asked.member_names(sharing.in_series(asked.member))) or "none"),
    ]
    moves = [asked.joint(joint) for joint in answers.removals.moves[asked.member]]
    rows.append(("joints that move", " ".join(moves) or "none"))
    states = answers.statics.self_stress_states
    return (*rows, ("states of self-stress", count(states)))
