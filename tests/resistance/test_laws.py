"""Laws that every rule must keep: longer is weaker, no jumps, never above yielding or Euler."""

from __future__ import annotations

from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.profiles.profile import Profile
from solver.resistance import aisc_pairs
from solver.resistance.aisc_360_22 import Aisc360, nominal_stress
from solver.resistance.bar import Bar
from solver.resistance.en_1993_1_1 import IMPERFECTION, En1993, reduction
from solver.resistance.plain import Plain
from solver.resistance.twisting import euler_stress, twist
from tests.resistance.members import angle, box, pair, plain_bar, rod, shaped, steel, tube

STANDARDS = (Aisc360("LRFD"), Aisc360("ASD"), En1993(), Plain(0.6, 0.5))
PROFILES = (
    tube(0.1143, 0.005),
    box(0.1, 0.06, 0.005, "cold formed"),
    angle(0.1, 0.1, 0.012),
    angle(0.1, 0.075, 0.01),
    pair(0.08, 0.06, 0.008, 0.01),
    rod(0.06),
)
CLOSE = 0.05
"""Of connectors [m]: near enough for E6.2 in all pairs here."""

lengths = st.floats(0.3, 12.0)
stresses = st.floats(200e6, 500e6)


def joined(profile: Profile, strength: float, length: float, **more: float) -> Bar:
    """A bar of which two angles are joined closely."""
    return shaped(profile, steel(strength), length, connector_spacing=CLOSE, **more)


@pytest.mark.parametrize("fixing", ["snug", "welded"])
@given(st.floats(0.05, 3.0), st.floats(0.05, 3.0), st.floats(1.0, 6.0))
def test_connectors_farther_apart_never_make_a_pair_stronger(
    fixing: str, one: float, two: float, length: float
) -> None:
    found = []
    for spacing in sorted((one, two)):
        bar = shaped(PROFILES[4], steel(250e6), length, connector_spacing=spacing, connector_fixing=fixing)
        found.append(Aisc360().compression(bar))
    near, far = found
    if near.value is None:
        assert far.refused == (aisc_pairs.TOO_FAR,)
    elif far.value is not None:
        assert far.value <= near.value * (1 + 1e-12)


@pytest.mark.parametrize("standard", STANDARDS, ids=lambda s: s.name)
@given(st.sampled_from(PROFILES), lengths, lengths, stresses)
def test_a_longer_member_bears_no_more_in_compression(
    standard: object, profile: Profile, one: float, two: float, strength: float
) -> None:
    short, long = sorted((one, two))
    bears = [
        standard.compression(joined(profile, strength, length)).value  # type: ignore[attr-defined]
        for length in (short, long)
    ]
    if None in bears:
        assert bears == [None, None], "walls do not depend on length"
        return
    assert bears[1] <= bears[0] * (1 + 1e-9)


@pytest.mark.parametrize("standard", STANDARDS, ids=lambda s: s.name)
@given(st.sampled_from(PROFILES), lengths, lengths, stresses)
def test_compression_stays_below_tension_and_below_eulers_load(
    standard: object, profile: Profile, inner: float, across: float, strength: float
) -> None:
    bar = joined(profile, strength, max(inner, across), in_plane=inner, across=across)
    bears = standard.compression(bar).value  # type: ignore[attr-defined]
    if bears is None:
        return
    ratio = max(inner / profile.radius, across / profile.radius_across)
    assert bears <= profile.area * euler_stress(210e9, ratio) * (1 + 1e-9)
    assert bears <= standard.tension(bar).value * (1 + 1e-9)  # type: ignore[attr-defined]


@given(st.sampled_from(PROFILES), lengths, stresses)
def test_design_strength_over_allowable_strength_is_phi_omega(
    profile: Profile, length: float, strength: float
) -> None:
    bar = joined(profile, strength, length)
    for way in ("tension", "compression"):
        one, two = (getattr(Aisc360(method), way)(bar).value for method in ("LRFD", "ASD"))
        assert one / two == pytest.approx(0.9 * 1.67, rel=1e-12)


