"""Losses that leave the truss standing: who is worst off, who is over, what grows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.losses.after import After, Pairs, look_after
from solver.losses.before import Before
from solver.losses.peaks_after import PeaksAfter
from solver.losses.seeking import Score, known, seek, work_out_above
from solver.progress import Progress, blocks, silent
from solver.stiffness import Stiffness
from solver.sweep import Governing
from solver.tolerances import TIE

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
AT_ONCE = 128
"""Losses that are worked off together: more need more memory, and save no time."""


@dataclass(frozen=True)
class Over:
    """A member (index) over its resistance after a loss: `new`, `worse`, or `already` so; and by how much."""

    member: int
    how: str
    utilisation: float


@dataclass(frozen=True)
class Worst:
    """The largest utilisation of any other member after a loss: which member, in what and where.

    member is -1, and combination -1, where none of those with a resistance bears force against it. position
    [m] and direction (0 forward, 1 backward, -1 without a train) as of a peak.
    """

    utilisation: float
    member: int = -1
    compression: bool = False
    combination: int = -1
    position: float = np.nan
    direction: int = -1


@dataclass(frozen=True)
class Moved:
    """By how much more a truss moves after a loss: one deflection (row) under one combination.

    before: the largest along an axis under that combination [m]; after: that of the row then [m]. share:
    after over before, or over what stands for it where hardly anything moved (`Before.moved`).
    """

    row: int
    combination: int
    before: float
    after: float
    share: float


@dataclass(frozen=True)
class Stable:
    """What the loss of one member leaves of a truss that stands without it.

    worst: None where no other member has a resistance. unproven: some other member bears a force for whose
    sign it has none. growth [N]: the largest rise of any other member's larger peak, at least 0; grown: that
    member, -1 where it is no more than a rounding; growth_ratio: after over before, NaN from nothing.
    deflection_ratio: over all combinations together, NaN where nothing moved before; moved: under the one of
    them in which most more moves, None then. reactions (2, held) [N]: the smallest and
    the largest after.
    """

    worst: Worst | None
    over: tuple[Over, ...]
    unproven: bool
    growth: float
    grown: int
    growth_ratio: float
    deflection_ratio: float
    moved: Moved | None
    reactions: Array


def examine_stable(
    before: Before, stiffness: Stiffness, members: Indices, anew: bool = False, progress: Progress = silent
) -> Iterator[tuple[int, Stable]]:
    """Yield, for each of some members that a truss stands without, what losing it leaves."""
    for part in blocks(len(members), AT_ONCE, "losing each member", progress):
        chosen = members[part]
        after = look_after(before.study, stiffness, before.responses, chosen, anew)
        yield from zip(chosen.tolist(), _examine(before, after), strict=True)


def _examine(before: Before, after: After) -> Iterator[Stable]:
    forces = before.peaks_after(after, "forces")
    strength = forces if before.for_strength.all() else before.strengths_after(after)
    worst = _worst(before, strength)
    over = _over(before, strength)
    unproven = _unproven(before, strength)
    growth, grown = _growth(before, forces)
    ratios = _deflection_ratios(before, after)
    moved = _moved(before, after)
    reactions = _reactions(before, after)
    for place in range(len(after.releases.members)):
        size = float(growth[place])
        real = size > TIE * before.largest_force
        member = int(grown[place]) if real else -1
        was = float(before.peaks[member]) if real else 0.0
        yield Stable(
            worst[place],
            over[place],
            bool(unproven[place]),
            size,
            member,
            (was + size) / was if was else np.nan,
            float(ratios[place]),
            moved[place],
            reactions[:, :, place],
        )


def _others(after: After, pairs: Pairs) -> NDArray[np.bool_]:
    """Whether the row of a pair is another member than the lost one."""
    return np.asarray(after.releases.members[pairs.losses] != pairs.rows)


def utilisation_after(before: Before, after: After) -> Score:
    """The larger of tension and compression over their resistances; -inf without either, or for itself."""
    tension, compression = before.resistances

    def score(high: Array, low: Array, pairs: Pairs) -> Array:
        ratios = np.fmax(high / tension[pairs.rows], -low / compression[pairs.rows])
        counted = _others(after, pairs) & ~np.isnan(ratios)
        return np.where(counted, np.maximum(ratios, 0.0), -np.inf)

    return score


def _worst(before: Before, forces: PeaksAfter) -> list[Worst | None]:
    values = seek(forces, utilisation_after(before, forces.after))
    best = known(values).max(axis=0, initial=-np.inf)
    rows = (known(values) >= best - TIE * np.abs(best)).argmax(axis=0)
    chosen = np.flatnonzero(best > 0)
    pairs = Pairs(rows[chosen], chosen)
    tension, compression = before.resistances
    pulled = forces.high[pairs.rows, pairs.losses] / tension[pairs.rows]
    pushed = -forces.low[pairs.rows, pairs.losses] / compression[pairs.rows]
    pushing = known(pushed) > known(pulled)
    found: list[Worst | None] = [None if value == -np.inf else Worst(0.0) for value in best]
    for sign in (1.0, -1.0):
        own = np.flatnonzero(pushing == (sign < 0))
        if not len(own):
            continue
        governing = govern_after(forces, Pairs(pairs.rows[own], pairs.losses[own]), sign)
        for place, where in enumerate(own.tolist()):
            loss = int(chosen[where])
            found[loss] = Worst(
                float(best[loss]),
                int(rows[loss]),
                sign < 0,
                int(governing.combinations[place]),
                float(governing.positions[place]),
                int(governing.directions[place]),
            )
    return found


def govern_after(forces: PeaksAfter, pairs: Pairs, sign: float) -> Governing:
    """Where the peaks of some pairs occur, of tension (sign 1) or compression."""
    swept = forces.sweep(pairs)
    demands = sign * (swept.largest if sign > 0 else swept.smallest) / forces.units
    return swept.govern(np.where(demands <= forces.bands(pairs.losses), 0.0, demands), sign)


def _over(before: Before, forces: PeaksAfter) -> list[tuple[Over, ...]]:
    values = work_out_above(forces, utilisation_after(before, forces.after), 1 + TIE)
    found: list[list[Over]] = [[] for _ in forces.after.releases.members]
    for row, loss in np.argwhere(known(values) > 1 + TIE):
        was = float(before.utilisations[row])
        how = "new" if was <= 1 + TIE else "worse" if values[row, loss] > was * (1 + TIE) else "already"
        found[loss].append(Over(int(row), how, float(values[row, loss])))
    return [tuple(members) for members in found]


def missing_after(before: Before, after: After) -> Score:
    """The larger force for whose sign a member has no resistance [N]; -inf for the lost one and with both."""
    missing_tension, missing_compression = (np.isnan(part) for part in before.resistances)

    def score(high: Array, low: Array, pairs: Pairs) -> Array:
        pulled = np.where(missing_tension[pairs.rows], np.maximum(high, 0.0), -np.inf)
        pushed = np.where(missing_compression[pairs.rows], np.maximum(-low, 0.0), -np.inf)
        return np.where(_others(after, pairs), np.maximum(pulled, pushed), -np.inf)

    return score


def _unproven(before: Before, forces: PeaksAfter) -> NDArray[np.bool_]:
    """Whether some other member bears a force for whose sign it has no resistance."""
    score = missing_after(before, forces.after)
    # A bound of nothing is as good as nothing, and one member is enough.
    least = np.finfo(float).tiny
    values = seek(forces, score, least, least)
    return np.asarray(known(values).max(axis=0, initial=-np.inf) > 0)


def _growth(before: Before, forces: PeaksAfter) -> tuple[Array, Indices]:
    """The largest rise of any other member's larger peak [N], at least 0, and that member."""

    def score(high: Array, low: Array, pairs: Pairs) -> Array:
        rise = np.maximum(high, -low) - before.peaks[pairs.rows]
        return np.where(_others(forces.after, pairs), rise, -np.inf)

    values = known(seek(forces, score, TIE * before.largest_force))
    best = values.max(axis=0, initial=0.0)
    return best, (values >= best * (1 - TIE)).argmax(axis=0)


