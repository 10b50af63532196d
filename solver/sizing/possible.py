"""Sections that could do for a group: those that do not fail whatever the other groups are made of."""

from __future__ import annotations

from collections.abc import Iterator

from solver.checks.check import Check
from solver.sizing.sound import check_section
from solver.sizing.trial import Bench, Trial


def find_possible(bench: Bench) -> tuple[tuple[int, ...], ...]:
    """Return of each group its options that may hold, the lightest first.

    Depth rests on no force. Where forces stay as they are whatever is chosen, strength and slenderness are
    as certain; what a member must do as a prop may rest on the stiffness of others, and is left to trials.
    """
    sizes, now = bench.sizes, bench.try_out(bench.sizes.now)
    return tuple(
        tuple(
            chosen
            for chosen in sizes.options(place)
            if all(check.holds for check in _certain(bench, now, (place, chosen)))
        )
        for place in range(len(sizes.groups))
    )


def _certain(bench: Bench, now: Trial, tried: tuple[int, int]) -> Iterator[Check]:
    for _, check in check_section(bench.sizes, now, tried):
        if check.key == "depth" or (bench.forces_stay and not check.key.startswith("prop")):
            yield check
