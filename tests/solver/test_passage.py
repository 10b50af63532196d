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
from solver.study import Study
from solver.truss import Truss
from tests.building import build_study, build_truss, load_case
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


TRAVELLED = [item.name for item in list_bundled() if "[crossings" in item.text()]


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
        train = self.tried.answers.study.crossings[str(self.load.crossing)].train
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
        for axle, places in zip(crossing.train.axles, self.places(positions).T, strict=True):
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
        assert abs(share - tried.expected.shares(ways[0].column)[ways[0].member]) <= 1e-9


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


def moved_by_tidying(ways: tuple[Followed, ...]) -> float:
    """By what share of the way ends of zero stretches may differ: curves have forces up to the noise at 0.

    On a piece with such an end the place at which the limit is reached moves by noise over slope.
    """
    lost = 0.0
    for way in ways:
        lengths, rise = np.diff(way.passage.positions), np.abs(np.diff(way.passage.forces))
        tidied = (way.passage.forces[:-1] == 0) | (way.passage.forces[1:] == 0)
        steep = tidied & (rise > 0)
        lost += float((lengths[steep] * np.minimum(1.0, way.noise / rise[steep])).sum())
    return lost / sum(way.passage.loaded_length for way in ways)


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


KING_POST = build_truss(
    {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)},
    ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
    {"L0": "xy", "L2": "y"},
)


def passages(study: Study, member: str, load: str = "train") -> tuple[Passage, ...]:
    answers = answer(study)
    column = [combination.name for combination in answers.combinations].index(load)
    return follow(answers.forces, study.truss.member_index(member), column)


def king_post(axles: list[tuple[float, float]], **more: object) -> Study:
    return build_study(KING_POST, chord=["L0", "L1", "L2"], axles=axles, **more)  # type: ignore[arg-type]


def test_a_hanger_under_one_axle_bears_its_tent_and_is_zero_up_to_the_limit() -> None:
    # at s the hanger bears 10 s / 4 up to the middle: 2 at 0.8 and at 7.2
    forward, backward = passages(king_post([(0, 10)], zero_limit=2.0), "L1-U1")
    assert (forward.direction, backward.direction) == ("forward", "backward")
    for way in (forward, backward):
        assert np.array(way.zeros) == pytest.approx(np.array([[0, 0.8], [7.2, 8]]), abs=1e-12)
        assert way.zero_length == pytest.approx(1.6, abs=1e-12)
        assert way.loaded_length == pytest.approx(8, abs=1e-12)
        assert (way.forces.max(), way.band) == (pytest.approx(10, abs=1e-12), 2.0)


def test_a_curve_begins_with_the_force_it_has_even_if_that_is_within_the_limit() -> None:
    # 2 from a weight, within the limit of 3; the axle adds 10 s / 4: 7 at s = 2, and 3 at s = 0.4
    weight = load_case(KING_POST, "weight", L1=(0, -2))
    both = [Combination("both", {"weight": 1.0}, "train")]
    study = build_study(
        KING_POST, [weight], chord=["L0", "L1", "L2"], axles=[(0, 10)], combinations=both, zero_limit=3.0
    )
    way = passages(study, "L1-U1", "both")[0]
    assert way.zeros[0] == pytest.approx((0, 0.4), abs=1e-12)
    assert np.interp(2.0, way.positions, way.forces) == pytest.approx(7, abs=1e-9)


def test_a_tent_is_spread_evenly_over_its_sizes_and_those_up_to_the_limit_are_zero() -> None:
    spread = spread_out(passages(king_post([(0, 10)]), "L1-U1"))
    assert spread.tension == pytest.approx(np.array([[0, 10], [1, 0]]), abs=1e-12)
    assert (spread.zero, len(spread.compression)) == (0, 0)
    # of 8 m it is within 2 on 1.6
    spread = spread_out(passages(king_post([(0, 10)], zero_limit=2.0), "L1-U1"))
    assert (spread.zero, spread.tension[-1, 0]) == pytest.approx((0.2, 0.8), abs=1e-12)


def test_a_way_with_a_gap_longer_than_the_chord_is_loaded_at_both_ends_only() -> None:
    for way in passages(king_post([(0, 10), (20, 4)]), "L1-U1"):
        assert way.loaded_length == pytest.approx(16, abs=1e-12)
        assert way.zeros == ()
        empty = np.diff(way.positions)[~way.loaded].sum()
        assert empty == pytest.approx(12, abs=1e-12)


