"""Critical, compound and complex forms: members and supports enough in number, rank decided exactly.

E. D. Bolker & B. Roth, When is a bipartite graph a rigid framework?, Pacific J. Math. 90(1), 27-44, 1980:
six joints on a conic, each of three joined to each of the other three, move (the statement seen in
W. Whiteley, Pacific J. Math. 110(1), 1984). S. Timoshenko & D. H. Young, Theory of Structures, 2nd ed.,
1965 (critical form; from memory). Ranks are those of joint directions x (members + reactions).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import cos, pi, sin, sqrt
from typing import Any

import pytest

from solver.answers import answer
from solver.errors import MechanismError, UntrustworthyError
from solver.statics import Statics, examine
from tests.building import build_study, build_truss, load_case
from tests.published.record import agree_exactly, published

Points = Sequence[tuple[Any, Any]]
HEXAGON = [*(f"{i}-{(i + 1) % 6}" for i in range(6)), "0-3", "1-4", "2-5"]
ON_A_CIRCLE: Points = [(5, 0), (3, 4), (-3, 4), (-5, 0), (-4, -3), (4, -3)]
PARAMETERS = [Fraction(t) for t in ("0.1", "1/2", "3/2", "14", "-2", "-2/5")]


def hexagon(points: Points) -> Statics:
    """A hexagon with its three long diagonals, pinned at joint 0, joint 3 held across the line to it."""
    joints = {str(i): point for i, point in enumerate(points)}
    along = [Fraction(b) - Fraction(a) for a, b in zip(points[0], points[3], strict=True)]
    supports: dict[str, Any] = {"0": "xy", "3": [(-along[1], along[0])]}
    return examine(build_truss(joints, HEXAGON, supports))


def on_an_ellipse() -> Points:
    """Six exact points of x = 2 cos, y = sin."""
    return [(2 * (1 - t * t) / (1 + t * t), 2 * t / (1 + t * t)) for t in PARAMETERS]


def regular(digits: int, turn: float) -> Points:
    """A regular hexagon of radius 1, turned, its coordinates written with so many decimals.

    Its centre lies off the origin: three pairs of opposite points about the origin are on a conic whatever
    their decimals.
    """
    angles = [turn + pi * k / 3 for k in range(6)]
    return [(f"{cos(a) + sqrt(2):.{digits}f}", f"{sin(a) + sqrt(3):.{digits}f}") for a in angles]


def raised(points: Points, by: str) -> Points:
    """Joint 2 moved up."""
    x, y = points[2]
    return [*points[:2], (x, Fraction(y) + Fraction(by)), *points[3:]]


def facts(statics: Statics) -> tuple[int, int, int]:
    """Rank, states of self-stress, mechanisms."""
    return statics.rank, statics.self_stress_states, statics.mechanisms


@published("bolker_roth", "hexagon with three diagonals on a circle and on an ellipse, exact points: rank 11")
@pytest.mark.parametrize("points", [ON_A_CIRCLE, on_an_ellipse()])
def test_a_hexagon_with_three_diagonals_on_a_conic_is_critical(points: Points) -> None:
    agree_exactly(facts(hexagon(points)), (11, 1, 1))


@published("bolker_roth", "decimals that still lie on a conic: rank 11 at every number of digits")
@pytest.mark.parametrize("height", ["0.9", "0.87", "0.866", "0.8660254", "0.866025403784439"])
def test_symmetric_decimals_of_the_regular_hexagon_lie_on_an_ellipse_and_are_critical(height: str) -> None:
    low = f"-{height}"
    points = [("1", "0"), ("0.5", height), ("-0.5", height), ("-1", "0"), ("-0.5", low), ("0.5", low)]
    agree_exactly(facts(hexagon(points)), (11, 1, 1))


@published("bolker_roth", "one joint off the conic: rank 12")
@pytest.mark.parametrize("by", ["1.5", "0.01", "1e-9", "1e-15"])
def test_a_hexagon_with_one_joint_off_the_conic_is_a_complex_truss_that_stands(by: str) -> None:
    agree_exactly(facts(hexagon(raised(ON_A_CIRCLE, by))), (12, 0, 0))


@published("critical_in_decimals", "regular hexagon in 15 decimals: full rank, and yet no answer is trusted")
@pytest.mark.parametrize("turn", [0.3, 0.7, 1.0])
def test_a_regular_hexagon_in_decimals_has_full_rank_and_is_not_trusted(turn: float) -> None:
    statics = hexagon(regular(15, turn))
    agree_exactly(facts(statics), (12, 0, 0))
    with pytest.raises(UntrustworthyError):
        answer(build_study(statics.truss, [load_case(statics.truss, **{"1": (0, -1)})]))


@published("critical_in_decimals", "hexagon with one joint raised by 0.3 of the radius: sound")
def test_a_hexagon_with_one_joint_raised_by_three_tenths_is_sound() -> None:
    truss = hexagon(raised(regular(15, 0.0), "0.3")).truss
    answers = answer(build_study(truss, [load_case(truss, **{"1": (0, -1)})]))
    agree_exactly((answers.statics.rank, answers.sensitivity.near_critical), (12, False))


TRIANGLE = {"A": (0, 0), "B": (4, 0), "C": (2, 3)}
ABOVE = {"D": (0, 6), "E": (4, 6), "F": (2, 9)}
TWO_TRIANGLES = ["A-B", "B-C", "C-A", "D-E", "E-F", "F-D", "A-D", "B-E", "C-F"]
NESTED = {"A": (-3, -2), "B": (3, -2), "C": (0, 4), "D": ("-1.5", -1), "E": ("1.5", -1), "F": (0, 2)}
PANELS = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (0, 4), "E": (4, 4), "F": (8, 4)}
OPEN = ["A-B", "B-C", "D-E", "E-F", "A-D", "B-E", "C-F", "A-E", "B-D"]
CLOSED = [*OPEN[:-1], "B-F"]
PIN_ROLLER = {"A": "xy", "B": "y"}

FORMS: Mapping[str, tuple[Mapping[str, tuple[Any, Any]], Sequence[str], Mapping[str, Any], int]] = {
    "two triangles and three parallel links": ({**TRIANGLE, **ABOVE}, TWO_TRIANGLES, PIN_ROLLER, 11),
    "two triangles and three links through one point": (NESTED, TWO_TRIANGLES, PIN_ROLLER, 11),
    "two triangles, one link past the point": ({**NESTED, "F": ("0.5", 2)}, TWO_TRIANGLES, PIN_ROLLER, 12),
    "two panels, one braced twice and one open": (PANELS, OPEN, {"A": "xy", "C": "y"}, 11),
    "two panels, each braced once": (PANELS, CLOSED, {"A": "xy", "C": "y"}, 12),
    "three parallel reactions": (PANELS, CLOSED, {"A": "y", "B": "y", "C": "y"}, 11),
    "three reactions through one point": (PANELS, CLOSED, {"A": "y", "D": "x", "C": [(2, -1)]}, 11),
    "three reactions past the point": (PANELS, CLOSED, {"A": "y", "D": "x", "C": [(1, -1)]}, 12),
}


@published("timoshenko_young", "compound and complex trusses and reactions: rank 11 or 12 of 12")
@pytest.mark.parametrize("form", FORMS)
def test_the_rank_decides_where_counting_does_not(form: str) -> None:
    joints, members, supports, rank = FORMS[form]
    truss = build_truss(joints, members, supports)
    statics = examine(truss)
    agree_exactly((statics.static_indeterminacy, statics.rank), (0, rank))
    study = build_study(truss, [load_case(truss, F=(0, -1))])
    if rank == 12:
        agree_exactly(answer(study).redundancy.shares.tolist(), [0.0] * 9)
        return
    with pytest.raises(MechanismError, match="enough in number") as caught:
        answer(study)
    agree_exactly(set(caught.value.culprits) <= set(joints) and bool(caught.value.culprits), True)
