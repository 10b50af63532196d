"""How far joints that stay lie apart on a piece, before and after a loss lets some of its joints go."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.losses.props import find_unpropped
from solver.truss import Piece, Truss
from tests.building import build_truss


def rail(*lengths: float) -> Truss:
    """A piece j0-j1-... in line, of bars of some lengths, and a bar that is none of it."""
    places = [sum(lengths[:i]) for i in range(len(lengths) + 1)]
    joints = {f"j{i}": (x, 0) for i, x in enumerate(places)} | {"off": (0, 5)}
    members = [f"j{i}-j{i + 1}" for i in range(len(lengths))]
    truss = build_truss(joints, [*members, "j0-off"], {"j0": "xy", "off": "xy"})
    return replace(truss, pieces=(Piece("rail", tuple(range(len(places)))),))


@pytest.mark.parametrize(
    ("lengths", "moving", "before", "after"),
    [
        ((3.0, 3.0), (1,), 3.0, 6.0),
        ((2.0, 3.0, 4.0), (1,), 4.0, 5.0),
        ((2.0, 3.0, 4.0), (2,), 4.0, 7.0),
        ((1.0, 2.0, 3.0, 4.0), (1, 2), 4.0, 6.0),
        ((1.0, 2.0, 3.0, 4.0), (1, 3), 4.0, 7.0),
        ((1.0, 2.0, 3.0, 4.0), (1, 2, 3), 4.0, 10.0),
    ],
)
def test_a_joint_that_moves_joins_the_bars_beside_it(
    lengths: tuple[float, ...], moving: tuple[int, ...], before: float, after: float
) -> None:
    found = find_unpropped(rail(*lengths), moving)
    assert found is not None
    assert (found.piece.name, found.moving, found.before, found.after) == ("rail", moving, before, after)


def test_a_long_bar_elsewhere_is_no_distance_that_grew() -> None:
    # on both sides of what moves stay j1 and j3, 4 m apart; the bar of 10 m is as it was
    found = find_unpropped(rail(10.0, 2.0, 2.0), (2,))
    assert found is not None
    assert (found.before, found.after) == (10.0, 4.0)


@pytest.mark.parametrize("moving", [(), (0,), (3,), (0, 1), (1, 4), (4,)])
def test_a_piece_whose_end_moves_or_that_is_not_all_that_moves_has_lost_no_prop(
    moving: tuple[int, ...],
) -> None:
    # joint 4 is off the rail
    assert find_unpropped(rail(2.0, 3.0, 4.0), moving) is None


def test_a_joint_on_no_piece_is_no_prop_of_one() -> None:
    assert find_unpropped(replace(rail(2.0, 3.0), pieces=()), (1,)) is None
