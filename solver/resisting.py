"""Resistances of a study's members: given outright, else by its standard at their unbraced lengths."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from solver.lengths import Unbraced, find_unbraced
from solver.resistance.bar import Bar
from solver.resistance.given import given_with
from solver.resistance.steps import Strength
from solver.study import Study
from solver.truss import Member

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Resisting:
    """For every member, in the file's order: the bar as a standard sees it, and its strengths with steps."""

    bars: tuple[Bar, ...]
    unbraced: tuple[Unbraced, ...]
    tension: tuple[Strength, ...]
    compression: tuple[Strength, ...]

    @cached_property
    def values(self) -> tuple[Array, Array]:
        """Resistances in tension and in compression [N], (members,) each; NaN where there is none."""
        return _values(self.tension), _values(self.compression)


def resist(study: Study) -> Resisting:
    """Work out the resistances of every member; alike bars are worked out once."""
    truss, standard = study.truss, study.rules.standard
    unbraced = find_unbraced(truss)
    bars = tuple(
        _bar(member, length, truss.dimension == 3)
        for member, length in zip(truss.members, unbraced, strict=True)
    )
    known: dict[tuple[Bar, float | None, float | None], tuple[Strength, Strength]] = {}
    strengths = []
    for member, bar in zip(truss.members, bars, strict=True):
        key = (bar, member.group.tension, member.group.compression)
        if key not in known:
            rules = given_with(member.group, standard)
            known[key] = (rules.tension(bar), rules.compression(bar))
        strengths.append(known[key])
    return Resisting(bars, unbraced, tuple(one for one, _ in strengths), tuple(two for _, two in strengths))


def _bar(member: Member, unbraced: Unbraced, space: bool) -> Bar:
    group = member.group
    making = group.making
    across = None if unbraced.across is None else unbraced.across * making.effective[1]
    return Bar(
        section=group.section,
        material=group.material,
        length=unbraced.in_plane,
        in_plane=unbraced.in_plane * making.effective[0],
        across=across,
        profile=group.section.profile,
        net_area=making.net_area,
        shear_lag=making.shear_lag,
        connected=making.connected,
        connector_spacing=making.connector_spacing,
        connector_fixing=making.connector_fixing,
        web=unbraced.piece is None,
        space=space,
    )


def _values(strengths: tuple[Strength, ...]) -> Array:
    return np.array([np.nan if one.value is None else one.value for one in strengths])
