"""The candidates as a list: every group now and then, what governs and stops it, what is not checked."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf, isnan

from explorer.markup import Markup, element, join
from explorer.pages.lighter.checked import Asked, draw_broken, draw_checks
from explorer.pages.proofs.names import keep_names
from explorer.wording.lighter import (
    BESIDE,
    difference,
    tell_fails,
    tell_governs,
    tell_idle,
    tell_passed_over,
    tell_shared,
    tell_stops,
    tell_unchecked,
    weight,
)
from explorer.wording.lighter_checks import shown_trial
from explorer.wording.lighter_nothing import tell_in_nearest, tell_lacks, tell_nearest, tell_no_answer
from explorer.wording.lighter_rules import tell_rules
from explorer.wording.lighter_whole import tell_near
from explorer.wording.numbers import Teller, several
from solver.checks.check import Check
from solver.sizing.candidates import Candidate, Candidates, State
from solver.sizing.trial import Trial
from solver.study import Study

HEADINGS: tuple[tuple[State, str, str], ...] = (
    ("lighter", "What could be lighter", "most saving first"),
    ("as it is", "No lighter one found", ""),
    ("heavier", "What would have to be heavier", "for every check made here to be met"),
    ("none holds", "Each group in the nearest choice", "not a candidate"),
)
"""What became of groups, in the order in which they stand: a heading each, and what is said beside it."""


def draw_candidates(found: Candidates, teller: Teller) -> Markup:
    """Draw the list: first who looks idle and holds, then groups by what became of them."""
    shared = element("p", tell_shared(found), {"class": "note shared"})
    most = max((abs(_saving(one)) for one in found.each), default=0.0)
    near = tell_near(found)
    whole = [element("p", near, {"class": "near"})] if near else []
    parts = [shared, *whole, *_idle(found, teller), *_nothing(found, teller)]
    for state, heading, more in HEADINGS:
        each = [one for one in found.each if one.state == state]
        if each:
            parts.append(_heading(heading, more))
            items = [_draw_candidate(found, one, teller, most) for one in each]
            parts.append(element("ol", items, {"class": "candidates"}))
    return join(parts)


def _heading(text: str, more: str = "") -> Markup:
    return element("h3", [f"{text} ", element("small", more)] if more else text)


def _idle(found: Candidates, teller: Teller) -> list[Markup]:
    told = tell_idle(found, teller)
    if not told:
        return []
    lines = [element("p", keep_names(one)) for one in told]
    return [_heading("Idle, and yet holding"), element("div", lines, {"class": "idle"})]


def _nothing(found: Candidates, teller: Teller) -> list[Markup]:
    """Where nothing holds: the nearest choice, what of it is not met, and why that of now is no answer."""
    if found.then is not None or found.nearest is None:
        return []
    texts = [text for text in (tell_nearest(found), tell_no_answer(found)) if text]
    told = [element("p", keep_names(text), {"class": "nearest"}) for text in texts]
    return [_heading("Nothing holds"), *told, draw_broken(found.nearest, teller)]


def _saving(one: Candidate) -> float:
    return one.weights[0] - one.weights[1]


def _draw_candidate(found: Candidates, one: Candidate, teller: Teller, most: float) -> Markup:
    cells = [_group(found, one), _weights(found, one, teller, most), *_found(found, one)]
    row = element("div", cells, {"class": "row"})
    return element("li", [row, *_notes(found, one), _tries(found, one), _checks(found, one, teller)])


def _group(found: Candidates, one: Candidate) -> Markup:
    members = several(len(one.members), "member", "members")
    name = element("h4", found.sizes.groups[one.place].name)
    count = element("p", members, {"class": "second"})
    if found.then is None and found.nearest is not None:
        return _cell("group", [name, count, _p(_sections_of_nearest(found, found.nearest, one))])
    changed = one.then is not None and one.then != one.now
    then = [" → ", element("b", one.then.name)] if changed and one.then else [" as it is"]
    return _cell("group", [name, count, _p([one.now.name, *then])])


def _sections_of_nearest(found: Candidates, nearest: Trial, one: Candidate) -> list[Markup | str]:
    """A group's section in the nearest choice, and what it is now."""
    section = found.sizes.section(one.place, nearest.choice[one.place])
    now = "as it is" if nearest.choice[one.place] < 0 else f"now {one.now.name}"
    return [element("b", section.name), f" in the nearest choice, {now}"]


