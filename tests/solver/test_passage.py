"""One member along one way of a train, held against samples of plain influence lines and a pencil."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest

from explorer.bundled import find_bundled, list_bundled
from explorer.store import Results
from explorer.tables import make_tables
from solver.answers import Answers, answer
from solver.combining import Combination
from solver.passage import LEVELS, Passage, follow, spread_out
from solver.tolerances import NOISE, ZERO
from tests.laws.studies import draw_study
from tests.laws.trying import law
from tests.plain.expected import Expected, work_out_plainly
from tests.plain.plain import plan_positions

SOUND = 1e-10
"""A tenth of what the project promises of an answer's balance."""
SAMPLES = 2003
OFFSET = 0.4142


@dataclass(frozen=True)
class Tried:
    """A study answered, worked out plainly, and with its table of zero shares by member and load."""

    answers: Answers
    expected: Expected
    table: dict[tuple[str, str], float]


@cache
def bundled(name: str) -> Tried:
    worked = Results().work(find_bundled(name).text(), name)
    tables = make_tables(worked.answers, worked.document.units)
    rows = next(table.rows for table in tables if table.name == "zero_shares")
    shares = {(str(row[0]), str(row[2])): float(row[3]) for row in rows}
    return Tried(worked.answers, work_out_plainly(worked.answers.study), shares)


TRAVELLED = [item.name for item in list_bundled("study") if "[crossings" in item.text()]


@dataclass(frozen=True)
class Followed:
    """A passage beside what the plain way says at any of its positions."""

    tried: Tried
    column: int
    member: int
    passage: Passage

    @property
    def load(self) -> Combination:
        return self.tried.answers.combinations[self.column]

    @property
    def band(self) -> float:
        return float(self.tried.expected.bands[self.column])

    @property
    def noise(self) -> float:
        return SOUND * float(self.tried.expected.scales[self.column])

    def places(self, positions: np.ndarray) -> np.ndarray:
        """Where each axle stands, (positions, axles)."""
        train = self.tried.answers.study.crossings[str(self.load.crossing)].trains[0]
        sign = 1.0 if self.passage.direction == "forward" else -1.0
        return positions[:, None] - sign * np.array([axle.distance for axle in train.axles])

    def occupied(self, positions: np.ndarray) -> np.ndarray:
        """Whether some axle is on the chord between its ends."""
        x, places = self.joints, self.places(positions)
        return np.asarray(((places > x[0]) & (places < x[-1])).any(axis=1))

    @property
    def joints(self) -> np.ndarray:
        study = self.tried.answers.study
        return plan_positions(study, study.crossings[str(self.load.crossing)].chord)

    def at(self, positions: np.ndarray) -> np.ndarray:
        """The member's force at positions away from events, panel by panel."""
        crossing = self.tried.answers.study.crossings[str(self.load.crossing)]
        x, ordinates = self.joints, self.tried.expected.chords[crossing.chord].forces[self.member]
        total = np.zeros(len(positions))
        for axle, places in zip(crossing.trains[0].axles, self.places(positions).T, strict=True):
            load = axle.load * crossing.factor * (1 + crossing.impact)
            for panel in range(len(x) - 1):
                on = (places > x[panel]) & (places < x[panel + 1])
                near, far = x[panel + 1] - places[on], places[on] - x[panel]
                total[on] += load * (near * ordinates[panel] + far * ordinates[panel + 1]) / (near + far)
        still = self.tried.expected.standing("forces", self.load)[self.member, 0]
        return np.asarray(still + self.load.crossing_factor * total)

    def events(self) -> np.ndarray:
        """Where an axle is over a joint, ascending; what differs by a rounding stands there twice."""
        return np.sort((self.joints[:, None] - self.places(np.zeros(1))[0]).ravel())

    def samples(self) -> tuple[np.ndarray, float]:
        ends = self.events()[[0, -1]]
        step = float(np.ptp(ends)) / SAMPLES
        return ends[0] + (np.arange(SAMPLES) + OFFSET) * step, step

    def zero_samples(self, positions: np.ndarray) -> np.ndarray:
        """Which samples are zero on the loaded way; without a zero limit whole pieces only."""
        zero = (np.abs(self.at(positions)) <= self.band) & self.occupied(positions)
        if not self.tried.answers.study.zero_limit:
            pieces = np.searchsorted(self.events(), positions)
            _, first, counts = np.unique(pieces, return_index=True, return_counts=True)
            zero = np.repeat(np.logical_and.reduceat(zero, first), counts)
        return np.asarray(zero)


