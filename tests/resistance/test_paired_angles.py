"""Two angles back to back by hand: AISC 360-22, E6, and EN 1993-1-1, 6.4.4."""

from __future__ import annotations

from typing import Any

import pytest

from explorer.sections.catalogue import find_profile
from solver.profiles.profile import Profile
from solver.resistance import aisc_pairs, en_pairs
from solver.resistance.aisc_360_22 import Aisc360
from solver.resistance.bar import Bar
from solver.resistance.directions import OUT_OF_PLANE
from solver.resistance.en_1993_1_1 import En1993
from solver.resistance.pairs import radius_of_one
from solver.resistance.steps import Strength
from solver.resistance.twisting import least_radius_of_legs
from tests.resistance.members import INCH, KIP, KSI, angle, pair, shaped, steel, us_steel

LRFD, ASD, EN = Aisc360("LRFD"), Aisc360("ASD"), En1993()
A36, S275 = us_steel(36, 58), steel(275e6, 430e6)
FIFTEEN_FEET = 180 * INCH
SIZES = {
    "depth": 6 * INCH,
    "width": 8.375 * INCH,
    "thickness": 0.5 * INCH,
    "gap": 0.375 * INCH,
    "area": 9.5 * INCH**2,
    "second_moment": 9.5 * 1.908**2 * INCH**4,
    "across": 9.5 * 1.636**2 * INCH**4,
    "least": 9.5 * 1.636**2 * INCH**4,
    "radius_of_one": 0.864 * INCH,
}
TWO = Profile("2L6X4X1/2 gap 3/8", "print", "paired angles", "rolled", **SIZES)
"""A 9.50 in², r_x 1.908, r_y 1.636, of one angle r_z 0.864 in; J 0.7917 in⁴, y_0 1.737 in: (L/r)_o 110.0."""


def joined(spacing: float | None, fixing: str = "snug", **more: Any) -> Bar:
    """The pair over 15 ft of A36 with connectors so many inches apart."""
    apart = None if spacing is None else spacing * INCH
    return shaped(TWO, A36, FIFTEEN_FEET, connector_spacing=apart, connector_fixing=fixing, **more)


def found(strength: Strength, symbol: str) -> float:
    return [step.result.value for step in strength.steps if step.result.symbol == symbol][-1]


def clauses(strength: Strength) -> list[str]:
    return [step.clause for step in strength.steps]


@pytest.mark.parametrize("standard", [LRFD, ASD], ids=lambda standard: standard.name)
@pytest.mark.parametrize("across", [FIFTEEN_FEET, None])
def test_a_pair_without_connectors_has_no_strength_in_compression(
    standard: Aisc360, across: float | None
) -> None:
    bar = joined(None, across=across)
    assert standard.compression(bar).value is None
    assert standard.compression(bar).refused == ("connectors (E6.1): no spacing given",)
    assert standard.tension(bar).value is not None


@pytest.mark.parametrize(
    ("spacing", "fixing", "ratio", "stress", "strength", "clause"),
    [
        # a/r_i 82.5 = 3/4 x 110: √(110² + 82.5²) = 137.5; F_e by E4-3 14.36 ksi, F_n 12.59
        (0.864 * 82.5, "snug", 137.5, 14.36, 107.7, "E6-1"),
        # a/r_i 69.44: √(110² + 69.44²) = 130.1
        (60.0, "snug", 130.1, 15.94, 119.5, "E6-1"),
        # √(110² + (0.5 x 69.44)²) = 115.4
        (60.0, "welded", 115.4, 19.91, 144.4, "E6-2b"),
        # a/r_i 39.9 leaves it at 110.0: F_e 21.71, F_n 17.99
        (34.5, "welded", 110.0, 21.71, 153.8, "E6-2a"),
    ],
)
def test_connectors_enlarge_the_slenderness_out_of_plane_and_with_twist(
    spacing: float, fixing: str, ratio: float, stress: float, strength: float, clause: str
) -> None:
    got = LRFD.compression(joined(spacing, fixing))
    assert got.refused == () and clause in clauses(got)
    assert found(got, "(L_c / r)_m") == pytest.approx(ratio, abs=0.06)
    twisted = next(step.result.value for step in got.steps if step.clause == "E4-3")
    assert twisted / KSI == pytest.approx(stress, rel=1e-3)
    assert (got.value or 0.0) / KIP == pytest.approx(strength, rel=1e-3)
    assert got.steps[-1].about == "with twist" and got.slenderness == found(got, "(L_c / r)_m")
    inside = next(step.result for step in got.steps if (step.clause, step.about) == ("E2", "in plane"))
    assert inside.value == pytest.approx(180 / 1.908, rel=1e-9)


