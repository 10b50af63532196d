"""What a study's answers should be by the plain way: histories of every row, scales, peaks, zero shares."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from solver.combining import Combination
from solver.study import Study
from tests.plain.direct import (
    Columns,
    Matrices,
    answer_cases,
    answer_chord,
    assemble,
)
from tests.plain.passage import Passage, pass_over, share_on_lines, share_throughout

WAYS = ("forward", "backward")
ZERO = 1e-9


@dataclass(frozen=True)
class Stretch:
    """Values of all rows under one combination at some positions, (rows, states).

    way: 0 forward, 1 backward, -1 without a train; positions (states,) are NaN then.
    """

    way: int
    positions: np.ndarray
    values: np.ndarray


@dataclass(frozen=True)
class Expected:
    """A study worked out plainly."""

    study: Study
    matrices: Matrices
    cases: Columns
    chords: Mapping[str, Columns]
    passages: Mapping[str, tuple[Passage, ...]]

    @cached_property
    def combinations(self) -> tuple[Combination, ...]:
        """Each case, then each crossing, alone; then the combinations of the file."""
        alone = [Combination(name, {name: 1.0}) for name in self.study.cases]
        alone += [Combination(name, {}, name, 1.0) for name in self.study.crossings]
        return (*alone, *self.study.combinations)

    @cached_property
    def asked(self) -> range:
        """Which of `combinations` the study asks for: the file's, or each case and crossing alone."""
        count = len(self.combinations)
        return range(count - len(self.study.combinations) if self.study.combinations else 0, count)

    def standing(self, kind: str, combination: Combination) -> np.ndarray:
        """What the cases of a combination add up to, (rows, 1)."""
        factors = [combination.cases.get(name, 0.0) for name in self.study.cases]
        return (getattr(self.cases, kind) @ np.array(factors))[:, None]

    def moving(self, kind: str, passage: Passage) -> np.ndarray:
        """Response per unit downward load at each joint of a passage's chord, (rows, joints)."""
        return getattr(self.chords[self.study.crossings[passage.crossing].chord], kind)

    def passages_of(self, combination: Combination) -> tuple[Passage, ...]:
        return self.passages[combination.crossing] if combination.crossing else ()

    def history(self, kind: str, combination: Combination) -> Iterator[Stretch]:
        """Every state that counts, way by way, in order of position."""
        rest = self.standing(kind, combination)
        if combination.crossing is None:
            yield Stretch(-1, np.array([np.nan]), rest)
        for passage in self.passages_of(combination):
            values = rest + combination.crossing_factor * (self.moving(kind, passage) @ passage.states)
            yield Stretch(WAYS.index(passage.direction), np.repeat(passage.events, 3), values)

    def extremes(self, kind: str, combination: Combination) -> tuple[np.ndarray, np.ndarray]:
        """Smallest and largest of each row."""
        values = np.hstack([stretch.values for stretch in self.history(kind, combination)])
        return values.min(axis=1), values.max(axis=1)

    def scale(self, combination: Combination) -> float:
        """Largest member force at any position, joint load (along an axis), force of a fully held member."""
        sizes = [np.abs(self.standing("held", combination)).max()]
        for kind in ("forces", "loads"):
            sizes += [np.abs(stretch.values).max() for stretch in self.history(kind, combination)]
        return float(max(sizes))

    @cached_property
    def scales(self) -> np.ndarray:
        return np.array([self.scale(combination) for combination in self.combinations])

    @cached_property
    def stir(self) -> float:
        """The largest movement anywhere, at least what the scale of forces makes of the stiffest member."""
        ends = [np.abs(self.extremes("movements", combination)).max() for combination in self.combinations]
        return float(max(*ends, self.scales.max() / float(self.matrices.stiffness.max())))

    @cached_property
    def bands(self) -> np.ndarray:
        """Largest force that is zero in each combination."""
        return np.maximum(ZERO * self.scales, self.study.zero_limit)

    def shares(self, column: int) -> np.ndarray:
        """Zero share of every member in one combination."""
        combination, band = self.combinations[column], self.bands[column]
        if combination.crossing is None:
            return (np.abs(self.standing("forces", combination)[:, 0]) <= band).astype(float)
        share = share_throughout if self.study.zero_limit == 0 else share_on_lines
        ways = []
        for passage in self.passages_of(combination):
            line = self.standing("forces", combination)
            rows = combination.crossing_factor * self.moving("forces", passage)
            on, widths = passage.occupied, np.diff(passage.events)
            start, end = line + rows @ passage.after[:, :-1], line + rows @ passage.before[:, 1:]
            ways.append(share(start[:, on], end[:, on], widths[on], band))
        return np.mean(ways, axis=0)

    def sampled_shares(self, column: int) -> tuple[np.ndarray, float]:
        """The same by counting samples, and by how much counting may be wrong."""
        combination, ways, errors = self.combinations[column], [], []
        for passage in self.passages_of(combination):
            rows = combination.crossing_factor * self.moving("forces", passage)
            values = self.standing("forces", combination) + rows @ passage.samples
            zero = (np.abs(values) <= self.bands[column]) & passage.samples.any(axis=0)
            if self.study.zero_limit == 0:
                zero = passage.throughout(zero)
            step = np.ptp(passage.events) / passage.samples.shape[1]
            occupied = np.diff(passage.events)[passage.occupied].sum()
            ways.append(zero.sum(axis=1) * step / occupied)
            errors.append((passage.occupied.sum() + 1) * step / occupied)
        return np.mean(ways, axis=0), float(np.mean(errors))


def work_out_plainly(study: Study) -> Expected:
    """Solve every case and chord of a study and lay out every passage."""
    matrices = assemble(study.truss)
    dimension = len(study.truss.coordinates[0])
    passages = {
        name: tuple(pass_over(study, crossing, way) for way in WAYS if way in crossing.directions)
        for name, crossing in study.crossings.items()
    }
    return Expected(
        study,
        matrices,
        answer_cases(study, matrices),
        {name: answer_chord(chord, matrices, dimension) for name, chord in study.chords.items()},
        passages,
    )
