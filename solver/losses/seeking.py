"""Seeking the row that fares worst after each loss: the promising ones first, the hopeless ones never."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from solver.losses.after import Pairs
from solver.losses.peaks_after import PeaksAfter
from solver.tolerances import TIE

Array = NDArray[np.float64]
Score = Callable[[Array, Array, Pairs], Array]
"""What rows of some largest and smallest value are worth, (pairs,): rising with the first, falling with the
second."""

AT_ONCE = 8
"""So many rows of each loss are worked out in one round: more are seldom needed, fewer take more rounds."""


def seek(peaks: PeaksAfter, score: Score, least: float = -np.inf, enough: float = np.inf) -> Array:
    """Return the exact scores of every row that comes within TIE of the best after its loss, (rows, c).

    Rows whose bound shows that they do not, or stay below `least`, hold NaN; rows of a score of -inf never
    count. Everything above `least` that ties with the best is worked out; where a score of `enough` is found
    after a loss, no better one is sought there.
    """
    bounds, values = _begin(peaks, score)
    refined = np.zeros(values.shape, dtype=bool)
    while True:
        best = known(values).max(axis=0, initial=-np.inf)
        floor = np.maximum(best - TIE * np.abs(np.where(np.isfinite(best), best, 0.0)), least)
        open_ = np.isnan(values) & (bounds >= floor) & (bounds > -np.inf) & (best < enough)
        # One each to begin with: what it is worth rules most others out.
        started = np.isfinite(best)
        pairs = _most_promising(np.where(open_, bounds, -np.inf), started)
        if not len(pairs.rows):
            return values
        fresh = ~refined[pairs.rows, pairs.losses]
        if fresh.any():
            wanted = Pairs(pairs.rows[fresh], pairs.losses[fresh])
            bounds[wanted.rows, wanted.losses] = np.minimum(
                bounds[wanted.rows, wanted.losses], score(*peaks.fine(wanted), wanted)
            )
            refined[wanted.rows, wanted.losses] = True
            continue
        peaks.work_out(pairs)
        found = score(peaks.high[pairs.rows, pairs.losses], peaks.low[pairs.rows, pairs.losses], pairs)
        values[pairs.rows, pairs.losses] = found


def seek_by_row(peaks: PeaksAfter, score: Score, least: Array) -> Array:
    """Return the exact scores of each row after the losses under which it fares worst, (rows, c), else NaN.

    least (rows,): what is no more than this matters to nobody. Everything above it that ties with the best of
    its row is worked out.
    """
    bounds, values = _begin(peaks, score)
    open_ = np.where(np.isnan(values), bounds, -np.inf)
    while True:
        floor = np.maximum(known(values).max(axis=1, initial=-np.inf), least)
        open_[open_ < (floor - TIE * np.abs(np.where(np.isfinite(floor), floor, 0.0)))[:, None]] = -np.inf
        rows = np.flatnonzero(open_.max(axis=1, initial=-np.inf) > -np.inf)
        if not len(rows):
            return values
        pairs = Pairs(rows, open_[rows].argmax(axis=1))
        worth = score(*peaks.fine(pairs), pairs) >= floor[rows]
        open_[pairs.rows, pairs.losses] = -np.inf
        pairs = Pairs(rows[worth], pairs.losses[worth])
        peaks.work_out(pairs)
        ends = peaks.high[pairs.rows, pairs.losses], peaks.low[pairs.rows, pairs.losses]
        values[pairs.rows, pairs.losses] = score(*ends, pairs)


def known(values: Array) -> Array:
    """Return scores with -inf for those that were never worked out."""
    return np.where(np.isnan(values), -np.inf, values)


def work_out_above(peaks: PeaksAfter, score: Score, least: float) -> Array:
    """Return the exact scores of every row that could exceed `least` after its loss, (rows, c), else NaN."""
    bounds, values = _begin(peaks, score)
    pairs = Pairs(*np.nonzero(np.isnan(values) & (bounds > least)))
    chosen = score(*peaks.fine(pairs), pairs) > least
    pairs = Pairs(pairs.rows[chosen], pairs.losses[chosen])
    peaks.work_out(pairs)
    values[pairs.rows, pairs.losses] = score(
        peaks.high[pairs.rows, pairs.losses], peaks.low[pairs.rows, pairs.losses], pairs
    )
    return values


def _begin(peaks: PeaksAfter, score: Score) -> tuple[Array, Array]:
    """Return bounds of all scores, and the scores of what is worked out already, else NaN, (rows, c) both."""
    rows, losses = peaks.high.shape
    upper, lower = peaks.coarse()
    bounds = score(upper.ravel(), lower.ravel(), Pairs.all_of(rows, losses)).reshape(rows, losses)
    values = np.full((rows, losses), np.nan)
    done = Pairs(*np.nonzero(~np.isnan(peaks.high)))
    values[done.rows, done.losses] = score(
        peaks.high[done.rows, done.losses], peaks.low[done.rows, done.losses], done
    )
    return bounds, values


def _most_promising(bounds: Array, started: NDArray[np.bool_]) -> Pairs:
    """The row of the largest bound of each loss, or the AT_ONCE first where `started`; none of -inf."""
    count = min(AT_ONCE if started.any() else 1, len(bounds))
    rows = np.argpartition(-bounds, count - 1, axis=0)[:count] if count else np.zeros((0, 0), dtype=np.int64)
    losses = np.broadcast_to(np.arange(bounds.shape[1]), rows.shape) if count else rows
    values = bounds[rows, losses]
    kept = (values > -np.inf) & (started | (values == values.max(axis=0, initial=-np.inf)))
    return Pairs(rows[kept], losses[kept])
