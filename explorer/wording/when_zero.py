"""Question 1: when is it zero?"""

from __future__ import annotations

import numpy as np

from explorer.wording.asked import Asked, Told, words
from explorer.wording.numbers import listed, percent, significant
from solver.passage import Passage, follow


def tell_when_zero(asked: Asked) -> Told:
    """Tell in how many cases and on how much of each way it is zero, and what it bears otherwise."""
    sentences = [_over_the_load_cases(asked), _mean(asked)]
    if asked.combination not in asked.answers.study.alone:
        sentences.insert(0, _under_the_combination(asked))
    rows = [("load", "zero share"), *_share_rows(asked), *_stretch_rows(asked)]
    return Told(_answer(asked), tuple(sentences), "", "where, exactly", tuple(rows))


def _shares(asked: Asked) -> tuple[list[float], dict[str, float]]:
    """Zero shares in the load cases that count, and in the crossings."""
    study = asked.answers.study
    shares = asked.answers.forces.shares[asked.member]
    cases = [float(s) for s, case in zip(shares, study.cases.values(), strict=False) if case.counts]
    alone = shares[len(study.cases) : len(study.alone)]
    return cases, {name: float(s) for name, s in zip(study.crossings, alone, strict=True)}


def _answer(asked: Asked) -> str:
    cases, crossings = _shares(asked)
    if asked.answers.forces.still[asked.member]:
        return "Always, in this study"
    if asked.combination.crossing:
        share = float(asked.answers.forces.shares[asked.member, asked.column])
        if round(share, 12):
            return f"{percent(share)} of the way"
        return "Only in passing" if _reverses(asked) else "Never on the way"
    zero = cases.count(1.0)
    if zero:
        return f"In {zero} of {len(cases)} load cases"
    return f"{percent(next(iter(crossings.values())))} of the way" if crossings else "In no load case"


def _reverses(asked: Asked) -> bool:
    """Whether the force passes through zero on the way, which counts nothing."""
    swept, band = asked.answers.forces.sweep, asked.band
    return bool(
        swept.largest[asked.member, asked.column] > band
        and swept.smallest[asked.member, asked.column] < -band
    )


def _over_the_load_cases(asked: Asked) -> str:
    cases, crossings = _shares(asked)
    parts = [f"in {cases.count(1.0)} of {len(cases)} load cases"] if cases else []
    for name, share in crossings.items():
        crossing = asked.answers.study.crossings[name]
        without = crossing.travels and any(train.lane for train in crossing.trains)
        way = f"on {percent(share)} of the way of {words(name)}"
        parts.append(f"{way} (its lane left out)" if without else way)
    told = f"Zero {', and '.join(parts)}"
    largest, load = _largest_alone(asked)
    if not largest:
        return f"{told}."
    return f"{told}; otherwise up to {asked.teller.member_force(largest)}, under {load}."


def _mean(asked: Asked) -> str:
    study, forces = asked.answers.study, asked.answers.forces
    share = percent(float(forces.zero_share[asked.member]))
    silent = [words(name) for name, case in study.cases.items() if not case.counts]
    weighed = any(count not in (0, 1) for count in study.counts)
    told = f"Zero share {share}: the mean of these, each alone"
    told += ", by how often they count" if weighed else ""
    told += f" ({listed(silent)} does not count)" if len(silent) == 1 else ""
    told += f" ({listed(silent)} do not count)" if len(silent) > 1 else ""
    if study.combinations:
        told += f"; in the combinations {percent(float(forces.zero_share_combined[asked.member]))}"
    return told + "."


def _under_the_combination(asked: Asked) -> str:
    share = float(asked.answers.forces.shares[asked.member, asked.column])
    if asked.combination.crossing:
        return f"Under {asked.load_label}, zero on {percent(share)} of the way."
    return f"Under {asked.load_label} it is {'zero' if share == 1 else 'not zero'}."


def _largest_alone(asked: Asked) -> tuple[float, str]:
    """The largest force by size over the load cases, each alone [N], and its load; 0 where all are zero."""
    forces, study = asked.answers.forces, asked.answers.study
    alone = len(study.alone)
    ends = np.array([part[asked.member, :alone] for part in (forces.sweep.largest, forces.sweep.smallest)])
    ends = np.where(forces.shares[asked.member, :alone] == 1, 0.0, ends)
    end, load = np.unravel_index(int(np.abs(ends).argmax()), ends.shape)
    return float(ends[end, load]), words(study.alone[int(load)].name)


def _share_rows(asked: Asked) -> list[tuple[str, ...]]:
    shares = asked.answers.forces.shares[asked.member]
    return [
        (words(load.name), percent(float(share)))
        for load, share in zip(asked.answers.combinations, shares, strict=True)
    ]


def _stretch_rows(asked: Asked) -> list[tuple[str, ...]]:
    """The zero stretches of every crossing alone, from and to."""
    rows: list[tuple[str, ...]] = []
    for column, load in enumerate(asked.answers.study.alone):
        for passage in follow(asked.answers.forces, asked.member, column):
            rows += [
                (f"{words(load.name)}, {passage.direction}", _stretch(asked, passage, z))
                for z in passage.zeros
            ]
    return rows


def _stretch(asked: Asked, passage: Passage, stretch: tuple[float, float]) -> str:
    ends = stretch if passage.direction == "forward" else stretch[::-1]
    first, last = (significant(asked.teller.value("length", end), 4) for end in ends)
    return f"front from {first} to {last} {asked.teller.units.label('length')}"
