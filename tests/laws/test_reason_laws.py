"""Every reason on random trusses, each checked by arithmetic of its own (see `proving`).

The statements are those of any statics text: joint and section equilibrium, virtual work, and the linear
dependence of forces on loads; that a member's area changes the others' forces is elementary elasticity.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from solver.reasons.cuts import Cut
from solver.reasons.joint_rule import Finding
from solver.reasons.reason import (
    GROWTH,
    JOINT_INSPECTION,
    KINDS,
    KNOWN_REACTION,
    NOT_ZERO,
    Brought,
    Indeterminate,
    Movement,
    Reason,
    Seen,
)
from solver.reasons.reasoner import Reasoner
from solver.redundancy import examine_redundancy
from solver.removal import remove_each
from solver.state import State, take_loads
from solver.statics import examine
from solver.stiffness import Stiffness
from solver.truss import Truss
from solver.virtual_work import exact_movement
from tests.laws.generator import draw_truss
from tests.laws.proving import (
    at_joint,
    dense_forces,
    exact,
    held_at,
    is_alone,
    reactions_of,
    separates,
    wrench,
)
from tests.laws.regular import draw_girder

SEEDS = 60
CAMPAIGN = 500


class Lesson:
    """A truss under a few whole loads, with all its reasons: every other seed a girder of equal panels."""

    def __init__(self, seed: int) -> None:
        self.truss, self.loads = draw_girder(seed) if seed % 2 else _draw_any(seed)
        stiffness, statics = Stiffness(self.truss), examine(self.truss)
        self.shares = examine_redundancy(stiffness, statics).shares
        self.reasoner = Reasoner(stiffness, statics, remove_each(statics).moves, self.shares)
        self.state: State = take_loads(stiffness, self.loads)
        self.reasons = self.reasoner.explain(self.state, self.state.own_scale)
        self.statics = statics
        self.dense = dense_forces(self.truss, self.loads.reshape(-1, 1), self.truss.axial_stiffness)[:, 0]
        self.scale = max(np.abs(self.dense).max(), np.abs(self.loads).max(), 1e-30)

    def kinds(self, *kinds: str) -> list[Reason]:
        return [reason for reason in self.reasons if reason.kind in kinds]


def _draw_any(seed: int) -> tuple[Truss, np.ndarray]:
    """A random truss with one to three loads, some along an axis."""
    truss = draw_truss(seed).truss
    random = np.random.default_rng(seed + 10**6)
    loads = np.zeros((len(truss.joint_names), truss.dimension))
    for joint in random.choice(len(loads), int(random.integers(1, 4)), replace=False):
        along = random.integers(0, 2) if random.random() < 0.4 else slice(None)
        loads[joint, along] = random.integers(-9, 10, loads[joint, along].shape)
    return truss, loads


def check_zeros(lesson: Lesson) -> None:
    """A member has a proof that it is zero exactly where a dense solution says that it is."""
    for reason in lesson.reasons:
        zero = abs(lesson.dense[reason.member]) <= 1e-7 * lesson.scale
        assert (reason.kind != NOT_ZERO) == zero, (reason, lesson.dense[reason.member])


def check_findings(lesson: Lesson) -> None:
    """At its joint a member found adds a dimension to all that is left there; earlier zeros come earlier."""
    known: set[int] = set()
    reactions = reactions_of(lesson.truss, lesson.loads)
    for kind in (JOINT_INSPECTION, KNOWN_REACTION):
        findings = [reason.proof for reason in lesson.kinds(kind)]
        for finding in sorted((f for f in findings if isinstance(f, Finding)), key=lambda f: f.step):
            earlier = {f.member for f in findings if isinstance(f, Finding) and f.step < finding.step}
            assert set(finding.because) <= known | earlier
            load = exact(lesson.loads)[finding.joint]
            if kind == KNOWN_REACTION:
                assert reactions is not None
                acting = [tuple(a + b for a, b in zip(load, reactions[finding.joint], strict=True))]
            else:
                acting = [load, *held_at(lesson.truss, finding.joint)]
            gone = {finding.member, *finding.because}
            own = at_joint(lesson.truss, finding.joint, set(range(999)) - {finding.member}, [])
            assert is_alone(at_joint(lesson.truss, finding.joint, gone, acting), own[0])
        known |= {f.member for f in findings if isinstance(f, Finding)}


def check_cuts(lesson: Lesson) -> None:
    """A cut separates, passes few members, and leaves one unknown outside the span of all else."""
    truss, reactions = lesson.truss, reactions_of(lesson.truss, lesson.loads)
    before = {r.member for r in lesson.kinds(JOINT_INSPECTION, KNOWN_REACTION)}
    for reason in lesson.reasons:
        cut = reason.proof
        if not isinstance(cut, Cut):
            continue
        assert separates(truss, cut.part, cut.members)
        assert len(cut.members) <= (3 if truss.dimension == 2 else 6)
        assert set(cut.known) == set(cut.members) & before
        lines = {
            m: wrench(truss.coordinates[truss.members[m].first], truss.exact_vectors[m]) for m in cut.members
        }
        others = [lines[m] for m in cut.members if m != cut.member and m not in cut.known]
        total = [0] * len(lines[cut.member])
        for joint in cut.part:
            acting = exact(lesson.loads)[joint]
            if reactions is not None:
                acting = tuple(a + b for a, b in zip(acting, reactions[joint], strict=True))
            else:
                others += [wrench(truss.coordinates[joint], v) for v in held_at(truss, joint)]
            total = [a + b for a, b in zip(total, wrench(truss.coordinates[joint], acting), strict=True)]
        assert is_alone([*others, *([total] if any(total) else [])], lines[cut.member])


def check_movements(lesson: Lesson) -> None:
    """Without the member all other lengths stay, exactly; the loads' work is N times the growth."""
    truss = lesson.truss
    for reason in lesson.reasons:
        if not isinstance(reason.proof, Movement):
            continue
        movement = exact_movement(lesson.statics, reason.member)
        assert movement is not None
        changes = [
            sum(v * (b - a) for v, a, b in zip(vector, movement[m.first], movement[m.second], strict=True))
            for m, vector in zip(truss.members, truss.exact_vectors, strict=True)
        ]
        grown = float(changes[reason.member])
        assert [index for index, change in enumerate(changes) if change] == [reason.member]
        for support in truss.supports:
            for direction in support.directions:
                assert not sum(a * b for a, b in zip(direction, movement[support.joint], strict=True))
        pairs = zip(exact(lesson.loads), movement, strict=True)
        work = sum(a * b for load, moved in pairs for a, b in zip(load, moved, strict=True))
        assert (work == 0) == (reason.kind != NOT_ZERO)
        # N / L times the change of half the squared length is the work of the loads.
        density = lesson.dense[reason.member] / truss.lengths[reason.member]
        assert density * grown == pytest.approx(float(work), abs=1e-6 * lesson.scale * abs(grown))
        assert set(reason.proof.moves) == {j for j, moved in enumerate(movement) if any(moved)}


