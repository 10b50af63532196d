"""Grounds in words: one clause each, to stand alone or together in a verdict."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from explorer.wording.asked import WAYS, begin, words
from explorer.wording.numbers import Teller, count, listed, percent, significant
from solver.answers import Answers
from solver.losses.mechanisms import NEAR, Mechanism, Push
from solver.losses.whole import Loss
from solver.tolerances import TIE
from solver.truss import AXES
from solver.verdicts.ground import Ground, Key

NAMED = 4
"""Members or joints that a sentence names; of more it says how many."""

NONE = "This study gives no reason for it."
NOT_STUDIED = (
    "Not studied: erection, repair, loads beyond the file's, bending between joints, the joints themselves, "
    "fatigue, vibration, accident, duties that nobody wrote down."
)
DECIDES = "The engineer decides."


@dataclass(frozen=True)
class Speaking:
    """A member (index) of worked answers, told in a reader's units."""

    answers: Answers
    teller: Teller
    member: int

    @property
    def loss(self) -> Loss:
        """What follows from losing it."""
        return self.answers.losses.each[self.member]

    @property
    def grounds(self) -> tuple[Ground, ...]:
        """What speaks for it, the weightiest first."""
        return self.answers.grounds[self.member]

    def members(self, indices: tuple[int, ...]) -> str:
        """Names of members, the first few."""
        return listed([self.answers.study.truss.members[index].name for index in indices], NAMED)

    def joints(self, indices: tuple[int, ...]) -> str:
        """Names of joints, or how many of all."""
        names = [self.answers.study.truss.joint_names[index] for index in indices]
        if len(names) <= NAMED:
            return listed(names)
        free = len(self.answers.study.truss.joint_names)
        return f"{len(names)} of {free} joints"

    def load(self, column: int) -> str:
        """The load as words."""
        return words(self.answers.combinations[column].name)

    def place(self, push: Push) -> str:
        """A load and where its train stands, as words."""
        if push.standing is None:
            return self.load(push.column)
        way = WAYS[0] if push.standing.direction == "forward" else WAYS[1]
        at = self.teller.position(push.standing.position)
        return f"{self.load(push.column)} (front at {at} {way})"


def tell_verdict(speaking: Speaking) -> str:
    """Return one sentence from the two weightiest grounds; without any, that, and what was not studied."""
    clauses = [tell_ground(speaking, ground) for ground in speaking.grounds[:2]]
    if not clauses:
        return f"{NONE} {NOT_STUDIED} {DECIDES}"
    return begin("; ".join(clauses)) + "."


def tell_ground(speaking: Speaking, ground: Ground) -> str:
    """Return a ground as a clause without a full stop."""
    return CLAUSES[ground.key](speaking, ground)


def _prop(speaking: Speaking, ground: Ground) -> str:
    bar = speaking.answers.study.truss.members[ground.members[0]].name
    force = speaking.teller.member_force(ground.number)
    found = speaking.loss.mechanism
    assert found is not None and found.carried_away is not None
    place = speaking.place(found.carried_away)
    told = f"it holds {speaking.joints(ground.joints)} in place, where {bar} bears {force} under {place}"
    if found.unpropped is None:
        return f"{told}: without it nothing brings {'the joint' if len(ground.joints) == 1 else 'them'} back"
    before, after = (speaking.teller.length(size) for size in (found.unpropped.before, found.unpropped.after))
    return f"{told}: without it {before} unbraced become {after}, {_buckling(found)}"


def tell_hold(speaking: Speaking, ground: Ground) -> str:
    """Tell in short what a prop holds, and how near to buckling that is without it."""
    found = speaking.loss.mechanism
    assert found is not None and found.carried_away is not None
    told = f"it holds {speaking.joints(ground.joints)} in place"
    under = speaking.place(found.carried_away)
    if found.unpropped is None or found.critical is None or not found.critical.known:
        return f"{told}: without it compression under {under} carries {_them(ground)} away"
    factor = significant(found.critical.unheld)
    buckles = ", below 1: it buckles" if found.critical.unheld < 1 else ", at most"
    name = words(found.unpropped.piece.name)
    told += f": without it the piece {name}, as one beam, bears {factor} times its forces under {under}"
    return told + buckles


