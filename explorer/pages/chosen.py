"""What is chosen on a page, as its stores hold it, turned into what results are asked with."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from dash import no_update

from explorer.document import UnitSystem
from explorer.document.units import SYSTEMS
from explorer.drawing.view import Direction
from explorer.store import Results, Worked
from explorer.wording.asked import Asked
from explorer.wording.numbers import Teller
from solver.errors import StudyError
from solver.placement import EVERYWHERE, Arrangement, Standing, arrange_for

Data = dict[str, Any]


def show_of(results: Results, study: Data | None, show: Callable[[Worked], Any]) -> Any:
    """Show something of a study; what the server has forgotten it works out again from the tab's text."""
    if not study:
        return no_update
    try:
        worked = results.find(study["key"]) or results.work(study["text"], study["name"])
    except StudyError:
        # A tab shows nothing but studies that were worked through: this text is not one of ours.
        return no_update
    return show(worked)


def current(study: Data | None, *chosen: Data | None) -> Data | None:
    """The tab's study, if everything chosen belongs to it and not to the one shown before."""
    if not study or not all(one and one.get("key") == study["key"] for one in chosen):
        return None
    return study


def units_of(worked: Worked, chosen: Data | None) -> UnitSystem:
    """The units chosen, else the study's own."""
    return SYSTEMS.get((chosen or {}).get("units") or "", worked.document.units)


def direction_of(view: Data | None) -> Direction:
    """From where a space truss is seen."""
    return Direction(float(view["azimuth"]), float(view["elevation"])) if view else Direction()


def column_of(worked: Worked, chosen: Data | None) -> int:
    """The load chosen, as its place among all: names of cases and combinations may be the same."""
    return min(max(int((chosen or {}).get("under", 0)), 0), len(worked.answers.combinations) - 1)


def member_of(worked: Worked, chosen: Data | None) -> int:
    """The member chosen (index)."""
    count = len(worked.answers.study.truss.members)
    return min(max(int((chosen or {}).get("member", 0)), 0), count - 1)


def train_of(worked: Worked, chosen: Data | None) -> int:
    """Which train of a set is chosen (index)."""
    crossing = worked.answers.combinations[column_of(worked, chosen)].crossing
    count = len(worked.answers.study.crossings[crossing].trains) if crossing else 1
    return min(max(int((chosen or {}).get("train", 0)), 0), count - 1)


def sign_of(chosen: Data | None) -> int:
    """For which force of the member loads are arranged: 1 tension, -1 compression, 0 as the train stands."""
    return int(np.sign(int((chosen or {}).get("arranged", 0))))


def asked_of(worked: Worked, load: Data | None, member: Data | None, place: Data | None) -> Asked:
    """What is asked: a member, a load, where its train stands and for what it is arranged, units."""
    answers, column, row = worked.answers, column_of(worked, load), member_of(worked, member)
    arrangement = _arrangement(worked, column, row, sign_of(load))
    crossing = answers.combinations[column].crossing
    standing = None
    if crossing and place and place.get("way") in answers.study.crossings[crossing].directions:
        side = int(np.sign(int(place.get("side", 0))))
        position, number = float(place["position"]), train_of(worked, load)
        standing = Standing(place["way"], position, number, None, arrangement, side)
    return Asked(answers, Teller(units_of(worked, load)), row, column, standing, arrangement)


def _arrangement(worked: Worked, column: int, row: int, sign: int) -> Arrangement | None:
    """For what lanes are placed: a force of the member, else nothing; where none travels, the whole chord."""
    answers = worked.answers
    if sign:
        return arrange_for(answers.responses.forces, row, float(sign))
    load = answers.combinations[column]
    return EVERYWHERE if load.lanes and not load.crossing else None