def _deflection_ratios(before: Before, after: After) -> Array:
    peaks = before.peaks_after(after, "deflections")
    values = seek(peaks, lambda high, low, pairs: np.maximum(high, -low))
    largest = known(values).max(axis=0, initial=0.0)
    was = before.largest_deflection
    return largest / was if was else np.full(len(largest), np.nan)


def _moved(before: Before, after: After) -> list[Moved | None]:
    """The deflection that after each loss is most times the largest before under the same combination."""
    count = len(after.releases.members)
    if not before.largest_deflection:
        return [None] * count
    peaks = before.movements_after(after)
    values = known(seek(peaks, lambda high, low, pairs: np.maximum(high, -low)))
    best = values.max(axis=0, initial=0.0)
    pairs = Pairs((values >= best * (1 - TIE)).argmax(axis=0), np.arange(count))
    swept = peaks.sweep(pairs)
    sizes = np.maximum(np.abs(swept.smallest), np.abs(swept.largest))
    shares = sizes / before.moved
    places = (shares >= shares.max(axis=1, keepdims=True) * (1 - TIE)).argmax(axis=1)
    found: list[Moved | None] = []
    for loss, (row, place) in enumerate(zip(pairs.rows.tolist(), places.tolist(), strict=True)):
        was, now = float(before.deflections[place]), float(sizes[loss, place])
        found.append(Moved(row, place, was, now, float(shares[loss, place])))
    return found


def _reactions(before: Before, after: After) -> Array:
    """The smallest and the largest of every reaction after each loss, (2, held, c) [N]."""
    peaks = before.peaks_after(after, "reactions")
    pairs = Pairs.all_of(*peaks.high.shape)
    peaks.work_out(pairs)
    return np.stack([peaks.low, peaks.high])
