"""Profiles by name, out of the bundled tables and a user's own."""

from __future__ import annotations

import re
from collections.abc import Sequence
from difflib import get_close_matches
from fractions import Fraction
from functools import cache

from explorer.bundled import data_folder
from explorer.sections.numbers import LENGTHS, read_number, spell
from explorer.sections.reading import load_table
from explorer.sections.table import Entry, Table, pair_up
from solver.errors import InputError
from solver.profiles.profile import Profile

PAIR = re.compile(
    r"2\s*(?P<size>\S.*?)\s*(?P<backs>LLBB|SLBB)?"
    r"(?:\s*gap\s*(?P<gap>\S+?)(?:\s*(?<=[\s\d])(?P<unit>mm|in))?)?",
    re.IGNORECASE,
)
WIDEST_GAP = Fraction(1, 10)
"""Widest gap between the backs of two angles [m]: beyond it they are no pair on a common plate."""

LONGEST_ASKED = 120
"""Characters of a name that is looked for at all."""

Found = tuple[Table, Entry]


@cache
def bundled_tables() -> tuple[Table, ...]:
    """All bundled tables of sections, by the names of their files."""
    return tuple(load_table(path) for path in sorted((data_folder() / "sections").glob("*.csv")))


def find_table(name: str, own: Sequence[Table] = ()) -> Table:
    """Return a table by its name; a user's `own` come before bundled ones. Raises InputError."""
    tables = (*own, *bundled_tables())
    named = next((table for table in tables if spell(table.name) == spell(name)), None)
    if named:
        return named
    there = ", ".join(table.name for table in tables)
    raise InputError(f"there is no table of sections {name[:80]}: there are {there}", [name])


def find_profile(name: str, own: Sequence[Table] = ()) -> Profile:
    """Return a profile by its name; a user's `own` tables come before bundled ones.

    Case, blanks and the way numbers are written make no difference. A standard may stand before the size
    (`EN 10210-2 SHS 100x100x5`); without one, a hollow section made both ways is the hot finished
    one, since cold formed ones carry their standard in their name. Two angles back to back are written
    `2L 80x80x8 gap 10`, with the gap in the table's unit or left out; long legs are back to back unless
    `SLBB` follows the size. Raises InputError with the names that come nearest.

    >>> profile = find_profile("shs 100x100x5")
    >>> profile.size, profile.making, round(profile.area * 1e4, 1)
    ('SHS 100x100x5', 'hot finished', 18.7)
    >>> find_profile("EN 10219-2 SHS 100x100x5").making
    'cold formed'
    """
    if len(name) > LONGEST_ASKED:
        raise InputError(f"there is no profile {name[:80]}...: no name is so long", [name])
    found = _look(name, own)
    if found:
        return found[1].profile
    paired = _paired(name, own)
    if paired:
        return paired
    raise InputError(f"there is no profile {name}{_near(name, own)}", [name])


def list_profiles(name: str, own: Sequence[Table] = ()) -> tuple[Profile, ...]:
    """Return the sizes of a table in order of area, the lightest first; raises InputError."""
    return _by_area(find_table(name, own).profiles)


def list_pairs(
    name: str, gap: Fraction = Fraction(0), short_legs: bool = False, own: Sequence[Table] = ()
) -> tuple[Profile, ...]:
    """Return all sizes of a table of angles as pairs with a gap [m], in order of area; raises InputError."""
    table = find_table(name, own)
    pairs = [_pair(table, entry, gap, short_legs) for entry in table.entries]
    return _by_area(pairs)


def _by_area(profiles: Sequence[Profile]) -> tuple[Profile, ...]:
    return tuple(sorted(profiles, key=lambda profile: (profile.area, profile.size)))


def _index(tables: Sequence[Table]) -> dict[str, Found]:
    """Sizes by their spelling, with and without their standard and their table's name; the first wins."""
    index: dict[str, Found] = {}
    for table in tables:
        for entry in table.entries:
            size = entry.profile.size
            for name in (size, f"{table.short_standard} {size}", f"{table.name} {size}"):
                index.setdefault(spell(name), (table, entry))
    return index


@cache
def _bundled_index() -> dict[str, Found]:
    return _index(bundled_tables())


def _look(name: str, own: Sequence[Table]) -> Found | None:
    key = spell(name)
    return _index(own).get(key) or _bundled_index().get(key)


def _paired(name: str, own: Sequence[Table]) -> Profile | None:
    match = PAIR.fullmatch(name.strip())
    found = _look(match["size"], own) if match else None
    if not match or not found:
        return None
    table, entry = found
    gap = _gap(match["gap"] or "0", (match["unit"] or table.unit).lower(), name)
    return _pair(table, entry, gap, (match["backs"] or "").upper() == "SLBB")


def _gap(text: str, unit: str, name: str) -> Fraction:
    value = read_number(text)
    if value is None or value * LENGTHS[unit] > WIDEST_GAP:
        right = f"write a number of {unit} up to {float(WIDEST_GAP / LENGTHS[unit]):.3g}"
        raise InputError(f"the gap of {name} is {text!r}; {right}", [name])
    return value * LENGTHS[unit]


def _pair(table: Table, entry: Entry, gap: Fraction, short_legs: bool) -> Profile:
    profile = pair_up(table, entry, gap, short_legs)
    if profile is None:
        size = entry.profile.size
        raise InputError(f"{size} is no angle, so that two of it make no pair back to back", [size])
    return profile


def _near(name: str, own: Sequence[Table]) -> str:
    """Say which names come nearest, or which tables there are."""
    tables = (*own, *bundled_tables())
    sizes = {spell(profile.size): profile.size for table in tables for profile in table.profiles}
    match = PAIR.fullmatch(name.strip())
    asked_for = [(match["size"], "2")] if match else []
    for asked, before in (*asked_for, (name, "")):
        near = get_close_matches(spell(asked), list(sizes), n=3, cutoff=0.75)
        if near:
            return f": did you mean {' or '.join(before + sizes[key] for key in near)}?"
    return f"; the tables are {', '.join(table.name for table in tables)}"