def follow_all(tried: Tried) -> Iterator[tuple[Followed, ...]]:
    """Every member under every load with a crossing, its ways together; without one there is no passage."""
    for column, load in enumerate(tried.answers.combinations):
        for member in range(len(tried.answers.study.truss.members)):
            ways = follow(tried.answers.forces, member, column)
            assert len(ways) == len(tried.expected.passages_of(load))
            if ways:
                yield tuple(Followed(tried, column, member, way) for way in ways)


def random_study(seed: int) -> Tried:
    answers = answer(draw_study(seed).study)
    return Tried(answers, work_out_plainly(answers.study), {})


def check_curve(one: Followed) -> None:
    """Ascending points, and a straight line between them that is the force wherever no axle is at an end."""
    passage = one.passage
    assert (np.diff(passage.positions) >= 0).all()
    positions, _ = one.samples()
    found, forces = np.interp(positions, passage.positions, passage.forces), one.at(positions)
    beyond = np.abs(forces) > one.band
    # points that are zero but for 1e-9 of the scale may be put on zero, and with them the lines they end
    assert np.abs(found - forces)[beyond].max(initial=0.0) <= 11 * one.noise
    assert np.abs(found[~beyond]).max(initial=0.0) <= one.band + one.noise
    inside = np.searchsorted(passage.positions, positions) - 1
    assert (passage.loaded[inside] == one.occupied(positions)).all()


def check_stretches(one: Followed) -> None:
    """Samples within a stretch are zero, all others are not, and the lengths are what counting says."""
    positions, step = one.samples()
    zero = one.zero_samples(positions)
    ends = np.array(one.passage.zeros).ravel()
    # each has a length, and is apart from the next
    assert (np.diff(ends) > 1e-9 * float(np.ptp(one.events()))).all()
    within = np.searchsorted(ends, positions) % 2 == 1
    undecided = np.abs(np.abs(one.at(positions)) - one.band) <= one.noise
    assert (within == zero)[~undecided].all()
    allowed = (2 * len(one.passage.zeros) + np.count_nonzero(undecided) + 2) * step
    assert abs(one.passage.zero_length - zero.sum() * step) <= allowed
    assert abs(one.passage.loaded_length - one.occupied(positions).sum() * step) <= 40 * step


def check_extremes(ways: tuple[Followed, ...]) -> None:
    """Those of the passages and of the unloaded truss are the plain way's, and those of the sweep."""
    one, swept = ways[0], ways[0].tried.answers.forces.sweep
    smallest, largest = (end[one.member] for end in one.tried.expected.extremes("forces", one.load))
    still = one.tried.expected.standing("forces", one.load)[one.member, 0]
    forces = np.append(np.concatenate([way.passage.forces for way in ways]), still)
    ends = swept.smallest[one.member, one.column], swept.largest[one.member, one.column]
    for end, plain, of_sweep in zip((forces.min(), forces.max()), (smallest, largest), ends, strict=True):
        for expected in (plain, of_sweep):
            both_zero = abs(end) <= one.band and abs(expected) <= one.band
            assert both_zero or abs(end - expected) <= one.noise


def check_ends(one: Followed) -> None:
    """Just inside each end of a stretch the force is within the limit, just outside beyond it or unloaded."""
    if not one.tried.answers.study.zero_limit:
        return
    hair = 1e-9 * float(np.ptp(one.events()))
    steepest = float(np.abs(np.diff(one.at(one.samples()[0]))).max()) * SAMPLES
    near = one.noise + 4e-9 * steepest
    for start, end in one.passage.zeros:
        inside = one.at(np.array([start + hair, end - hair]))
        outside = np.array([start - hair, end + hair])
        assert (np.abs(inside) <= one.band + near).all()
        assert ((np.abs(one.at(outside)) >= one.band - near) | ~one.occupied(outside)).all()


@pytest.mark.parametrize("name", TRAVELLED)
def test_zero_stretches_add_up_to_the_share_that_the_table_tells(name: str) -> None:
    for ways in follow_all(bundled(name)):
        one = ways[0]
        member = one.tried.answers.study.truss.members[one.member].name
        share = np.mean([way.passage.zero_length / way.passage.loaded_length for way in ways])
        assert abs(share - one.tried.table[member, one.load.name]) <= 1e-9


@law(25)
def test_zero_stretches_of_random_studies_add_up_to_the_share_by_the_plain_way(seed: int) -> None:
    tried = random_study(seed)
    for ways in follow_all(tried):
        share = np.mean([way.passage.zero_length / way.passage.loaded_length for way in ways])
        expected = tried.expected.shares(ways[0].column)[ways[0].member]
        assert abs(share - expected) <= 1e-9 + moved_by_rounding(ways)


