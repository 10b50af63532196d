"""Why every member bears what it bears in a state: the first reason that fits, from the simplest proof on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.progress import Progress, silent
from solver.reasons.any_stiffness import AnyStiffness
from solver.reasons.causes import growth_effects, strongest_cause, strongest_causes
from solver.reasons.cuts import Cuts
from solver.reasons.joint_rule import Finding, JointRule
from solver.reasons.reason import (
    CUT,
    INDETERMINATE,
    JOINT_INSPECTION,
    KNOWN_REACTION,
    NOT_ZERO,
    VIRTUAL_WORK,
    Indeterminate,
    Movement,
    Proof,
    Reason,
    Seen,
)
from solver.reasons.whole_truss import known_reactions, supports_determinate
from solver.state import State
from solver.statics import Statics
from solver.stiffness import Stiffness
from solver.tolerances import NO_LOAD, is_zero

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Loads:
    """What the proofs look at in a state: the joint loads, and with the reactions where those are known.

    Each (joints, dimension) [N], with what it is weighed against, (joints,) [N].
    """

    plain: Array
    largest: Array
    with_reactions: Array | None
    largest_with_reactions: Array


class Reasoner:
    """One truss, ready to give reasons in any state; what it has seen is remembered.

    moves: for each member the joints that move when it is gone, as `solver.removal` tells; shares (members,):
    redundancy shares.
    """

    def __init__(
        self, stiffness: Stiffness, statics: Statics, moves: tuple[tuple[int, ...], ...], shares: Array
    ) -> None:
        self.stiffness = stiffness
        self.statics = statics
        self.joint_rule = JointRule(stiffness.truss)
        self._moves = moves
        self._shares = shares
        self._any_stiffness = AnyStiffness(stiffness.truss, statics.order)

    @cached_property
    def reactions_known(self) -> bool:
        """Whether the whole truss gives all reactions."""
        return supports_determinate(self.stiffness.truss)

    @cached_property
    def _rule_with_reactions(self) -> JointRule:
        return JointRule(self.stiffness.truss, reactions_known=True)

    @cached_property
    def cuts(self) -> Cuts:
        """All cuts through few members."""
        return Cuts(self.stiffness.truss, self.reactions_known)

    def explain(self, state: State, scale: float) -> tuple[Reason, ...]:
        """Return a reason for every member, in the file's order; `scale` [N]: what zero is judged against."""
        return self.explain_all([state], [scale])[0]

    def explain_all(
        self, states: Sequence[State], scales: Sequence[float], progress: Progress = silent
    ) -> list[tuple[Reason, ...]]:
        """Return the reasons in each of some states; what they share is worked out once."""
        everything = range(len(self.stiffness.truss.members))
        found = []
        for number, (state, scale) in enumerate(zip(states, scales, strict=True)):
            progress("reasons", number / max(1, len(states)))
            found.append(self._explain_shown(state, scale, everything))
        waiting = [n for n, reasons in enumerate(found) if len(reasons) < len(everything)]
        causes = strongest_causes(self.stiffness, [states[n] for n in waiting], progress) if waiting else []
        for number, brought in zip(waiting, causes, strict=True):
            for member in set(everything) - set(found[number]):
                found[number][member] = Reason(member, NOT_ZERO, brought[member])
        return [tuple(reasons[member] for member in everything) for reasons in found]

    def explain_member(self, state: State, scale: float, member: int) -> Reason:
        """Return the reason of one member (index): the same as among all, sooner."""
        bar, members_at = self.stiffness.truss.members[member], self.stiffness.truss.members_at
        # What bears at its joints decides whether a joint shows what it answers.
        near = sorted({*members_at[bar.first], *members_at[bar.second]})
        found = self._explain_shown(state, scale, near)
        if member in found:
            return found[member]
        return Reason(member, NOT_ZERO, strongest_cause(self.stiffness, state, member))

    def _explain_shown(self, state: State, scale: float, asked: Sequence[int]) -> dict[int, Reason]:
        """All of `asked` but the forces of which only a sum of causes tells."""
        zero = is_zero(state.forces, scale)
        loads = self._loads(state)
        reasons = self._explain_zeros(state, scale, [m for m in asked if zero[m]], loads)
        # A zero that hangs on stiffness is known only once everything is: no joint can rest on it.
        by_chance = {
            m for m, r in reasons.items() if isinstance(r.proof, Indeterminate) and not r.proof.always
        }
        live = frozenset(int(member) for member in np.flatnonzero(~zero)) | by_chance
        for member in asked:
            proof = None if zero[member] else self._explain_force(member, live, loads)
            if proof:
                reasons[member] = Reason(member, NOT_ZERO, proof)
        return {member: reasons[member] for member in asked if member in reasons}

    def _loads(self, state: State) -> Loads:
        reactions = known_reactions(self.stiffness.truss, state.joint_loads) if self.reactions_known else None
        largest = state.largest_contribution
        if reactions is None:
            return Loads(state.joint_loads, largest, None, largest)
        sizes = np.linalg.norm(reactions, axis=1).max(initial=0.0)
        heaviest = max(float(sizes), float(largest.max(initial=0.0)))
        supported = [support.joint for support in self.stiffness.truss.supports]
        weighed = largest.copy()
        weighed[supported] = np.maximum(weighed[supported], heaviest)
        return Loads(state.joint_loads, largest, state.joint_loads + reactions, weighed)

    def _explain_zeros(
        self, state: State, scale: float, zeros: Sequence[int], loads: Loads
    ) -> dict[int, Reason]:
        """The zeros asked for, and all others that joints show."""
        reasons: dict[int, Reason] = {}

        def keep(kind: str, proofs: Sequence[tuple[int, Proof]]) -> None:
            for member, proof in proofs:
                reasons.setdefault(member, Reason(member, kind, proof))

        def left() -> list[int]:
            return [member for member in zeros if member not in reasons]

        keep(JOINT_INSPECTION, _of(self.joint_rule.inspect(loads.plain, loads.largest)))
        keep(KNOWN_REACTION, _of(self._with_reactions(loads, set(reasons))))
        keep(CUT, self._cut(left(), set(reasons), loads))
        needed = self.statics.needed
        keep(VIRTUAL_WORK, [(m, Movement(self._moves[m])) for m in left() if needed[m]])
        keep(INDETERMINATE, self._explain_indeterminate(left(), state, scale))
        return reasons

    def _with_reactions(self, loads: Loads, known: set[int]) -> tuple[Finding, ...]:
        if loads.with_reactions is None:
            return ()
        return self._rule_with_reactions.inspect(loads.with_reactions, loads.largest_with_reactions, known)

    def _cut(self, members: list[int], known: set[int], loads: Loads) -> list[tuple[int, Proof]]:
        if not members:
            return []
        if not self.reactions_known:
            return list(self.cuts.prove(members, known, loads.plain, loads.largest).items())
        if loads.with_reactions is None:
            # The reactions are known, but one of them not well enough for its direction: no cut is taken.
            return []
        proved = self.cuts.prove(members, known, loads.with_reactions, loads.largest_with_reactions)
        return list(proved.items())

    def _explain_indeterminate(
        self, members: list[int], state: State, scale: float
    ) -> list[tuple[int, Proof]]:
        if not members:
            return []
        always, exact = self._any_stiffness.always_zero(state, scale)
        chance = [member for member in members if not always[member]]
        changes = growth_effects(self.stiffness, self._shares, state.forces, chance)
        proofs: list[tuple[int, Proof]] = [(m, Indeterminate(True, exact)) for m in members if always[m]]
        for member, row in zip(chance, changes, strict=True):
            most = int(np.abs(row).argmax())
            first = int(np.flatnonzero(np.abs(row) >= abs(row[most]) * (1 - 1e-9))[0])
            proofs.append((member, Indeterminate(False, exact, first, float(row[first]))))
        return proofs

    def _explain_force(self, member: int, live: frozenset[int], loads: Loads) -> Seen | Movement | None:
        """A joint at which the load or a known reaction decides it, or the movement without it."""
        bar = self.stiffness.truss.members[member]
        for joint in sorted((bar.first, bar.second)):
            loaded = np.linalg.norm(loads.plain[joint]) > NO_LOAD * loads.largest[joint]
            if loaded and self.joint_rule.stands_alone(member, joint, live):
                return Seen(joint)
        if loads.with_reactions is not None:
            for joint in sorted((bar.first, bar.second)):
                if self._rule_with_reactions.stands_alone(member, joint, live):
                    return Seen(joint, reaction=True)
        return Movement(self._moves[member]) if self.statics.needed[member] else None


def _of(findings: tuple[Finding, ...]) -> list[tuple[int, Proof]]:
    return [(finding.member, finding) for finding in findings]
