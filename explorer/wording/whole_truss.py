"""The whole truss in words: what cannot be spared, what props, what shares its load and with whom."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from explorer.wording.asked import begin
from explorer.wording.grounds import Speaking, tell_verdict
from explorer.wording.numbers import Teller, count, listed, several, significant, trimmed
from solver.answers import Answers
from solver.losses.sharing import MOST_STATES

Key = Literal["prop", "mechanism", "overload", "unproven", "carried"]
ZERO_NOW = "Zero now does not mean removable."


@dataclass(frozen=True)
class Kind:
    """What a member is to the truss: its key, the letter it has in the drawing, a name, what that means."""

    key: Key
    letter: str
    name: str
    means: str


PROP = Kind("prop", "P", "prop", "Without it compression carries away a joint that it holds in place.")
NEEDED = Kind("mechanism", "M", "cannot be spared", "Without it the truss is a mechanism.")
OVERLOAD = Kind(
    "overload",
    "E",
    "shares, overload without it",
    "Without it the truss stands, and another member exceeds its resistance.",
)
UNPROVEN = Kind(
    "unproven",
    "U",
    "shares, strength unproven",
    "Without it the truss stands; whether the others are strong enough this study does not show.",
)
CARRIED = Kind(
    "carried",
    "S",
    "shares, the others carry",
    "Without it the others keep within their resistances as this study gives them. That is a question for "
    "the engineer, not a proposal.",
)
KINDS = (PROP, NEEDED, OVERLOAD, UNPROVEN, CARRIED)
"""In their order on the page; letters other than T, C and 0, which are those of forces."""

OF_STABLE = {"overload": OVERLOAD, "stands": UNPROVEN, "carried": CARRIED}


def kind_of(answers: Answers, member: int) -> Kind:
    """Return what a member (index) is: a prop before all else, then what follows from losing it."""
    outcome, grounds = answers.losses.each[member].outcome, answers.grounds[member]
    if outcome == "unpropped" or (grounds and grounds[0].key == "prop"):
        return PROP
    return OF_STABLE.get(outcome, NEEDED)


def kinds_of(answers: Answers) -> tuple[Kind, ...]:
    """Return what each member is, in the file's order."""
    return tuple(kind_of(answers, member) for member in range(len(answers.losses.each)))


def tell_counts(kinds: Sequence[Kind]) -> str:
    """Return one sentence with how many members are what, the gravest first.

    >>> print(tell_counts([PROP, NEEDED, NEEDED]))
    None of three members can be spared; one of them holds a compressed joint.
    >>> print(tell_counts([CARRIED, OVERLOAD, OVERLOAD]))
    Losing any one of two of three members would overload others; without one more this study shows no \
overload.
    """
    found, size = Counter(kind.key for kind in kinds), len(kinds)
    props = found["prop"]
    needed = props + found["mechanism"]
    hold = f"{count(props)} of them {'holds' if props == 1 else 'hold'} a compressed joint" if props else ""
    if needed == size:
        return begin("; ".join(filter(None, [f"none of {_members(size)} can be spared", hold]))) + "."
    told = []
    if needed:
        told.append(", ".join(filter(None, [f"{count(needed)} of {_members(size)} cannot be spared", hold])))
    for key, clause in IF_LOST:
        if found[key]:
            told.append(clause.format(_any_of(found[key], "" if told else f" of {_members(size)}")))
    return begin("; ".join(told)) + "."


IF_LOST: tuple[tuple[Key, str], ...] = (
    ("overload", "losing {} would overload others"),
    ("unproven", "strength without {} is unproven"),
    ("carried", "without {} this study shows no overload"),
)
"""What is told of members that share their load, the gravest first."""


def _members(size: int) -> str:
    return several(size, "member", "members")


def _any_of(some: int, whole: str) -> str:
    """So many of the whole, or so many more where some were told before."""
    one = "one" if some == 1 else f"any one of {count(some)}"
    return f"{one}{whole or ' more'}"


@dataclass(frozen=True)
class ToldMember:
    """A member (index) as the list has it."""

    member: int
    name: str
    group: str
    kind: Kind
    verdict: str


def tell_members(answers: Answers, teller: Teller) -> tuple[ToldMember, ...]:
    """Tell every member, in the file's order."""
    members = answers.study.truss.members
    return tuple(
        ToldMember(
            index, member.name, member.group.name, kind, tell_verdict(Speaking(answers, teller, index))
        )
        for index, (member, kind) in enumerate(zip(members, kinds_of(answers), strict=True))
    )


@dataclass(frozen=True)
class GroupShare:
    """A group of members: how many there are, and the sum of their redundancy shares."""

    group: str
    members: int
    share: float


def share_by_group(answers: Answers) -> tuple[GroupShare, ...]:
    """Sum redundancy shares by group, in the file's order; together they are the static indeterminacy."""
    sums: dict[str, GroupShare] = {}
    shares = answers.redundancy.shares.tolist()
    for member, share in zip(answers.study.truss.members, shares, strict=True):
        name = member.group.name
        known = sums.get(name, GroupShare(name, 0, 0.0))
        sums[name] = GroupShare(name, known.members + 1, known.share + share)
    return tuple(sums.values())


def tell_sharing(answers: Answers) -> str:
    """Tell how far loads can be shared at all."""
    states = answers.statics.self_stress_states
    if not states:
        return "Statically determinate: no state of self-stress, every force has one way only."
    told = f"Static indeterminacy {answers.statics.static_indeterminacy}: "
    told += several(states, "independent state", "independent states") + " of self-stress."
    if states > MOST_STATES:
        told += f" More than {MOST_STATES} are not taken apart here."
    return told


def tell_state(answers: Answers, state: int, forces: Sequence[float]) -> str:
    """Tell one state of self-stress, forces (members + held,) relative to that of its own member."""
    members = answers.study.truss.members
    chosen = answers.losses.sharing.states[state]
    inside = [one for one in chosen if one < len(members)]
    held = len(chosen) - len(inside)
    told = f"State {state + 1} of {len(answers.losses.sharing.states)}: "
    told += several(len(inside), "member", "members")
    if held:
        told += f" and {several(held, 'support reaction', 'support reactions')}"
    told += " balance one another without any load."
    if inside:
        sizes = [abs(forces[one]) for one in inside]
        # Its own member stands first: the one that no other state passes through.
        own = members[inside[0]].name
        told += f" Forces relative to {own}, from {relative(min(sizes))} to {relative(max(sizes))}."
    return f"{told} With every sign turned it is a state as well."


def tell_partners(answers: Answers, member: int) -> str:
    """Tell with whom a member shares and how much; nothing of one that shares with none."""
    names = [answers.study.truss.members[other].name for other in answers.losses.sharing.part_of(member)]
    if not names:
        return ""
    share = significant(float(answers.redundancy.shares[member]))
    return f"Redundancy share {share}; it shares with {listed(names, 8)}."


def relative(size: float) -> str:
    """Write a relative force: two digits, no idle zeros.

    >>> relative(1.0), relative(0.5999999), relative(0.625)
    ('1', '0.6', '0.62')
    """
    return trimmed(significant(round(size, 9), 2))
