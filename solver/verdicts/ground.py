"""A ground: one thing that can be proved of a member and speaks for it, with its number."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from solver.placement import Standing

Key = Literal[
    "prop",
    "mechanism",
    "overload",
    "deflection",
    "reverses",
    "works",
    "weight",
    "strain",
    "pair",
    "series",
    "takeover",
    "coincidence",
    "lean",
    "duty",
]
Quantity = Literal["force", "share", "ratio", "count"]

QUANTITIES: dict[Key, Quantity] = {
    "prop": "force",
    "mechanism": "count",
    "overload": "ratio",
    "deflection": "ratio",
    "reverses": "force",
    "works": "force",
    "weight": "force",
    "strain": "force",
    "pair": "count",
    "series": "count",
    "takeover": "force",
    "coincidence": "force",
    "lean": "force",
    "duty": "count",
}
"""Every key in its order of weight, and what its number is."""


@dataclass(frozen=True)
class Ground:
    """One ground.

    number: in SI, as QUANTITIES has it; of forces tension is positive. under: the load (column) that it is
    told of, -1 without one; standing: where its train stands. members, joints: others (indices) that it
    names. loads: further loads (columns).
    """

    key: Key
    number: float
    under: int = -1
    standing: Standing | None = None
    members: tuple[int, ...] = ()
    joints: tuple[int, ...] = ()
    loads: tuple[int, ...] = ()
