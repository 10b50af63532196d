"""Steps of a calculation as an engineer writes them: clause, formula, the values put in, what comes out."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import floor, log10

from explorer.wording.numbers import MINUS, NO_BREAK, Teller, significant, trimmed
from solver.resistance.steps import Quantity, Step

DIGITS = 4
"""One digit more than sentences have, so that whoever works a line through again arrives where it does."""

LONG, LONGEST = 10_000, 1_000_000
"""From here on a number is rounded and written in groups of three, and from there on with a power of ten."""

RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")

WORD_JOINER = "\u2060"
"""Between two characters it takes no room and lets no line break."""

PER_LENGTH = " [N/m]"
"""How a symbol marks a stiffness or a load per length, for which quantities have no kind."""


@dataclass(frozen=True)
class Line:
    """A step in words: clause with what it is about, formula, values with units, result with its unit."""

    clause: str
    formula: str
    given: str
    result: str

    @property
    def cells(self) -> tuple[str, str, str, str]:
        """The line as cells of a table."""
        return self.clause, self.formula, self.given, self.result


def tell_step(step: Step, teller: Teller) -> Line:
    """Write a step in a reader's units."""
    clause = f"{step.clause}, {step.about}" if step.about else step.clause
    given = ", ".join(tell_quantity(quantity, teller) for quantity in step.given)
    return Line(
        keep_fractions(clause),
        keep_fractions(step.formula),
        keep_fractions(given),
        keep_fractions(tell_quantity(step.result, teller)),
    )


def keep_fractions(text: str) -> str:
    """Keep what stands over a slash and what stands under it on one line, and a sign with its quantity.

    >>> keep_fractions("A / B").replace(NO_BREAK, "~"), keep_fractions("L/r").replace(WORD_JOINER, "~")
    ('A~/~B', 'L~/~r')
    """
    apart = text.replace(" / ", f"{NO_BREAK}/{NO_BREAK}").replace(" -", f" -{WORD_JOINER}")
    apart = apart.replace(f"-{WORD_JOINER} ", "- ")
    return re.sub(rf"(?<=[^{NO_BREAK}])/(?=[^{NO_BREAK}])", f"{WORD_JOINER}/{WORD_JOINER}", apart)


def tell_quantity(quantity: Quantity, teller: Teller) -> str:
    """Write a symbol with its value and unit.

    >>> from explorer.document.units import METRIC
    >>> told = tell_quantity(Quantity("N_R", 600e3, "force"), Teller(METRIC))
    >>> told.replace(NO_BREAK, " ")
    'N_R = 600 kN'
    >>> tell_quantity(Quantity("q_d [N/m]", 429.2), Teller(METRIC)).replace(NO_BREAK, " ")
    'q_d = 0.4292 kN/m'
    """
    per_length = quantity.symbol.endswith(PER_LENGTH)
    kind = "line_load" if per_length else quantity.kind
    value = tell_number(teller.value(kind, quantity.value))
    unit = teller.units.label(kind)
    told = f"{value}{NO_BREAK}{unit}" if unit else value
    return f"{quantity.symbol.removesuffix(PER_LENGTH)}{NO_BREAK}={NO_BREAK}{told}"


def tell_number(value: float) -> str:
    """Write a number to four digits, without idle zeros; a long one in groups or with a power of ten.

    >>> told = [tell_number(value) for value in (57.2099, 9876.4, 13548.0, 999960.0, 18e6, -2.5e7)]
    >>> [one.replace(NO_BREAK, " ").replace(MINUS, "-") for one in told]
    ['57.21', '9876', '13 550', '1·10⁶', '18·10⁶', '-25·10⁶']
    """
    told = trimmed(significant(value, DIGITS))
    if "e" in told or abs(value) < LONG:
        return told.replace("-", MINUS)
    rounded = round(value, DIGITS - 1 - floor(log10(abs(value))))
    if abs(rounded) >= LONGEST:
        # The power is a multiple of three, as prefixes of units are.
        power = 3 * (floor(log10(abs(rounded))) // 3)
        told = f"{trimmed(significant(rounded / 10**power, DIGITS))}·10{str(power).translate(RAISED)}"
    else:
        told = f"{rounded:,.0f}".replace(",", NO_BREAK)
    return told.replace("-", MINUS)
