"""Trains where answers jump: overhangs, trains longer than their chord, axles that meet in decimals.

The truss is a strip of triangles with four joints on the chord, 4 m apart, held at the middle two: both
ends overhang by a panel. A unit load at x puts (8 - x) / 4 on the left support and (x - 4) / 4 on the right.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

import numpy as np
import pytest

from solver.answers import Answers, answer
from solver.cases import LoadCase
from solver.combining import Combination
from solver.study import Study
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
from tests.plain.checks import CHECKS
from tests.plain.expected import work_out_plainly

Point = tuple[object, ...]
AXLES = Sequence[tuple[float, float]]
CHORD = ("A", "B", "C", "D")
LEFT = 1
"""Row of the left support's upright reaction."""


def strip(bottom: Sequence[Point], top: Sequence[Point], supports: dict[str, object]) -> Truss:
    joints = dict(
        zip("AaBbCcD", [p for pair in zip(bottom, (*top, None), strict=True) for p in pair], strict=False)
    )
    names = list(joints)
    members = [f"{a}-{b}" for a, b in pairwise(names)] + [
        f"{a}-{b}" for a, b in zip(names, names[2:], strict=False)
    ]
    return build_truss(joints, members, supports, areas=1e-3, modulus=2e11)


OVERHANG = strip([(0, 0), (4, 0), (8, 0), (12, 0)], [(2, 3), (6, 3), (10, 3)], {"B": "xy", "C": "y"})
DECIMAL = strip(
    [(0, 0), ("1.1", 0), ("3.3", 0), ("4.4", 0)],
    [("0.7", 1), ("2.2", 1), ("3.9", 1)],
    {"B": "xy", "C": [(Fraction(-3, 5), Fraction(4, 5))]},
)


def bent_in_space() -> Truss:
    joints = {"A": (0, 0, 0), "B": (4, 0, 0), "C": (7, 4, 1), "D": (7, 9, 1), "P": (3, 3, 5), "Q": (5, 2, -4)}
    pairs = ["A-B", "B-C", "C-D", "P-Q"] + [f"{j}-{apex}" for j in "ABCD" for apex in "PQ"]
    return build_truss(joints, pairs, {"A": "xyz", "B": "z", "C": [(0, 3, 4)], "Q": "x"}, modulus=1e6)


def on(truss: Truss, axles: AXLES, chord: Sequence[str] = CHORD, **more: object) -> Study:
    """Alone, turned round beside a permanent load, and with a zero limit now and then."""
    dead = (
        load_case(truss, "dead", b=(0, -2))
        if truss.dimension == 2
        else load_case(truss, "dead", P=(1, 0, -2))
    )
    both = [
        Combination("both", {"dead": 1.0}, "train", 1.5),
        Combination("turned", {"dead": -1.0}, "train", -0.5),
    ]
    return build_study(truss, [dead], chord=chord, axles=axles, combinations=both, **more)  # type: ignore[arg-type]


STUDIES = {
    "one axle leaves as the next enters": on(OVERHANG, [(0, 3), (12, 1)]),
    "the lighter axle leaves as the next enters": on(OVERHANG, [(0, 1), (12, 3)]),
    "three in a row, each a chord behind the last": on(OVERHANG, [(0, 2), (12, 5), (24, 1)]),
    "a train shorter than its chord": on(OVERHANG, [(0, 3), (1.5, 4)]),
    "a train longer than its chord": on(OVERHANG, [(0, 3), (5, 4), (11, 2), (17, 6)]),
    "an empty stretch in the middle": on(OVERHANG, [(0, 3), (20, 4)]),
    "an empty stretch with a zero limit": on(OVERHANG, [(0, 3), (20, 4)], zero_limit=1.0),
    "a first axle behind the front": on(OVERHANG, [(2.5, 3), (14.5, 4)]),
    "axles out of order, two in one place": on(OVERHANG, [(6, 3), (0, 1), (6, 2)]),
    "a chord against the x axis": on(OVERHANG, [(0, 3), (12, 1), (13, 5)], CHORD[::-1]),
    "forward only": on(OVERHANG, [(0, 1), (12, 3)], directions=("forward",)),
    "backward only": on(OVERHANG, [(0, 1), (12, 3)], directions=("backward",)),
    "half the chord, ending at a support": on(OVERHANG, [(0, 1), (8, 3)], ("A", "B", "C")),
    "axles over joints together in decimals": on(DECIMAL, [(0, 3), (1.1, 4), (2.2, 5), (3.3, 2), (4.4, 1)]),
    "decimals against the x axis": on(DECIMAL, [(0.1, 3), (1.2, 4), (3.4, 2), (4.5, 6)], CHORD[::-1]),
    "decimals with a zero limit": on(DECIMAL, [(0, 3), (1.1, 4), (4.4, 1)], zero_limit=0.8),
    "a bend in space": on(bent_in_space(), [(0, 3), (5, 4), (14, 2)], directions=("forward", "backward")),
    "a bend in space, the other way": on(bent_in_space(), [(0, 3), (14, 2)], CHORD[::-1]),
}


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: check.__name__)
@pytest.mark.parametrize("study", STUDIES.values(), ids=STUDIES.keys())
def test_both_sides_of_every_jump_count_as_the_plain_way_says(study: Study, check: object) -> None:
    check(answer(study), work_out_plainly(study))  # type: ignore[operator]


