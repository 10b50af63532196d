"""Who shares with whom: states of self-stress by geometry alone, exactly, at the coordinates as written.

Members share if some state of self-stress that is no sum of others passes through both. Two members
of which every state that passes through one passes through the other, in one ratio, are in series: without
the one, the other is in no state at all, and cannot be spared.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np
import scipy.linalg
from numpy.typing import NDArray

from solver.statics import Statics, equilibrium_matrix, support_matrix

Array = NDArray[np.float64]
Integers = NDArray[np.int64]
MOST_STATES = 250
"""States that are taken apart: the work grows with their number squared, times that of the members."""


@dataclass(frozen=True)
class Sharing:
    """How a truss that stands shares its loads.

    series (members,): a number for each set of members in series, -1 for a needed member; parts (members,):
    one for each set that shares, -1 for a needed one, or None for a truss of more than MOST_STATES states.
    states: members and held directions (columns after the members) of each fundamental state, its own first.
    """

    statics: Statics
    series: Integers
    parts: Integers | None
    states: tuple[tuple[int, ...], ...]

    def in_series(self, member: int) -> tuple[int, ...]:
        """The other members (indices) that cannot be spared once `member` is gone."""
        if self.series[member] < 0:
            return ()
        found = np.flatnonzero(self.series == self.series[member]).tolist()
        return tuple(other for other in found if other != member)

    def part_of(self, member: int) -> tuple[int, ...]:
        """The other members (indices) that share with `member`, in the file's order."""
        if self.parts is None or self.parts[member] < 0:
            return ()
        found = np.flatnonzero(self.parts == self.parts[member]).tolist()
        return tuple(other for other in found if other != member)

    def forces(self, state: int) -> Array:
        """Forces of one fundamental state, (members + held,), its own member at 1."""
        truss = self.statics.truss
        chosen = list(self.states[state])
        matrix = np.hstack([equilibrium_matrix(truss).toarray(), support_matrix(truss).toarray()])[:, chosen]
        vector = scipy.linalg.svd(matrix)[2][-1]
        forces = np.zeros(len(truss.members) + truss.held)
        forces[chosen] = vector / vector[0]
        return forces


def find_sharing(statics: Statics, shares: Array) -> Sharing:
    """Find who shares with whom; of members to release for a state those of larger shares come first."""
    members = len(statics.truss.members)
    count = statics.self_stress_states
    if not count:
        nothing = np.full(members, -1)
        return Sharing(statics, nothing, nothing, ())
    states, prime = statics.random_states
    series = _in_series(states[:members], prime)
    if count > MOST_STATES:
        return Sharing(statics, series, None, ())
    order = np.concatenate([np.argsort(-shares, kind="stable"), np.arange(members, len(states))])
    reduced = _reduced(states[order].T.copy(), prime)
    supports = [order[np.flatnonzero(row)] for row in reduced]
    parts = _connected(supports, members)
    return Sharing(statics, series, parts, tuple(tuple(support.tolist()) for support in supports))


def _in_series(rows: Integers, prime: int) -> Integers:
    """Number rows that are multiples of one another, -1 for rows of nothing."""
    sets: dict[bytes, int] = {}
    found = np.full(len(rows), -1)
    for place, row in enumerate(rows):
        filled = np.flatnonzero(row)
        if not len(filled):
            continue
        inverse = pow(int(row[filled[0]]), -1, prime)
        found[place] = sets.setdefault((row * inverse % prime).tobytes(), len(sets))
    return found


def _reduced(rows: Integers, prime: int) -> Integers:
    """The rows reduced so that each has a column of its own, found from the left."""
    done = 0
    for column in range(rows.shape[1]):
        if done == len(rows):
            break
        filled = np.flatnonzero(rows[done:, column])
        if not len(filled):
            continue
        rows[[done, done + filled[0]]] = rows[[done + filled[0], done]]
        rows[done] = rows[done] * pow(int(rows[done, column]), -1, prime) % prime
        others = np.flatnonzero(rows[:, column])
        others = others[others != done]
        rows[others] = (rows[others] - rows[others, column, None] * rows[done] % prime) % prime
        done += 1
    return rows[:done]


def _connected(supports: list[Integers], members: int) -> Integers:
    """Number members that are linked by states, -1 for those in none."""
    root = list(range(members))

    def top(member: int) -> int:
        while root[member] != member:
            root[member] = root[root[member]]
            member = root[member]
        return member

    linked: defaultdict[int, int] = defaultdict(int)
    for support in supports:
        inside = [member for member in support.tolist() if member < members]
        for other in inside[1:]:
            root[top(other)] = top(inside[0])
        for member in inside:
            linked[member] += 1
    numbers: dict[int, int] = {}
    return np.array([numbers.setdefault(top(m), len(numbers)) if linked[m] else -1 for m in range(members)])