def check_stiffness(lesson: Lesson) -> None:
    """Zero whatever the stiffnesses stays zero with others; else a grown area gives the change told."""
    truss, random = lesson.truss, np.random.default_rng(5)
    for reason in lesson.reasons:
        proof = reason.proof
        if not isinstance(proof, Indeterminate):
            continue
        assert lesson.shares[reason.member] > 0
        loads = lesson.loads.reshape(-1, 1)
        if proof.always:
            other = truss.axial_stiffness * random.uniform(0.3, 3.0, len(truss.members))
            assert abs(dense_forces(truss, loads, other)[reason.member, 0]) <= 1e-7 * lesson.scale
            continue
        changes = []
        for grown in range(len(truss.members)):
            stiffness = truss.axial_stiffness.copy()
            stiffness[grown] *= 1 + GROWTH
            changes.append(dense_forces(truss, loads, stiffness)[reason.member, 0])
        assert changes[proof.grown] == pytest.approx(proof.change, rel=1e-5, abs=1e-7 * lesson.scale)
        assert abs(changes[proof.grown]) >= np.abs(changes).max() * (1 - 1e-5)


def check_forces(lesson: Lesson) -> None:
    """A joint named shows the force alone; a cause named brings most of its sign."""
    truss, reactions = lesson.truss, reactions_of(lesson.truss, lesson.loads)
    by_chance = {
        r.member for r in lesson.reasons if isinstance(r.proof, Indeterminate) and not r.proof.always
    }
    zeros = {r.member for r in lesson.reasons if r.kind != NOT_ZERO} - by_chance
    unit = dense_forces(truss, np.eye(truss.freedoms), truss.axial_stiffness)
    for reason in lesson.kinds(NOT_ZERO):
        proof = reason.proof
        if isinstance(proof, Seen):
            own = at_joint(truss, proof.joint, set(range(999)) - {reason.member}, [])
            held = [] if proof.reaction else held_at(truss, proof.joint)
            assert is_alone(at_joint(truss, proof.joint, {reason.member} | zeros, held), own[0])
            assert reactions is not None or not proof.reaction
        if isinstance(proof, Brought):
            rows = (unit[reason.member] * lesson.loads.ravel()).reshape(-1, truss.dimension).sum(axis=1)
            towards = rows * np.sign(lesson.dense[reason.member])
            assert proof.force == pytest.approx(rows[proof.joint], rel=1e-6)
            assert towards[proof.joint] >= towards.max() * (1 - 1e-6)


CHECKS = (check_zeros, check_findings, check_cuts, check_movements, check_stiffness, check_forces)


@pytest.mark.parametrize("seed", range(SEEDS))
def test_every_reason_on_a_random_truss_holds_by_other_arithmetic(seed: int) -> None:
    lesson = Lesson(seed)
    for check in CHECKS:
        check(lesson)


@pytest.mark.parametrize("seed", range(SEEDS // 3))
def test_the_reason_of_one_member_is_the_one_it_has_among_all(seed: int) -> None:
    lesson = Lesson(seed)
    for reason in lesson.reasons:
        alone = lesson.reasoner.explain_member(lesson.state, lesson.state.own_scale, reason.member)
        if isinstance(reason.proof, Brought) and isinstance(alone.proof, Brought):
            assert alone.proof.force == pytest.approx(reason.proof.force, rel=1e-9)
            reason = replace(reason, proof=alone.proof)
        assert alone == reason


def test_the_random_trusses_hold_every_kind_of_reason() -> None:
    lessons = [Lesson(seed) for seed in range(SEEDS)]
    found = Counter(reason.kind for lesson in lessons for reason in lesson.reasons)
    proofs = Counter(type(reason.proof).__name__ for lesson in lessons for reason in lesson.reasons)
    assert set(found) == set(KINDS)
    assert min(found.values()) >= 10, found
    assert set(proofs) == {"Finding", "Cut", "Movement", "Indeterminate", "Seen", "Brought"}


@pytest.mark.campaign
@pytest.mark.parametrize("seed", range(SEEDS, CAMPAIGN))
def test_every_reason_on_many_more_random_trusses_holds(seed: int) -> None:
    lesson = Lesson(seed)
    for check in CHECKS:
        check(lesson)
