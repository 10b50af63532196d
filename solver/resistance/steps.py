"""Steps of a calculation, kept so that they can be told as an engineer writes them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Kind = Literal["force", "stress", "area", "second_moment", "radius", "length", "none"]
"""What a value is, by which a reader's unit is chosen; radius: a small length in mm or in."""


@dataclass(frozen=True)
class Quantity:
    """A symbol with its value in SI: N, Pa, m², m⁴, m, or a plain number."""

    symbol: str
    value: float
    kind: Kind = "none"


@dataclass(frozen=True)
class Step:
    """One line: clause of the standard, formula in its symbols, the values put in, and what comes out.

    about: what of the member the line is about where several lines look alike: 'in plane', 'out of plane',
    'weakest axis', 'walls along the depth'.
    """

    clause: str
    formula: str
    given: tuple[Quantity, ...]
    result: Quantity
    about: str = ""


@dataclass(frozen=True)
class Strength:
    """A design resistance [N] with the steps to it.

    value is None where the standard asks for something that is not computed here; `refused` names each such
    thing. `unchecked` names what else the standard asks and this resistance does not contain (net section
    without data, bending between joints): told beside every number.
    """

    value: float | None
    steps: tuple[Step, ...]
    refused: tuple[str, ...] = ()
    unchecked: tuple[str, ...] = ()
    slenderness: float | None = None
