"""What the browser gets, decoded and evaluated here as the page evaluates it, held against the plain way."""

from __future__ import annotations

import json
from base64 import b64decode
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np
import pytest

from explorer.bundled import find_bundled, list_bundled
from explorer.document import Document
from explorer.document.units import METRIC
from explorer.pages.explore.packing import encode, pack_study
from explorer.store import Results, Worked
from solver.answers import answer
from solver.combining import Combination
from solver.crossings import Direction
from solver.placement import Standing
from solver.state import take_state
from solver.study import Study
from tests.building import build_study, build_truss
from tests.laws.studies import draw_study
from tests.laws.trying import law
from tests.plain.expected import Expected, work_out_plainly

EXACT = 1e-12
"""Of the scale: what the browser evaluates is what was computed, but for the order of its sums."""
BUNDLED = [item.name for item in list_bundled("study")]
TRAVELLED = [item.name for item in list_bundled("study") if "[crossings" in item.text()]
Packed = dict[str, Any]


def floats(text: str) -> np.ndarray:
    return np.frombuffer(b64decode(text), dtype="<f8")


def whole(text: str) -> np.ndarray:
    return np.frombuffer(b64decode(text), dtype="<i4")


@dataclass(frozen=True)
class Lists:
    """Values with their joints, one list after another; begins: where each list begins."""

    begins: np.ndarray
    joints: np.ndarray
    values: np.ndarray

    def fill(self, number: int, joints: int) -> np.ndarray:
        part = slice(self.begins[number], self.begins[number + 1])
        filled = np.zeros(joints)
        np.add.at(filled, self.joints[part], self.values[part])
        return filled


@dataclass(frozen=True)
class Way:
    """One way of a crossing as the page unpacks it."""

    joints: int
    breaks: np.ndarray
    powers: tuple[Lists, ...]
    jumps: np.ndarray
    over: Lists

    def weights(self, position: float, side: int) -> np.ndarray:
        """Downward load at each chord joint just before (-1), at (0) or just after (1) a position."""
        near = 1e-9 * (self.breaks[-1] - self.breaks[0])
        over = np.flatnonzero(np.abs(self.jumps - position) <= near)
        if side == 0 and len(over):
            return self.over.fill(int(over[0]), self.joints)
        outside = position < self.breaks[0] - near or position > self.breaks[-1] + near
        leaving = (side < 0 and position <= self.breaks[0]) or (side > 0 and position >= self.breaks[-1])
        if outside or leaving:
            return np.zeros(self.joints)
        passed = np.count_nonzero(self.breaks <= position if side > 0 else self.breaks < position)
        piece = min(max(passed, 1), len(self.breaks) - 1) - 1
        past = np.clip(position, self.breaks[piece], self.breaks[piece + 1]) - self.breaks[piece]
        return np.asarray(sum(past**k * part.fill(piece, self.joints) for k, part in enumerate(self.powers)))


def unpack_way(packed: Packed, joints: int) -> Way:
    begins, places = whole(packed["counts"]), whole(packed["joints"])
    return Way(
        joints,
        floats(packed["breaks"]),
        tuple(Lists(begins, places, floats(part)) for part in packed["weights"]),
        floats(packed["jumps"]),
        Lists(whole(packed["jumpCounts"]), whole(packed["jumpJoints"]), floats(packed["jumpWeights"])),
    )


@dataclass(frozen=True)
class Page:
    """A study as it reaches the page, through text; and what is expected of it."""

    worked: Worked
    packed: Packed
    expected: Expected

    def way(self, crossing: str, direction: str) -> Way:
        packed = self.packed["crossings"][crossing]
        way = next(one for one in packed["ways"] if one["direction"] == direction)
        return unpack_way(way, len(packed["joints"]))

    def standing(self, under: int) -> np.ndarray:
        values = floats(self.packed["standing"]).reshape(self.packed["rows"], len(self.packed["unders"]))
        return np.asarray(values[:, under])

    def rows(self, under: int, weights: np.ndarray) -> np.ndarray:
        """All rows under a load with these weights on its chord."""
        load = self.packed["unders"][under]
        influence = floats(self.packed["crossings"][load["crossing"]]["influence"])
        return self.standing(under) + load["factor"] * (
            influence.reshape(self.packed["rows"], len(weights)) @ weights
        )


