"""Question 5: what stops it being lighter? Everything it is held against, and what nobody checked."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from math import isfinite, isnan

from explorer.wording.asked import Asked, Told, begin
from explorer.wording.checks import (
    PROPS,
    find_beside,
    has_unknown_strength,
    is_stretched,
    list_lines,
    list_notes,
    tell_amount,
    tell_check,
    tell_prop,
    tell_ratio,
    utilisation_of,
)
from explorer.wording.numbers import listed
from explorer.wording.rungs import SLENDERNESS, WHOLE, RungTold, list_rungs, tell_joints
from solver.checks.bending import NOT_CHECKED as BENDING
from solver.checks.check import Check, hardest
from solver.resistance.directions import OUT_OF_PLANE
from solver.resistance.given import AS_GIVEN, GIVES_LESS

CAUTION = "A question, not a proposal: local codes and a licensed engineer decide."
STRENGTH_UNKNOWN = "Strength not known"
A_PROP = "a prop"
IDLE = "idle, and a prop"
"""What no load but own weight reaches, and which holds a compressed joint."""

OUTSIDE = ("fatigue", "fire", "erection")
"""What no number here is about, beside joints."""

FACTORS = re.compile(r"partial factors as recommended \(([^)]*)\): (.*)")
"""How standards say that partial factors are those they recommend: which, and what differs from them."""


def tell_what_stops(asked: Asked) -> Told:
    """Tell what asks most of a member, what it holds in place, what is not known and what is not checked."""
    most = asked.answers.checks.hardest(asked.member)
    sentences = [
        *_governing(asked, most),
        *_less(asked),
        *_props(asked, most),
        *_unknown(asked),
        *_whole(asked),
    ]
    outside = listed([f"joints {tell_joints(asked)}", *OUTSIDE], len(OUTSIDE) + 1)
    sentences.append(f"Not checked: {'; '.join([*list_unchecked(asked), outside])}.")
    return Told(tell_head(asked), tuple(sentences), CAUTION, "every limit, step by step", tuple(_rows(asked)))


def tell_head(asked: Asked) -> str:
    """The answer in a few words: what asks most, and how much of it."""
    most = asked.answers.checks.hardest(asked.member)
    if most is None or isnan(utilisation_of(asked.answers, asked.member)):
        return STRENGTH_UNKNOWN
    if not most.utilisation:
        return "Nothing asked of it"
    name, ratio = _name(asked, most), tell_ratio(most.utilisation)
    if most.holds:
        return f"{begin(name)}: {ratio}"
    # The ratio before the name, so that a narrow column breaks the line after both.
    return f"Not met, {ratio}: {name}"


def _name(asked: Asked, most: Check) -> str:
    """What asks most, behind that the member looks idle if it does."""
    name = _name_own(asked, most)
    if asked.member not in asked.answers.checks.idle:
        return name
    # What an idle prop bears beside its force as a prop is own weight.
    return IDLE if most.key == "prop force" else f"{IDLE}; {name}"


def _name_own(asked: Asked, most: Check) -> str:
    """What asks most; a prop's force is named alone where it is the larger part."""
    if most.key.startswith(SLENDERNESS):
        return SLENDERNESS
    beside = find_beside(asked.checks, most)
    if beside is None:
        return most.key
    return A_PROP if most.demand >= beside.demand else f"{beside.key} and prop"


def list_unchecked(asked: Asked) -> list[str]:
    """List what stands in no number of this member and a standard asks, each once; joints are told beside."""
    answers = asked.answers
    checks = answers.checks.each[asked.member]
    bar = answers.losses.before.resisting.bars[asked.member]
    told = ["buckling out of plane"] if bar.across is None else []
    texts = [text for check in _asking(checks) if check.key not in PROPS for text in check.unchecked]
    aside = [text for text in texts if text in (OUT_OF_PLANE, BENDING) or GIVES_LESS in text]
    told += [_shortened(text) for text in _join_factors(texts) if text not in aside]
    bent = any(BENDING in check.unchecked for check in checks)
    bending = "bending of the loads between its joints" if bent else "bending between joints"
    return list(dict.fromkeys([*told, bending]))


def list_outside(asked: Asked) -> list[str]:
    """List what no number is about: joints and more, and losses where the study does not ask for them."""
    told = [f"joints {tell_joints(asked)}", *OUTSIDE]
    if asked.answers.study.rules.limits.after_loss:
        return told
    lost = any(check.key == "another's loss" for check in asked.checks)
    counts = "; what it brings is told above and counts for nothing" if lost else ""
    return [*told, f"the loss of another member: this study does not ask for it{counts}"]


def _asking(checks: tuple[Check, ...]) -> tuple[Check, ...]:
    """The checks whose limits are made use of: a resistance that nothing asks for is not, but by a prop."""
    prop = any(check.key == "prop force" for check in checks)
    return tuple(
        check for check in checks if prop or check.key not in ("tension", "compression") or check.demand
    )


