"""Choices of sections: of which groups, from which families, and what they weigh."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from solver.errors import InputError
from solver.study import Study
from solver.truss import Group, Member, Section

Choice = tuple[int, ...]
"""Of each group that may be chosen, which of its sections (place in its family's order); -1: as it is now."""


@dataclass(frozen=True)
class Sizes:
    """The groups of a study that name a family, in the file's order, and what they may be made of."""

    study: Study
    groups: tuple[Group, ...]
    families: tuple[tuple[Section, ...], ...]

    @cached_property
    def lengths(self) -> tuple[float, ...]:
        """Length of all members of each group [m]."""
        truss = self.study.truss
        return tuple(
            sum(
                float(length)
                for member, length in zip(truss.members, truss.lengths, strict=True)
                if member.group.name == group.name
            )
            for group in self.groups
        )

    def section(self, place: int, chosen: int) -> Section:
        """The section of a group (place): one of its family, or that of now."""
        return self.groups[place].section if chosen < 0 else self.families[place][chosen]

    def weight(self, choice: Choice) -> float:
        """Weight of these groups [N], or their volume [m³] where a material has no unit weight."""
        return sum(self.weight_of(place, chosen) for place, chosen in enumerate(choice))

    def weight_of(self, place: int, chosen: int) -> float:
        """Weight of one group [N], or its volume [m³] where a material has no unit weight."""
        per_volume = self.groups[place].material.unit_weight if self.weighed else 1.0
        return self.lengths[place] * self.section(place, chosen).area * (per_volume or 1.0)

    @cached_property
    def weighed(self) -> bool:
        """Whether every group's material has a unit weight."""
        return all(group.material.unit_weight is not None for group in self.groups)

    def options(self, place: int) -> tuple[int, ...]:
        """What a group (place) may be made of, the lightest first: its family, and what it is now (-1)."""
        section, family = self.groups[place].section, self.families[place]
        given = self.groups[place].tension is not None or self.groups[place].compression is not None
        own = () if section in family and not given else (-1,)
        return tuple(sorted((*own, *range(len(family))), key=lambda one: self.weight_of(place, one)))

    @property
    def now(self) -> Choice:
        """Everything as it is."""
        return (-1,) * len(self.groups)

    def made_of(self, place: int, chosen: int) -> Group:
        """A group (place) made of one of its options."""
        return _made_of(self.groups[place], self.section(place, chosen), chosen)

    def study_with(self, choice: Choice) -> Study:
        """The study with chosen sections.

        Resistances given outright go with the section of now; of a net area the share is kept.
        """
        made = {self.groups[place].name: self.made_of(place, chosen) for place, chosen in enumerate(choice)}
        members = tuple(_in_group(member, made) for member in self.study.truss.members)
        return replace(self.study, truss=replace(self.study.truss, members=members))


def find_sizes(study: Study) -> Sizes:
    """Find what may be chosen in a study; raises InputError where nothing may."""
    groups: dict[str, Group] = {}
    for member in study.truss.members:
        if member.group.making.family is not None:
            groups.setdefault(member.group.name, member.group)
    if not groups:
        raise InputError("no group names a family of sections to choose from")
    families = tuple(study.rules.families[str(group.making.family)] for group in groups.values())
    return Sizes(study, tuple(groups.values()), families)


def members_of(study: Study, group: str) -> Sequence[int]:
    """Members (indices) of a group."""
    members = study.truss.members
    return np.flatnonzero([member.group.name == group for member in members]).tolist()


def _made_of(group: Group, section: Section, chosen: int) -> Group:
    if chosen < 0:
        return group
    net = group.making.net_area
    share = None if net is None else net * section.area / group.section.area
    making = replace(group.making, net_area=share)
    return replace(group, section=section, tension=None, compression=None, making=making)


def _in_group(member: Member, made: dict[str, Group]) -> Member:
    group = made.get(member.group.name)
    return member if group is None or group is member.group else replace(member, group=group)
