"""The order by hand: the whole truss, then joint after joint, a cut where no joint opens."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from solver.by_hand.bodies import open_body
from solver.by_hand.sums import Board, Equation, Found, left_over
from solver.errors import MechanismError
from solver.exact_algebra import determined, dot, leave_one, solve
from solver.reasons.cut_search import Mask, Separation, find_separations
from solver.reasons.cuts import MOST_MEMBERS
from solver.reasons.whole_truss import supports_determinate
from solver.statics import Statics, examine
from solver.truss import ExactVector, Truss

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Step:
    """One step: equations of the whole truss, of a `joint` (else -1), or of a `part` that a cut sets free.

    `part`: joints of the body, ascending; `cut`: members cut, known ones too (of a joint all its members);
    `unknowns`: rows that act on the body and are not known before, of which the step gives those `found`.
    """

    kind: Literal["whole", "joint", "cut"]
    joint: int
    part: tuple[int, ...]
    cut: tuple[int, ...]
    unknowns: tuple[int, ...]
    equations: tuple[Equation, ...]
    found: tuple[Found, ...]


@dataclass(frozen=True)
class HandOrder:
    """All steps; members that equilibrium alone does not give are `left`.

    `together`: members that it does give, but by more equations at once than one step has. `unknowns`:
    number of forces not found, reactions too; `equations`: number of independent equations about them.
    """

    steps: tuple[Step, ...]
    left: tuple[int, ...]
    together: tuple[int, ...]
    unknowns: int
    equations: int


def solve_by_hand(truss: Truss, joint_loads: Array) -> HandOrder:
    """Solve a truss under joint loads (joints, dimension) [N] step by step, as far as equilibrium goes.

    Raises MechanismError for a truss that can move, whatever the loads: its equations may contradict.
    """
    statics = examine(truss)
    if statics.mechanisms:
        moving = [truss.joint_names[joint] for joint in statics.moving_joints]
        raise MechanismError("the truss is a mechanism: equilibrium does not hold it", moving)
    board = Board(truss, joint_loads)
    steps: list[Step] = []
    step = _open_whole(board) if supports_determinate(truss) else _open_next(board)
    while step:
        steps.append(step)
        step = _open_next(board)
    return _close(board, statics, steps)


def _open_next(board: Board) -> Step | None:
    """Whatever opens first: a joint, a joint in part, what the whole truss gives of reactions, a cut."""
    bars = len(board.truss.members)
    if all(row in board.known for row in range(bars + len(board.held))):
        return None
    step = _open_joint(board) or _open_part_of_joint(board) or _open_whole(board)
    if step or all(row in board.known for row in range(bars)):
        return step
    textbook, _ = find_separations(board.truss, MOST_MEMBERS[board.truss.dimension])
    return _open_cut(board, textbook) or _open_cut(board, _among_unknown(board))


def _open_whole(board: Board) -> Step | None:
    """The reactions that the whole truss gives; None where there are none that are not known."""
    everything = tuple(range(len(board.loads)))
    acting = [(row, joint) for row, joint in board.rows_on(everything) if row not in board.known]
    wanted = [acting[place][0] for place in determined([board.wrench(*pair) for pair in acting])]
    if not wanted:
        return None
    centres = [support.joint for support in board.truss.supports]
    unknowns = tuple(row for row, _ in acting)
    return Step("whole", -1, everything, (), unknowns, *open_body(board, everything, wanted, centres))


def _open_joint(board: Board) -> Step | None:
    """The joint with fewest unknowns, all of which it gives; of equals the first in the file."""
    size = board.truss.dimension
    unknown = [board.unknown_at(joint) for joint in range(len(board.loads))]
    few = [joint for joint, rows in enumerate(unknown) if 0 < len(rows) <= size]
    for joint in sorted(few, key=lambda joint: (len(unknown[joint]), joint)):
        rows = unknown[joint]
        equations = _independent_sums(board, joint, rows)
        if len(equations) < len(rows):
            continue
        pulls = {row: board.pull(row, joint) for row in rows}
        columns = [tuple(dot(e.movement[:size], pulls[row]) for e in equations) for row in rows]
        factors = solve(columns, tuple(-left_over(equation) for equation in equations))
        assert factors is not None, "the sums are independent"
        found = tuple(board.find(row, factor) for row, factor in zip(rows, factors, strict=True))
        return _joint_step(board, joint, rows, equations, found)
    return None


def _independent_sums(board: Board, joint: int, rows: Sequence[int]) -> list[Equation]:
    """Sums along the axes, as many as are needed; those with fewest unknowns first."""
    size = board.truss.dimension
    pulls = [board.pull(row, joint) for row in rows]
    chosen: list[int] = []
    for axis in sorted(range(size), key=lambda axis: sum(1 for pull in pulls if pull[axis]) or size + 1):
        seen = [tuple(pull[a] for pull in pulls) for a in (*chosen, axis)]
        if len(chosen) < len(rows) and len(determined(seen)) == len(seen):
            chosen.append(axis)
    return [board.write(_shift(size, axis), (joint,)) for axis in chosen]


def _shift(size: int, axis: int) -> ExactVector:
    return tuple(Fraction(int(axis == place)) for place in range(3 if size == 2 else 6))


def _open_part_of_joint(board: Board) -> Step | None:
    """A joint that gives some of its unknowns, for all others are in one line or one plane."""
    size = board.truss.dimension
    for joint in range(len(board.loads)):
        rows = board.unknown_at(joint)
        pulls = [board.pull(row, joint) for row in rows]
        clear = determined(pulls)
        if not clear:
            continue
        equations, found = [], []
        for place in clear:
            normal = leave_one(pulls[place], [p for other, p in enumerate(pulls) if other != place])
            assert normal is not None, "what is determined stands out"
            equation = board.write((*normal, *[Fraction(0)] * (1 if size == 2 else 3)), (joint,))
            equations.append(equation)
            found.append((rows[place], -left_over(equation) / dot(normal, pulls[place])))
        entered = tuple(board.find(row, per_length) for row, per_length in found)
        return _joint_step(board, joint, rows, equations, entered)
    return None


def _joint_step(
    board: Board, joint: int, unknowns: Sequence[int], equations: Sequence[Equation], found: tuple[Found, ...]
) -> Step:
    members = board.truss.members_at[joint]
    return Step("joint", joint, (joint,), members, tuple(unknowns), tuple(equations), found)


def _among_unknown(board: Board) -> list[Separation]:
    """Cuts through few unknown members and any number of known ones, those through fewest in all first."""
    ends = board.truss.ends
    found: list[Separation] = []
    rows = [row for row in range(len(board.truss.members)) if row not in board.known]
    rest = replace(board.truss, members=tuple(board.truss.members[row] for row in rows), pieces=())
    for separation in find_separations(rest, MOST_MEMBERS[board.truss.dimension])[0]:
        side, other = separation.side.copy(), separation.other.copy()
        _take_solved(rest, ends, side, other)
        found.append(Separation(tuple(rows[member] for member in separation.members), side, other))
    return sorted(found, key=lambda s: int((s.side[ends[:, 0]] != s.side[ends[:, 1]]).sum()))


def _take_solved(rest: Truss, ends: NDArray[np.int64], side: Mask, other: Mask) -> None:
    """Joints with known members only go with the body to which most of these lead, so that few are cut."""
    loose = [joint for joint, members in enumerate(rest.members_at) if not members]
    placed = True
    while placed:
        placed = False
        for joint in (joint for joint in loose if not side[joint] and not other[joint]):
            near = np.append(ends[ends[:, 0] == joint, 1], ends[ends[:, 1] == joint, 0])
            votes = int(side[near].sum()) - int(other[near].sum())
            if side[near].any() or other[near].any():
                (side if votes >= 0 else other)[joint] = placed = True


def _open_cut(board: Board, separations: Iterable[Separation]) -> Step | None:
    """The first cut that gives a member."""
    bars = len(board.truss.members)
    for part in _parts(board, separations):
        acting = [(row, joint) for row, joint in board.rows_on(part) if row not in board.known]
        clear = determined([board.wrench(row, joint) for row, joint in acting])
        wanted = [acting[place][0] for place in clear]
        if any(row < bars for row in wanted):
            cut = tuple(row for row, _ in board.rows_on(part) if row < bars)
            ends = {end for row in cut for end in board.truss.ends[row].tolist()}
            unknowns = tuple(row for row, _ in acting)
            return Step("cut", -1, part, cut, unknowns, *open_body(board, part, wanted, sorted(ends)))
    return None


def _parts(board: Board, separations: Iterable[Separation]) -> Iterator[tuple[int, ...]]:
    """Bodies with unknown members cut, of each cut that with fewer unknown reactions, then joints, first."""
    bars = len(board.truss.members)
    reactions = [joint for n, (joint, _) in enumerate(board.held) if bars + n not in board.known]
    for separation in separations:
        if all(member in board.known for member in separation.members):
            continue
        sides = [side for side in (separation.side, separation.other) if side.sum() > 1]
        for side in sorted(sides, key=lambda side: (sum(side[joint] for joint in reactions), side.sum())):
            yield tuple(np.flatnonzero(side).tolist())


def _close(board: Board, statics: Statics, steps: Sequence[Step]) -> HandOrder:
    """What is left: a member in no state of self-stress is given by equilibrium, if only by many equations.

    What was found is in no state of self-stress, so all of these live in what is left, and so many
    equations fewer than unknowns are left.
    """
    bars = len(board.truss.members)
    rows = [row for row in range(bars + len(board.held)) if row not in board.known]
    if not rows:
        return HandOrder(tuple(steps), (), (), 0, 0)
    left = tuple(row for row in rows if row < bars and not statics.needed[row])
    together = tuple(row for row in rows if row < bars and statics.needed[row])
    return HandOrder(tuple(steps), left, together, len(rows), len(rows) - statics.self_stress_states)