def _them(ground: Ground) -> str:
    return "it" if len(ground.joints) == 1 else "them"


def _buckling(found: Mechanism) -> str:
    """How near the piece is to buckling then; never a bare factor."""
    assert found.unpropped is not None
    longer = found.unpropped.after / found.unpropped.before
    square = f"{significant(longer**2)} by the square of the lengths"
    critical = found.critical
    if critical is None:
        return f"and the critical load falls by a factor of up to {square}"
    falls = f"falls by a factor {significant(critical.ratio)} as one beam under these forces"
    told = f"and the critical load {falls}, {square}"
    if not critical.known:
        return told
    squared = critical.held / longer**2
    factors = f"from {significant(critical.held)} to {significant(critical.unheld)} times these forces"
    told += f": {factors}, or {significant(squared)} by the square"
    if critical.unheld < 1:
        return f"{told}; below 1 it buckles"
    return f"{told}; these are ideal elastic loads on rigid props, and a strut's resistance is less"


def _mechanism(speaking: Speaking, ground: Ground) -> str:
    found = speaking.loss.mechanism
    assert found is not None
    moves = "moves" if len(ground.joints) == 1 else "move"
    lost = "without it the truss is a mechanism"
    if found.unpropped:
        lost = "as a pin-jointed truss it is a mechanism without it"
    told = f"{lost}: {speaking.joints(ground.joints)} {moves}"
    if found.driven:
        near = " (only just)" if found.driven.share < NEAR else ""
        work = speaking.teller.force(found.driven.value)
        most = "" if len(ground.joints) == 1 else f" on {_farthest(speaking, found)}, which moves most"
        told = f"{told}, pushed by {speaking.place(found.driven)} as by {work}{most}{near}"
        if found.unpushed:
            told += (
                f"; under {speaking.place(found.unpushed)}, which does not push, compression carries it away"
            )
        return told
    if found.carried_away:
        place = speaking.place(found.carried_away)
        return f"{told}; no load pushes, compression under {place} carries it away"
    return f"{told}, though nothing in this study pushes or carries it away"


def _farthest(speaking: Speaking, found: Mechanism) -> str:
    """The joint that moves most; of those that move alike the first in the file's order."""
    sizes = np.linalg.norm(found.movement, axis=1)
    return speaking.answers.study.truss.joint_names[int((sizes >= sizes.max() * (1 - TIE)).argmax())]


def _overload(speaking: Speaking, ground: Ground) -> str:
    verb = "exceeds its resistance" if len(ground.members) == 1 else "exceed their resistances"
    most = "" if len(ground.members) == 1 else "the worst "
    told = f"without it {speaking.members(ground.members)} {verb}"
    under = f" under {speaking.load(ground.under)}" if ground.under >= 0 else ""
    return f"{told}, {most}{significant(ground.number)} times{under}"


def _deflection(speaking: Speaking, ground: Ground) -> str:
    assert speaking.loss.stable is not None and speaking.loss.stable.moved is not None
    moved, truss = speaking.loss.stable.moved, speaking.answers.study.truss
    before, after = (speaking.teller.tell("small_length", size) for size in (moved.before, moved.after))
    joint, axis = divmod(moved.row, truss.dimension)
    where = f"{truss.joint_names[joint]} along {AXES[axis]}"
    told = f"without it the largest movement along an axis under {speaking.load(ground.under)} grows"
    times = f", {significant(moved.after / moved.before)} times" if moved.share * moved.before else ""
    return f"{told} from {before} to {after} ({where}){times}"


def _reverses(speaking: Speaking, ground: Ground) -> str:
    forces, places = speaking.answers.forces, [speaking.load(column) for column in ground.loads]
    pull = speaking.teller.member_force(float(forces.tension.values[speaking.member]))
    push = speaking.teller.member_force(-float(forces.compression.values[speaking.member]))
    if places[0] == places[1]:
        return f"its force changes sign under {places[0]}, from {pull} to {push}"
    return f"its force changes sign: {pull} under {places[0]}, {push} under {places[1]}"


