"""A table of sections: where it comes from, and its sizes as profiles."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from explorer.sections.numbers import write_length
from solver.profiles.angle import Angle, pair
from solver.profiles.label import Label
from solver.profiles.profile import Profile, Shape


@dataclass(frozen=True)
class Entry:
    """One size; angles keep what a pair of them needs, if the table gives it."""

    profile: Profile
    angle: Angle | None = None


@dataclass(frozen=True)
class Table:
    """Sizes of one shape under one standard.

    name: as profiles and families name it, such as `EN 10210-2 SHS`. unit: of lengths in its sizes' names.
    source, certainty: where the sizes were taken from and how sure that is. not_covered: what the numbers
    leave out.
    """

    name: str
    title: str
    shape: Shape
    unit: str
    entries: tuple[Entry, ...]
    standard: str = ""
    source: str = ""
    certainty: str = ""
    not_covered: str = ""

    @property
    def short_standard(self) -> str:
        """The standard without its edition: `EN 10210-2` of `EN 10210-2:2006`."""
        return self.standard.partition(":")[0].strip()

    @property
    def profiles(self) -> tuple[Profile, ...]:
        """All sizes, in the table's order."""
        return tuple(entry.profile for entry in self.entries)


def pair_up(table: Table, entry: Entry, gap: Fraction, short_legs: bool = False) -> Profile | None:
    """Two angles of a size back to back, `gap` [m] apart; None where the table gives no centroids.

    The long legs stand back to back, or the short ones; of equal legs there is no difference. The pair keeps
    the least radius of one angle, by which rules tell how closely the two must be joined.
    """
    angle, one = entry.angle, entry.profile
    if angle is None:
        return None
    short = short_legs and angle.depth != angle.width
    size = f"2{one.size}" + (" SLBB" if short else "")
    size += f" gap {write_length(gap, table.unit)}" if gap else ""
    upright = angle if (angle.depth >= angle.width) != short else angle.turned()
    both = pair(Label(size, table.name, one.making), upright, float(gap), one.stored)
    return replace(both, radius_of_one=one.least_radius)
