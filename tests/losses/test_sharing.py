"""Who shares with whom, against brute force on the equilibrium matrix: ranks without pairs, every circuit.

All that is expected is worked out here by numpy, with the matrix written down in this file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations

import numpy as np
import pytest

from solver.losses.sharing import Sharing, find_sharing
from solver.redundancy import examine_redundancy
from solver.statics import examine
from solver.stiffness import Stiffness
from solver.truss import Truss
from tests.building import build_truss

CANTILEVER = {"a": (0, 0), "b": (0, 1), "c": (1, 0), "d": (1, 1), "e": (2, 0), "f": (2, 1)}
TEN = ["a-c", "b-d", "c-d", "a-d", "b-c", "c-e", "d-f", "e-f", "c-f", "d-e"]
OPTIMUM = [8.06, 7.94, 0.1, 5.57, 5.74, 3.94, 0.1, 0.1, 0.1, 5.57]
"""Areas of the stress-only optimum of the ten-bar truss (Haftka & Gürdal), in this order of bars."""

CROSSED = ["a-c", "b-d", "a-b", "c-d", "a-d", "b-c"]
BAYS = {**CANTILEVER, "g": (3, 0), "h": (3, 1)}
SPANS = {"a": (0, 0), "b": (2, 0), "c": (4, 0), "p": (1, 1), "q": (3, 1)}
PYRAMID = {"a": (1, 1, 0), "b": (-1, 1, 0), "c": (-1, -1, 0), "d": (1, -1, 0), "p": (0, 0, 2)}


@cache
def trusses() -> dict[str, Truss]:
    return {**panels(), **others()}


def panels() -> dict[str, Truss]:
    """Trusses of crossed panels."""
    square = {name: CANTILEVER[name] for name in "abcd"}
    determinate_bay = ["c-e", "d-f", "e-f", "c-f"]
    last_bay = ["e-g", "f-h", "g-h", "e-h", "f-g"]
    held = {"a": "xy", "b": "xy"}
    return {
        "two-panel cantilever": build_truss(CANTILEVER, TEN, held),
        "ten-bar truss": build_truss(CANTILEVER, TEN, held, areas=OPTIMUM),
        "crossed square": build_truss(square, CROSSED, {"a": "xy", "c": "y"}),
        "crossed square on two pins": build_truss(square, CROSSED, {"a": "xy", "c": "xy"}),
        "two crossed bays apart": build_truss(
            BAYS, [*CROSSED, *determinate_bay, *last_bay], {"a": "xy", "c": "y"}
        ),
        "roller on a slope": build_truss(square, CROSSED, {"a": "xy", "c": [[0.6, 0.8]], "d": [[-3, 4]]}),
    }


def others() -> dict[str, Truss]:
    """Trusses held by more than it takes, in lines, in space, and one that shares nothing."""
    return {
        "two spans over three supports": build_truss(
            SPANS, ["a-b", "b-c", "a-p", "p-b", "b-q", "q-c", "p-q"], {"a": "xy", "b": "y", "c": "y"}
        ),
        "fan of five": build_truss(
            {**{f"t{i}": (i - 2, 0) for i in range(5)}, "p": (0, -2)},
            [f"t{i}-p" for i in range(5)],
            {f"t{i}": "xy" for i in range(5)},
        ),
        "bars on one line": build_truss(
            {f"n{i}": (i, 0) for i in range(5)},
            ["n0-n1", "n0-n2", "n0-n3", "n2-n3", "n2-n4", "n3-n4"],
            {"n0": "xy", **{f"n{i}": "y" for i in range(1, 5)}},
        ),
        "pyramid in space": build_truss(
            PYRAMID, ["a-p", "b-p", "c-p", "d-p", "a-b"], dict.fromkeys("abcd", "xyz")
        ),
        "determinate triangle": build_truss(
            {name: CANTILEVER[name] for name in "abc"}, ["a-b", "b-c", "a-c"], {"a": "xy", "c": "y"}
        ),
    }


NAMES = list(trusses())


@cache
def sharing_of(name: str) -> Sharing:
    truss = trusses()[name]
    statics = examine(truss)
    return find_sharing(statics, examine_redundancy(Stiffness(truss), statics).shares)


def columns(truss: Truss) -> tuple[np.ndarray, np.ndarray]:
    """Pulls of unit tensions and of unit reactions on the joints, (freedoms, members), (freedoms, held)."""
    points = np.array([[float(c) for c in point] for point in truss.coordinates])
    size = points.shape[1]
    pulls, holds = np.zeros((points.size, len(truss.members))), np.zeros((points.size, truss.held))
    for i, bar in enumerate(truss.members):
        along = points[bar.second] - points[bar.first]
        along = along / np.linalg.norm(along)
        pulls[bar.first * size : (bar.first + 1) * size, i] = along
        pulls[bar.second * size : (bar.second + 1) * size, i] = -along
    vectors = [(s.joint, np.array([float(c) for c in v])) for s in truss.supports for v in s.directions]
    for i, (joint, vector) in enumerate(vectors):
        holds[joint * size : (joint + 1) * size, i] = vector / np.linalg.norm(vector)
    return pulls, holds


def free_matrix(truss: Truss) -> np.ndarray:
    """The equilibrium matrix of the members in the directions that are not held."""
    pulls, holds = columns(truss)
    left, sizes, _ = np.linalg.svd(holds)
    assert sizes.min() > 1e-6
    return left[:, truss.held :].T @ pulls


def rank(matrix: np.ndarray) -> int:
    return int(np.linalg.matrix_rank(matrix, tol=1e-9)) if matrix.size else 0


def stands_without(matrix: np.ndarray, *lost: int) -> bool:
    return rank(np.delete(matrix, lost, axis=1)) == len(matrix)


def circuits(matrix: np.ndarray) -> Iterator[set[int]]:
    """Every set of members with one state of self-stress, which passes through all of them."""
    # a member that cannot be spared is in none of them
    spared = [m for m in range(matrix.shape[1]) if stands_without(matrix, m)]
    for size in range(1, min(len(spared), rank(matrix) + 1) + 1):
        for chosen in combinations(spared, size):
            if rank(matrix[:, chosen]) != size - 1:
                continue
            state = np.linalg.svd(matrix[:, chosen])[2][-1]
            if np.abs(state).min() > 1e-9:
                yield set(chosen)


@pytest.mark.parametrize("name", NAMES)
def test_in_series_are_those_that_can_each_be_spared_and_not_both(name: str) -> None:
    matrix = free_matrix(trusses()[name])
    members = range(matrix.shape[1])
    spared = [m for m in members if stands_without(matrix, m)]
    for member in members:
        others = () if member not in spared else tuple(
            m for m in spared if m != member and not stands_without(matrix, member, m)
        )  # fmt: skip
        assert sharing_of(name).in_series(member) == others


@pytest.mark.parametrize("name", NAMES)
def test_in_one_part_are_those_that_some_circuit_passes_through_together(name: str) -> None:
    matrix = free_matrix(trusses()[name])
    together: dict[int, set[int]] = {m: set() for m in range(matrix.shape[1])}
    for circuit in circuits(matrix):
        for member in circuit:
            together[member] |= circuit - {member}
    for member, others in together.items():
        assert sharing_of(name).part_of(member) == tuple(sorted(others))


@pytest.mark.parametrize("name", NAMES)
def test_there_are_as_many_fundamental_states_as_columns_over_the_rank(name: str) -> None:
    matrix = free_matrix(trusses()[name])
    assert len(sharing_of(name).states) == matrix.shape[1] - rank(matrix)


@pytest.mark.parametrize("name", NAMES)
def test_each_fundamental_state_is_in_balance_with_its_own_member_at_1_and_no_other_of_its_kind(
    name: str,
) -> None:
    sharing, whole = sharing_of(name), np.hstack(columns(trusses()[name]))
    own = [state[0] for state in sharing.states]
    assert len(set(own)) == len(own)
    for number, state in enumerate(sharing.states):
        forces = sharing.forces(number)
        # The solver's column of a reaction is the force of the support, the same sense as here or the other.
        members = len(trusses()[name].members)
        signed = np.concatenate([forces[:members], -forces[members:]])
        assert np.abs(whole @ signed).max() <= 1e-12 * np.abs(forces).max()
        assert forces[state[0]] == 1.0
        assert set(np.flatnonzero(forces)) == set(state)
        assert not set(state[1:]) & set(own)


@pytest.mark.parametrize("name", ["two-panel cantilever", "ten-bar truss"])
def test_sixteen_of_the_forty_five_pairs_of_the_two_panel_cantilever_are_in_series(name: str) -> None:
    # as tests/published holds them; the areas of the ten-bar truss do not enter
    pairs = [(i, j) for i, j in combinations(range(10), 2) if j in sharing_of(name).in_series(i)]
    assert len(pairs) == 16
    assert {len(sharing_of(name).part_of(member)) for member in range(10)} == {9}


def test_a_bar_between_two_held_joints_shares_with_nobody() -> None:
    sharing, truss = sharing_of("pyramid in space"), trusses()["pyramid in space"]
    tie = truss.member_index("a-b")
    assert (sharing.in_series(tie), sharing.part_of(tie)) == ((), ())
    assert sharing.series[tie] >= 0
    assert sharing.part_of(truss.member_index("a-p")) == tuple(truss.member_index(f"{j}-p") for j in "bcd")


def test_two_crossed_bays_with_a_plain_one_between_them_do_not_share() -> None:
    sharing, truss = sharing_of("two crossed bays apart"), trusses()["two crossed bays apart"]
    first = {truss.member_index(name) for name in CROSSED}
    assert {truss.member_index("a-b"), *sharing.part_of(truss.member_index("a-b"))} == first
    assert sharing.part_of(truss.member_index("c-f")) == ()
    assert sharing.series[truss.member_index("c-f")] == -1


def test_of_members_to_release_those_of_larger_shares_come_first() -> None:
    # of the ten-bar optimum the inner upright has the largest share, .8913, and the thin diagonal .5639
    truss, sharing = trusses()["ten-bar truss"], sharing_of("ten-bar truss")
    assert {state[0] for state in sharing.states} == {truss.member_index("c-d"), truss.member_index("c-f")}


def test_stiffness_and_scale_do_not_enter() -> None:
    truss = trusses()["two crossed bays apart"]
    members = tuple(
        replace(m, group=replace(m.group, section=replace(m.group.section, area=10.0 ** (-i))))
        for i, m in enumerate(truss.members)
    )
    other = replace(truss, members=members)
    statics = examine(other)
    again = find_sharing(statics, examine_redundancy(Stiffness(other), statics).shares)
    expected = sharing_of("two crossed bays apart")
    for member in range(len(members)):
        assert again.in_series(member) == expected.in_series(member)
        assert again.part_of(member) == expected.part_of(member)
