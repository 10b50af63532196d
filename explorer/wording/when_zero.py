"""Question 1: when is it zero?"""

from __future__ import annotations

import numpy as np

from explorer.wording.asked import Asked, Told, words
from explorer.wording.numbers import percent, significant
from solver.passage import Passage, follow


def tell_when_zero(asked: Asked) -> Told:
    """Tell in how many cases and on how much of each way it is zero, and what it bears otherwise."""
    study, forces = asked.answers.study, asked.answers.forces
    shares = forces.shares[asked.member, : len(study.alone)]
    cases = shares[: len(study.cases)]
    crossings = dict(zip(study.crossings, shares[len(study.cases) :], strict=True))
    zero_cases = int(np.count_nonzero(cases == 1))
    sentences = [_sentence(asked, zero_cases, len(cases), crossings)]
    share = float(forces.zero_share[asked.member])
    sentence = f"Zero share {percent(share)}, the mean over the load cases, each alone"
    if study.combinations:
        sentence += f"; in the combinations {percent(float(forces.zero_share_combined[asked.member]))}"
    sentences.append(sentence + ".")
    rows = [("load", "zero share"), *_share_rows(asked), *_stretch_rows(asked)]
    return Told(
        _answer(asked, zero_cases, len(cases), crossings), tuple(sentences), "", "the stretches", tuple(rows)
    )


def _answer(asked: Asked, zero: int, cases: int, crossings: dict[str, float]) -> str:
    if asked.answers.forces.still[asked.member]:
        return "Always, in this study"
    if crossings:
        shown = asked.combination.crossing or next(iter(crossings))
        share = crossings[shown]
        return f"{percent(share)} of the way" if share else "Never on the way"
    return f"In {zero} of {cases} load cases" if zero else "In no load case"


def _sentence(asked: Asked, zero: int, cases: int, crossings: dict[str, float]) -> str:
    parts = [f"in {zero} of {cases} load cases"] if cases else []
    parts += [f"on {percent(share)} of the way of {words(name)}" for name, share in crossings.items()]
    told = f"Zero {', and '.join(parts)}"
    largest = _largest_alone(asked)
    return f"{told}; otherwise up to {asked.teller.member_force(largest)}." if largest else f"{told}."


def _largest_alone(asked: Asked) -> float:
    """The largest force by size over the load cases, each alone; 0 where all are zero [N]."""
    forces, alone = asked.answers.forces, len(asked.answers.study.alone)
    swept = forces.sweep
    ends = np.concatenate([swept.largest[asked.member, :alone], swept.smallest[asked.member, :alone]])
    zero = np.tile(forces.shares[asked.member, :alone] == 1, 2)
    ends = np.where(zero, 0.0, ends)
    return float(ends[np.abs(ends).argmax()])


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
