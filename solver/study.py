"""A study: a truss with everything that is asked of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from solver.cases import LoadCase
from solver.chords import Chord
from solver.combining import Combination
from solver.crossings import Crossing
from solver.errors import InputError
from solver.rules import Rules
from solver.truss import Truss


@dataclass(frozen=True)
class Study:
    """One truss, its chords, load cases and crossings (in the file's order) and their combinations.

    `combinations` are those of the file; without any, `asked` makes each load case one of its own.
    `zero_limit` [N]: a force up to this counts as zero. `lean`: the share of
    gravity loads that acts across where they are tried leaning. `rules`: what it is held against.
    `notices` were made while reading.
    """

    title: str
    truss: Truss
    chords: Mapping[str, Chord] = field(default_factory=dict)
    cases: Mapping[str, LoadCase] = field(default_factory=dict)
    crossings: Mapping[str, Crossing] = field(default_factory=dict)
    combinations: tuple[Combination, ...] = ()
    zero_limit: float = 0.0
    lean: float = 0.05
    rules: Rules = field(default_factory=Rules)
    notices: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.cases and not self.crossings:
            raise InputError("a study needs a load case or a crossing")

    @property
    def alone(self) -> tuple[Combination, ...]:
        """Each load case, then each crossing, alone with factor 1."""
        cases = [Combination(name, {name: 1.0}) for name in self.cases]
        crossings = [
            Combination(name, {}, name) if crossing.travels else Combination(name, {}, lanes={name: 1.0})
            for name, crossing in self.crossings.items()
        ]
        return (*cases, *crossings)

    @property
    def asked(self) -> tuple[Combination, ...]:
        """The combinations to answer for: the file's, or each load case alone."""
        return self.combinations or self.alone

    @property
    def counts(self) -> tuple[float, ...]:
        """How often each of `alone` counts in the zero share."""
        cases = [case.counts for case in self.cases.values()]
        return (*cases, *(crossing.counts for crossing in self.crossings.values()))
