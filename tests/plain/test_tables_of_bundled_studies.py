"""Tables of every bundled study hold the plain numbers, in its own units, under its own names."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from explorer.bundled import list_bundled
from explorer.document import Document, read_study
from explorer.tables import make_tables
from explorer.tables.table import Cell
from solver.answers import answer
from tests.plain.expected import WAYS, Expected, work_out_plainly

BUNDLED = {item.name: item.path for item in list_bundled("study") if item.kind == "study"}
NAMES = list(BUNDLED)
FORCE = {"metric": 1e3, "US": 4448.2216152605}
LENGTH = {"metric": 1.0, "US": 0.3048}
SMALL = {"metric": 1e-3, "US": 0.0254}
SOUND = 1e-10


@cache
def worked_out(name: str) -> tuple[Document, Expected, dict[str, list[dict[str, Cell]]]]:
    document = read_study(BUNDLED[name])
    tables = make_tables(answer(document.study), document.units)
    rows = {t.name: [dict(zip(t.header, row, strict=True)) for row in t.rows] for t in tables}
    return document, work_out_plainly(document.study), rows


def column(rows: list[dict[str, Cell]], name: str) -> np.ndarray:
    return np.array([row[name] for row in rows], dtype=float)


def near(found: np.ndarray, expected: np.ndarray) -> None:
    assert found.shape == expected.shape
    assert np.abs(found - expected).max(initial=0.0) <= SOUND * np.abs(expected).max(initial=1e-300)


@pytest.mark.parametrize("name", NAMES)
def test_influence_is_told_chord_by_chord_joint_by_joint_member_by_member(name: str) -> None:
    document, expected, tables = worked_out(name)
    truss, rows = document.study.truss, tables["influence"]
    told, forces = [], []
    for chord in document.study.chords.values():
        for place, joint in enumerate(chord.joints):
            told += [(chord.name, truss.joint_names[joint], member.name) for member in truss.members]
            forces += list(expected.chords[chord.name].forces[:, place])
    assert [(row["chord"], row["joint"], row["member"]) for row in rows] == told
    near(column(rows, "force"), np.array(forces))
    places = [x for chord in document.study.chords.values() for x in chord.positions]
    found = column(rows, "position")[:: len(truss.members)] * LENGTH[document.units.name]
    near(found, np.array(places))


@pytest.mark.parametrize("name", NAMES)
def test_totals_are_the_sums_of_the_loads_and_of_reactions_that_carry_them(name: str) -> None:
    document, expected, tables = worked_out(name)
    rows, dimension = tables["totals"], document.study.truss.dimension
    assert [(r["case"], r["direction"]) for r in rows] == [
        (case, axis) for case in document.study.cases for axis in "xyz"[:dimension]
    ]
    unit = FORCE[document.units.name]
    applied = expected.cases.loads.reshape(-1, dimension, len(document.study.cases)).sum(axis=0).T
    near(column(rows, "applied"), applied.ravel() / unit)
    near(column(rows, "reactions"), -applied.ravel() / unit)


@pytest.mark.parametrize("name", NAMES)
def test_forces_are_told_member_by_member_for_every_case_and_crossing_alone(name: str) -> None:
    document, expected, tables = worked_out(name)
    study, rows = document.study, tables["forces"]
    loads = [("case", c) for c in study.cases] + [("crossing", c) for c in study.crossings]
    named = [(member.name, *load) for member in study.truss.members for load in loads]
    assert [(r["member"], r["kind"], r["under"]) for r in rows] == named
    ends = np.array([expected.extremes("forces", c) for c in expected.combinations[: len(loads)]])
    unit = FORCE[document.units.name]
    near(column(rows, "smallest"), ends[:, 0].T.ravel() / unit)
    near(column(rows, "largest"), ends[:, 1].T.ravel() / unit)


@pytest.mark.parametrize("name", NAMES)
def test_zero_shares_are_told_for_every_case_crossing_and_combination_of_the_file(name: str) -> None:
    document, expected, tables = worked_out(name)
    study, rows = document.study, tables["zero_shares"]
    loads = [("case", c) for c in study.cases] + [("crossing", c) for c in study.crossings]
    loads += [("combination", c.name) for c in study.combinations]
    named = [(member.name, *load) for member in study.truss.members for load in loads]
    assert [(r["member"], r["kind"], r["under"]) for r in rows] == named
    shares = np.array([expected.shares(c) for c in range(len(loads))]).T
    near(column(rows, "zero_share"), shares.ravel())


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("peak", "sign"), [("tension", 1.0), ("compression", -1.0)])
def test_peaks_in_the_table_of_members_are_forces_of_the_state_beside_them(
    name: str, peak: str, sign: float
) -> None:
    document, expected, tables = worked_out(name)
    named = {expected.combinations[c].name: expected.combinations[c] for c in expected.asked}
    unit, metre = FORCE[document.units.name], LENGTH[document.units.name]
    for member, row in enumerate(tables["members"]):
        value, under, at = (row[f"peak_{peak}"], row[f"{peak}_in"], str(row[f"{peak}_at"]))
        if value == 0:
            assert (under, at) == ("", "")
            continue
        combination = named[str(under)]
        force = expected.standing("forces", combination)[member, 0]
        forces = np.array([force])
        if combination.crossing:
            position, way = at.split()
            passage = next(p for p in expected.passages_of(combination) if p.direction == way)
            here = np.abs(passage.events - float(position) * metre) <= 1e-9
            states = np.hstack([part[:, here] for part in (passage.before, passage.at, passage.after)])
            moving = expected.moving("forces", passage)[member] @ states
            forces = force + combination.crossing_factor * moving
        else:
            assert at == ""
        scale = expected.scales.max()
        assert np.abs(sign * forces - float(value) * unit).min() <= SOUND * scale


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("table", "kind"), [("reactions", "reactions"), ("deflections", "movements")])
def test_reactions_and_deflections_are_told_in_their_units_joint_by_joint(
    name: str, table: str, kind: str
) -> None:
    document, expected, tables = worked_out(name)
    truss, rows = document.study.truss, tables[table]
    held = [(truss.joint_names[s.joint], label) for s in truss.supports for label in s.labels]
    axes = [(joint, axis) for joint in truss.joint_names for axis in "xyz"[: truss.dimension]]
    assert [(r["joint"], r["direction"]) for r in rows] == (held if kind == "reactions" else axes)
    ends = np.array([expected.extremes(kind, expected.combinations[c]) for c in expected.asked])
    unit = (FORCE if kind == "reactions" else SMALL)[document.units.name]
    near(column(rows, "smallest"), ends[:, 0].min(axis=0) / unit)
    near(column(rows, "largest"), ends[:, 1].max(axis=0) / unit)
    asked = {expected.combinations[c].name for c in expected.asked}
    assert {r["largest_in"] for r in rows} | {r["smallest_in"] for r in rows} <= asked
    assert all(str(r["largest_at"]).split()[1:] in ([], [WAYS[0]], [WAYS[1]]) for r in rows)
