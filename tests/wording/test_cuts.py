"""The axis of a cut's moments, told by what a reader sees there."""

from __future__ import annotations

import pytest

from explorer.document.units import METRIC
from explorer.wording.cuts import name_centre
from explorer.wording.numbers import Teller
from solver.reasons.cuts import Cut
from solver.reasons.turning import Turning
from tests.building import build_truss

POINTS = {"A": (0, 0, 0), "B": (4, 0, 0), "M": (2, 0, 0), "C": (2, 3, 0), "T": (2, 1, 3)}
BARS = ["M-B", "A-C", "B-C", "M-C", "A-T", "B-T", "C-T", "M-T"]


@pytest.mark.parametrize(
    ("point", "axis", "told"),
    [
        # Only A lies above or below A; A, M and B lie in a line, of which M-B is a bar.
        ((0.0, 0.0, 7.0), (0.0, 0.0, 1.0), "about the vertical through A"),
        ((1.0, 0.0, 0.0), (1.0, 0.0, 0.0), "about the line through B and M"),
        ((1.0, 2.0, 0.0), (0.0, 0.0, -1.0), "about a vertical axis"),
        ((4.0, 0.0, 0.0), (0.6, 0.0, -0.8), "about an axis through B along (0.6, 0, −0.8)"),
        # A and T are joined by a bar along (2, 1, 3).
        ((2.0, 1.0, 3.0), (2 / 14**0.5, 1 / 14**0.5, 3 / 14**0.5), "about the line through A and T"),
    ],
)
def test_an_axis_is_told_by_joints_on_it_or_as_the_vertical(
    point: tuple[float, ...], axis: tuple[float, ...], told: str
) -> None:
    truss = build_truss(POINTS, BARS, {"A": "xyz", "B": "yz", "C": "z"})
    cut = Cut(0, (0,), (), (0,), Turning("turn", point, axis, (0.0, 0.0, 0.0)))
    assert name_centre(truss, cut, Teller(METRIC)) == told