def _works(speaking: Speaking, ground: Ground) -> str:
    answers = speaking.answers
    alone = len(answers.study.alone)
    told = f"it bears up to {speaking.teller.member_force(ground.number)} under {speaking.load(ground.under)}"
    told += _of_resistance(speaking, ground.number)
    if len(ground.loads) == 1 or alone == 1:
        return told
    return f"{told}, and a force in {count(len(ground.loads))} of {count(alone)} loads alone"


def _of_resistance(speaking: Speaking, told: float) -> str:
    """The larger utilisation of the two signs: of the force told already, or of the other one beside it."""
    forces, resistances = speaking.answers.forces, speaking.answers.losses.before.resistances
    sides = ((1.0, forces.tension, resistances[0]), (-1.0, forces.compression, resistances[1]))
    ratios = [float(side.values[speaking.member] / most[speaking.member]) for _, side, most in sides]
    largest = max((ratio for ratio in ratios if not np.isnan(ratio)), default=0.0)
    if not largest:
        return ""
    sign, side, _ = sides[ratios.index(largest)]
    if sign * told > 0:
        return f", {significant(largest)} of its resistance"
    force = speaking.teller.member_force(sign * float(side.values[speaking.member]))
    under = speaking.load(int(side.combinations[speaking.member]))
    return f", and {force} under {under}, {significant(largest)} of its resistance"


def _weight(speaking: Speaking, ground: Ground) -> str:
    force = speaking.teller.member_force(ground.number)
    return f"the truss's own weight puts {force} into it"


def _strain(speaking: Speaking, ground: Ground) -> str:
    case = speaking.answers.study.cases[speaking.answers.study.alone[ground.under].name]
    acts = [("a temperature", case.temperature), ("a settlement", case.settlement), ("a misfit", case.misfit)]
    what = listed([name for name, given in acts if given])
    force = speaking.teller.member_force(ground.number)
    return f"{what} ({speaking.load(ground.under)}) puts {force} into it"


def _pair(speaking: Speaking, ground: Ground) -> str:
    others = speaking.members(ground.members)
    if len(ground.members) == 1:
        return f"it and {others}, idle too, cannot both be missing: without both the truss is a mechanism"
    return (
        f"it and any of {others}, all idle too, cannot both be missing: without both the truss is a mechanism"
    )


def _series(speaking: Speaking, ground: Ground) -> str:
    others = speaking.members(ground.members)
    more = "one more of them" if len(ground.members) > 1 else "both"
    verb = "is" if len(ground.members) == 1 else "are"
    return f"once it is gone {others} {verb} needed: losing {more} would leave a mechanism"


def _takeover(speaking: Speaking, ground: Ground) -> str:
    lost = speaking.members(ground.members)
    was = float(speaking.answers.losses.before.peaks[speaking.member])
    before, after = (speaking.teller.force(size) for size in (was, was + ground.number))
    rise = speaking.teller.force(ground.number)
    told = f"when {lost} is lost it takes over {rise}"
    return f"{told}: its largest force rises from {before} to {after}" if was else told


def _coincidence(speaking: Speaking, ground: Ground) -> str:
    change = speaking.teller.force(ground.number)
    other = speaking.members(ground.members)
    return (
        f"its zero under {speaking.load(ground.under)} is a coincidence of stiffnesses: "
        f"a tenth more area in {other} puts {change} into it"
    )


def _lean(speaking: Speaking, ground: Ground) -> str:
    share = percent(speaking.answers.study.lean)
    force = speaking.teller.force(ground.number)
    return (
        f"gravity loads wake it when they lean: {speaking.load(ground.under)} by {share} puts {force} into it"
    )


def _duty(speaking: Speaking, ground: Ground) -> str:
    duties = speaking.answers.study.truss.members[speaking.member].group.duties
    return f"the study declares that it {'; that it '.join(duties)}"


CLAUSES: dict[Key, Callable[[Speaking, Ground], str]] = {
    "prop": _prop,
    "mechanism": _mechanism,
    "overload": _overload,
    "deflection": _deflection,
    "reverses": _reverses,
    "works": _works,
    "weight": _weight,
    "strain": _strain,
    "pair": _pair,
    "series": _series,
    "takeover": _takeover,
    "coincidence": _coincidence,
    "lean": _lean,
    "duty": _duty,
}
