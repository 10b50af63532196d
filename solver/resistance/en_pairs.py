"""EN 1993-1-1:2005, 6.4.4: two angles back to back count as one where they are joined closely."""

from __future__ import annotations

from solver.resistance.bar import Bar
from solver.resistance.pairs import is_pair, slenderness_of_one
from solver.resistance.steps import Quantity, Step

NOT_GIVEN = "paired angles act as one: packing plates within 15 i_min (6.4.4) not checked"
TOO_FAR = "connectors (6.4.4): over 15 i_min apart, which table 6.9 does not count as one member (6.4.1)"
SHEAR_LAG = (
    "net section of paired angles: each is joined by one leg, which 0.9 A_net of 6.2.3 does not contain"
)
OWN_CURVE = ", chosen here: table 6.2 lists no pairs of angles"
MOST = 15.0
"""Of table 6.9: spacing over i_min of one angle, joined by bolts or welds."""


def space_packing_plates(bar: Bar) -> tuple[tuple[Step, ...], tuple[str, ...]]:
    """Steps that hold the spacing of a pair against table 6.9, and why it is refused; else empty."""
    if bar.profile is None or bar.connector_spacing is None or not is_pair(bar):
        return (), ()
    one = slenderness_of_one(bar.connector_spacing, bar.profile, "6.4.4", "i_min")
    holds = one.result.value <= MOST * (1 + 1e-9)
    formula = f"a / i_min {'≤' if holds else '>'} {MOST:g}"
    limit = Quantity("limit of a / i_min", MOST)
    steps = (one, Step("6.4.4, table 6.9", formula, (one.result,), limit, "connectors"))
    return steps, () if holds else (TOO_FAR,)
