"""Names in a study, and tables written by name."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from explorer.document.values import Values, join, show

NAME = re.compile(r"[^\W_][^\x00-\x1f\x7f-\x9f]{0,39}")


def check_name(values: Values, name: str, path: str) -> bool:
    """Note a fault where a name (not a joint's) breaks its rule."""
    if NAME.fullmatch(name):
        return True
    values.faults.add(path, f"{show(name)} is no name", "1 to 40 characters, first a letter or digit")
    return False


def named_tables(values: Values, raw: object, table: str) -> Iterator[tuple[str, str, Any]]:
    """Yield name, path and content of each table by name; names are checked."""
    if raw is None:
        return
    if not isinstance(raw, dict):
        values.faults.add(table, f"{show(raw)} where tables by name belong", f"write [{table}.NAME]")
        return
    for name, content in raw.items():
        path = join(table, name)
        check_name(values, name, path)
        yield name, path, content