def _join_factors(texts: Iterable[str]) -> list[str]:
    """The texts, each once, with what is said of partial factors for each resistance put together."""
    unique = list(dict.fromkeys(texts))
    found = [match for text in unique if (match := FACTORS.fullmatch(text))]
    if len(found) < 2:
        return unique
    values = dict.fromkeys(value for match in found for value in match[1].split(", "))
    differ = dict.fromkeys(part for match in found for part in match[2].split("; "))
    joined = f"partial factors as recommended ({', '.join(values)}): {'; '.join(differ)}"
    return [*(text for text in unique if not FACTORS.fullmatch(text)), joined]


def _shortened(text: str) -> str:
    """What is not checked, where it is said before that it is not."""
    return "what the resistance as given contains" if text == AS_GIVEN else text.replace(" not checked", "")


def _governing(asked: Asked, most: Check | None) -> Iterator[str]:
    if most is None or (most.holds and has_unknown_strength(asked.answers, asked.member)):
        if most is not None and most.utilisation:
            yield f"Of what is known {most.key} asks most: {_told(asked, most)}."
        else:
            yield "Nothing is known of how hard it works."
        return
    if not most.utilisation:
        yield "No combination asks a force of it, and no limit that is set asks anything."
        return
    yield f"{begin(most.key)} asks most: {_told(asked, most)}."
    if not most.holds:
        yield "That is more than the limit."


def _told(asked: Asked, check: Check) -> str:
    stretched = "; the rule is stretched to this use" if is_stretched(check) else ""
    return f"{tell_check(asked, check)}: {tell_ratio(check.utilisation)}{stretched}"


def _less(asked: Asked) -> Iterator[str]:
    """Where a resistance is given outright and the standard of the study has less."""
    for check in _asking(asked.checks):
        if check.key not in PROPS:
            yield from (f"{begin(check.key)}: {text}." for text in check.unchecked if GIVES_LESS in text)


def _props(asked: Asked, most: Check | None) -> Iterator[str]:
    """What it holds in place, where that is not told already."""
    own = asked.checks
    for key in PROPS:
        asks = hardest(tuple(check for check in own if check.key == key))
        if asks is None or asks is most:
            continue
        force = hardest(tuple(check for check in own if check.key == "prop force"))
        if key == "prop stiffness" and force is not None and _is_of(force, asks):
            yield f"{_stiffness(asked, asks)}: {tell_ratio(asks.utilisation)}."
        elif key == "prop force" and most is not None and most.key in PROPS and _is_of(asks, most):
            yield f"As a prop: {tell_prop(asked, asks)}: {tell_ratio(asks.utilisation)}."
        else:
            yield f"As a prop: {_told(asked, asks)}."


def _stiffness(asked: Asked, check: Check) -> str:
    needs, has = (tell_amount(asked, check, value) for value in (check.demand, check.limit))
    if not isfinite(check.limit):
        return f"There {needs} is asked, and it is {has}"
    return f"There {needs} is asked and the truss gives {has}"


def _is_of(force: Check, stiffness: Check) -> bool:
    """Whether a force and a stiffness are asked at the same place and by the same rule."""
    places = ((check.joint, check.others, check.by) for check in (force, stiffness))
    return len(set(places)) == 1


def _unknown(asked: Asked) -> Iterator[str]:
    own = asked.checks
    told = [
        f"{check.key} ({', '.join(check.refused) or 'no resistance'})"
        for check in own
        if isnan(check.utilisation)
    ]
    if told:
        yield f"Not known: {'; '.join(dict.fromkeys(told))}."


def _whole(asked: Asked) -> Iterator[str]:
    most = hardest(asked.answers.checks.whole)
    if most is not None:
        beyond = "" if most.holds else ", more than the limit"
        yield f"Of the whole truss {tell_check(asked, most)}: {tell_ratio(most.utilisation)}{beyond}."


def _rows(asked: Asked) -> Iterator[tuple[str, ...]]:
    """Every limit in the order of the ladder: a head, where it has steps a line each; then what is left out.

    A note that belongs to several limits is written once, with their names.
    """
    notes: dict[tuple[str, str], list[str]] = {}
    for rung in list_rungs(asked):
        yield from _rows_of(asked, rung)
        for check in rung.checks:
            for note in list_notes(asked, check):
                # What a prop's resistance leaves out is told with that resistance.
                if check.key not in PROPS or note not in notes or notes[note][0] in PROPS:
                    notes.setdefault(note, []).append(check.key)
    if notes:
        yield ("What these numbers take and leave out",)
    for (name, text), keys in notes.items():
        yield f"{listed(list(dict.fromkeys(keys)))}: {name}", text


def _rows_of(asked: Asked, rung: RungTold) -> Iterator[tuple[str, ...]]:
    """A head for each check of a rung and its steps; or why there is none."""
    whose = f"{begin(WHOLE)}: " if rung.of_whole else ""
    for check in rung.checks:
        head = f"{check.key}, {tell_ratio(check.utilisation)}: {tell_check(asked, check)}"
        yield (f"{whose}{head if whose else begin(head)}",)
        yield from (line.cells for line in list_lines(asked, check))
    told = rung.beside or ("" if rung.checks else rung.full)
    if told:
        yield (f"{whose}{told if whose else begin(told)}",)
