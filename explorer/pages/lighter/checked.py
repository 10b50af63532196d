"""Checks drawn: a member's in a table, and those that are not met as a list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from explorer.markup import Markup, element
from explorer.pages.proofs.names import keep_names
from explorer.wording.lighter_checks import (
    Known,
    asked_checks,
    list_broken,
    tell_by,
    tell_demand,
    tell_limit,
    tell_place,
    utilisation,
)
from explorer.wording.numbers import Teller
from solver.checks.check import Check
from solver.sizing.candidates import Rung
from solver.sizing.trial import Trial

HEADS = ("check", "demand", "limit", "utilisation", "where", "whose rule", "not checked")


@dataclass(frozen=True)
class Asked:
    """A member (index) with its checks, and those of the whole truss that are to stand below them."""

    known: Known
    member: int
    checks: Sequence[Check]
    whole: Sequence[Check] = ()


def draw_broken(trial: Trial, teller: Teller) -> Markup:
    """Draw what is not met: its member, its place, whose rule it is; nothing where all is met."""
    items = [element("li", keep_names(one)) for one in list_broken(trial, teller)]
    return element("ul", items, {"class": "failing"}) if items else Markup("")


def draw_checks(asked: Asked, teller: Teller, caption: str) -> Markup:
    """Draw a table of a member's checks that a study asks for, a row each, and then of the whole truss's."""
    head = element("tr", [element("th", name, {"scope": "col"}) for name in HEADS])
    own, whole = asked_checks(asked.checks), asked_checks(asked.whole)
    rows = [_draw_check(asked, teller, Rung(check, asked.member)) for check in own]
    rows += [_draw_check(asked, teller, Rung(check, -1)) for check in whole]
    parts = [element("caption", caption), element("thead", [head]), element("tbody", rows)]
    table = element("table", parts, {"class": "checks"})
    reach = {"class": "wide-table", "tabindex": "0", "role": "region", "aria-label": f"Checks: {caption}"}
    return element("div", [table], reach)


def _draw_check(asked: Asked, teller: Teller, rung: Rung) -> Markup:
    check = rung.check
    told: list[str | list[Markup | str]] = [
        tell_demand(teller, asked.checks, check),
        tell_limit(teller, asked.checks, check),
        utilisation(check.utilisation),
        keep_names(tell_place(asked.known, teller, rung)),
        tell_by(check),
        "; ".join([*check.refused, *check.unchecked]),
    ]
    head = element("th", check.key if rung.member >= 0 else f"{check.key}, whole truss", {"scope": "row"})
    # On a narrow page every cell stands below the last one, and says itself what it is.
    cells = [element("td", text, {"data-label": name}) for name, text in zip(HEADS[1:], told, strict=True)]
    return element("tr", [head, *cells], {"class": None if check.holds else "broken"})
