"""The list for print: every member with its group, what it is and its verdict, sorted by kind."""

from __future__ import annotations

from collections.abc import Sequence

from explorer.markup import Markup, element
from explorer.pages.proofs.names import keep_names
from explorer.pages.whole.drawn import draw_kind
from explorer.wording.numbers import significant
from explorer.wording.whole_truss import KINDS, GroupShare, Kind, ToldMember

HEADS = ("member", "group", "what it is", "verdict")


def draw_list(told: Sequence[ToldMember]) -> Markup:
    """Draw the list, under a heading for each kind that the truss has."""
    bodies = [_draw_kind(kind, rows) for kind in KINDS if (rows := [one for one in told if one.kind is kind])]
    head = element("tr", [element("th", name, {"scope": "col"}) for name in HEADS])
    return element("table", [element("thead", [head]), *bodies], {"class": "by-kind"})


def _draw_kind(kind: Kind, rows: Sequence[ToldMember]) -> Markup:
    number = f"{len(rows)}"
    title = [draw_kind(kind), element("b", f"{kind.letter} {kind.name}: {number}"), f" {kind.means}"]
    heading = element("th", title, {"colspan": len(HEADS), "scope": "rowgroup"})
    lines = [element("tr", [heading], {"class": "kind"}), *(_draw_row(one) for one in rows)]
    return element("tbody", lines)


def _draw_row(one: ToldMember) -> Markup:
    name = element("button", one.name, {"type": "button", "data-choose": one.member, "aria-pressed": "false"})
    cells = [
        element("th", [name], {"scope": "row"}),
        element("td", one.group),
        element("td", one.kind.name),
        element("td", keep_names(one.verdict)),
    ]
    return element("tr", cells, {"data-row": one.member})


def draw_shares(shares: Sequence[GroupShare]) -> Markup:
    """Draw how much each group shares; nothing where none does."""
    whole = sum(one.share for one in shares)
    if not whole:
        return Markup("")
    rows = [_draw_share(one, whole) for one in shares]
    foot = element(
        "tr", [element("th", "together", {"scope": "row"}), element("td", ""), _number(whole), element("td")]
    )
    heads = [element("th", name, {"scope": "col"}) for name in ("group", "members", "share")]
    head = element("tr", [*heads, element("td")])
    parts = [
        element("caption", "Redundancy shares by group: how the static indeterminacy is spread"),
        element("thead", [head]),
        element("tbody", rows),
        element("tfoot", [foot]),
    ]
    return element("table", parts, {"class": "by-group"})


def _draw_share(one: GroupShare, whole: float) -> Markup:
    part = f"--part:{one.share / whole:.4g}"
    bar = element("span", "", {"class": "part", "style": part})
    return element(
        "tr",
        [
            element("th", one.group, {"scope": "row"}),
            element("td", str(one.members)),
            _number(one.share),
            element("td", [bar], {"class": "parts", "aria-hidden": "true"}),
        ],
    )


def _number(share: float) -> Markup:
    return element("td", significant(round(share, 9)))
