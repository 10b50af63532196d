"""Sections of a family that would bear what a group's members bear now: the rungs that a search steps on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from solver.checks.check import Check
from solver.checks.propping import beside_its_own
from solver.checks.slender import check_depth, check_slenderness
from solver.checks.strength import check_strength
from solver.losses.before import Before
from solver.resistance.bar import Bar
from solver.resistance.given import given_with
from solver.resistance.steps import Strength
from solver.resisting import Resisting
from solver.sizing.choice import Sizes, members_of
from solver.sizing.trial import Trial
from solver.sweep import Governing


def find_sound(sizes: Sizes, trial: Trial, place: int) -> tuple[int, ...]:
    """Sections of a group (place) that hold under the forces of a trial, the lightest first.

    That these move with the sections a trial shows.
    """
    return tuple(
        chosen
        for chosen in sizes.options(place)
        if all(check.holds for _, check in check_section(sizes, trial, (place, chosen)))
    )


def check_section(sizes: Sizes, trial: Trial, tried: tuple[int, int]) -> Iterator[tuple[int, Check]]:
    """Yield members (indices) of a group (place) with their checks, made of one of its options.

    Strength, slenderness, depth and the force that it must bear as a prop, all with the forces of a trial.
    Where peaks occur is not told. Of members alike only those are looked at of which most is asked.
    """
    members = _telling(trial, members_of(sizes.study, sizes.groups[tried[0]].name))
    before = replace(trial.before, resisting=_with(sizes, trial.before.resisting, tried, members))
    nowhere = _nowhere(len(before.resisting.bars))
    for member in members:
        checks = [*check_strength(before, nowhere, member), *check_slenderness(before, member)]
        checks += [*check_depth(before, member), *_as_prop(before, trial, member)]
        yield from ((member, check) for check in checks)


def _telling(trial: Trial, members: Sequence[int]) -> tuple[int, ...]:
    """Of members of equal lengths those that decide: with most tension, compression, and of both as props.

    Slenderness asks only whether a member is pulled and whether it is pushed: one of each kind is kept too.
    """
    before = trial.before
    (pulls, pushes), bars = before.demands, before.resisting.bars
    borne = [part > 0 for part in before.borne]
    found: dict[tuple[object, ...], tuple[float, int]] = {}
    for member in members:
        bar, pull, push = bars[member], float(pulls[member]), float(pushes[member])
        alike = (bar.length, bar.in_plane, bar.across)
        held = max((check.demand for check in _props(trial, member)), default=0.0)
        asked = {
            (alike, "tension"): pull,
            (alike, "compression"): push,
            (alike, "tension as a prop"): pull + held if held else -1.0,
            (alike, "compression as a prop"): push + held if held else -1.0,
            (alike, bool(borne[0][member]), bool(borne[1][member])): 0.0,
        }
        for key, size in asked.items():
            if size >= 0 and (key not in found or size > found[key][0]):
                found[key] = size, member
    return tuple(sorted({member for _, member in found.values()}))


def _props(trial: Trial, member: int) -> Iterator[Check]:
    return (check for check in trial.checks.each[member] if check.key == "prop force" and check.demand)


def _with(sizes: Sizes, resisting: Resisting, tried: tuple[int, int], members: tuple[int, ...]) -> Resisting:
    """Resistances with some members made of another section."""
    place, chosen = tried
    group, standard = sizes.made_of(place, chosen), sizes.study.rules.standard
    bars, tension = list(resisting.bars), list(resisting.tension)
    compression = list(resisting.compression)
    known: dict[Bar, tuple[Strength, Strength]] = {}
    for member in members:
        bar = replace(
            bars[member],
            section=group.section,
            profile=group.section.profile,
            net_area=group.making.net_area,
        )
        if bar not in known:
            rules = given_with(group, standard)
            known[bar] = rules.tension(bar), rules.compression(bar)
        bars[member] = bar
        tension[member], compression[member] = known[bar]
    return Resisting(tuple(bars), resisting.unbraced, tuple(tension), tuple(compression))


def _as_prop(before: Before, trial: Trial, member: int) -> Iterator[Check]:
    """The largest force that a member must bear beside its own for holding others."""
    most = max(_props(trial, member), key=lambda check: check.demand, default=None)
    if most is not None:
        limit, utilisation, refused = beside_its_own(before, member, most.demand)
        yield replace(most, limit=limit, utilisation=utilisation, refused=refused)


def _nowhere(members: int) -> tuple[Governing, Governing]:
    """Places of peaks, of which only the sizes are wanted."""
    none = np.full(members, -1)
    place = Governing(np.zeros(members), none, np.full(members, np.nan), none, none)
    return place, place
