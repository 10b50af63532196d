"""Why members of textbook trusses are zero: the kind of proof that the textbook gives.

R. C. Hibbeler, Engineering Mechanics: Statics, Sec. 6.3 (Fink roof, both loadings as in `test_fink_roof`);
the method of sections of any statics text for a panel between two equal loads; S. Timoshenko, Strength of
Materials, Part I, three bars from a ceiling: by symmetry the middle one bears nothing of a sideways load,
and the closed form for unequal outer bars is worked out here by two equations of equilibrium.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from solver.answers import answer, give_reasons, give_reasons_at
from solver.reasons.cuts import Cut
from solver.reasons.reason import (
    CUT,
    INDETERMINATE,
    JOINT_INSPECTION,
    KNOWN_REACTION,
    NOT_ZERO,
    Indeterminate,
)
from solver.study import Study
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_exactly, agree_relatively, published
from tests.published.test_fink_roof import MEMBERS, roof
from tests.published.test_indeterminate_panels import fan

PRATT = {f"L{i}": (4 * i, 0) for i in range(7)} | {f"U{i}": (4 * i, 3) for i in range(1, 6)}
POSTS = {"L2-U2", "L4-U4"}
WEB = ["L1-U1", "L2-U2", "L3-U3", "L4-U4", "L5-U5", "U1-L2", "U2-L3", "U4-L3", "U5-L4", "L0-U1", "L6-U5"]
BARS = [f"L{i}-L{i + 1}" for i in range(6)] + [f"U{i}-U{i + 1}" for i in range(1, 5)] + WEB


def kinds(study: Study, under: str) -> Mapping[str, str]:
    reasons = give_reasons_at(answer(study), under)
    return {study.truss.members[reason.member].name: reason.kind for reason in reasons}


@published("hibbeler_statics", "the reason of every member of the Fink roof, both loadings")
def test_joints_alone_show_the_zeros_of_the_fink_roof_under_either_load() -> None:
    left, right = give_reasons(roof())
    for reasoned, zeros in ((left, {"G-C", "D-F", "F-C"}), (right, {"B-H", "H-C"})):
        found = {MEMBERS[r.member] for r in reasoned.reasons if r.kind == JOINT_INSPECTION}
        agree_exactly(found, zeros)
        others = {r.kind for r in reasoned.reasons if MEMBERS[r.member] not in zeros}
        agree_exactly(others, {NOT_ZERO})


@published("zeros_by_sections", "between two equal loads the panel shear is none, and a cut shows it")
def test_a_cut_across_the_chords_shows_the_diagonals_between_two_equal_loads() -> None:
    truss = build_truss(PRATT, BARS, {"L0": "xy", "L6": "y"})
    study = build_study(truss, [load_case(truss, L2=(0, -10), L4=(0, -10))])
    found = kinds(study, "load")
    # Upright cuts show the diagonals; slanting ones the posts, in which the same shear would stand.
    agree_exactly({name for name, kind in found.items() if kind == CUT}, {"U2-L3", "U4-L3"} | POSTS)
    reasons = {study.truss.members[r.member].name: r.proof for r in give_reasons_at(answer(study), "load")}
    proof = reasons["U2-L3"]
    assert isinstance(proof, Cut)
    agree_exactly([truss.members[m].name for m in proof.members], ["L2-L3", "U2-U3", "U2-L3"])
    agree_exactly(proof.turning.kind, "shift")
    agree_exactly([abs(float(c)) for c in proof.turning.shift], [0.0, 1.0])


@published("zeros_by_sections", "a load into a support leaves the truss idle once its reaction is known")
def test_a_load_into_a_support_is_answered_there_and_nothing_else_works() -> None:
    truss = build_truss(PRATT, BARS, {"L0": "xy", "L6": "y"})
    found = kinds(build_study(truss, [load_case(truss, L0=(0, -10))]), "load")
    agree_exactly(set(found.values()), {JOINT_INSPECTION, KNOWN_REACTION})


@published("timoshenko_strength", "the middle of three bars bears nothing of a sideways load, by symmetry")
def test_symmetry_alone_keeps_the_middle_bar_idle_and_a_grown_outer_bar_wakes_it() -> None:
    truss = fan((-3, 0, 3), 4)
    reasons = give_reasons_at(answer(build_study(truss, [load_case(truss, P=(12, 0))])), "load")
    proof = reasons[1].proof
    agree_exactly([reason.kind for reason in reasons], [NOT_ZERO, INDETERMINATE, NOT_ZERO])
    assert isinstance(proof, Indeterminate)
    agree_exactly(proof.always, False)
    # No joint shows what the outer bars answer: that the middle one is idle is known only from stiffness.
    agree_exactly({type(reason.proof).__name__ for reason in (reasons[0], reasons[2])}, {"Brought"})
    agree_exactly(truss.members[proof.grown].name, "T0-P")
    # Joint P moves (u, v); bars of lengths 5, 4, 5, the first a tenth thicker: two sums of forces.
    left, middle, right = 1.1 / 5, 1 / 4, 1 / 5
    matrix = [
        [0.36 * (left + right), 0.48 * (right - left)],
        [0.48 * (right - left), 0.64 * (left + right) + middle],
    ]
    signs = np.array([[1, -1], [-1, 1]])
    _, v = np.linalg.solve(np.array(matrix) * np.abs(signs), [12.0, 0.0])
    agree_relatively(abs(proof.change), abs(middle * v), 1e-9)


@published("x_braced_square", "a bar between two fixed joints is zero whatever the stiffnesses are")
def test_a_bar_between_two_held_joints_is_zero_whatever_the_stiffnesses() -> None:
    joints = {"A": (0, 0), "B": (1, 0), "C": (1, 1), "D": (0, 1)}
    truss = build_truss(joints, ["A-B", "B-C", "C-D", "D-A", "A-C", "B-D"], {"A": "xy", "B": "xy"})
    reasons = give_reasons_at(answer(build_study(truss, [load_case(truss, D=(1, 0))])), "load")
    agree_exactly([reason.kind for reason in reasons], [INDETERMINATE] + [NOT_ZERO] * 5)
    agree_exactly((reasons[0].proof.always, reasons[0].proof.exact), (True, True))  # type: ignore[union-attr]
