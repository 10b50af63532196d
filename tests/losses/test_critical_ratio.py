"""Critical loads of a piece with and without its props, against closed forms.

Continuous beam-columns: S. Timoshenko & J. Gere, Theory of Elastic Stability, 2nd ed. 1961, sec. 2.1 and
2.2 (from memory, derived again here). Of k² = P / EI, a span L turns under an end moment M by
M / (EI k) (1 / kL - cot kL), in tension by M / (EI k) (coth kL - 1 / kL); two spans over a support buckle
where these turns cancel. The finite elements miss a pinned bar by 0.05 %, upwards.
"""

from __future__ import annotations

from dataclasses import replace
from math import cos, pi, sin, sqrt, tan, tanh

import numpy as np
import pytest
from scipy.optimize import brentq

from solver.losses.props import Unpropped, critical_factor, find_critical, find_unpropped
from solver.truss import Piece, Truss
from tests.building import build_truss

MISS = 6e-4


def factor(
    lengths: list[float],
    forces: list[float],
    unheld: tuple[int, ...] = (),
    bending: list[float] | None = None,
) -> float | None:
    stiffness = np.array([1.0] * len(lengths) if bending is None else bending)
    return critical_factor(np.array(lengths), stiffness, np.array(forces), unheld)


def test_a_pinned_bar_buckles_at_pi_squared_and_the_elements_miss_it_upwards() -> None:
    found = factor([1.0], [-1.0])
    assert found is not None
    assert pi**2 < found < pi**2 * (1 + MISS)


@pytest.mark.parametrize(
    ("length", "bending", "force"), [(3.0, 7e6, 2e5), (0.25, 40.0, 1e-3), (8.0, 1.0, 900.0)]
)
def test_the_factor_is_the_euler_load_over_the_force(length: float, bending: float, force: float) -> None:
    euler = pi**2 * bending / length**2
    assert factor([length], [-force], bending=[bending]) == pytest.approx(euler / force, rel=MISS)


def test_two_equal_spans_over_a_support_buckle_as_one_of_them_alone() -> None:
    # the wave of two half-waves has its standstill, and no moment, over the middle
    assert factor([1.0, 1.0], [-1.0, -1.0]) == pytest.approx(factor([1.0], [-1.0]), rel=1e-9)


def test_without_its_middle_support_a_beam_of_two_equal_spans_bears_a_quarter() -> None:
    held, free = factor([1.0, 1.0], [-1.0, -1.0]), factor([1.0, 1.0], [-1.0, -1.0], (1,))
    assert held is not None and free is not None
    assert free == pytest.approx(pi**2 / 4, rel=1e-4)
    assert held / free == pytest.approx(4.0, rel=MISS)


def test_six_spans_that_lose_every_second_support_bear_a_quarter() -> None:
    held, free = factor([2.0] * 6, [-1.0] * 6), factor([2.0] * 6, [-1.0] * 6, (1, 3, 5))
    assert held is not None and free is not None
    assert held / free == pytest.approx(4.0, rel=MISS)


def turn(load: float, length: float, bending: float) -> float:
    """Turn at one end under a unit moment there, the far end pinned; compression positive."""
    k = sqrt(abs(load) / bending)
    if load > 0:
        return (1 / (k * length) - 1 / tan(k * length)) / (bending * k)
    return (1 / tanh(k * length) - 1 / (k * length)) / (bending * k)


@pytest.mark.parametrize(
    ("lengths", "pushes", "bending"),
    [
        ((2.0, 1.0), (1.0, 1.0), (1.0, 1.0)),
        ((3.0, 2.0), (1.0, 1.0), (1.0, 1.0)),
        ((2.0, 1.5), (1.0, 0.6), (1.0, 1.0)),
        ((2.0, 1.0), (1.0, -0.5), (1.0, 1.0)),
        ((2.0, 1.0), (1.0, -3.0), (5.0, 2.0)),
        ((2.5, 1.0), (2.0, 1.0), (1.0, 0.3)),
    ],
)
def test_two_unlike_spans_buckle_where_their_turns_over_the_support_cancel(
    lengths: tuple[float, float], pushes: tuple[float, float], bending: tuple[float, float]
) -> None:
    # the first span is the weaker: it buckles between pinned (pi) and clamped (4.4934) at the support
    base = bending[0] / (pushes[0] * lengths[0] ** 2)
    spans = list(zip(pushes, lengths, bending, strict=True))
    expected = brentq(
        lambda grown: sum(turn(grown * push, length, stiff) for push, length, stiff in spans),
        base * (pi * 1.0001) ** 2,
        base * 4.4933**2,
    )
    found = factor(list(lengths), [-push for push in pushes], bending=list(bending))
    assert found == pytest.approx(expected, rel=2e-3)
    assert found is not None and found > expected * (1 - 1e-9)


