"""The generator's own histogram: what the laws are meant for does come up, and often enough."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

from solver.chords import Chord
from solver.study import Study
from solver.truss import Truss
from tests.laws.generator import Drawn
from tests.laws.studies import Asked, draw_study

COUNT = 300
LEAST_OF_TRUSSES = {
    "plane": 100,
    "space": 100,
    "lattice": 100,
    "thicket": 60,
    "sloped roller": 100,
    "no sloped roller": 40,
    "held more than a body needs": 60,
    "area ratio of 1e5 and more": 50,
    "equal areas": 40,
    "5 to 14 members": 40,
    "15 to 29 members": 60,
    "30 to 44 members": 50,
    "45 to 60 members": 20,
    **{f"indeterminacy {degree}": 25 for degree in range(7)},
}
LEAST_OF_STUDIES = {
    "joint loads": 100,
    "self weight": 100,
    "temperature": 100,
    "settlement": 80,
    "misfit": 100,
    "line load on part of a chord": 50,
    "line load per length": 50,
    "normal load": 20,
    "no count": 20,
    "crossing forward": 30,
    "crossing backward": 30,
    "crossing both ways": 30,
    **{f"{count} axles": 15 for count in range(1, 6)},
    "front ahead of the first axle": 30,
    "train longer than its chord": 40,
    "gap longer than the chord": 20,
    "axles at joints together": 30,
    "overhanging chord": 120,
    "chord against the x axis": 60,
    "bend in plan": 20,
    "zero limit": 100,
    "no zero limit": 100,
    "no combinations": 30,
    "negative factor": 100,
    "negative crossing factor": 30,
}


@cache
def drawn() -> list[Asked]:
    return [draw_study(seed) for seed in range(COUNT)]


def missing(found: Counter[str], least: dict[str, int]) -> dict[str, int]:
    return {kind: found[kind] for kind, count in least.items() if found[kind] < count}


def kinds_of_truss(one: Drawn) -> Iterator[str]:
    truss = one.truss
    areas = [member.group.section.area for member in truss.members]
    size = len(areas)
    assert 5 <= size <= 60
    assert size + truss.held - truss.freedoms == one.indeterminacy
    yield "plane" if truss.dimension == 2 else "space"
    yield one.layout
    yield f"indeterminacy {one.indeterminacy}"
    yield "sloped roller" if any_sloped(truss) else "no sloped roller"
    if truss.held > (3 if truss.dimension == 2 else 6):
        yield "held more than a body needs"
    ratio = max(areas) / min(areas)
    if ratio >= 1e5:
        yield "area ratio of 1e5 and more"
    if ratio < 1 + 1e-12:
        yield "equal areas"
    bins = ((14, "5 to 14"), (29, "15 to 29"), (44, "30 to 44"), (60, "45 to 60"))
    yield f"{next(name for most, name in bins if size <= most)} members"


def any_sloped(truss: Truss) -> bool:
    return any(sum(c != 0 for c in v) > 1 for support in truss.supports for v in support.directions)


def kinds_of_study(study: Study) -> Iterator[str]:
    for case in study.cases.values():
        parts = {
            "joint loads": case.joints,
            "self weight": case.self_weight,
            "temperature": case.temperature,
            "settlement": case.settlement,
            "misfit": case.misfit,
            "no count": not case.counts,
            "normal load": any(line.normal for line in case.lines),
            "line load per length": any(line.per == "length" for line in case.lines),
            "line load on part of a chord": any(line.start > 0 for line in case.lines),
        }
        yield from (name for name, there in parts.items() if there)
    yield "zero limit" if study.zero_limit else "no zero limit"
    if not study.combinations:
        yield "no combinations"
    for combination in study.combinations:
        if min(combination.cases.values(), default=1.0) < 0:
            yield "negative factor"
        if combination.crossing and combination.crossing_factor < 0:
            yield "negative crossing factor"
    for chord in study.chords.values():
        yield from kinds_of_chord(study, chord)
    yield from kinds_of_crossings(study)


def kinds_of_chord(study: Study, chord: Chord) -> Iterator[str]:
    if chord.vectors[0][0] < 0:
        yield "chord against the x axis"
    held = {support.joint for support in study.truss.supports}
    if chord.joints[0] not in held or chord.joints[-1] not in held:
        yield "overhanging chord"
    plan = chord.vectors[:, :-1]
    turns = [a[0] * b[1] - a[1] * b[0] for a, b in pairwise(plan)] if study.truss.dimension == 3 else []
    if any(abs(turn) > 1e-9 for turn in turns):
        yield "bend in plan"


def kinds_of_crossings(study: Study) -> Iterator[str]:
    for crossing in study.crossings.values():
        chord = study.chords[crossing.chord]
        distances = sorted(axle.distance for axle in crossing.trains[0].axles)
        yield "crossing both ways" if len(crossing.directions) == 2 else f"crossing {crossing.directions[0]}"
        yield f"{len(distances)} axles"
        if distances[0] > 0:
            yield "front ahead of the first axle"
        if distances[-1] - distances[0] > chord.length:
            yield "train longer than its chord"
        if any(b - a > chord.length for a, b in pairwise(distances)):
            yield "gap longer than the chord"
        meetings = [round(x + d, 9) for d in distances for x in chord.positions]
        if len(set(meetings)) < len(meetings):
            yield "axles at joints together"


def test_every_kind_of_truss_comes_up_often_enough_among_three_hundred() -> None:
    found = Counter(kind for asked in drawn() for kind in kinds_of_truss(asked.drawn))
    assert not missing(found, LEAST_OF_TRUSSES)


def test_every_kind_of_question_comes_up_often_enough_in_three_hundred_studies() -> None:
    found = Counter(kind for asked in drawn() for kind in set(kinds_of_study(asked.study)))
    assert not missing(found, LEAST_OF_STUDIES)


def test_the_same_seed_draws_the_same_study() -> None:
    for seed in range(5):
        assert draw_study(seed).study.truss == drawn()[seed].study.truss
        assert draw_study(seed).study.cases == drawn()[seed].study.cases
        assert draw_study(seed).study.crossings == drawn()[seed].study.crossings
