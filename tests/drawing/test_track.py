"""The track, read back as XML: curves, bands, rings and the ruler lie where forces and positions say."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from explorer.bundled import find_bundled, list_bundled
from explorer.document.units import METRIC, US, UnitSystem
from explorer.drawing.plate import WIDTH, lay_plate
from explorer.drawing.track import RISE, Axis, Track, draw_track
from explorer.drawing.view import Direction
from explorer.store import Results
from explorer.wording.numbers import NO_BREAK, Teller
from solver.answers import Answers, answer
from solver.passage import Passage, follow
from tests.building import build_study, build_truss
from tests.plain.expected import Expected, work_out_plainly

FOOT = 0.3048
HUNDREDTH = 0.0051
"""Coordinates are written to a hundredth of a pixel."""
TRAVELLED = [item.name for item in list_bundled("study") if "[crossings" in item.text()]


@dataclass(frozen=True)
class Lane:
    """One way of a track as read back; line: where the zero of its forces lies [px]."""

    group: ElementTree.Element
    line: float

    def all(self, name: str) -> list[ElementTree.Element]:
        return [one for one in self.group.iter() if name in one.attrib.get("class", "").split()]

    def curves(self, name: str) -> list[np.ndarray]:
        return [points(one) for one in self.all(name)]


def points(one: ElementTree.Element) -> np.ndarray:
    return np.array([[float(c) for c in pair.split(",")] for pair in one.attrib["points"].split()])


def place(one: ElementTree.Element) -> tuple[float, float]:
    written = re.fullmatch(r"translate\((-?[\d.]+),(-?[\d.]+)\)", one.attrib["transform"])
    assert written
    return float(written[1]), float(written[2])


def read(track: Track) -> tuple[ElementTree.Element, dict[str, Lane]]:
    root = ElementTree.fromstring(draw_track(track))
    lines = dict(lane.split(":") for lane in root.attrib["data-lanes"].split())
    groups = [one for one in root.iter() if one.attrib.get("class") == "lane"]
    assert [group.attrib["data-way"] for group in groups] == [p.direction for p in track.passages]
    return root, {g.attrib["data-way"]: Lane(g, float(lines[g.attrib["data-way"]])) for g in groups}


def track_of(passages: tuple[Passage, ...], units: UnitSystem = METRIC, scale: float = 20.0) -> Track:
    left = 150.0 if scale > 0 else 1200.0
    return Track(passages, Axis(left, scale), np.array([0.0, 4.0, 8.0]), WIDTH, Teller(units))


def passage(positions: list[float], forces: list[float], direction: str = "forward") -> Passage:
    loaded = np.ones(len(positions) - 1, dtype=bool)
    length = positions[-1] - positions[0]
    return Passage(direction, np.array(positions), np.array(forces), loaded, (), length, 1e-9)  # type: ignore[arg-type]


sizes = st.one_of(st.just(0.0), st.floats(1, 1e5), st.floats(-1e5, -1), st.sampled_from([1e4, -1e4]))


@st.composite
def ways(draw: st.DrawFn, direction: str = "forward") -> Passage:
    """Some points half a metre apart or more, now and then two or three in one place."""
    gaps = draw(st.lists(st.sampled_from([0.0, 0.5, 1.0, 3.7]), min_size=1, max_size=9))
    positions = np.cumsum([draw(st.sampled_from([-6.0, 0.0, 1.3])), *gaps])
    if positions[-1] == positions[0]:
        positions = np.append(positions, positions[-1] + 1)
    forces = [draw(sizes) for _ in positions]
    return passage([float(p) for p in positions], forces, direction)


both_ways = st.tuples(ways("forward"), ways("backward"))
scales = st.sampled_from([20.0, 55.5, -20.0, -55.5])


def rise_of(passages: tuple[Passage, ...]) -> float:
    """Pixels a newton: the largest tension and the largest compression together fill the height."""
    top = max(0.0, *(float(p.forces.max()) for p in passages))
    low = max(0.0, *(float(-p.forces.min()) for p in passages))
    return RISE / (top + low) if top + low else 0.0


@given(both_ways, scales)
def test_curves_and_areas_of_one_sign_never_cross_their_line(
    passages: tuple[Passage, ...], scale: float
) -> None:
    _, lanes = read(track_of(passages, scale=scale))
    for lane in lanes.values():
        for kind in ("curve", "area"):
            for one in lane.all(kind):
                below = points(one)[:, 1] - lane.line
                assert (below <= HUNDREDTH).all() if "t" in one.attrib["class"].split() else True
                assert (below >= -HUNDREDTH).all() if "c" in one.attrib["class"].split() else True
                assert {"t", "c"} & set(one.attrib["class"].split())


@settings(max_examples=60)
@given(both_ways, scales)
def test_the_curve_is_the_force_between_every_two_points_and_nothing_where_it_is_zero(
    passages: tuple[Passage, ...], scale: float
) -> None:
    track = track_of(passages, scale=scale)
    _, lanes = read(track)
    rise = rise_of(passages)
    for way in passages:
        lane = lanes[way.direction]
        curves = lane.curves("curve")
        for index in np.flatnonzero(np.diff(way.positions) > 0):
            ends, forces = way.positions[index : index + 2], way.forces[index : index + 2]
            for share in (0.1, 0.5, 0.77):
                x = track.axis.left + scale * (ends[0] + share * (ends[1] - ends[0]))
                force = forces[0] + share * (forces[1] - forces[0])
                steep = abs(forces[1] - forces[0]) * rise / abs(scale * (ends[1] - ends[0]))
                heights = [height for curve in curves for height in heights_at(curve, x)]
                if not forces.any():
                    assert not heights
                # a piece ends where the force is zero, and its last 0.02 px are left out
                elif abs(force) * rise > max(0.05, 0.03 * steep):
                    expected = lane.line - force * rise
                    assert any(abs(height - expected) <= (1 + steep) * 0.011 for height in heights)


def heights_at(curve: np.ndarray, x: float) -> list[float]:
    """Where a curve passes an x, well within one of its pieces."""
    found = []
    for (x1, y1), (x2, y2) in pairwise(curve):
        if min(x1, x2) + 0.02 < x < max(x1, x2) - 0.02:
            found.append(float(y1 + (x - x1) / (x2 - x1) * (y2 - y1)))
    return found


@given(both_ways, scales)
def test_a_ring_stands_as_high_as_the_peak_of_its_sign_is_large(
    passages: tuple[Passage, ...], scale: float
) -> None:
    track = track_of(passages, scale=scale)
    _, lanes = read(track)
    for way in passages:
        rings = lanes[way.direction].all("peak")
        peaks = [float(way.forces.max()), float(way.forces.min())]
        expected = [peak for peak, sign in zip(peaks, (1, -1), strict=True) if sign * peak > 0]
        assert [float(ring.attrib["data-force"]) for ring in rings] == pytest.approx(expected, rel=1e-12)
        for ring, peak in zip(rings, expected, strict=True):
            position = float(ring.attrib["data-position"])
            assert peak in way.forces[np.abs(way.positions - position) <= 1e-9]
            x, y = place(ring)
            assert y == pytest.approx(lanes[way.direction].line - peak * rise_of(passages), abs=2 * HUNDREDTH)
            assert x == pytest.approx(track.axis.left + scale * position, abs=HUNDREDTH)
            assert float(ring.attrib["data-x"]) == pytest.approx(x, abs=HUNDREDTH)
            assert ("t" if peak > 0 else "c") in ring.attrib["class"].split()


@given(scales, st.lists(st.tuples(st.floats(0, 3), st.floats(0.1, 3)), min_size=1, max_size=4))
def test_bands_have_the_length_of_their_stretches_and_say_it(
    scale: float, steps: list[tuple[float, float]]
) -> None:
    ends = np.cumsum([step for pair in steps for step in pair]).reshape(-1, 2)
    still = passage([0.0, 30.0], [0.0, 0.0])
    zeros = tuple((float(a), float(b)) for a, b in ends)
    way = Passage("forward", still.positions, still.forces, still.loaded, zeros, 30.0, 1e-9)
    track = track_of((way,), scale=scale)
    lane = read(track)[1]["forward"]
    bands = [(float(b.attrib["x"]), float(b.attrib["width"])) for b in lane.all("band")]
    pixels = track.axis.left + scale * ends
    expected = [(float(min(pair)), abs(scale) * (b - a)) for pair, (a, b) in zip(pixels, ends, strict=True)]
    assert np.array(bands) == pytest.approx(np.array(expected), abs=2 * HUNDREDTH)
    for band in lane.all("band"):
        middle = float(band.attrib["y"]) + float(band.attrib["height"]) / 2
        assert middle == pytest.approx(lane.line, abs=2 * HUNDREDTH)
    told = [
        float("".join(w.itertext()).removeprefix("zero for ").split(NO_BREAK)[0]) for w in lane.all("word")
    ]
    assert told == pytest.approx([b - a for a, b in ends], rel=0.006)


@pytest.mark.parametrize(("units", "unit", "label"), [(METRIC, 1.0, "m"), (US, FOOT, "ft")])
@pytest.mark.parametrize("scale", [3.0, 20.0, 71.3, -20.0])
@pytest.mark.parametrize("length", [8.0, 27.432, 120.0])
def test_numbers_on_the_ruler_stand_at_their_positions_in_metres_and_feet(
    units: UnitSystem, unit: float, label: str, scale: float, length: float
) -> None:
    joints = np.linspace(0, length, 9)
    track = Track((passage([0.0, length], [0.0, 5.0]),), Axis(900.0, scale), joints, WIDTH, Teller(units))
    root, _ = read(track)
    ruler = next(one for one in root.iter() if one.attrib.get("class") == "ruler")
    ticks = [place(one)[0] for one in ruler if "tick" in one.attrib.get("class", "")]
    assert ticks == pytest.approx([900 + scale * x for x in joints], abs=HUNDREDTH)
    numbers = [(one, "".join(one.itertext())) for one in ruler if one.find("text") is not None]
    values = []
    for one, text in numbers:
        value, _, named = text.partition(" ")
        assert named in ("", label)
        values.append(float(value))
        assert place(one)[0] == pytest.approx(900 + scale * float(value) * unit, abs=HUNDREDTH)
        assert float(one.attrib["data-x"]) == pytest.approx(place(one)[0], abs=HUNDREDTH)
    # from 0, which names the unit, in even round steps, apart enough to be read, as far as the chord goes
    steps = np.diff(values)
    assert values[0] == 0 and numbers[0][1] == f"0 {label}"
    assert len(steps) == 0 or (np.ptp(steps) < 1e-9 and steps[0] * unit * abs(scale) >= 62 - 1e-6)
    assert values[-1] * unit <= length + 1e-9
    if len(steps):
        assert values[-1] * unit + steps[0] * unit > length
        assert f"{steps[0]:e}"[0] in "125"


@cache
def bundled(name: str) -> tuple[Answers, Expected, UnitSystem]:
    worked = Results().work(find_bundled(name).text(), name)
    return worked.answers, work_out_plainly(worked.answers.study), worked.document.units


@pytest.mark.parametrize("name", TRAVELLED)
def test_rings_of_every_member_of_a_bundled_study_stand_at_the_plain_peaks_of_its_crossings(
    name: str,
) -> None:
    answers, expected, units = bundled(name)
    study = answers.study
    plate = lay_plate(study, Direction())
    for column, load in enumerate(answers.combinations):
        if not load.crossing or load.cases:
            continue
        chord = study.chords[study.crossings[load.crossing].chord]
        axis = plate.axes[load.crossing]
        noise = 1e-9 * expected.scales[column]
        for member in range(len(study.truss.members)):
            passages = follow(answers.forces, member, column)
            root, lanes = read(Track(passages, axis, chord.positions, WIDTH, Teller(units)))
            assert float(root.attrib["data-scale"]) == pytest.approx(axis.scale, rel=1e-8)
            for way in expected.passages_of(load):
                states = load.crossing_factor * expected.moving("forces", way)[member] @ way.states
                events = np.repeat(way.events, 3)
                rings = {r.attrib["class"].split()[1]: r for r in lanes[way.direction].all("peak")}
                for look, peak in (("t", states.max()), ("c", states.min())):
                    if abs(peak) <= expected.bands[column]:
                        assert look not in rings
                        continue
                    ring = rings[look]
                    assert abs(float(ring.attrib["data-force"]) - peak) <= noise
                    here = np.abs(events - float(ring.attrib["data-position"])) <= 1e-9
                    assert np.abs(states[here] - peak).min() <= noise
                    x, _ = place(ring)
                    position = float(ring.attrib["data-position"])
                    assert x == pytest.approx(axis.left + axis.scale * position, abs=HUNDREDTH)


def test_the_track_of_a_hanger_under_one_axle_by_hand() -> None:
    # 10 kN give the hanger their tent: 10 over the middle joint, within the limit of 2 on 0.8 m at both ends
    truss = build_truss(
        {"L0": (0, 0), "L1": (4, 0), "L2": (8, 0), "U1": (4, 3)},
        ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"],
        {"L0": "xy", "L2": "y"},
    )
    study = build_study(truss, chord=["L0", "L1", "L2"], axles=[(0, 10e3)], zero_limit=2e3)
    root, lanes = read(track_of(follow(answer(study).forces, 4, 0), scale=100.0))
    assert root.attrib["width"] == "1360"
    for lane in lanes.values():
        ring = lane.all("peak")[0]
        assert place(ring) == pytest.approx((550, lane.line - RISE), abs=HUNDREDTH)
        assert "".join(ring.itertext()) == f"T{NO_BREAK}10.0{NO_BREAK}kN at 4{NO_BREAK}m"
        bands = [(float(b.attrib["x"]), float(b.attrib["width"])) for b in lane.all("band")]
        assert np.array(bands) == pytest.approx(np.array([[150, 80], [870, 80]]), abs=2 * HUNDREDTH)
        assert ["".join(w.itertext()) for w in lane.all("word")] == [f"zero for 0.8{NO_BREAK}m"] * 2
        # the curve rises from 150 to 550 and falls to 950
        curve = lane.curves("curve")[0]
        assert curve[np.argmin(curve[:, 1])] == pytest.approx([550, lane.line - RISE], abs=HUNDREDTH)
        assert curve[[0, -1], 0] == pytest.approx([150, 950], abs=HUNDREDTH)


def test_a_reader_in_feet_and_kips_is_told_the_peak_in_them() -> None:
    # 44.482216152605 kN are 10 kip; 4 m are 13.1 ft
    way = passage([0.0, 4.0, 8.0], [0.0, -44482.216152605, 0.0])
    _, lanes = read(track_of((way,), US))
    told = "".join(lanes["forward"].all("peak")[0].itertext())
    assert told == f"C{NO_BREAK}10.0{NO_BREAK}kip at 13.1{NO_BREAK}ft"


def test_a_member_that_is_zero_all_the_way_has_a_band_and_no_curve() -> None:
    still = passage([0.0, 8.0], [0.0, 0.0])
    way = Passage("backward", still.positions, still.forces, still.loaded, ((0.0, 8.0),), 8.0, 1e-9)
    lane = read(track_of((way,)))[1]["backward"]
    assert (len(lane.all("band")), lane.all("curve"), lane.all("area"), lane.all("peak")) == (1, [], [], [])
