"""How joints move when a member is lost: what the others resist written out, null spaces by numpy alone."""

from __future__ import annotations

import numpy as np
import pytest

from explorer.bundled import list_bundled
from explorer.document import read_study
from solver.removal import movement_without, remove_each
from solver.statics import examine
from solver.stiffness import Stiffness
from solver.truss import Truss
from tests.building import build_truss
from tests.laws import generator, random_trusses
from tests.laws.trying import law

NOTHING = 1e-9
"""What is left of a unit movement by rounding, in trusses whose areas differ by a million at most."""


def resisted(truss: Truss, lost: int) -> np.ndarray:
    """What other members and supports resist, a row each: a change of length, a held direction."""
    x, d = truss.joint_coordinates, truss.dimension
    rows = []
    for member in truss.members[:lost] + truss.members[lost + 1 :]:
        along = (x[member.second] - x[member.first]) / np.linalg.norm(x[member.second] - x[member.first])
        row = np.zeros(x.shape)
        row[member.first], row[member.second] = -along, along
        rows.append(row.ravel())
    for support in truss.supports:
        for direction in support.directions:
            row = np.zeros((len(x), d))
            row[support.joint] = [float(c) for c in direction]
            rows.append(row.ravel() / np.linalg.norm(row))
    return np.array(rows)


def check_movements(truss: Truss) -> int:
    """Check every member that the truss needs; returns how many there are."""
    removals, stiffness = remove_each(examine(truss)), Stiffness(truss)
    needed = np.flatnonzero(removals.mechanism)
    for member in needed:
        moves = removals.moves[member]
        movement = movement_without(stiffness, int(member), moves)
        matrix = resisted(truss, int(member))
        assert np.abs(matrix @ movement.ravel()).max() <= NOTHING
        _, sizes, vectors = np.linalg.svd(matrix)
        values = np.append(sizes, np.zeros(matrix.shape[1] - len(sizes)))
        # exactly one movement is free, and it is this one
        assert values[-1] <= NOTHING < values[-2]
        free = vectors[-1].reshape(movement.shape)
        assert abs(abs(np.sum(free * movement)) / np.linalg.norm(movement) - 1) <= NOTHING
        sizes = np.linalg.norm(movement, axis=1)
        assert sizes.max() == pytest.approx(1, abs=1e-12)
        # of joints that move alike the first goes down
        assert movement[np.flatnonzero(sizes >= sizes.max() - NOTHING)[0], -1] <= NOTHING
        still = np.setdiff1d(np.arange(len(movement)), moves)
        assert not movement[still].any()
        # joints that move are those that the null space moves
        seen = np.linalg.norm(free, axis=1) / np.linalg.norm(free, axis=1).max()
        assert set(np.flatnonzero(seen > 1e-6)) <= set(moves)
        assert (sizes[list(moves)] > 0).all()
    return len(needed)


@pytest.mark.parametrize("item", list_bundled("study"), ids=lambda item: item.name)
def test_what_moves_without_a_member_of_a_bundled_truss_is_the_one_movement_left_free(item: object) -> None:
    truss = read_study(item.path).study.truss  # type: ignore[attr-defined]
    indeterminacy = len(truss.members) + truss.held - truss.freedoms
    # a statically determinate truss needs every member
    assert check_movements(truss) == len(truss.members) or indeterminacy > 0


@law(20)
def test_what_moves_without_a_member_is_the_one_movement_left_free(seed: int) -> None:
    check_movements(generator.draw_truss(seed).truss)


@law(10)
def test_what_moves_without_a_member_of_a_thicket_is_the_one_movement_left_free(seed: int) -> None:
    check_movements(random_trusses.draw_truss(seed).truss)


def test_without_its_hanger_a_king_post_lets_the_middle_joint_down() -> None:
    truss = build_truss(
        {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)},
        ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
        {"L0": "xy", "L2": "y"},
    )
    movement = movement_without(Stiffness(truss), 4, (1,))
    assert movement == pytest.approx(np.array([[0, 0], [0, -1], [0, 0], [0, 0]]), abs=1e-12)


def test_without_a_rafter_the_ridge_turns_about_the_other_rafters_foot() -> None:
    # the ridge swings across L0-U1, 3 in 4: 0.6 down for 0.8 across; the foot and the rod stay
    truss = build_truss(
        {"L0": (0, 0), "L2": (8, 0), "U1": (4, 3)}, ["L0-L2", "L0-U1", "U1-L2"], {"L0": "xy", "L2": "y"}
    )
    movement = movement_without(Stiffness(truss), 2, (2,))
    assert movement == pytest.approx(np.array([[0, 0], [0, 0], [0.6, -0.8]]), abs=1e-12)


def test_without_its_tie_a_roof_spreads_and_its_ridge_comes_down() -> None:
    # rafters of rise 3 in 4: the roller goes out by 2 x 3/4 of what the ridge comes down
    truss = build_truss(
        {"L0": (0, 0), "L2": (8, 0), "U1": (4, 3)}, ["L0-L2", "L0-U1", "U1-L2"], {"L0": "xy", "L2": "y"}
    )
    movement = movement_without(Stiffness(truss), 0, (1, 2))
    ridge, roller = movement[2], movement[1]
    assert abs(roller[0]) == pytest.approx(1, abs=1e-12) and abs(roller[1]) <= 1e-12
    assert ridge * np.sign(roller[0]) == pytest.approx([0.5, -2 / 3], abs=1e-12)
