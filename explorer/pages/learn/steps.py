"""The steps of a walk: joint after joint as inspection goes, then the proofs beyond single joints."""

from __future__ import annotations

from dataclasses import dataclass

from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import (
    CUT,
    INDETERMINATE,
    JOINT_INSPECTION,
    KNOWN_REACTION,
    VIRTUAL_WORK,
    Reason,
)

ORDER = (JOINT_INSPECTION, KNOWN_REACTION, CUT, VIRTUAL_WORK, INDETERMINATE)


@dataclass(frozen=True)
class Step:
    """One step: its kind, the reasons it gives, and the joint (index) that shows them, -1 without one."""

    kind: str
    reasons: tuple[Reason, ...]
    joint: int = -1

    @property
    def members(self) -> tuple[int, ...]:
        """The members (indices) it shows to be zero."""
        return tuple(reason.member for reason in self.reasons)

    @property
    def because(self) -> tuple[int, ...]:
        """The members (indices) found before that it rests on."""
        proof = self.reasons[0].proof
        return proof.because if isinstance(proof, Finding) else proof.known if isinstance(proof, Cut) else ()


def list_steps(reasons: tuple[Reason, ...]) -> list[Step]:
    """Return the steps of a walk over all zeros, in an order in which each rests on earlier ones."""
    steps: list[Step] = []
    for kind in ORDER[:2]:
        found: dict[tuple[int, int], list[Reason]] = {}
        for reason in reasons:
            if reason.kind == kind and isinstance(reason.proof, Finding):
                found.setdefault((reason.proof.step, reason.proof.joint), []).append(reason)
        steps += [Step(kind, tuple(found[key]), key[1]) for key in sorted(found)]
    for kind in ORDER[2:]:
        steps += [Step(kind, (reason,)) for reason in reasons if reason.kind == kind]
    return steps
