"""A zero limit below 1e-9 of the scale: the band is 1e-9 of the scale, and passing through it counts.

A force is zero where |N| <= max(1e-9 scale, zero_limit); only where the limit is 0 must a stretch be zero
throughout. Heat that fully held members would answer with 1e9 N makes the band 1 N wide, on a determinate
truss that does not feel it; the post takes up to 4 N as the axle comes.
"""

from __future__ import annotations

import pytest

from solver.answers import answer
from solver.cases import LoadCase
from solver.combining import Combination
from tests.building import build_study, build_truss

JOINTS = {"A": (0, 0), "B": (4, 0), "C": (8, 0), "D": (4, 3)}
TRUSS = build_truss(
    JOINTS,
    ["A-B", "B-C", "A-D", "D-C", "B-D"],
    {"A": "xy", "C": "y"},
    modulus=1e3,
    expansion=1e-3,
)
POST = 4
HOT = LoadCase("hot", temperature=(1e9,) * 5)
BOTH = Combination("both", {"hot": 1.0}, "train")


@pytest.mark.parametrize(
    ("limit", "share"), [(0.0, 0.0), (1e-3, 2 / 8), (0.5, 2 / 8), (1.0, 2 / 8), (2.0, 4 / 8)]
)
def test_the_zero_share_counts_the_way_within_the_wider_of_both_bands(limit: float, share: float) -> None:
    study = build_study(TRUSS, [HOT], chord="ABC", axles=[(0, 4.0)], combinations=[BOTH], zero_limit=limit)
    forces = answer(study).forces
    assert forces.scales[-1] == pytest.approx(1e9, rel=1e-9)
    assert forces.zero_share_combined[POST] == pytest.approx(share, abs=1e-9)