@given(stresses)
def test_the_critical_stress_is_continuous_where_its_formula_changes(strength: float) -> None:
    # 0.658^2.25 = 0.38995 and 0.877 / 2.25 = 0.38978: the standard's own rounding, 0.05 %
    limit = strength / 2.25
    above, below = (
        nominal_stress(strength, limit * (1 + 1e-12)),
        nominal_stress(strength, limit * (1 - 1e-12)),
    )
    assert (above.clause, below.clause) == ("E3-2", "E3-3")
    assert above.result.value == pytest.approx(below.result.value, rel=6e-4)


@pytest.mark.parametrize("curve", IMPERFECTION)
@given(st.floats(0.01, 5.0), st.floats(0.01, 5.0))
def test_the_reduction_is_one_when_short_falls_with_slenderness_and_stays_below_euler(
    curve: str, one: float, two: float
) -> None:
    low, high = sorted((one, two))
    chi = [reduction(x, curve)[-1].result.value for x in (low, high)]
    assert 0 < chi[1] <= chi[0] <= 1
    assert chi[1] <= 1 / high**2 + 1e-12
    if low <= 0.2:
        assert chi[0] == 1
    assert reduction(0.2 * (1 + 1e-9), curve)[-1].result.value == pytest.approx(1, abs=1e-8)


@given(st.floats(0.3, 0.499))
def test_walls_lose_area_without_a_jump_at_their_limit(size: float) -> None:
    # within 0.2 % over a step of 0.01 %: the printed c_1, c_2 are rounded
    areas = []
    for side in (size, size * 1.0001):
        bar = shaped(box(side, 0.1, 0.006), steel(355e6), 2.0)
        areas.append((Aisc360().compression(bar).value or 0.0) / bar.section.area)
    assert areas[1] == pytest.approx(areas[0], rel=2e-3)


@pytest.mark.parametrize("space", [False, True])
def test_the_two_lines_of_e5_meet(space: bool) -> None:
    shape, limit = angle(0.1, 0.1, 0.012), 75 if space else 80
    found = []
    for ratio in (limit * (1 - 1e-9), limit * (1 + 1e-9)):
        bar = shaped(shape, steel(250e6), ratio * shape.radius, web=True, space=space, connected="long leg")
        found.append(Aisc360().compression(bar))
    assert found[0].slenderness == pytest.approx(found[1].slenderness, abs=1e-6)
    assert {step.clause for step in found[0].steps} != {step.clause for step in found[1].steps}


@given(st.floats(0.04, 0.2), st.floats(0.04, 0.2), st.floats(0.3, 6.0), st.booleans())
def test_bending_and_twist_together_make_their_determinant_zero(
    depth: float, width: float, length: float, paired: bool
) -> None:
    t = min(depth, width) / 8
    section = twist(pair(depth, width, t, 0.01) if paired else angle(depth, width, t))
    fx, fy = (euler_stress(210e9, length / radius) for radius in section.radii)
    fz = section.torsional_stress(81e9)
    found = section.critical_stress((fx, fy), fz)
    x, y = section.offset
    stiff = np.diag([fy, fx, fz * section.polar])
    loads = np.array([[1, 0, y], [0, 1, -x], [y, -x, section.polar]])
    lowest = float(np.linalg.eigvals(np.linalg.solve(loads, stiff)).real.min())
    assert min(found, fx, fy) == pytest.approx(lowest, rel=1e-6)
    assert found <= fz * (1 + 1e-9)


@given(lengths, st.floats(0.01, 0.2))
def test_slenderness_is_length_over_radius(length: float, radius: float) -> None:
    bar = plain_bar(1e-3, radius, steel(355e6), length)
    for standard in (Aisc360(), En1993(curve="c"), Plain()):
        assert standard.compression(bar).slenderness == pytest.approx(length / radius)
        assert standard.tension(bar).slenderness == pytest.approx(length / radius)
    assert Plain().compression(bar).value <= pi**2 * 210e9 * 1e-3 * (radius / length) ** 2 * (1 + 1e-12)