def strip(bottom: str, top: str, height: int, at_c: str = "y") -> Truss:
    """Four joints along the chord, held at the middle two, and a top joint over each panel."""
    joints = {name: (x, 0) for name, x in zip("ABCD", bottom.split(), strict=True)}
    joints |= {name: (x, height) for name, x in zip("abc", top.split(), strict=True)}
    members = ["A-a", "a-B", "B-b", "b-C", "C-c", "c-D", "A-B", "B-C", "C-D", "a-b", "b-c"]
    return build_truss(joints, members, {"B": "xy", "C": at_c}, areas=1e-3, modulus=2e11)


EVEN, DECIMAL = ("0 4 8 12", "2 6 10", 3), ("0 1.1 3.3 4.4", "0.7 2.2 3.9", 1)


def test_where_one_axle_leaves_as_another_enters_left_right_and_exact_values_differ() -> None:
    # 1 at either tip gives B-C -2/3 by moments about b; 3 leaves at D as 1 enters at A
    study = build_study(strip(*EVEN), chord="ABCD", axles=[(0, 3), (12, 1)])
    forward, backward = passages(study, "B-C")
    for way, place in ((forward, 12.0), (backward, 0.0)):
        here = way.forces[np.abs(way.positions - place) <= 1e-9]
        expected = [-2, -8 / 3, -2 / 3] if way is forward else [-2 / 3, -8 / 3, -2]
        assert here == pytest.approx(expected, abs=1e-12)
    assert (forward.positions[0], forward.positions[-1]) == pytest.approx((0, 24), abs=1e-12)
    assert (forward.forces[0], forward.forces[-1]) == pytest.approx((-2, -2 / 3), abs=1e-12)


def last_points(way: Passage) -> np.ndarray:
    """The last three points of a curve: position [m] and force [kN]."""
    return np.column_stack([way.positions, way.forces / 1e3])[-3:]


def test_the_last_diagonal_of_the_gantry_keeps_both_sides_of_the_jump_at_the_tip() -> None:
    # 24 kN a wheel; U5-L6 rises 3 in 5 and lifts all that lies on L6: N = load / 0.6
    answers = bundled("fulmar_gantry").answers
    column = [combination.name for combination in answers.combinations].index("trolley_run")
    forward, backward = follow(answers.forces, answers.study.truss.member_index("U5-L6"), column)
    # wheels at 24 and 22: 24 + 12 on L6; then the second alone at 22, and at 24 with the front at 26
    assert last_points(forward) == pytest.approx(np.array([[24, 60], [24, 20], [26, 40]]), abs=1e-9)
    assert forward.zeros == (pytest.approx((0, 20), abs=1e-12),)
    # backward the second wheel is 2 m ahead: it is on L6 with the front at 22, the front alone beyond
    assert last_points(backward) == pytest.approx(np.array([[22, 60], [22, 20], [24, 40]]), abs=1e-9)
    assert backward.zeros == (pytest.approx((-2, 18), abs=1e-12),)


def test_a_jump_stands_in_its_place_where_decimals_meet_but_for_a_rounding() -> None:
    # the tip panel is 1.1 long: with axles 1.1 apart something stands on it up to 5.5, then nothing to 8.8
    axles = [(0, 3), (1.1, 4), (2.2, 5), (3.3, 2), (4.4, 1)]
    study = build_study(strip(*DECIMAL), chord="ABCD", axles=axles)
    forward, backward = passages(study, "A-B")
    for way in (forward, backward):
        assert (np.diff(way.positions) >= 0).all()
    assert forward.loaded_length == pytest.approx(8.8, abs=1e-12)
    assert forward.zeros == (pytest.approx((5.5, 8.8), abs=1e-9),)
    assert backward.zeros == (pytest.approx((1.1, 4.4), abs=1e-9),)


@pytest.mark.parametrize("chord", ["ABCD", "DCBA"])
@pytest.mark.parametrize("first", [0.0, 0.1, 0.7])
def test_between_two_pins_a_member_is_zero_in_one_stretch_where_decimals_meet(
    chord: str, first: float
) -> None:
    axles = [(first + distance, 2) for distance in (0, 1.1, 3.3, 4.4)]
    study = build_study(strip(*DECIMAL, "xy"), chord=chord, axles=axles)
    for way in passages(study, "B-C"):
        assert (np.diff(way.positions) >= 0).all()
        assert np.array(way.zeros) == pytest.approx(way.positions[[0, -1]][None], abs=1e-12)
        assert np.diff(way.positions)[way.loaded].sum() == pytest.approx(way.loaded_length, abs=1e-12)