def meet(load: float, lengths: tuple[float, float], bending: tuple[float, float]) -> float:
    """0 where y = A sin ax and y = B sin bx' meet with one deflection and one slope between two bars."""
    a, b = (sqrt(load / stiff) for stiff in bending)
    here, there = a * lengths[0], b * lengths[1]
    return b * sin(here) * cos(there) + a * cos(here) * sin(there)


@pytest.mark.parametrize(("lengths", "bending"), [((1.0, 1.0), (1.0, 4.0)), ((2.0, 1.0), (1.0, 3.0))])
def test_two_bars_of_unlike_sections_without_the_prop_between_buckle_as_a_stepped_column(
    lengths: tuple[float, float], bending: tuple[float, float]
) -> None:
    total = sum(lengths)
    low, high = (pi**2 * stiff / total**2 for stiff in (min(bending), max(bending)))
    expected = brentq(meet, low * 1.0001, high, (lengths, bending))
    assert factor(list(lengths), [-1.0, -1.0], (1,), list(bending)) == pytest.approx(expected, rel=MISS)


def test_a_column_pushed_in_its_first_half_and_pulled_in_its_second_buckles_at_pi_squared() -> None:
    # P pushes one half and pulls the other, d the deflection between: the ends hold across with P d, so that
    # y = A sin kx + d x and y = B sinh kx' + d x'. Both are d in the middle: B = 0 and A sin k = 0, k = pi.
    assert factor([1.0, 1.0], [-1.0, 1.0], (1,)) == pytest.approx(pi**2, rel=2e-3)


@pytest.mark.parametrize("unheld", [(), (1,)])
@pytest.mark.parametrize("forces", [[1.0, 1.0], [5.0, 0.0]])
def test_what_is_pulled_never_buckles(forces: list[float], unheld: tuple[int, ...]) -> None:
    assert factor([1.0, 2.0], forces, unheld) is None


def chord(
    sections: tuple[float, float] = (1.0, 1.0), seconds: tuple[float | None, float | None] = (1.0, 1.0)
) -> Truss:
    """A chord a-b-c in line, b on an upright; the bars of lengths 2 and 2."""
    truss = build_truss(
        {"a": (0, 0), "b": (2, 0), "c": (4, 0), "g": (2, -1)},
        ["a-b", "b-c", "g-b"],
        {"a": "xy", "c": "y", "g": "xy"},
        areas=[*sections, 1.0],
    )
    groups = [m.group for m in truss.members]
    sized = [
        replace(group, section=replace(group.section, second_moment=second))
        for group, second in zip(groups, (*seconds, None), strict=True)
    ]
    members = tuple(replace(m, group=g) for m, g in zip(truss.members, sized, strict=True))
    return replace(truss, members=members, pieces=(Piece("chord", (0, 1, 2)),))


def unpropped(truss: Truss) -> Unpropped:
    found = find_unpropped(truss, (1,))
    assert found is not None
    return found


def test_the_ratio_of_a_chord_of_one_section_needs_no_second_moment() -> None:
    truss = chord(seconds=(None, None))
    forces = np.array([-50.0, -50.0, 0.0])
    found = find_critical(truss, unpropped(truss), forces)
    assert found is not None and not found.known
    assert found.ratio == pytest.approx(4.0, rel=MISS)


def test_the_ratio_of_a_chord_of_two_sections_counts_the_bending_of_each() -> None:
    # with the prop: the weak span (EI 1) on the strong (EI 4), turns cancelling; without: a stepped column
    spans = [(2.0, 1.0), (2.0, 4.0)]
    held = brentq(lambda p: sum(turn(p, *span) for span in spans), pi**2 / 4 * 1.001, 4.4933**2 / 4)
    free = brentq(meet, pi**2 / 16 * 1.0001, pi**2 / 4, ((2.0, 2.0), (1.0, 4.0)))
    truss = chord((1.0, 2.0), (1.0, 4.0))
    found = find_critical(truss, unpropped(truss), np.array([-1.0, -1.0, 0.0]))
    assert found is not None and found.known
    assert found.ratio == pytest.approx(held / free, rel=2e-3)


def test_no_ratio_is_told_of_a_pulled_chord_or_of_unlike_sections_without_second_moments() -> None:
    pulled, unknown = chord(), chord((1.0, 2.0), (1.0, None))
    assert find_critical(pulled, unpropped(pulled), np.array([3.0, 0.0, -9.0])) is None
    assert find_critical(unknown, unpropped(unknown), np.array([-1.0, -1.0, 0.0])) is None
