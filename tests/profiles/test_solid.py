"""Rods and flats against integration, and moments of areas put together."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import InputError
from solver.profiles.label import Label
from solver.profiles.moments import rectangle, spandrel
from solver.profiles.solid import flat, rod
from tests.profiles.outlines import arc, integrate

LABEL = Label("a size", "a table", "rolled")


@given(st.floats(0.005, 0.2), st.floats(0.005, 0.2))
def test_a_flat_has_the_moments_of_a_rectangle(depth: float, thickness: float) -> None:
    made = flat(LABEL, depth, thickness)
    box = np.array([[0, 0], [thickness, 0], [thickness, depth], [0, depth]], dtype=float)
    true = integrate(box)
    found = [made.area, made.second_moment, made.across, made.least]
    np.testing.assert_allclose(found, [true.area, true.in_plane, true.across, true.principal[0]], rtol=1e-9)


def test_a_rod_has_a_radius_of_gyration_of_a_quarter_of_its_diameter() -> None:
    made = rod(LABEL, 0.02)
    assert made.least_radius == pytest.approx(0.005)
    assert made.area == pytest.approx(314.159265e-6)


def test_a_spandrel_is_what_lies_between_a_corner_and_its_rounding() -> None:
    points = np.concatenate([[[0.0, 0.0]], arc((0.3, 0.3), 0.3, 270, -90)])
    made, true = spandrel(0.3), integrate(points)
    middle = made.about_centre()
    assert made.centre == pytest.approx(true.centre, rel=1e-4)
    assert (made.area, middle.square_x, middle.square_y) == pytest.approx(
        (true.area, true.across, true.in_plane), rel=1e-3
    )
    assert middle.product == pytest.approx(true.product, rel=1e-3)
    assert middle.least == pytest.approx(true.principal[0], rel=1e-3)


def test_a_rectangle_taken_from_itself_leaves_nothing_wherever_it_was() -> None:
    there = rectangle(2.0, 3.0).moved(5.0, -7.0)
    nothing = there.turned_half().moved(3.0, 4.0) - rectangle(2.0, 3.0).moved(-4.0, 8.0)
    assert (nothing.area, nothing.first_x, nothing.first_y) == pytest.approx((0, 0, 0))
    assert (nothing.square_x, nothing.square_y, nothing.product) == pytest.approx((0, 0, 0))


@pytest.mark.parametrize("sizes", [(0.0, 0.01), (0.08, float("nan"))])
def test_impossible_flats_are_refused(sizes: tuple[float, float]) -> None:
    with pytest.raises(InputError, match="greater than 0"):
        flat(LABEL, *sizes)
    with pytest.raises(InputError, match="greater than 0"):
        rod(LABEL, -0.02)