def make_page(worked: Worked) -> Page:
    packed = json.loads(json.dumps(pack_study(worked), allow_nan=False))
    return Page(worked, packed, work_out_plainly(worked.answers.study))


@cache
def bundled(name: str) -> Page:
    return make_page(Results().work(find_bundled(name).text(), name))


def page_of(study: Study) -> Page:
    return make_page(Worked("key", Document(study, METRIC, "file", "text"), answer(study)))


def states(page: Page) -> Iterator[tuple[int, Combination, str, np.ndarray, np.ndarray, np.ndarray]]:
    """Under each load with a train, each way: positions, sides, and all rows by the plain way."""
    expected = page.expected
    for under, load in enumerate(page.worked.answers.combinations):
        for passage in expected.passages_of(load):
            breaks = page.way(str(load.crossing), passage.direction).breaks
            # the same place to a rounding, as the page knows it
            events = breaks[np.abs(passage.events[:, None] - breaks).argmin(axis=1)]
            assert np.abs(events - passage.events).max() <= 1e-9
            few = slice(3, None, max(1, passage.samples.shape[1] // 60))
            steps = passage.samples.shape[1]
            spots = passage.events[0] + (np.arange(steps) + np.sqrt(2) - 1) * np.ptp(passage.events) / steps
            positions = np.concatenate([np.repeat(events, 3), spots[few]])
            sides = np.concatenate([np.tile([-1, 0, 1], len(events)), np.zeros(len(spots[few]), dtype=int)])
            loads = np.hstack([passage.states, passage.samples[:, few]])
            kinds = [
                expected.standing(kind, load)
                + load.crossing_factor * (expected.moving(kind, passage) @ loads)
                for kind in ("forces", "reactions")
            ]
            yield under, load, passage.direction, positions, sides, np.vstack(kinds)


def check_against_the_plain_way(page: Page, tolerance: float) -> None:
    for under, load, direction, positions, sides, rows in states(page):
        way, scale = page.way(str(load.crossing), direction), page.expected.scales[under]
        for position, side, row in zip(positions, sides, rows.T, strict=True):
            found = page.rows(under, way.weights(float(position), int(side)))
            assert np.abs(found - row).max() <= tolerance * scale, (load.name, direction, position, side)


def check_against_states(page: Page) -> None:
    answers = page.worked.answers
    members = len(answers.study.truss.members)
    for under, load, direction, positions, sides, _ in states(page):
        scale = page.expected.scales[under]
        facing: Direction = "forward" if direction == "forward" else "backward"
        way = page.way(str(load.crossing), direction)
        for position in np.concatenate([positions[sides == 0], way.breaks[[0, -1]] + [-1.0, 1.0]]):
            state = take_state(answers.study, answers.responses, load, Standing(facing, float(position)))
            found = page.rows(under, way.weights(float(position), 0))[:members]
            assert np.abs(found - state.forces).max() <= EXACT * scale, (load.name, direction, position)


@pytest.mark.parametrize("name", TRAVELLED)
def test_the_page_evaluates_forces_and_reactions_of_the_plain_way_at_every_place_and_jump(name: str) -> None:
    check_against_the_plain_way(bundled(name), EXACT)


@pytest.mark.parametrize("name", TRAVELLED)
def test_the_page_evaluates_the_very_states_that_the_sheet_tells(name: str) -> None:
    check_against_states(bundled(name))


@law(12)
def test_the_page_evaluates_random_studies_as_the_plain_way_and_as_the_sheet(seed: int) -> None:
    page = page_of(draw_study(seed).study)
    # random trusses differ in their areas by a million: the plain way is nearer than the balance promised
    check_against_the_plain_way(page, 1e-10)
    check_against_states(page)


@pytest.mark.parametrize("name", BUNDLED)
def test_what_stands_still_is_the_sum_of_cases_by_the_plain_way(name: str) -> None:
    page = bundled(name)
    for under, load in enumerate(page.worked.answers.combinations):
        kinds = [page.expected.standing(kind, load)[:, 0] for kind in ("forces", "reactions")]
        off = np.abs(page.standing(under) - np.concatenate(kinds)).max()
        assert off <= EXACT * page.expected.scales[under]


@pytest.mark.parametrize("name", BUNDLED)
def test_loads_come_with_their_names_crossings_scales_and_bands(name: str) -> None:
    page = bundled(name)
    loads = page.packed["unders"]
    assert [load["name"] for load in loads] == [c.name for c in page.expected.combinations]
    for under, (load, combination) in enumerate(zip(loads, page.expected.combinations, strict=True)):
        assert (load["crossing"], load["factor"]) == (combination.crossing, combination.crossing_factor)
        assert load["scale"] == pytest.approx(page.expected.scales[under], rel=1e-10)
        assert load["band"] == pytest.approx(page.expected.bands[under], rel=1e-10)
        ends = np.abs(page.expected.extremes("forces", combination)).max()
        assert abs(load["largest"] - ends) <= 1e-10 * page.expected.scales[under]


@pytest.mark.parametrize("name", BUNDLED)
def test_the_arrow_keys_reach_every_member_once_from_left_to_right(name: str) -> None:
    page = bundled(name)
    truss, order = page.worked.answers.study.truss, page.packed["order"]
    assert sorted(order) == list(range(len(truss.members)))
    middles = truss.joint_coordinates[truss.ends].mean(axis=1)[order]
    along = middles[:, 0] if truss.dimension == 2 else middles[:, 2]
    assert (np.diff(along) >= -1e-9).all()


@pytest.mark.parametrize("name", BUNDLED)
def test_the_truss_comes_with_its_joints_members_and_units_as_written(name: str) -> None:
    page = bundled(name)
    truss = page.worked.answers.study.truss
    assert page.packed["joints"] == [[float(c) for c in point] for point in truss.coordinates]
    assert page.packed["members"] == [member.name for member in truss.members]
    assert page.packed["ends"] == [[member.first, member.second] for member in truss.members]
    assert page.packed["rows"] == len(truss.members) + sum(len(s.directions) for s in truss.supports)
    systems = page.packed["systems"]
    assert systems["metric"] == {"force": ["kN", 1000.0], "length": ["m", 1.0]}
    assert systems["US"] == {"force": ["kip", 4448.2216152605], "length": ["ft", 0.3048]}


def test_arrays_are_written_row_by_row_in_little_endian_bytes() -> None:
    values = np.array([[1.0, -2.5], [0.1, 3e300]])
    assert (floats(encode(values)).reshape(2, 2) == values).all()
    assert (floats(encode(values.T)).reshape(2, 2) == values.T).all()
    assert (floats(encode(values.astype(">f8"))) == values.ravel()).all()
    assert b64decode(encode(np.array([1, -2], dtype=np.int32))) == b"\x01\0\0\0\xfe\xff\xff\xff"


def test_axles_come_with_all_that_multiplies_them_and_jumps_with_both_axles_that_meet() -> None:
    # 24 kN each by an impact of 0.2; over the tip one wheel, and half of the other 2 m short of it
    page = bundled("fulmar_gantry")
    crossing = page.packed["crossings"]["trolley_run"]
    assert np.array(crossing["trains"][0]["axles"]) == pytest.approx(
        np.array([[0, 24e3], [2, 24e3]]), rel=1e-12
    )
    assert crossing["positions"] == [0, 4, 8, 12, 16, 20, 24]
    way = page.way("trolley_run", "forward")
    tip = [way.weights(24.0, side)[-1] / 1e3 for side in (-1, 0, 1)]
    assert tip == pytest.approx([36, 36, 12], abs=1e-9)
    assert [way.weights(x, 0).sum() for x in (-1.0, 26.5)] == [0, 0]


def test_where_axles_meet_both_ends_in_decimals_the_page_has_all_three_values() -> None:
    # 5 stands at D as 3 enters at A, 4.4 behind it
    truss = build_truss(
        {"A": (0, 0), "B": ("1.1", 0), "C": ("3.3", 0), "D": ("4.4", 0)}
        | {"a": ("0.7", 1), "b": ("2.2", 1), "c": ("3.9", 1)},
        ["A-a", "a-B", "B-b", "b-C", "C-c", "c-D", "A-B", "B-C", "C-D", "a-b", "b-c"],
        {"B": "xy", "C": "y"},
    )
    page = page_of(build_study(truss, chord="ABCD", axles=[(0.1, 5), (4.5, 3)]))
    way = page.way("train", "forward")
    place = float(way.breaks[np.abs(way.breaks - 4.5).argmin()])
    told = [list(way.weights(place, side)) for side in (-1, 0, 1)]
    expected = [[0, 0, 0, 5], [3, 0, 0, 5], [3, 0, 0, 0]]
    assert np.array(told) == pytest.approx(np.array(expected), abs=1e-12)
