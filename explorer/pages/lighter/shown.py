"""What the browser gets: the truss with its groups, what was found, and what became of a trial."""

from __future__ import annotations

from collections.abc import Sequence

from explorer.drawing.alone import HALF_STROKE
from explorer.drawing.view import Direction
from explorer.pages.chosen import Data, member_of, units_of
from explorer.pages.lighter.checked import Asked, draw_broken, draw_checks
from explorer.pages.lighter.drawn import draw_key, draw_plate, find_strokes
from explorer.pages.lighter.listed import draw_candidates
from explorer.pages.lighter.tried import (
    Pair,
    choice_of,
    draw_table,
    fill_table,
    order_of,
    paint_members,
)
from explorer.pages.truss_data import pack_truss
from explorer.store import Worked
from explorer.wording.lighter import (
    NO_FAMILY,
    tell_all_unchecked,
    tell_not_among,
    tell_proven,
    tell_reach,
    tell_scope,
    tell_title,
    write_family,
)
from explorer.wording.lighter_checks import Known, asked_checks, tell_outcome
from explorer.wording.lighter_whole import tell_moved
from explorer.wording.numbers import Teller
from solver.checks.whole import Checks
from solver.errors import InputError
from solver.sizing.candidates import Candidates
from solver.sizing.choice import Sizes, find_sizes
from solver.sizing.trial import Bench, Trial
from solver.truss import Truss


def show_truss(worked: Worked, direction: Direction) -> dict[str, object]:
    """Return what the page needs of a study before anything is told in units."""
    answers = worked.answers
    sizes = sizes_of(worked)
    return {
        **pack_truss(worked),
        "groups": _pack_groups(sizes) if sizes else [],
        "byMember": [member.group.name for member in answers.study.truss.members],
        "half": HALF_STROKE,
        "now": _paint(answers.study.truss, answers.checks),
        "legend": draw_key(tell_reach(answers.study) if answers.checks.idle else ""),
        "notAmong": tell_not_among(answers.study),
        "plate": draw_plate(answers.study.truss, direction),
        "none": {"said": NO_FAMILY, "write": write_family(answers.study, worked.document.units.name != "US")},
    }


def sizes_of(worked: Worked) -> Sizes | None:
    """What may be chosen in a study, None where nothing may."""
    try:
        return find_sizes(worked.answers.study)
    except InputError:
        return None


def _paint(truss: Truss, checks: Checks) -> dict[str, object]:
    """How members look by the checks that are asked for, and where those hold that look idle."""
    painted = paint_members([asked_checks(own) for own in checks.each], checks.idle)
    return {**painted, "strokes": find_strokes(truss, checks)}


def _pack_groups(sizes: Sizes) -> list[dict[str, object]]:
    return [
        {
            "name": group.name,
            "now": group.section.name,
            "sections": [sizes.section(place, chosen).name for chosen in order_of(sizes, place)],
        }
        for place, group in enumerate(sizes.groups)
    ]


def show_table(worked: Worked, setting: Data | None) -> str:
    """Return the table of trials in the reader's units; nothing where no group names a family."""
    sizes = sizes_of(worked)
    return draw_table(sizes, Teller(units_of(worked, setting))) if sizes else ""


def show_found(worked: Worked, found: Candidates, setting: Data | None) -> dict[str, object]:
    """Return the candidates, told in the reader's units."""
    teller = Teller(units_of(worked, setting))
    then = found.then
    groups = enumerate(found.sizes.groups)
    return {
        "title": tell_title(found, teller),
        "proven": " ".join(filter(None, (tell_proven(found), tell_moved(found, teller), tell_scope(found)))),
        "unchecked": tell_all_unchecked(found),
        "list": draw_candidates(found, teller),
        "lightest": {
            group.name: found.sizes.section(place, then.choice[place]).name
            for place, group in (groups if then else ())
            if then and then.choice[place] >= 0
        },
    }


def show_trial(worked: Worked, bench: Bench, asked: Data) -> dict[str, object]:
    """Return the truss with the sections tried beside the truss as it is."""
    teller = Teller(units_of(worked, asked))
    choice = choice_of(bench.sizes, asked.get("sections") or {})
    now, tried = bench.try_out(bench.sizes.now), bench.try_out(choice)
    member = member_of(worked, asked)
    return {
        "key": worked.key,
        "asked": asked.get("asked"),
        "cells": fill_table(Pair(bench.sizes, now, tried), teller),
        "outcome": tell_outcome(bench.sizes.study, tried, choice == bench.sizes.now),
        "failing": draw_broken(tried, teller),
        "painted": _paint(bench.sizes.study.truss, tried.checks),
        "checks": _draw_chosen(worked, teller, member, (now, tried)),
    }


def _draw_chosen(worked: Worked, teller: Teller, member: int, trials: Sequence[Trial]) -> str:
    """The checks of the member chosen as it is and, where it is another trial, as tried."""
    now, tried = trials
    name = worked.answers.study.truss.members[member].name
    captions = [(now, f"{name} as it is")] + ([(tried, f"{name} as tried")] if tried is not now else [])
    return "".join(
        draw_checks(_asked(trial.before, trial.checks, member), teller, caption)
        for trial, caption in captions
    )


def _asked(known: Known, checks: Checks, member: int) -> Asked:
    return Asked(known, member, checks.each[member], checks.whole)


def show_checks(worked: Worked, setting: Data | None) -> str:
    """Return the checks of the member chosen, as it is: all there is of a study without families."""
    teller, member = Teller(units_of(worked, setting)), member_of(worked, setting)
    answers, name = worked.answers, worked.answers.study.truss.members[member].name
    return draw_checks(_asked(answers, answers.checks, member), teller, f"{name} as it is")
