"""Sections tried on groups: the table to choose in, and before and after side by side."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from math import isnan

from explorer.markup import Markup, element
from explorer.pages.lighter.drawn import HOLDS, OVER, UNKNOWN, USED, ZERO
from explorer.pages.proofs.names import keep_names
from explorer.wording.lighter import difference, weight
from explorer.wording.lighter_checks import tell_key, use_of, utilisation
from explorer.wording.lighter_whole import find_moved
from explorer.wording.numbers import Teller
from solver.checks.check import Check
from solver.sizing.choice import Choice, Sizes, members_of
from solver.sizing.trial import Trial

FULL = 1.5
"""The utilisation at which a bar of the table is full; its limit stands at two thirds."""


def choice_of(sizes: Sizes, sections: Mapping[str, object]) -> Choice:
    """Turn sections by group name into a choice; what is not there stays as it is."""
    return tuple(_chosen(sizes, place, sections.get(group.name)) for place, group in enumerate(sizes.groups))


def _chosen(sizes: Sizes, place: int, name: object) -> int:
    family = [section.name for section in sizes.families[place]]
    return family.index(name) if isinstance(name, str) and name in family else -1


def order_of(sizes: Sizes, place: int) -> list[int]:
    """Sections of a group's family other than that of now, the lightest first."""
    family, now = sizes.families[place], sizes.groups[place].section
    others = [chosen for chosen in range(len(family)) if family[chosen] != now]
    return sorted(others, key=lambda chosen: sizes.weight_of(place, chosen))


def draw_table(sizes: Sizes, teller: Teller) -> Markup:
    """Draw the table to choose in: a row a group, its cells still empty; below them weight and deflection."""
    heads = ("group", "section", "weight now", "tried", "hardest check now", "tried")
    head = element("tr", [element("th", name, {"scope": "col"}) for name in heads])
    rows = [_draw_row(sizes, place, teller) for place in range(len(sizes.groups))]
    feet = [
        element("tr", [element("th", name, {"scope": "row"}), element("td"), *_empty(row)])
        for name, row in (("together", "weight"), ("deflection", "deflection"))
    ]
    parts = [
        element("caption", "Before and after: the whole truss worked out afresh with the sections tried"),
        element("thead", [head]),
        element("tbody", rows),
        element("tfoot", feet),
    ]
    return element("table", parts, {"class": "tries-table"})


def _empty(row: str) -> list[Markup]:
    labels = ("weight now", "weight tried", "hardest now", "hardest tried")
    return [
        element("td", "", {"data-cell": f"{row}:{number}", "data-label": label})
        for number, label in enumerate(labels)
    ]


def _draw_row(sizes: Sizes, place: int, teller: Teller) -> Markup:
    group, field = sizes.groups[place], f"section-{place}"
    options = [element("option", f"as it is: {group.section.name}", {"value": ""})]
    options += [_option(sizes, place, chosen, teller) for chosen in order_of(sizes, place)]
    select = element("select", options, {"id": field, "data-group": group.name})
    label = element("label", group.name, {"for": field})
    cells = [element("th", [label], {"scope": "row"}), element("td", [select]), *_empty(str(place))]
    return element("tr", cells)


def _option(sizes: Sizes, place: int, chosen: int, teller: Teller) -> Markup:
    section = sizes.section(place, chosen)
    more = sizes.weight_of(place, chosen) - sizes.weight_of(place, -1)
    text = f"{section.name}, {teller.tell('area', section.area)}, {difference(teller, sizes, more)}"
    return element("option", text, {"value": section.name})


@dataclass(frozen=True)
class Pair:
    """The truss as it is and as tried."""

    sizes: Sizes
    now: Trial
    tried: Trial


