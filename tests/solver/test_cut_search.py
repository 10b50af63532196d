"""All cuts through few members, against trying every few of them."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations

import numpy as np
import pytest

from solver.reasons.cut_search import find_separations
from solver.truss import Truss
from tests.building import build_truss
from tests.laws.generator import draw_truss


def pieces(truss: Truss, without: Iterable[int]) -> list[int]:
    """For each joint the least joint that the other members tie it to."""
    lowest = list(range(len(truss.joint_names)))
    gone = set(without)
    for index, member in enumerate(truss.members):
        a, b = lowest[member.first], lowest[member.second]
        if index not in gone and a != b:
            lowest = [min(a, b) if piece in (a, b) else piece for piece in lowest]
    return lowest


def minimal_cuts(truss: Truss, most: int) -> set[tuple[int, ...]]:
    """Try all sets: one more piece than before, and every member of the set between two of them."""
    before = len(set(pieces(truss, ())))
    found = set()
    for size in range(1, most + 1):
        for members in combinations(range(len(truss.members)), size):
            after = pieces(truss, members)
            between = all(after[truss.members[m].first] != after[truss.members[m].second] for m in members)
            if between and len(set(after)) == before + 1:
                found.add(members)
    return found


def drawn_small(dimension: int, most_members: int, count: int) -> list[Truss]:
    drawn = (draw_truss(seed).truss for seed in range(10_000))
    fitting = (t for t in drawn if t.dimension == dimension and len(t.members) <= most_members)
    return [next(fitting) for _ in range(count)]


SMALL = drawn_small(2, 20, 8) + drawn_small(3, 15, 4)


@pytest.mark.parametrize("number", range(len(SMALL)))
def test_the_cuts_found_are_those_that_trying_every_few_members_finds(number: int) -> None:
    truss = SMALL[number]
    most = 3 if truss.dimension == 2 else 6
    found, complete = find_separations(truss, most)
    assert complete
    assert {separation.members for separation in found} == minimal_cuts(truss, most)
    for separation in found:
        after = pieces(truss, separation.members)
        for side in (separation.side, separation.other):
            assert len({after[joint] for joint in np.flatnonzero(side)}) == 1
        assert (separation.side ^ separation.other).all()


def strip(joints: int) -> Truss:
    """Triangles in a row, statically determinate: 2 x joints - 3 members."""
    places = {str(i): (i, i % 2) for i in range(joints)}
    bars = [f"{a}-{b}" for b in range(joints) for a in range(max(0, b - 2), b)]
    return build_truss(places, bars, {"0": "xy", str(joints - 1): "y"})


def test_a_girder_of_two_thousand_members_has_a_cut_through_each_panel() -> None:
    joints = 1001
    found, complete = find_separations(strip(joints), 3)
    assert complete
    # between any two neighbours 2 .. joints - 2 three members pass; 4 corners: two ends and their neighbours
    whole = {s.side.sum() if s.side[0] else s.other.sum() for s in found if len(s.members) == 3}
    assert set(range(2, joints - 1)) <= whole
    assert sum(len(s.members) == 2 for s in found) == 2


def test_a_search_that_stopped_says_so() -> None:
    assert not find_separations(strip(2001), 3)[1]
    ring = {str(i): (round(100 * np.cos(i / 30), 3), round(100 * np.sin(i / 30), 3)) for i in range(180)}
    bars = [f"{i}-{(i + 1) % 180}" for i in range(180)]
    found, complete = find_separations(build_truss(ring, bars, {"0": "xy"}), 3)
    # any two of 180 members in a ring: 16,110
    assert not complete
    assert all(len(separation.members) == 2 for separation in found)


def test_parts_that_only_the_ground_ties_together_are_cut_each_for_itself() -> None:
    joints = {"A": (0, 0), "B": (4, 0), "C": (2, 3), "D": (10, 0), "E": (10, 3)}
    truss = build_truss(joints, ["A-C", "B-C", "D-E"], {"A": "xy", "B": "xy", "D": "xy", "E": "x"})
    found, complete = find_separations(truss, 3)
    assert complete
    assert [separation.members for separation in found] == [(0,), (1,), (2,)]
    assert found[2].side.sum() == found[2].other.sum() == 1
