"""What a truss offers across a piece, by hand, by a dense stiffness matrix, and through the beam it holds."""

from __future__ import annotations

from math import inf

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from solver.errors import InputError
from solver.propping.stiffness import find_offered
from solver.stiffness import Stiffness
from solver.truss import Truss
from tests.building import build_truss
from tests.laws.generator import draw_truss, pulls

FORK = {"A": (0, 0), "B": (6, 0), "C": (3, 4)}
CHORD = {"A": (0, 0), "B": (2, 0), "C": (4, 0), "G": (2, -1)}


def fork() -> Stiffness:
    """Two legs of 5 m to the ground, EA of 1500 N."""
    return Stiffness(build_truss(FORK, ["A-C", "B-C"], {"A": "xy", "B": "xy"}, areas=1500.0))


def propped(strut: float) -> Truss:
    """A chord of two bars, its middle on a strut of 1 m and EA `strut` to the ground."""
    members = ["A-B", "B-C", "B-G"]
    supports = {"A": "xy", "C": "y", "G": "xy"}
    return build_truss(CHORD, members, supports, areas=[1e6, 1e6, strut])


def test_two_legs_offer_what_their_slopes_allow() -> None:
    # k = EA / L = 300 N/m each; across 2 k .6², along 2 k .8²
    joint = fork().truss.joint_index("C")
    across, upward = find_offered(fork(), [joint, joint], [(1, 0), (0, 2)])
    assert (across.stiffness, upward.stiffness) == pytest.approx((2 * 300 * 0.36, 2 * 300 * 0.64))


def test_each_leg_takes_its_share_by_equilibrium_and_by_the_force_asked() -> None:
    joint = fork().truss.joint_index("C")
    (across,) = find_offered(fork(), [joint], [(3, 0)])
    assert across.shares == pytest.approx([1 / 1.2, -1 / 1.2])
    assert across.forces(-600.0) == pytest.approx([-500.0, 500.0])


def test_a_support_offers_all_there_is() -> None:
    held = find_offered(fork(), [0], [(0, 1)])[0]
    assert held.stiffness == inf
    assert np.abs(held.shares).max() == 0


def test_a_strut_under_a_chord_offers_its_own_stiffness_and_takes_the_whole_force() -> None:
    truss = propped(700.0)
    (offered,) = find_offered(Stiffness(truss), [1], [(0, 1)])
    assert offered.stiffness == pytest.approx(700.0)
    assert offered.shares == pytest.approx([0, 0, 1], abs=1e-12)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6))
def test_random_trusses_offer_what_a_dense_stiffness_matrix_says(seed: int) -> None:
    drawn = draw_truss(seed)
    truss = drawn.truss
    assume(drawn.decades <= 1)  # the plain matrix loses the digits of areas that lie farther apart
    columns = pulls(truss)
    bars, held = columns[:, : len(truss.members)], columns[:, len(truss.members) :]
    free = np.linalg.svd(held)[0][:, truss.held :]
    matrix = free.T @ bars @ np.diag(truss.axial_stiffness) @ bars.T @ free
    joint, direction = _somewhere(truss, seed)
    load = np.zeros(truss.freedoms)
    load[truss.dimension * joint :][: truss.dimension] = direction
    moved = float(load @ free @ np.linalg.solve(matrix, free.T @ load))
    (offered,) = find_offered(Stiffness(truss), [joint], [(2 * direction).tolist()])
    assert 1 / offered.stiffness == pytest.approx(moved, rel=1e-7)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10**6))
def test_the_work_of_the_force_is_the_energy_of_the_shares_which_balance_it(seed: int) -> None:
    truss = draw_truss(seed).truss
    joint, direction = _somewhere(truss, seed)
    (offered,) = find_offered(Stiffness(truss), [joint], [direction.tolist()])
    energy = float((offered.shares**2 / truss.axial_stiffness).sum())
    assert 1 / offered.stiffness == pytest.approx(energy, rel=1e-8)
    given_back = pulls(truss)[:, : len(truss.members)] @ offered.shares
    at_joint = given_back[truss.dimension * joint :][: truss.dimension]
    assert at_joint == pytest.approx(-direction, abs=1e-8)


def _somewhere(truss: Truss, seed: int) -> tuple[int, np.ndarray]:
    """A joint that nothing supports and a unit direction."""
    joints = [joint for joint in range(len(truss.joint_names)) if not _supported(truss, joint)]
    assume(joints)
    random = np.random.default_rng(seed)
    direction = random.normal(size=truss.dimension)
    return int(random.choice(joints)), direction / np.linalg.norm(direction)


def _supported(truss: Truss, joint: int) -> bool:
    return any(support.joint == joint for support in truss.supports)


def test_a_direction_without_length_or_of_other_axes_is_refused() -> None:
    for direction in ((0, 0), (1, 0, 0)):
        with pytest.raises(InputError):
            find_offered(fork(), [2], [direction])