def fill_table(pair: Pair, teller: Teller) -> dict[str, Markup]:
    """Return what stands in the table's cells, by their names; nothing of a trial of the sections of now."""
    cells: dict[str, Markup] = {}
    for place in range(len(pair.sizes.groups)):
        weights = [pair.sizes.weight_of(place, trial.choice[place]) for trial in (pair.now, pair.tried)]
        told = [element("span", text) for text in _tell_weights(pair.sizes, weights, teller)]
        uses = [_draw_use(pair.sizes, trial, place) for trial in (pair.now, pair.tried)]
        cells |= {f"{place}:{number}": cell for number, cell in enumerate([*told, *uses])}
    weights = [pair.now.weight, pair.tried.weight]
    for number, text in enumerate(_tell_weights(pair.sizes, weights, teller)):
        cells[f"weight:{number}"] = element("span", text)
    for number, trial in enumerate((pair.now, pair.tried)):
        cells[f"deflection:{2 + number}"] = _tell_deflection(trial, teller)
    return cells if pair.tried is not pair.now else _without_trial(cells)


def _without_trial(cells: dict[str, Markup]) -> dict[str, Markup]:
    """The cells of now alone: before anything is tried the other half of the table has nothing to tell."""
    kept = {name: cell if name[-1] in "02" else Markup("") for name, cell in cells.items()}
    as_now = element("span", "as now", {"class": "second"})
    return {**kept, "weight:1": as_now, "deflection:3": as_now}


def _tell_weights(sizes: Sizes, weights: Sequence[float], teller: Teller) -> list[str]:
    change = difference(teller, sizes, weights[1] - weights[0])
    after = weight(teller, sizes, weights[1])
    return [weight(teller, sizes, weights[0]), after if change == "0" else f"{after} ({change})"]


def _draw_use(sizes: Sizes, trial: Trial, place: int) -> Markup:
    """The hardest check of a group: a bar with its limit marked, the number, and which member and check."""
    study = trial.before.study
    uses = [(use_of(trial.checks.each[m]), m) for m in members_of(sizes.study, sizes.groups[place].name)]
    (value, check), member = max(uses, key=lambda use: _rank(use[0][0]))
    name = study.truss.members[member].name
    words = f" {tell_key(check)}, {name}" if check is not None else " nothing asked"
    part = 0.0 if isnan(value) else min(value / FULL, 1.0)
    bar = element("span", "", {"class": "use", "style": f"--part:{part:.4g}", "aria-hidden": "true"})
    number = element("b", utilisation(value))
    met = value <= 1 + 1e-9
    end = "" if met else " not known" if isnan(value) else " not met"
    said = [number, *keep_names(words), end]
    return element("span", [bar, element("span", said)], {"class": "use-cell" if met else "use-cell broken"})


def _rank(value: float) -> float:
    """What is over its limit before what is not known, that before all that is met."""
    return 1.0 + 1e-9 if isnan(value) else value


def _tell_deflection(trial: Trial, teller: Teller) -> Markup:
    """The hardest against the limits of the study; without limits the largest in service, if any is."""
    study = trial.before.study
    limited = [check for check in trial.checks.whole if check.key == "deflection"]
    if limited:
        check = max(limited, key=lambda one: one.utilisation)
        told = f"{teller.tell('small_length', check.demand)} of {teller.tell('small_length', check.limit)}"
        told += f" at {study.truss.joint_names[check.joint]}"
        use = element("b", utilisation(check.utilisation))
        broken = "" if check.holds else " not met"
        return element("span", [use, f" {told}{broken}"], {"class": None if check.holds else "broken"})
    moved = find_moved(trial)
    joint = study.truss.joint_names[moved.joint]
    return element("span", f"{teller.tell('small_length', moved.size)} at {joint}, no limit given")


def paint_members(each: Sequence[Sequence[Check]], idle: Collection[int]) -> dict[str, list[object]]:
    """Return how members look by their hardest checks, how thick, and what stands at them.

    idle: those (indices) that look idle and yet hold a joint.
    """
    uses = [use_of(checks) for checks in each]
    return {
        "looks": [_look(value, member in idle) for member, (value, _) in enumerate(uses)],
        "parts": [0.0 if isnan(value) else min(value, 1.0) for value, _ in uses],
        "said": [utilisation(value) for value, _ in uses],
        "told": [tell_key(check) if check is not None else "nothing asked" for _, check in uses],
    }


def _look(value: float, idle: bool) -> str:
    """How a member looks: its class, and a second one where it looks idle and yet holds a joint."""
    look = USED if value else ZERO
    if isnan(value):
        look = UNKNOWN
    elif value > 1 + 1e-9:
        look = OVER
    return f"{look} {HOLDS}" if idle else look