def left_reaction(axles: AXLES, way: str) -> tuple[float, float, float, float]:
    """Largest with its position, smallest with its position, train alone."""
    study = build_study(OVERHANG, chord=CHORD, axles=axles, directions=(way,))  # type: ignore[arg-type]
    reactions = answer(study).reactions
    largest, smallest = reactions.largest, reactions.smallest
    return (
        float(largest.values[LEFT]),
        float(largest.positions[LEFT]),
        float(smallest.values[LEFT]),
        float(smallest.positions[LEFT]),
    )


def test_an_axle_counts_up_to_the_moment_the_next_one_takes_its_place() -> None:
    # 3 at the far tip: -3; at that moment 1 enters at the near tip: -3 + 2 = -1; then 2 alone
    assert left_reaction([(0, 3), (12, 1)], "forward") == pytest.approx((6, 0, -3, 12), abs=1e-12)
    # 1 at the far tip: -1, then 3 enters: 6, and leaves at -3
    assert left_reaction([(0, 1), (12, 3)], "forward") == pytest.approx((6, 12, -3, 24), abs=1e-12)


def test_a_train_that_comes_from_the_far_end_counts_its_axles_ahead_of_its_front() -> None:
    # backward the second axle stands 12 further on than the front: over the far tip with the front at 0
    assert left_reaction([(0, 3), (12, 1)], "backward") == pytest.approx((6, 0, -3, 12), abs=1e-12)
    assert left_reaction([(0, 1), (12, 3)], "backward") == pytest.approx((6, -12, -3, 0), abs=1e-12)


def loaded_way(answers: Answers) -> list[float]:
    ways = answers.forces.sweep.motions.ways.travels
    return [float(np.diff(travel.breaks)[travel.loaded].sum()) for travel in ways]


def test_the_way_with_nothing_on_the_chord_is_left_out_of_the_zero_share() -> None:
    answers = answer(build_study(OVERHANG, chord=CHORD, axles=[(0, 3), (20, 4)]))
    assert loaded_way(answers) == pytest.approx([24, 24], abs=1e-12)
    # the members of the tip work on its own 4 m of every 12 and sleep on the rest of the way
    tip = OVERHANG.member_index("A-B")
    assert answers.forces.zero_share[tip] == pytest.approx(8 / 12, abs=1e-12)


def test_axles_that_meet_joints_together_on_paper_make_one_stop() -> None:
    answers = answer(build_study(DECIMAL, chord=CHORD, axles=[(0, 1), (1.1, 1), (2.2, 1), (3.3, 1)]))
    forward, backward = (travel.breaks for travel in answers.forces.sweep.motions.ways.travels)
    assert forward == pytest.approx([0, 1.1, 2.2, 3.3, 4.4, 5.5, 6.6, 7.7], abs=1e-12)
    assert backward == pytest.approx([-3.3, -2.2, -1.1, 0, 1.1, 2.2, 3.3, 4.4], abs=1e-12)


def test_an_unloaded_state_beside_a_lifting_load_is_the_peak_at_the_start_of_the_travel() -> None:
    lift = LoadCase("lift", joints={OVERHANG.joint_index("b"): (0.0, 100.0)})
    study = build_study(
        OVERHANG,
        [lift],
        chord=CHORD,
        axles=[(1, 2), (30, 1)],
        combinations=[Combination("c", {"lift": 1}, "train")],
    )
    reactions = answer(study).reactions
    # b stands midway: -50 a support; the train takes the least away where it lifts the left one most
    assert reactions.smallest.values[LEFT] == pytest.approx(-52, abs=1e-9)
    assert reactions.smallest.positions[LEFT] == pytest.approx(13)
