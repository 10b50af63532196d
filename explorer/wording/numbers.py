"""Numbers as a reader meets them: three significant digits, units always, T and C for the sign."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10

from explorer.document import UnitSystem

WORDS = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
)
MINUS = "\u2212"
"""The sign of a negative number in a sentence; a hyphen would look like one of a name."""

NO_BREAK = "\u00a0"


def significant(value: float, digits: int = 3) -> str:
    """Write a number with so many significant digits, and whole from there up.

    >>> significant(103.27), significant(7.0), significant(0.012345), significant(12345.6), significant(-0.0)
    ('103', '7.00', '0.0123', '12346', '0')
    """
    if value == 0:
        return "0"
    power = floor(log10(abs(value)))
    text = f"{value:.{max(0, digits - 1 - power)}f}"
    # Rounding up to the next power of ten (9.996) would leave one digit too many.
    if abs(float(text)) >= 10 ** (power + 1):
        text = f"{value:.{max(0, digits - 2 - power)}f}"
    return text if -7 < power < 12 else f"{value:.{digits - 1}e}"


def trimmed(text: str) -> str:
    """Take idle zeros off a number as written.

    >>> trimmed("82.50"), trimmed("30.0"), trimmed("100")
    ('82.5', '30', '100')
    """
    return text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text


def brief(value: float) -> str:
    """Write a force for the drawing: whole from 10 up, two digits below.

    >>> brief(148.6), brief(7.04), brief(0.52), brief(0.0)
    ('149', '7.0', '0.52', '0')
    """
    if value and 9.95 <= abs(value) < 1e6:
        return f"{value:.0f}"
    return significant(value, 2 if abs(value) < 9.95 else 3)


def count(number: int) -> str:
    """Write a number of things: in words up to twelve.

    >>> count(6), count(31)
    ('six', '31')
    """
    return WORDS[number] if number < len(WORDS) else str(number)


def several(number: int, one: str, many: str) -> str:
    """Write how many things there are, with the right form.

    >>> several(1, "member", "members"), several(0, "member", "members"), several(13, "joint", "joints")
    ('one member', 'no members', '13 joints')
    """
    return f"{count(number)} {one if number == 1 else many}"


def percent(share: float) -> str:
    """Write a share; what is not all is never rounded up to all, what is something never to nothing.

    >>> [percent(share).replace(NO_BREAK, " ") for share in (0.6666, 1.0, 0.9997, 0.0001, 0.0)]
    ['67 %', '100 %', '99.9 %', '0.1 %', '0 %']
    """
    # A share is a sum of lengths: what lacks a rounding of all of it is all of it.
    share = round(share, 12)
    if 0 < share < 0.0095:
        return f"{max(100 * share, 0.1):.1f}{NO_BREAK}%"
    if 0.9905 < share < 1:
        return f"{min(100 * share, 99.9):.1f}{NO_BREAK}%"
    return f"{100 * share:.0f}{NO_BREAK}%"


def listed(names: list[str], most: int = 6) -> str:
    """Write a list of names: all of a few, the first of many and how many more there are (never just one).

    >>> listed(["U2", "U4", "U6"]), listed(["A", "B", "C", "D"], most=2)
    ('U2, U4 and U6', 'A, B and 2 more')
    """
    if len(names) > most + 1:
        return f"{', '.join(names[:most])} and {len(names) - most} more"
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"


def plain(sentence: str) -> str:
    """Write a sentence without characters that only typesetting needs, for tables.

    >>> plain("T\u00a055\u00a0kN")
    'T 55 kN'
    """
    return sentence.replace(NO_BREAK, " ")


@dataclass(frozen=True)
class Teller:
    """Tells quantities (given in SI) in a reader's units."""

    units: UnitSystem

    def value(self, kind: str, value: float) -> float:
        """Return an SI value in the reader's unit."""
        return float(self.units.from_si(kind, value))

    def tell(self, kind: str, value: float) -> str:
        """Write an SI value of a kind of quantity with its unit."""
        return f"{significant(self.value(kind, value))}{NO_BREAK}{self.units.label(kind)}"

    def force(self, force: float) -> str:
        """Write a size of a force [N]."""
        return self.tell("force", abs(force))

    def member_force(self, force: float) -> str:
        """Write a member force [N] with its letter: T, C, or 0."""
        return f"{'T' if force > 0 else 'C'}{NO_BREAK}{self.force(force)}" if force else "0"

    def brief(self, force: float) -> str:
        """Write a size of a force [N] for the drawing, without its unit."""
        return brief(abs(self.value("force", force)))

    def load(self, load: float) -> str:
        """Write a load or a reaction [N] for the drawing, without its unit: three digits, no idle zeros."""
        return trimmed(significant(abs(self.value("force", load))))

    def position(self, position: float) -> str:
        """Write a position or a length along a chord [m]: no idle zeros."""
        text = trimmed(significant(self.value("length", position))).replace("-", MINUS)
        return f"{text}{NO_BREAK}{self.units.label('length')}"

    def length(self, length: float) -> str:
        """Write a member's length [m]."""
        return self.tell("length", length)
