"""A user's own tables of sections, in files beside the study file."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from explorer.document.values import Values, printable, show
from explorer.sections.numbers import spell
from explorer.sections.reading import load_table
from explorer.sections.table import Table
from solver.errors import InputError

MOST = 20
KEY = "section_tables"


def read_section_tables(
    values: Values, names: Sequence[str] | None, folder: Path | None
) -> tuple[Table, ...] | None:
    """Read the tables that a study names, relative to its folder; None after a fault.

    folder: of the study file; None where there is no file but a text, as of one that was uploaded.
    """
    if not names:
        return ()
    before = len(values.faults.found)
    if folder is None:
        values.faults.add(
            KEY,
            "tables stand beside a study file, and here is its text alone",
            "open it from its folder: stillbar open STUDY; or write its sizes under [sections]",
        )
        return None
    if len(names) > MOST:
        values.faults.add(KEY, f"{len(names)} tables", f"at most {MOST} are taken on")
        return None
    tables: list[Table] = []
    for i, name in enumerate(names):
        here = f"{KEY}[{i}]"
        table = _load(values, name, here, folder)
        if table is not None:
            _note_twice(values, here, table, tables)
            tables.append(table)
    return tuple(tables) if len(values.faults.found) == before else None


def _load(values: Values, name: str, here: str, folder: Path) -> Table | None:
    try:
        path = (folder / name).resolve()
        inside = path.is_relative_to(folder.resolve())
    except (OSError, ValueError):
        # No file can have such a name.
        inside = False
    if not inside or not name.strip():
        wrong = f"{show(name)} is no file in the study's folder"
        values.faults.add(here, wrong, 'write its name, as "tubes.csv", or a path below that folder')
        return None
    try:
        return load_table(path)
    except InputError as error:
        for line in str(error).splitlines():
            values.faults.add(here, printable(line))
        return None


def _note_twice(values: Values, here: str, table: Table, others: Sequence[Table]) -> None:
    """Note a table or a size that another table beside the study file has as well."""
    for other in others:
        if spell(other.name) == spell(table.name):
            values.faults.add(here, f"a table {show(table.name)} is there already", "name each file once")
            return
        theirs = {spell(profile.size) for profile in other.profiles}
        twice = [profile.size for profile in table.profiles if spell(profile.size) in theirs]
        if twice:
            wrong = f"size {show(twice[0])} stands in table {show(other.name)} too"
            values.faults.add(here, wrong, "leave it out of one of them")
