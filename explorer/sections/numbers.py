"""Numbers as tables of sections write them, decimals or fractions of an inch, and their units; all exact."""

from __future__ import annotations

import re
from fractions import Fraction
from types import MappingProxyType

INCH = Fraction("0.0254")
MM = Fraction(1, 1000)
CM = Fraction(1, 100)
LENGTHS = MappingProxyType({"mm": MM, "cm": CM, "m": Fraction(1), "in": INCH})
AREAS = MappingProxyType({f"{unit}2": factor**2 for unit, factor in LENGTHS.items()})
SECOND_MOMENTS = MappingProxyType({f"{unit}4": factor**4 for unit, factor in LENGTHS.items()})
MIXED = re.compile(r"(\d+)(?:[ ]+|-)(\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:\.\d+)?|\.\d+)", re.ASCII)
LONGEST = 20
"""Characters of a number; more is not a dimension, and very long ones cost time."""


def read_number(text: str) -> Fraction | None:
    """Return a number as written, exactly, or None where the text is none.

    >>> [str(read_number(text)) for text in ("6.3", "1/4", "2-1/2", "2 1/2", "five", "1/0")]
    ['63/10', '1/4', '5/2', '5/2', 'None', 'None']
    """
    found = MIXED.fullmatch(text.strip())
    return _value(found) if found and len(text) <= LONGEST else None


def _value(found: re.Match[str]) -> Fraction | None:
    whole, over, under, plain_over, plain_under, decimal = found.groups()
    if decimal:
        return Fraction(decimal)
    above, below = int(over or plain_over), int(under or plain_under)
    return int(whole or 0) + Fraction(above, below) if below else None


def spell(name: str) -> str:
    """Return a name as it is compared: case, blanks and the way of writing a number make no difference.

    >>> spell("SHS 100 x 100 x 5.0") == spell("shs 100x100x5")
    True
    >>> spell("L2.5X2.5X0.25") == spell("L 2-1/2 x 2 1/2 x 1/4")
    True
    """

    def write(found: re.Match[str]) -> str:
        value = _value(found) if len(found.group()) <= LONGEST else None
        return found.group() if value is None else f"{value} "

    text = MIXED.sub(write, name.replace("\u00d7", "x").replace("*", "x"))
    return "".join(text.casefold().split())


def write_length(value: Fraction, unit: str) -> str:
    """Return a length [m] in a unit as the trade writes it: sixty-fourths of an inch, decimals otherwise.

    >>> write_length(Fraction(3, 8) * INCH, "in"), write_length(Fraction("0.0125"), "mm")
    ('3/8', '12.5')
    """
    written = value / LENGTHS[unit]
    if unit != "in" or 64 % written.denominator:
        return f"{float(written):g}"
    whole, rest = divmod(written, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)