def _weights(found: Candidates, one: Candidate, teller: Teller, most: float) -> Markup:
    told = [weight(teller, found.sizes, value) for value in one.weights]
    change = difference(teller, found.sizes, one.weights[1] - one.weights[0])
    if found.then is None and found.nearest is not None:
        nearest = found.sizes.weight_of(one.place, found.nearest.choice[one.place])
        least = weight(teller, found.sizes, nearest)
        return _cell("weights", [_p(f"{least} in the nearest choice"), _p(f"{told[0]} now")])
    if change == "0":
        return _cell("weights", [_p(" → ".join(told)), _p("as heavy as now")])
    return _cell("weights", [_p(" → ".join(told)), _p(change), _bar(one, most)])


def _found(found: Candidates, one: Candidate) -> list[Markup]:
    """What governs and what stops the next lighter; where nothing holds, the nearest choice and its lack."""
    study = found.sizes.study
    if found.then is not None:
        return [
            _told("governs", "governs then", tell_governs(study, one)),
            _told("stops", "stops the next lighter", tell_stops(study, one)),
        ]
    return [
        _told("governs", "in the nearest choice", tell_in_nearest(found, one) or "not known"),
        _told(
            "stops",
            "lacking",
            tell_lacks(found, one) or "nothing by itself: some section to choose from meets its own checks",
        ),
    ]


def _told(name: str, head: str, told: str) -> Markup:
    return _cell(name, [element("h5", head), _p(keep_names(told))] if told else [])


def _cell(name: str, content: Sequence[str]) -> Markup:
    return element("div", content, {"class": name})


def _p(content: str | Sequence[str]) -> Markup:
    return element("p", content)


def _bar(one: Candidate, most: float) -> Markup:
    part = abs(_saving(one)) / most if most else 0.0
    cls = "saving more" if _saving(one) < 0 else "saving"
    return element("span", "", {"class": cls, "style": f"--part:{part:.4g}", "aria-hidden": "true"})


def _notes(found: Candidates, one: Candidate) -> list[Markup]:
    """What fails now, what was passed over, who of the group holds idle, and its own cautions."""
    told = [
        element("p", keep_names(text), {"class": name})
        for text, name in (
            (tell_fails(found, one), "fails"),
            (tell_rules(found, one), "passed"),
            (tell_passed_over(one), "passed"),
            (_names_idle(found.sizes.study, one), "passed"),
        )
        if text
    ]
    own = tell_unchecked(found, one)
    caution = [element("b", BESIDE), f" {own}" if own else ""]
    return [*told, element("p", caution, {"class": "note caution"})]


def _names_idle(study: Study, one: Candidate) -> str:
    names = ", ".join(study.truss.members[member].name for member in one.idle)
    return f"Idle, and yet holding: {names}." if names else ""


def _tries(found: Candidates, one: Candidate) -> Markup:
    """Buttons that try the section found, and the one below it that fails."""
    group = found.sizes.groups[one.place].name
    sections = [one.then] if one.then is not None and one.then != one.now else []
    sections += [one.below] if one.below is not None else []
    buttons = [
        element(
            "button",
            f"try {section.name} on {group}",
            {"type": "button", "data-group": group, "data-section": section.name},
        )
        for section in sections
    ]
    return element("p", buttons, {"class": "tries swap"})


def _checks(found: Candidates, one: Candidate, teller: Teller) -> Markup:
    """The checks of the hardest member of a group, with the sections found or those of the nearest choice."""
    study, trial = found.sizes.study, shown_trial(found)
    member = max(one.members, key=lambda each: max(map(_hardness, trial.checks.each[each]), default=0.0))
    name = study.truss.members[member].name
    summary = element("summary", [element("span", "checks of its hardest member, "), element("b", name)])
    link = element(
        "a", f"{name} in Explore, as it is now", {"href": "/", "class": "to-explore", "data-member": name}
    )
    asked = Asked(trial.before, member, trial.checks.each[member])
    table = draw_checks(asked, teller, f"{name}, {study_words(found)}")
    kept = {"data-group": found.sizes.groups[one.place].name}
    return element("details", [summary, table, element("p", link, {"class": "note"})], kept)


def study_words(found: Candidates) -> str:
    """With which sections a group's checks are told."""
    if found.then is not None:
        return "with the sections found"
    return "in the nearest choice, which is not a candidate" if found.nearest is not None else "as it is"


def _hardness(check: Check) -> float:
    return inf if isnan(check.utilisation) else check.utilisation
