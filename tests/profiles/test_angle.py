"""Angles, single and paired, against integration over their outlines."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import InputError
from solver.profiles.angle import Angle, pair, rolled_angle, single
from solver.profiles.label import Label
from tests.profiles.outlines import angle as outline
from tests.profiles.outlines import integrate, mirrored

LABEL = Label("a size", "a table", "rolled")
WITHIN = 2e-5
gaps = st.floats(0, 0.05)
legs = st.tuples(st.floats(0.02, 0.3), st.floats(0.5, 1.0), st.floats(0.06, 0.14), st.floats(0.0, 1.6))


def dimensions(drawn: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
    """Depth, width, thickness and root radius that leave straight legs."""
    depth, ratio, slender, root = drawn
    thickness = slender * depth
    return depth, ratio * depth, thickness, root * thickness


@given(legs)
def test_an_angle_has_the_moments_of_its_outline(drawn: tuple[float, float, float, float]) -> None:
    sizes = dimensions(drawn)
    made, true = rolled_angle(*sizes), integrate(outline(*sizes))
    found = [made.area, made.second_moment, made.across, made.least]
    expected = [true.area, true.in_plane, true.across, true.principal[0]]
    np.testing.assert_allclose(found, expected, rtol=WITHIN)
    np.testing.assert_allclose([made.centre_across, made.centre_in_plane], true.centre, rtol=WITHIN)


@given(legs)
def test_principal_moments_keep_sum_and_bounds(drawn: tuple[float, float, float, float]) -> None:
    sizes = dimensions(drawn)
    made = rolled_angle(*sizes)
    greatest = made.second_moment + made.across - made.least
    assert 0 < made.least < min(made.second_moment, made.across)
    # Their product is the determinant of the tensor; its product of inertia is integrated apart.
    determinant = made.second_moment * made.across - integrate(outline(*sizes)).product ** 2
    assert made.least * greatest == pytest.approx(determinant, rel=1e-3)


@given(legs)
def test_an_angle_turned_about_is_the_angle_with_its_legs_exchanged(
    drawn: tuple[float, float, float, float],
) -> None:
    depth, width, thickness, root = dimensions(drawn)
    turned, other = (
        rolled_angle(depth, width, thickness, root).turned(),
        rolled_angle(width, depth, thickness, root),
    )
    names = tuple(Angle.__dataclass_fields__)
    np.testing.assert_allclose(
        [getattr(turned, name) for name in names], [getattr(other, name) for name in names], rtol=1e-9
    )


def test_the_weakest_axis_of_equal_legs_lies_at_45_degrees() -> None:
    made, true = rolled_angle(0.1, 0.1, 0.01, 0.012), integrate(outline(0.1, 0.1, 0.01, 0.012))
    assert true.product < 0
    assert made.least == pytest.approx(made.second_moment + true.product, rel=WITHIN)


@given(legs, gaps)
def test_a_pair_has_the_moments_of_two_outlines_with_a_gap(
    drawn: tuple[float, float, float, float], gap: float
) -> None:
    sizes = dimensions(drawn)
    one = outline(*sizes)
    true = integrate(one + np.array([gap / 2, 0.0]), mirrored(one, gap))
    made = pair(LABEL, rolled_angle(*sizes), gap)
    assert true.product == pytest.approx(0, abs=1e-9 * true.in_plane)
    found = [made.area, made.second_moment, made.across, made.least]
    expected = [true.area, true.in_plane, true.across, min(true.in_plane, true.across)]
    np.testing.assert_allclose(found, expected, rtol=WITHIN)
    assert (made.depth, made.width, made.gap) == (sizes[0], 2 * sizes[1] + gap, gap)


def test_short_legs_back_to_back_are_stiffer_across_and_weaker_in_the_plane() -> None:
    angle = rolled_angle(0.15, 0.09, 0.01, 0.012)
    long, short = pair(LABEL, angle, 0.01), pair(LABEL, angle.turned(), 0.01)
    assert long.second_moment > short.second_moment
    assert long.across < short.across
    assert long.area == short.area


def test_a_single_angle_is_weaker_than_either_leg_suggests() -> None:
    profile = single(LABEL, rolled_angle(0.1, 0.075, 0.008, 0.010))
    assert profile.least_radius < min(profile.radius, profile.radius_across)
    assert profile.shape == "angle"
    assert profile.stored == ()


@pytest.mark.parametrize(
    ("sizes", "culprit"),
    [
        ((0.08, 0.08, 0.08, 0.01), "thickness"),
        ((0.08, 0.08, 0.008, -0.001), "root_radius"),
        ((0.08, 0.08, 0.004, 0.010), "root_radius"),
        ((0.08, 0.02, 0.008, 0.010), "root_radius"),
        ((0.0, 0.08, 0.008, 0.010), "depth"),
        ((0.08, 0.08, 0.008, float("nan")), "root_radius"),
    ],
)
def test_impossible_angles_are_refused_by_name(
    sizes: tuple[float, float, float, float], culprit: str
) -> None:
    with pytest.raises(InputError) as raised:
        rolled_angle(*sizes)
    assert raised.value.culprits == (culprit,)


def test_a_gap_below_nothing_is_refused() -> None:
    with pytest.raises(InputError) as raised:
        pair(LABEL, rolled_angle(0.08, 0.08, 0.008, 0.01), -0.001)
    assert raised.value.culprits == ("gap",)
