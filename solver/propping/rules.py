"""All rules for props together, for whoever wants to hold one joint against each of them."""

from __future__ import annotations

from solver.propping.aisc_appendix_6 import PanelBracing, PointBracing
from solver.propping.demand import Demand, HeldPoint, Rule
from solver.propping.en_1993_1_1_bracing import InitialBow, Splice
from solver.propping.winter import TwoPercent, Winter, WinterPanel

GENERAL: tuple[Rule, ...] = (Winter(), WinterPanel(), TwoPercent())
AISC_LRFD: tuple[Rule, ...] = (PointBracing("LRFD"), PanelBracing("LRFD"))
AISC_ASD: tuple[Rule, ...] = (PointBracing("ASD"), PanelBracing("ASD"))
EUROCODE: tuple[Rule, ...] = (InitialBow(), Splice())
ALL: tuple[Rule, ...] = (*GENERAL, *AISC_LRFD, *AISC_ASD, *EUROCODE)


def ask(point: HeldPoint, rules: tuple[Rule, ...] = ALL) -> dict[str, Demand]:
    """Return what each rule asks of whatever holds a joint, by the rule's name.

    >>> asked = ask(HeldPoint((3.0, 3.0), (90e3, 120e3), place=1))
    >>> round(asked["2 % rule"].force), round(asked["AISC 360-22 LRFD, point"].force)
    (2400, 1200)
    """
    return {rule.name: rule.demand(point) for rule in rules}
