"""The verdict on a member: all grounds for it, in their order of weight."""

from __future__ import annotations

from collections.abc import Callable

from solver.verdicts import (
    coincidence,
    deflection,
    duty,
    lean,
    mechanism,
    overload,
    pair,
    prop,
    reverses,
    series,
    strain,
    takeover,
    weight,
    works,
)
from solver.verdicts.evidence import Evidence
from solver.verdicts.ground import QUANTITIES, Ground, Key

FINDERS: dict[Key, Callable[[Evidence, int], Ground | None]] = {
    "prop": prop.find,
    "mechanism": mechanism.find,
    "overload": overload.find,
    "deflection": deflection.find,
    "reverses": reverses.find,
    "works": works.find,
    "weight": weight.find,
    "strain": strain.find,
    "pair": pair.find,
    "series": series.find,
    "takeover": takeover.find,
    "coincidence": coincidence.find,
    "lean": lean.find,
    "duty": duty.find,
}
assert list(FINDERS) == list(QUANTITIES)


def give_grounds(evidence: Evidence) -> tuple[tuple[Ground, ...], ...]:
    """Return every ground for each member, the weightiest first; none where the study gives none."""
    members = range(len(evidence.study.truss.members))
    found = ([find(evidence, member) for find in FINDERS.values()] for member in members)
    return tuple(tuple(ground for ground in grounds if ground is not None) for grounds in found)
