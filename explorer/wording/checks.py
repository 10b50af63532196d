"""Checks in words: how much of a limit is asked, whose limit it is, and under what."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from math import isfinite, isnan

from explorer.wording.asked import WAYS, Asked, words
from explorer.wording.numbers import NO_BREAK, listed, significant, trimmed
from explorer.wording.steps import LONG, PER_LENGTH, Line, tell_number, tell_step
from solver.answers import Answers
from solver.checks.check import Check, Key
from solver.resistance.directions import SAME_RADIUS
from solver.resistance.given import GIVES_LESS
from solver.resistance.steps import Quantity, Step
from solver.truss import AXES

RESISTED = ("tension", "compression", "prop force", "another's loss")
"""Checks against what a member resists: without one of these nothing is known of how hard it works."""

PROPS: tuple[Key, ...] = ("prop force", "prop stiffness")

FIRM = "held firmly by a support"
STRETCHED = "common practice"
"""How a rule begins to say that its clause does not literally cover a use."""

OWN_PEAKS = "each bar at its own peak"
"""What a prop is held against: peaks that need not occur together."""


def tell_ratio(value: float) -> str:
    """Write a utilisation with two decimals; what is not 1 is never rounded onto it, something never to 0.

    >>> [tell_ratio(value) for value in (0.726, 0.0, 0.0003, 0.9996, 1.0, 1.0004, 12.345)]
    ['0.73', '0', 'under 0.01', '0.9996', '1.00', '1.0004', '12.35']
    """
    if isnan(value):
        return "not known"
    if value == 0:
        return "0"
    if value < 0.005:
        return "under 0.01"
    digits = 2
    while float(f"{value:.{digits}f}") == 1 and abs(value - 1) > 1e-9 and digits < 10:
        digits += 1
    return f"{value:.{digits}f}"


def utilisation_of(answers: Answers, member: int) -> float:
    """Return how much of what is known is asked of a member; not a number where its strength is not known.

    A limit that is exceeded already is so whatever else is not known.
    """
    hardest = answers.checks.hardest(member)
    if hardest is None or (hardest.holds and has_unknown_strength(answers, member)):
        return float("nan")
    return hardest.utilisation


def has_unknown_strength(answers: Answers, member: int) -> bool:
    """Whether something is asked of a member's strength that nobody knows."""
    return any(check.key in RESISTED and isnan(check.utilisation) for check in answers.checks.each[member])


def kind_of(check: Check) -> str:
    """The kind of quantity in which a check's numbers are told and written, as unit systems have it."""
    return "line_load" if check.key == "prop stiffness" else check.kind


def tell_amount(asked: Asked, check: Check, value: float) -> str:
    """Write a demand or a limit with its unit."""
    kind = kind_of(check)
    if isnan(value):
        return "not known"
    if not isfinite(value):
        return FIRM
    if kind == "none":
        return trimmed(significant(value))
    unit = asked.teller.units.label(kind)
    if abs(asked.teller.value(kind, value)) >= LONG:
        return f"{tell_number(asked.teller.value(kind, value))}{NO_BREAK}{unit}"
    return asked.teller.tell(kind, value) if value else f"0{NO_BREAK}{unit}"


def tell_by(check: Check) -> str:
    """Tell whose rule or limit it is; a limit that a rule's name ends with is told beside it already."""
    named = {
        "given with the group": "as given with the group",
        "the study": "set by the study",
        "": "by no standard",
    }
    return named.get(check.by, f"by {check.by.partition(', L/r')[0]}")


def tell_place(asked: Asked, check: Check) -> str:
    """Tell under which combination a demand governs, and where its train stands; nothing where in none."""
    if check.combination < 0:
        return ""
    load = asked.answers.study.asked[check.combination]
    under = f" under {words(load.name)}"
    if check.direction < 0:
        return under
    if check.key == "deflection":
        return f"{under}, front at {asked.teller.position(check.position)} {WAYS[check.direction]}"
    return f"{under}, {asked.front(load, check.direction, check.position, check.others)}"


def tell_check(asked: Asked, check: Check) -> str:
    """Tell a check as a clause without a full stop: demand, limit, under what, by whose rule."""
    return CLAUSES.get(check.key, _force)(asked, check)


def list_lines(asked: Asked, check: Check) -> list[Line]:
    """The steps of a check; of a prop's force also what of it this member takes, and with what else."""
    if check.key == "prop stiffness":
        return [tell_step(step, asked.teller) for step in _to_stiffness(check)]
    lines = [tell_step(step, asked.teller) for step in check.steps]
    across = next((step.result for step in reversed(check.steps) if step.result.kind == "force"), None)
    if check.key != "prop force" or across is None or not across.value:
        return lines
    share = Quantity("s", check.demand / across.value)
    taken = Quantity("N_prop", check.demand, "force")
    formula = f"N_prop = s {across.symbol}, s: what the member takes of a force across at the joint"
    steps = [Step("stiffness of the truss", formula, (share, across), taken)]
    beside = find_beside(asked.checks, check)
    if beside is not None:
        given = (Quantity("N_own", beside.demand, "force"), taken, Quantity("N_R", beside.limit, "force"))
        ratio = Quantity("utilisation", check.utilisation)
        steps.append(Step("both together", "utilisation = (N_own + N_prop) / N_R", given, ratio, beside.key))
    return [*lines, *(tell_step(step, asked.teller) for step in steps)]


