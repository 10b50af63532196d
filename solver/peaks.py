"""Peaks, zero shares and still members: what a sweep says under the study's own rule of zero."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from solver.demand import standing_part
from solver.progress import Progress, silent
from solver.response import Responses, Rows
from solver.study import Study
from solver.sweep import Governing, Sweep, Ways, sweep, zero_shares
from solver.tolerances import NOISE, is_zero, zero_band

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Forces:
    """Member forces under every load case alone and every combination that is asked.

    The columns of `sweep`, `scales` (combinations,) [N] and `shares` (members, combinations) are
    `study.alone`, then the combinations of the file. tension, compression: governing peaks [N] over the
    combinations asked, at least 0, and 0 where zero. zero_share: mean over the load cases by their
    counts; zero_share_combined: mean over the combinations asked; still: zero always; all (members,).
    """

    sweep: Sweep
    scales: Array
    shares: Array
    tension: Governing
    compression: Governing
    zero_share: Array
    zero_share_combined: Array
    still: NDArray[np.bool_]

    @property
    def asked_scales(self) -> Array:
        """The scales of the combinations asked only."""
        return self.scales[-len(self.sweep.motions.ways.study.asked) :]


@dataclass(frozen=True)
class Extremes:
    """Governing largest and smallest values of reactions [N] or deflections [m], and their sweep."""

    largest: Governing
    smallest: Governing
    sweep: Sweep


def sweep_forces(
    ways: Ways, responses: Responses, progress: Progress = silent, shares_too: bool = True
) -> Forces:
    """Sweep the member forces; each combination's zero is judged against its own scale.

    Without `shares_too` zero shares are not worked out, and hold no numbers.
    """
    study = ways.study
    combinations = study.alone + study.combinations
    swept = sweep(ways, responses.forces, responses.case_names, combinations, progress)
    scales = _scales(responses, swept, progress)
    smallest = np.where(is_zero(swept.smallest, scales, study.zero_limit), 0.0, swept.smallest)
    largest = np.where(is_zero(swept.largest, scales, study.zero_limit), 0.0, swept.largest)
    if shares_too:
        shares = zero_shares(swept, zero_band(scales, study.zero_limit), progress)
    else:
        shares = np.full(swept.largest.shape, np.nan)
    alone = len(study.alone)
    counts = np.array(study.counts)
    zero_share = shares[:, :alone] @ counts / counts.sum()
    # Without combinations of its own a study's load cases are what it asks, weighted by their counts.
    combined = shares[:, alone:].mean(axis=1) if study.combinations else zero_share
    return Forces(
        sweep=swept,
        scales=scales,
        shares=shares,
        tension=swept.govern(_asked(study, largest), 1.0, progress),
        compression=swept.govern(_asked(study, -smallest), -1.0, progress),
        zero_share=zero_share,
        zero_share_combined=combined,
        still=np.asarray(~(smallest.any(axis=1) | largest.any(axis=1))),
    )


def sweep_extremes(
    ways: Ways, rows: Rows, case_names: tuple[str, ...], progress: Progress = silent
) -> Extremes:
    """Sweep reactions or deflections over the combinations asked; smallest is told with its own sign."""
    swept = sweep(ways, rows, case_names, ways.study.asked, progress)
    # Computed true zeros differ by roundings, which must not choose what is named.
    size = max(np.abs(part).max(initial=0.0) for part in (swept.smallest, swept.largest))
    noise = NOISE * float(size)
    largest = swept.govern(swept.largest, 1.0, progress, noise)
    mirrored = swept.govern(-swept.smallest, -1.0, progress, noise)
    return Extremes(largest, replace(mirrored, values=-mirrored.values), swept)


def _asked(study: Study, demands: Array) -> Array:
    """Demands with those of load cases alone out of the comparison where the file has combinations."""
    demands = np.maximum(demands, 0.0)
    if study.combinations:
        demands[:, : len(study.alone)] = -np.inf
    return demands


def _scales(responses: Responses, swept: Sweep, progress: Progress) -> Array:
    """The scale of each combination [N]: its largest member force, joint load, or force if fully held."""
    forces = np.maximum(np.abs(swept.smallest), np.abs(swept.largest)).max(axis=0)
    rows = responses.loads
    touched = rows.cases.any(axis=1)
    for influence in rows.influence.values():
        touched |= influence.any(axis=1)
    touched_influence = {name: part[touched] for name, part in rows.influence.items()}
    loaded = Rows(rows.cases[touched], touched_influence, rows.sizes)
    loads = sweep(swept.motions.ways, loaded, responses.case_names, swept.combinations, progress)
    largest_load = np.maximum(np.abs(loads.smallest), np.abs(loads.largest)).max(axis=0, initial=0.0)
    held = Rows(responses.fully_held, {}, rows.sizes)
    largest_held = np.abs(standing_part(held, responses.case_names, swept.combinations)).max(axis=0)
    return np.asarray(np.maximum.reduce([forces, largest_load, largest_held]))