@pytest.mark.parametrize("name", TRAVELLED)
def test_extremes_stretches_their_ends_and_the_curve_are_what_samples_say(name: str) -> None:
    for ways in follow_all(bundled(name)):
        check_extremes(ways)
        for one in ways:
            check_stretches(one)
            check_ends(one)
            check_curve(one)


@law(12)
def test_curves_of_random_studies_are_what_samples_say(seed: int) -> None:
    for ways in follow_all(random_study(seed)):
        for one in ways:
            check_curve(one)


@law(12)
def test_extremes_stretches_and_their_ends_in_random_studies_are_what_samples_say(seed: int) -> None:
    for ways in follow_all(random_study(seed)):
        check_extremes(ways)
        for one in ways:
            check_stretches(one)
            check_ends(one)


def moved(way: Followed, pieces: np.ndarray, error: float) -> float:
    """By what length a level is reached elsewhere on some pieces where forces are off: error over slope."""
    lengths, rise = np.diff(way.passage.positions), np.abs(np.diff(way.passage.forces))
    steep = pieces & (rise > 0)
    return float((lengths[steep] * np.minimum(1.0, error / rise[steep])).sum())


def moved_by_rounding(ways: tuple[Followed, ...]) -> float:
    """By what share of the way ends of zero stretches may differ: the last digits of the largest force."""
    length = 0.0
    for way in ways:
        positions = way.passage.positions
        holding = np.zeros(len(positions) - 1, dtype=bool)
        for end in np.array(way.passage.zeros).ravel():
            holding |= (positions[:-1] <= end) & (end <= positions[1:])
        length += moved(way, holding, NOISE * float(way.tried.expected.scales[way.column]))
    return length / sum(way.passage.loaded_length for way in ways)


def moved_by_tidying(ways: tuple[Followed, ...]) -> float:
    """The same for curves: of their points those with a force of up to ZERO of the scale lie at 0."""
    length = 0.0
    for way in ways:
        tidied = (way.passage.forces[:-1] == 0) | (way.passage.forces[1:] == 0)
        length += moved(way, tidied, ZERO * float(way.tried.expected.scales[way.column]))
    return length / sum(way.passage.loaded_length for way in ways)


def check_spread(ways: tuple[Followed, ...]) -> None:
    """All shares together are the whole way; that at every level is what counting samples says."""
    spread = spread_out(tuple(way.passage for way in ways))
    lowest = [float(curve[-1, 0]) for curve in (spread.tension, spread.compression) if len(curve)]
    assert abs(spread.zero + sum(lowest) - 1) <= 1e-9 + moved_by_tidying(ways)
    parts = [way.samples()[0] for way in ways]
    loaded = np.concatenate([w.at(p[w.occupied(p)]) for w, p in zip(ways, parts, strict=True)])
    pieces = sum(len(way.passage.positions) for way in ways)
    # of a piece no more than one sample too many or too few
    error, noise = 2.0 * pieces / len(loaded), ways[0].noise
    smallest, largest = ways[0].tried.expected.extremes("forces", ways[0].load)
    peaks = {1.0: largest[ways[0].member], -1.0: -smallest[ways[0].member]}
    for curve, sign in ((spread.tension, 1.0), (spread.compression, -1.0)):
        assert len(curve) <= LEVELS + 1
        for share, level in curve:
            least = max(level, ways[0].band)
            counted = float((sign * loaded >= least - noise).mean())
            fewest = float((sign * loaded > least + noise).mean())
            assert fewest - error <= share <= counted + error
        if len(curve):
            assert curve[-1, 1] <= ways[0].band
            assert (np.diff(curve[:, 1]) < 0).all() and (np.diff(curve[:, 0]) >= 0).all()
            assert (sign * loaded).max() - noise <= curve[0, 1] <= peaks[sign] + noise


@pytest.mark.parametrize("name", TRAVELLED)
def test_spreads_make_up_the_whole_way_and_are_what_samples_say_at_every_level(name: str) -> None:
    for ways in follow_all(bundled(name)):
        check_spread(ways)


@pytest.mark.parametrize("limited", [False, True], ids=["no zero limit", "a zero limit"])
@law(10)
def test_spreads_of_random_studies_make_up_the_whole_way_and_are_what_samples_say(
    seed: int, limited: bool
) -> None:
    tried = random_study(seed)
    if bool(tried.answers.study.zero_limit) == limited:
        for ways in follow_all(tried):
            check_spread(ways)