def _to_stiffness(check: Check) -> list[Step]:
    """The steps to the stiffness asked, and what the truss gives; those from there to a force not."""
    last = max(
        (n for n, step in enumerate(check.steps) if step.result.symbol.endswith(PER_LENGTH)), default=-1
    )
    steps = list(check.steps[: last + 1])
    if last >= 0 and isfinite(check.limit):
        given = (steps[-1].result, Quantity(f"β_truss{PER_LENGTH}", check.limit))
        formula = f"utilisation = {steps[-1].result.symbol.removesuffix(PER_LENGTH)} / β_truss"
        steps.append(
            Step("stiffness of the truss", formula, given, Quantity("utilisation", check.utilisation))
        )
    return steps


def list_notes(asked: Asked, check: Check) -> list[tuple[str, str]]:
    """List what stands beside a check's number: why it is not known, what it takes, what it leaves out."""
    notes = [("not known", text) for text in check.refused]
    if check.key in PROPS:
        notes.append((OWN_PEAKS, _peaks_of_bars(asked, check)))
    for text in check.unchecked:
        notes.append(("beside it" if is_beside(text) else "not in it", text))
    return list(dict.fromkeys(notes))


def is_beside(text: str) -> bool:
    """Whether a text beside a number tells how it was come by, and not what is left out of it."""
    return text.startswith((STRETCHED, SAME_RADIUS)) or GIVES_LESS in text


def _peaks_of_bars(asked: Asked, prop: Check) -> str:
    """The peak compression of each bar beside the joint held, and under what."""
    told = []
    for bar in prop.others:
        peak = next(one for one in asked.answers.checks.each[bar] if one.key == "compression")
        beside = replace(asked, member=bar)
        amount = tell_amount(asked, peak, peak.demand) if peak.demand else "not compressed"
        told.append(f"{beside.name} {amount}{tell_place(beside, peak)}")
    line = "; the other bars of the line likewise" if _is_in_longer_line(asked, prop) else ""
    return f"{'; '.join(told)}{line}; these need not occur together"


def _is_in_longer_line(asked: Asked, prop: Check) -> bool:
    """Whether the bars beside the joint held belong to a declared piece of more bars than these."""
    truss = asked.answers.study.truss
    ends = {joint for bar in prop.others for joint in truss.ends[bar].tolist()}
    return any(ends < set(piece.joints) for piece in truss.pieces)


def is_stretched(check: Check) -> bool:
    """Whether the clause of a check was written for another use."""
    return any(text.startswith(STRETCHED) for text in check.unchecked)


def _amounts(asked: Asked, check: Check) -> tuple[str, str]:
    return tell_amount(asked, check, check.demand), tell_amount(asked, check, check.limit)


def _force(asked: Asked, check: Check) -> str:
    demand, limit = _amounts(asked, check)
    if isnan(check.limit):
        return f"{demand}{tell_place(asked, check)}, and what it resists is not known"
    return f"{demand} of {limit}{tell_place(asked, check)}, {tell_by(check)}"


def _slenderness(asked: Asked, check: Check) -> str:
    demand, limit = _amounts(asked, check)
    return f"length over radius of gyration {demand}, at most {limit}, {tell_by(check)}"


def _bars(asked: Asked, check: Check) -> str:
    return listed(asked.member_names(check.others))


def _prop_force(asked: Asked, check: Check) -> str:
    where = f"holding {asked.joint(check.joint)} across {_bars(asked, check)}"
    return f"{where}, {tell_prop(asked, check)}, {tell_by(check)}"


def tell_prop(asked: Asked, check: Check) -> str:
    """Tell what a prop's utilisation is made of: its force as a prop and its own, of what it resists."""
    demand, beside = tell_amount(asked, check, check.demand), find_beside(asked.checks, check)
    if beside is None:
        return f"{demand} for that, and what it resists is not known"
    own, limit = _amounts(asked, beside)
    own = f"{own} of its own" if beside.demand else "no force of its own"
    return f"{demand} for that and {own}, of {limit} in {beside.key}"


def find_beside(checks: Sequence[Check], prop: Check) -> Check | None:
    """Find among a member's checks the tension or compression to which a prop's force adds most.

    None of another check than a prop's force, and where a resistance is not known.
    """
    own = [check for check in checks if check.key in ("tension", "compression")]
    if prop.key != "prop force" or isnan(prop.utilisation) or any(isnan(check.limit) for check in own):
        return None
    return max(own, key=lambda check: (check.demand + prop.demand) / check.limit, default=None)


def _prop_stiffness(asked: Asked, check: Check) -> str:
    demand, limit = _amounts(asked, check)
    where = f"{asked.joint(check.joint)} across {_bars(asked, check)}"
    given = f"is {FIRM}" if limit == FIRM else f"is held by {limit}"
    return f"{where} {given}, {demand} asked, {tell_by(check)}"


def _after_loss(asked: Asked, check: Check) -> str:
    demand, limit = _amounts(asked, check)
    asks = asked.answers.study.rules.limits.after_loss
    whose = "as the study asks" if asks else "which this study does not ask for"
    return f"once {_bars(asked, check)} is lost {demand} of {limit}{tell_place(asked, check)}, {whose}"


def _deflection(asked: Asked, check: Check) -> str:
    demand, limit = _amounts(asked, check)
    moves = f"{asked.joint(check.joint)} moves {demand} along {AXES[check.axis]} of {limit}"
    return f"{moves}{tell_place(asked, check)}, {tell_by(check)}"


def _depth(asked: Asked, check: Check) -> str:
    demand, limit = _amounts(asked, check)
    return f"length over depth {demand}, at least {limit}, {tell_by(check)}"


CLAUSES: dict[str, Callable[[Asked, Check], str]] = {
    "slenderness in tension": _slenderness,
    "slenderness in compression": _slenderness,
    "prop force": _prop_force,
    "prop stiffness": _prop_stiffness,
    "another's loss": _after_loss,
    "deflection": _deflection,
    "depth": _depth,
}
"""How each key is told; the others as a force against a resistance."""
