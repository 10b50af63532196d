"""Losses that leave a mechanism: does a load push it, does compression carry it away, is it a prop that went?

A mechanism moves in one way. Loads that do work in it drive it; where none does, the bars' own forces N still
act on a small movement: their geometric stiffness, the sum of N / L times the square of the relative movement
across each bar, says whether it comes back (positive) or runs away (Timoshenko & Gere, Theory of Elastic
Stability, 2nd ed. 1961, sec. 1.3 on rigid bars, from memory).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.cases import work_out
from solver.crossings import Direction
from solver.losses.after import own_weights
from solver.losses.before import Before
from solver.losses.props import Critical, Unpropped, find_critical, find_unpropped
from solver.placement import Arrangement, Standing, arrange_for
from solver.progress import Progress, blocks, silent
from solver.removal import movements_without
from solver.response import Rows
from solver.state import take_state
from solver.stiffness import Stiffness
from solver.study import Study
from solver.sweep import Governing, Sweep, sweep
from solver.tolerances import TIE, ZERO, is_zero, zero_band

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
AT_ONCE = 128
WORK = 1e-9
"""Work, or geometric stiffness, up to this share of the sum of its absolute terms is none."""

NEAR = 1e-6
"""Up to this share, something is told to be near nothing."""


@dataclass(frozen=True)
class Push:
    """The state in which something acts most on a movement: a load (column), where its train stands.

    value: the work of the loads per length that the farthest joint moves [N], or the geometric stiffness
    [N/m]; share: of the sum of its absolute terms.
    """

    column: int
    standing: Standing | None
    arrangement: Arrangement | None
    value: float
    share: float


@dataclass(frozen=True)
class Mechanism:
    """What the loss of one needed member leaves: its one movement, (joints, dimension), the farthest by 1.

    driven: by which load most, if by any; pushed: likewise, own weight left out; carried_away: where
    compression most; unpushed: where compression most of the loads that do not push at all; combinations come
    before loads alone. unpropped: the piece, if only joints within one
    are moved; critical: by what its forces in the state `carried_away` must grow for it to buckle.
    """

    movement: Array
    driven: Push | None
    pushed: Push | None
    carried_away: Push | None
    unpushed: Push | None
    unpropped: Unpropped | None
    critical: Critical | None


def examine_mechanisms(
    before: Before,
    stiffness: Stiffness,
    lost: list[tuple[int, tuple[int, ...]]],
    progress: Progress = silent,
) -> Iterator[tuple[int, Mechanism]]:
    """Yield, for each needed member given with the joints that move without it, what its loss leaves."""
    for part in blocks(len(lost), AT_ONCE, "mechanisms without each member", progress):
        chosen = lost[part]
        movements = movements_without(stiffness, chosen)
        look = _Look(before, stiffness, np.array([member for member, _ in chosen], dtype=np.int64), movements)
        (driven, pushes), (pushed, _) = look.work(True), look.work(False)
        carried, unpushed = look.compression(pushes)
        for place, (member, moves) in enumerate(chosen):
            unpropped = find_unpropped(before.study.truss, moves)
            critical = _critical(before, unpropped, carried[place])
            push = driven[place], pushed[place], carried[place], unpushed[place]
            yield member, Mechanism(movements[place], *push, unpropped, critical)


@dataclass(frozen=True)
class _Look:
    """Some losses with their movements, (c, joints, dimension)."""

    before: Before
    stiffness: Stiffness
    members: Indices
    movements: Array

    def work(self, weighed: bool) -> tuple[list[Push | None], NDArray[np.bool_]]:
        """The most work of the loads in each movement, own weight of what is left counted or not.

        Also which loads do any, (c, loads).
        """
        study, responses = self.before.study, self.before.responses
        truss = study.truss
        flat = self.movements.reshape(len(self.members), -1)
        weights = np.array([case.self_weight for case in study.cases.values()])
        loads = responses.loads.cases if weighed else _other_loads(study)
        cases = flat @ loads
        if weighed and weights.any():
            cases -= np.outer(
                (flat * _weight_of(truss.freedoms, self.stiffness, self.members)).sum(1), weights
            )
        influence = {name: flat @ part for name, part in responses.loads.influence.items()}
        sizes = (np.abs(flat) @ np.abs(loads)).max(axis=0, initial=0.0)
        rows = Rows(cases, influence, sizes)
        whole = self._swept(Rows(loads, responses.loads.influence, np.abs(loads).max(axis=0, initial=0.0)))
        sizes_of_loads = np.maximum(np.abs(whole.smallest), np.abs(whole.largest))
        reach = np.abs(flat) @ sizes_of_loads
        swept = self._swept(rows)
        most = np.maximum(np.abs(swept.smallest), np.abs(swept.largest))
        found = np.where(most > WORK * reach, most, 0.0)
        return self._pushes(rows, swept, found, reach, 0.0), found > 0

    def compression(self, pushes: NDArray[np.bool_]) -> tuple[list[Push | None], list[Push | None]]:
        """The most negative geometric stiffness in each movement, over the bars that are left.

        Of all loads, and of those that do not push, (c, loads): what is pushed does not wait for it.
        """
        before, truss = self.before, self.before.study.truss
        relative = self.movements[:, truss.ends[:, 1]] - self.movements[:, truss.ends[:, 0]]
        factors = (relative**2).sum(axis=2) / truss.lengths
        factors[np.arange(len(self.members)), self.members] = 0.0
        factors[np.sqrt((relative**2).sum(axis=2)) <= ZERO] = 0.0
        responses = before.responses
        own = own_weights(before.study, self.stiffness, self.members)["forces"]
        weights = np.array([case.self_weight for case in before.study.cases.values()])
        cases = factors @ responses.forces.cases - np.outer((factors * own.T).sum(axis=1), weights)
        influence = {name: factors @ part for name, part in responses.forces.influence.items()}
        rows = Rows(cases, influence, responses.forces.sizes * factors.sum(axis=1).max(initial=0.0))
        swept = self._swept(rows)
        forces, scales = before.every, before.every_scale
        sizes = np.maximum(np.abs(forces.smallest), np.abs(forces.largest))
        zero = is_zero(sizes, scales)
        reach = factors @ np.where(zero, 0.0, sizes)
        # What counts as zero may not add up to something.
        noise = factors @ np.where(zero, zero_band(scales, 0.0), 0.0)
        found = np.where(-swept.smallest > WORK * reach + noise, -swept.smallest, 0.0)
        unpushed = np.where(pushes, 0.0, found)
        every, others = (self._pushes(rows, swept, part, reach, -1.0) for part in (found, unpushed))
        return every, others

    def _swept(self, rows: Rows) -> Sweep:
        study = self.before.study
        every = study.alone + study.combinations
        return sweep(self.before.ways, rows, self.before.responses.case_names, every)

    def _pushes(self, rows: Rows, swept: Sweep, found: Array, reach: Array, sign: float) -> list[Push | None]:
        """The state of the largest value of each row, None where nothing was found; sign 0: either sign.

        Of the combinations asked, and only if none of them has any, of the loads alone; of equals the first.
        """
        shares = np.divide(found, reach, out=np.zeros_like(found), where=reach > 0)
        count, asked = np.arange(len(found)), len(self.before.study.asked)
        column = _first_largest(found)
        if asked < found.shape[1]:
            among = _first_largest(found[:, -asked:]) + found.shape[1] - asked
            column = np.where(found[count, among] > 0, among, column)
        values = found[count, column]
        # Of both signs the one that the extreme has.
        upward = swept.largest[count, column] >= values * (1 - WORK)
        signs = np.full(len(found), sign) if sign else np.where(upward, 1.0, -1.0)
        pushes: list[Push | None] = [None] * len(found)
        for side in (1.0, -1.0):
            demands = np.full(found.shape, -np.inf)
            demands[count, column] = side * (swept.largest if side > 0 else swept.smallest)[count, column]
            governing = swept.govern(demands, side)
            for row in np.flatnonzero((values > 0) & (signs == side)).tolist():
                arrangement, standing = self._stands(rows, governing, (row, int(column[row]), side))
                size, share = side * float(values[row]), float(shares[row, column[row]])
                pushes[row] = Push(int(column[row]), standing, arrangement, size, share)
        return pushes

    def _stands(
        self, rows: Rows, governing: Governing, at: tuple[int, int, float]
    ) -> tuple[Arrangement | None, Standing | None]:
        """For what loads are arranged, and where the train stands, in the governing state of a row."""
        row, column, sign = at
        study = self.before.study
        load = (study.alone + study.combinations)[column]
        trains = study.crossings[load.crossing].trains if load.crossing else ()
        arranged = bool(load.lanes) or any(train.depends_on_the_row for train in trains)
        arrangement = arrange_for(rows, row, sign) if arranged else None
        if governing.directions[row] < 0:
            return arrangement, None
        way: Direction = "forward" if governing.directions[row] == 0 else "backward"
        place, train = float(governing.positions[row]), int(governing.trains[row])
        return arrangement, Standing(way, place, train, None, arrangement)


def _first_largest(values: Array) -> Indices:
    """The place of the largest value of each row; of those that tie, the first."""
    return np.asarray((values >= values.max(axis=1, keepdims=True) * (1 - TIE)).argmax(axis=1))


def _critical(before: Before, unpropped: Unpropped | None, push: Push | None) -> Critical | None:
    if unpropped is None or push is None:
        return None
    return find_critical(before.study.truss, unpropped, forces_under(before, push))


def forces_under(before: Before, push: Push) -> Array:
    """Return all member forces in the state of a push, (members,) [N]."""
    study = before.study
    load = (study.alone + study.combinations)[push.column]
    return take_state(study, before.responses, load, push.standing, push.arrangement).forces


def _other_loads(study: Study) -> Array:
    """Joint loads of the cases without own weight, (joints x dimension, cases) [N].

    Worked out without it: taken off again it would leave roundings, and they would push.
    """
    loads = np.zeros((study.truss.freedoms, len(study.cases)))
    for column, case in enumerate(study.cases.values()):
        without = replace(case, self_weight=0.0)
        loads[:, column] = work_out(without, study.truss, study.chords).joint_loads.ravel()
    return loads


def _weight_of(freedoms: int, stiffness: Stiffness, members: Indices) -> Array:
    """Joint loads of each member's own weight, (c, joints x dimension) [N]."""
    truss = stiffness.truss
    loads = np.zeros((len(members), freedoms))
    for end in range(2):
        places = truss.ends[members, end] * truss.dimension + truss.dimension - 1
        loads[np.arange(len(members)), places] -= np.nan_to_num(truss.weights[members]) / 2
    return loads