def test_welded_connectors_count_from_a_ratio_of_40_on() -> None:
    at, above = (clauses(LRFD.compression(joined(0.864 * ratio, "welded"))) for ratio in (40 - 1e-9, 40.01))
    assert "E6-2a" in at and "E6-2b" not in at
    assert "E6-2b" in above and "E6-2a" not in above


def test_connectors_farther_apart_than_three_quarters_of_the_slenderness_are_refused() -> None:
    # 3/4 x 180 / 1.636 = 82.518
    for fixing in ("snug", "welded"):
        assert LRFD.compression(joined(0.864 * 82.51, fixing)).refused == ()
        far = LRFD.compression(joined(0.864 * 82.53, fixing))
        assert far.value is None and far.refused == (aisc_pairs.TOO_FAR,)
        assert found(far, "a / r_i") > found(far, "limit of a / r_i") == pytest.approx(82.518, abs=1e-3)


def test_a_pair_of_unknown_length_out_of_plane_keeps_the_notes_of_its_connectors() -> None:
    # in plane alone: 3/4 x 94.34 = 70.75, and 60 / 0.864 = 69.4
    strength = LRFD.compression(joined(60.0, across=None))
    assert strength.value is not None and {"E6-1", "E4-3"}.isdisjoint(clauses(strength))
    assert OUT_OF_PLANE in strength.unchecked and aisc_pairs.ENDS in strength.unchecked


def test_a_pair_of_a_table_keeps_the_printed_radius_of_one_angle() -> None:
    two = find_profile("2L6X4X1/2 gap 3/8")
    assert radius_of_one(two) == pytest.approx(0.864 * INCH, rel=1e-9)
    assert radius_of_one(find_profile("2L 150x90x10 SLBB gap 10")) == pytest.approx(
        find_profile("L 150x90x10").least_radius, rel=1e-12
    )


def test_where_only_the_pair_is_known_plain_legs_give_the_radius_of_one() -> None:
    for sizes in ((0.1, 0.1, 0.01), (0.15, 0.09, 0.01), (0.075, 0.1, 0.008)):
        one = angle(*sizes).least_radius
        assert radius_of_one(pair(*sizes, 0.01)) == pytest.approx(one, rel=1e-9)
        assert least_radius_of_legs(angle(*sizes)) == pytest.approx(one, rel=1e-9)


def test_packing_plates_within_15_radii_make_a_pair_one_and_others_are_refused() -> None:
    # i_min 21.9456 mm: 15 of it are 329.2 mm; 21.946 mm x 15.0
    near, far = (
        EN.compression(shaped(TWO, S275, 3.0, connector_spacing=spacing)) for spacing in (0.329, 0.330)
    )
    untold = EN.compression(shaped(TWO, S275, 3.0))
    assert near.value == untold.value and near.value is not None
    assert "6.4.4, table 6.9" in clauses(near) and en_pairs.NOT_GIVEN not in near.unchecked
    assert en_pairs.NOT_GIVEN in untold.unchecked
    assert far.value is None and far.refused == (en_pairs.TOO_FAR,)
    assert "6.4.4, table 6.9" in clauses(far)


def test_the_curve_of_a_pair_is_told_as_a_choice_and_that_of_one_angle_is_not() -> None:
    two, one = (EN.compression(shaped(shape, S275, 3.0)) for shape in (TWO, angle(0.1, 0.1, 0.01)))
    curves = [next(step.formula for step in s.steps if step.result.symbol == "Φ") for s in (two, one)]
    assert curves[0].endswith("curve b, chosen here: table 6.2 lists no pairs of angles")
    assert curves[1].endswith("curve b")
