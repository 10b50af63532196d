"""Limits that a study sets itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from explorer.document.values import Values, join, optional, show
from solver.rules import Limits


def read_limits(values: Values, raw: object, place: Mapping[str, int]) -> Limits:
    """Read limits; deflections of single joints by their indices. Without the table nothing is limited."""
    read = None if raw is None else values.table(raw, "limits", "limits")
    if read is None:
        return Limits()
    return Limits(
        deflection=optional(read["deflection"]),
        deflections=_deflections(values, read["deflections"], place),
        length_to_depth=optional(read["length_to_depth"]),
        slenderness=(optional(read["slenderness_compression"]), optional(read["slenderness_tension"])),
        after_loss=bool(read["after_loss"]),
    )


def _deflections(values: Values, raw: Any, place: Mapping[str, int]) -> dict[int, float]:
    path = "limits.deflections"
    if raw is None:
        return {}
    if not isinstance(raw, dict):
        values.faults.add(path, f"{show(raw)} where a table by joint belongs", "write { JOINT = ... }")
        return {}
    found = {}
    for name, amount in raw.items():
        here = join(path, name)
        known = values.named(name, here, "joint", place)
        value = values.number(amount, here, "positive", "small_length")
        if known and value is not None:
            found[place[name]] = float(value)
    return found
