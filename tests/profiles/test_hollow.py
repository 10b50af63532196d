"""Hollow sections against integration over their outlines."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import InputError
from solver.profiles.hollow import CORNERS, Corners, design_wall, rectangular_hollow, round_hollow
from solver.profiles.label import Label
from tests.profiles.outlines import arc, integrate, rounded

LABEL = Label("a size", "a table", "hot finished")
WITHIN = 2e-5
"""Share by which polygons of fine arcs miss: (π/2/400)²/6 of a corner's part."""

INCH = Fraction("0.0254")
sides = st.floats(0.02, 0.5)


@given(depth=sides, width=sides, share=st.floats(0.01, 0.12), rule=st.sampled_from(sorted(CORNERS)))
def test_a_rectangular_hollow_section_has_the_moments_of_its_outline(
    depth: float, width: float, share: float, rule: str
) -> None:
    wall = share * min(depth, width)
    corners = CORNERS[rule](wall)
    made = rectangular_hollow(LABEL, depth, width, wall, corners)
    hole = rounded(width - 2 * wall, depth - 2 * wall, corners.inner * wall)[::-1]
    true = integrate(rounded(width, depth, corners.outer * wall), hole)
    found = [made.area, made.second_moment, made.across, made.least]
    expected = [true.area, true.in_plane, true.across, true.principal[0]]
    np.testing.assert_allclose(found, expected, rtol=WITHIN)


@given(diameter=sides, share=st.floats(0.01, 0.49))
def test_a_round_hollow_section_has_the_moments_of_its_outline(diameter: float, share: float) -> None:
    wall = share * diameter
    made = round_hollow(LABEL, diameter, wall)
    rings = [arc((0, 0), radius, 0, 360)[:-1] for radius in (diameter / 2, diameter / 2 - wall)]
    true = integrate(rings[0], rings[1][::-1])
    # 400 segments go around a whole circle here, so that polygons miss by (2π/400)²/6, twice for moments
    np.testing.assert_allclose([made.area, made.across], [true.area, true.across], rtol=2e-4)
    assert made.second_moment == made.across == made.least


def test_depth_stands_in_the_plane_of_the_truss() -> None:
    upright = rectangular_hollow(LABEL, 0.2, 0.1, 0.008, Corners(1.5, 1.0))
    lying = rectangular_hollow(LABEL, 0.1, 0.2, 0.008, Corners(1.5, 1.0))
    assert upright.second_moment > upright.across == upright.least
    assert (upright.second_moment, upright.across) == pytest.approx((lying.across, lying.second_moment))


@pytest.mark.parametrize(
    ("rule", "wall", "expected"),
    [
        ("EN 10210-2", 0.016, (1.5, 1.0)),
        ("EN 10219-2", 0.006, (2.0, 1.0)),
        ("EN 10219-2", 0.0063, (2.5, 1.5)),
        ("EN 10219-2", 0.010, (2.5, 1.5)),
        ("EN 10219-2", 0.012, (3.0, 2.0)),
        ("ASTM A500", 0.00592, (2.0, 1.0)),
        ("sharp", 0.010, (0.0, 0.0)),
    ],
)
def test_corners_are_rounded_as_their_standard_says(
    rule: str, wall: float, expected: tuple[float, float]
) -> None:
    assert CORNERS[rule](wall) == Corners(*expected)


@pytest.mark.parametrize(
    ("nominal", "printed"),
    [
        ("1/8", "0.116"),
        ("3/16", "0.174"),
        ("1/4", "0.233"),
        ("5/16", "0.291"),
        ("3/8", "0.349"),
        ("1/2", "0.465"),
        ("5/8", "0.581"),
        ("0.280", "0.260"),
    ],
)
def test_the_design_wall_is_that_of_the_manual(nominal: str, printed: str) -> None:
    assert design_wall(Fraction(nominal) * INCH) == Fraction(printed) * INCH


@pytest.mark.parametrize(
    ("depth", "width", "wall", "culprit"),
    [
        (0.1, 0.1, 0.05, "wall"),
        (0.1, 0.04, 0.015, "wall"),
        (0.0, 0.1, 0.005, "depth"),
        (0.1, -0.1, 0.005, "width"),
        (0.1, 0.1, float("nan"), "wall"),
        (float("inf"), 0.1, 0.005, "depth"),
    ],
)
def test_impossible_dimensions_are_refused_by_name(
    depth: float, width: float, wall: float, culprit: str
) -> None:
    with pytest.raises(InputError) as raised:
        rectangular_hollow(LABEL, depth, width, wall, Corners(1.5, 1.0))
    assert raised.value.culprits == (culprit,)


def test_a_tube_keeps_a_bore() -> None:
    with pytest.raises(InputError, match="half the diameter"):
        round_hollow(LABEL, 0.05, 0.025)
