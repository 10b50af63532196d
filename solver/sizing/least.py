"""The lightest choice that holds: found by descending, and proven where all that is lighter can be tried."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import islice, takewhile

from solver.progress import Progress, silent
from solver.sizing.by_weight import by_weight
from solver.sizing.choice import Choice
from solver.sizing.descending import descend
from solver.sizing.possible import find_possible
from solver.sizing.trial import Bench, Trial

MOST, MEMBERS_GONE_THROUGH = 10_000, 20_000
"""So many choices at most are gone through for a proof, and so many members of theirs altogether."""


@dataclass(frozen=True)
class Found:
    """The lightest trial that holds, None where none does; proven: nothing lighter holds."""

    trial: Trial | None
    proven: bool


def find_least(bench: Bench, progress: Progress = silent) -> Found:
    """Find the lightest choice that holds.

    Options that fail whatever the other groups are made of are left out first: where a group has no other,
    nothing holds. All that is lighter than what descending finds is tried where that is not too much.
    """
    options = find_possible(bench)
    if not all(options):
        return Found(None, proven=True)
    found = descend(bench, progress)
    rest = _lighter_than(bench, options, found)
    most = min(MOST, MEMBERS_GONE_THROUGH // len(bench.sizes.study.truss.members))
    if len(rest) > most:
        return Found(found, proven=False)
    return Found(_first(bench, rest, progress) or found, proven=True)


def _lighter_than(bench: Bench, options: Sequence[tuple[int, ...]], found: Trial | None) -> Sequence[Choice]:
    """All choices lighter than what was found, the lightest first; one more than MOST at most."""
    sizes = bench.sizes
    every = by_weight(sizes, options)
    if found is None:
        return tuple(islice(every, max(MOST, 0) + 1))
    below = found.weight * (1 - 1e-12)
    return tuple(islice(takewhile(lambda choice: sizes.weight(choice) < below, every), max(MOST, 0) + 1))


def _first(bench: Bench, choices: Sequence[Choice], progress: Progress) -> Trial | None:
    """The first of some choices that holds."""
    for done, choice in enumerate(choices):
        progress("lighter sections", 0.5 + 0.5 * done / len(choices))
        trial = bench.try_out(choice)
        if trial.holds:
            return trial
    return None
