"""Which few members separate a truss into two: all minimal cuts of its graph of joints and members.

Each member outside a spanning forest gets a random 64-bit label, each member of the forest the exclusive or
of the labels of those whose loop passes through it. A set of members is a cut, or a union of cuts, exactly
when its labels add up (by exclusive or) to nothing, but for chance of 2**-64. So cuts are found by meeting in
the middle: of six members, three have the same sum as the other three. Each set found is then confirmed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product
from math import comb

import numpy as np
from numpy.typing import NDArray

from solver.truss import Truss

Mask = NDArray[np.bool_]
Indices = NDArray[np.int64]
Labels = NDArray[np.uint64]
SEED = 1927
MOST_COMBINATIONS = 5_000_000
"""Pairs or triples of members that are matched at a time: about a second. Cuts of three are looked for up to
3,162 members, of four likewise, of five and six up to 311 (members in series with one another count once)."""

MOST_CANDIDATES = 2_000_000
MOST_CUTS = 10_000
"""Where stars of loops make more cuts than this, no more are collected."""


@dataclass(frozen=True)
class Separation:
    """Members (indices, ascending) without which the joints of `side` and `other`, (joints,), are apart.

    Both are connected in themselves. Joints that hung together with neither before are in neither.
    """

    members: tuple[int, ...]
    side: Mask
    other: Mask


def find_separations(truss: Truss, most: int) -> tuple[tuple[Separation, ...], bool]:
    """Return the minimal cuts of at most `most` members (3 to 6), and whether these are all.

    Fewest members first, then in the file's order. Supports are no members: joints that only the ground ties
    together are apart already.
    """
    forest = _Forest(truss)
    found: list[Separation] = []
    complete = True
    for size in range(1, most + 1):
        sets = forest.sets_of(size)
        if sets is None:
            complete = False
            continue
        same_size: list[Separation] = []
        for members in sets:
            if len(found) + len(same_size) >= MOST_CUTS:
                complete = False
                break
            separation = forest.separate(members)
            if separation:
                same_size.append(separation)
        found += sorted(same_size, key=lambda separation: separation.members)
    return tuple(found), complete


class _Forest:
    """A spanning forest, grown depth first, with a label on each member of the truss."""

    def __init__(self, truss: Truss) -> None:
        self._ends = truss.ends
        joints = len(truss.joint_names)
        self._place = np.full(joints, -1, dtype=np.int64)
        self._root = np.arange(joints)
        self._below = np.full(len(truss.members), -1, dtype=np.int64)
        self._last = np.zeros(joints, dtype=np.int64)
        self._grow(truss)
        labels = self._label(joints)
        self._distinct, of_member = np.unique(labels, return_inverse=True)
        self._classes: list[list[int]] = [[] for _ in self._distinct]
        for member, number in enumerate(of_member.tolist()):
            self._classes[number].append(member)
        self._bridges: list[int] = []
        if len(self._distinct) and self._distinct[0] == 0:
            self._bridges = self._classes.pop(0)
            self._distinct = self._distinct[1:]

    def _grow(self, truss: Truss) -> None:
        """Number joints as they are reached; the joints below a joint follow it up to `_last`."""
        count = 0
        for root in range(len(self._place)):
            waiting = [(root, -1, False)]
            while waiting:
                joint, reached_by, left = waiting.pop()
                if left:
                    self._last[joint] = count
                    continue
                if self._place[joint] >= 0:
                    continue
                self._place[joint], self._root[joint] = count, root
                count += 1
                if reached_by >= 0:
                    self._below[reached_by] = joint
                waiting.append((joint, -1, True))
                for member in reversed(truss.members_at[joint]):
                    bar = truss.members[member]
                    waiting.append((bar.second if bar.first == joint else bar.first, member, False))

    def _label(self, joints: int) -> Labels:
        """A label for each member, (members,); 0 where no loop passes."""
        random = np.random.default_rng(SEED)
        top = np.iinfo(np.uint64).max
        labels = random.integers(1, top, size=len(self._ends), dtype=np.uint64, endpoint=True)
        in_forest = self._below >= 0
        sums = np.zeros(joints + 1, dtype=np.uint64)
        for end in self._ends.T:
            np.bitwise_xor.at(sums, self._place[end[~in_forest]] + 1, labels[~in_forest])
        before = np.bitwise_xor.accumulate(sums)
        below = self._below[in_forest]
        labels[in_forest] = before[self._last[below]] ^ before[self._place[below]]
        return labels

    def sets_of(self, size: int) -> Iterator[tuple[int, ...]] | None:
        """All sets of `size` members that may be minimal cuts; None where they are too many to look for."""
        if size == 1:
            return ((member,) for member in self._bridges)
        if size == 2:
            return (pair for members in self._classes for pair in combinations(members, 2))
        rows = _vanishing(self._distinct, size)
        if rows is None:
            return None
        classes = self._classes
        return (tuple(sorted(s)) for row in rows.tolist() for s in product(*(classes[n] for n in row)))

    def separate(self, members: tuple[int, ...]) -> Separation | None:
        """What the members separate, or None if labels agreed by chance.

        Walking down the forest, one changes sides at each of the members.
        """
        changes = np.zeros(len(self._place), dtype=bool)
        for member in members:
            joint = self._below[member]
            if joint >= 0:
                changes[self._place[joint] : self._last[joint]] ^= True
        side = changes[self._place]
        cut = side[self._ends[:, 0]] != side[self._ends[:, 1]]
        if np.flatnonzero(cut).tolist() != list(members):
            return None
        whole = self._root == self._root[self._ends[members[0], 0]]
        return Separation(members, side, whole & ~side)


def _vanishing(labels: Labels, size: int) -> Indices | None:
    """All sets of `size` (3 to 6) of distinct labels whose sum vanishes and that of no subset does.

    One set a row, ascending; None where they are too many to look for. Labels that vanish or agree are left
    out beforehand, so only six can consist of smaller sets: of two of three.
    """
    half = (size + 1) // 2
    if len(labels) < size:
        return np.zeros((0, size), dtype=np.int64)
    if comb(len(labels), half) > MOST_COMBINATIONS:
        return None
    many, few = _sums(labels, half), _sums(labels, size - half)
    order = np.argsort(many)
    pairs = _equal(many[order], few, itself=half == size - half)
    if pairs is None:
        return None
    first = _subsets(order[pairs[0]], len(labels), half)
    others = order[pairs[1]] if half == size - half else pairs[1]
    second = _subsets(others, len(labels), size - half)
    # Each set turns up in every way to split it: kept where the first ones all come before the others.
    rows = np.hstack([first, second])[first[:, -1] < second[:, 0]]
    return rows if size < 6 else rows[~_consists_of_two(labels[rows])]


def _equal(many: Labels, few: Labels, *, itself: bool) -> tuple[Indices, Indices] | None:
    """Places in `many` (sorted) and in `few` (in `many` too if `itself`) of all pairs of equal sums."""
    places = np.arange(len(few))
    if itself:
        same = many[1:] == many[:-1]
        places = np.flatnonzero(np.append(same, False) | np.append(False, same))
        few = many[places]
    start, stop = np.searchsorted(many, few, "left"), np.searchsorted(many, few, "right")
    counts = stop - start
    total = int(counts.sum())
    if total > MOST_CANDIDATES:
        return None
    within = np.arange(total) - np.repeat(np.cumsum(counts) - counts, counts)
    return np.repeat(start, counts) + within, np.repeat(places, counts)


def _sums(labels: Labels, size: int) -> Labels:
    """The sum of each subset of `size` labels, ordered by largest member, then by the next."""
    sums = labels
    for smaller in range(1, size):
        sums = np.concatenate([sums[: comb(n, smaller)] ^ label for n, label in enumerate(labels)])
    return sums


def _subsets(numbers: Indices, count: int, size: int) -> Indices:
    """The subsets of range(count) at the given places of that order, one a row, ascending.

    >>> _subsets(np.array([0, 1, 2, 3]), 4, 2).tolist()
    [[0, 1], [0, 2], [1, 2], [0, 3]]
    """
    rest = numbers.copy()
    rows = np.zeros((len(numbers), size), dtype=np.int64)
    for place in range(size, 0, -1):
        before = np.array([comb(n, place) for n in range(count)])
        rows[:, place - 1] = np.searchsorted(before, rest, "right") - 1
        rest -= before[rows[:, place - 1]]
    return rows


def _consists_of_two(labels: Labels) -> Mask:
    """Whether three of the six labels in a row vanish by themselves, (rows,)."""
    found = np.zeros(len(labels), dtype=bool)
    for second, third in combinations(range(1, 6), 2):
        found |= (labels[:, 0] ^ labels[:, second] ^ labels[:, third]) == 0
    return found
