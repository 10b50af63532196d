"""Trains, crossings and combinations of a study."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from fractions import Fraction
from typing import Any

from explorer.document.attributes import LATER
from explorer.document.loads import note_reserved
from explorer.document.members import named_tables
from explorer.document.values import NONE_BUNDLED, Values, join, one_of, show
from solver.cases import LoadCase
from solver.combining import Combination
from solver.crossings import Crossing, Direction
from solver.trains import Axle, Train

WAYS: Mapping[str, tuple[Direction, ...]] = {
    "forward": ("forward",),
    "backward": ("backward",),
    "both": ("forward", "backward"),
}


def read_trains(values: Values, raw: object) -> dict[str, Train | None]:
    """Read trains by name; one with a fault is known but None."""
    trains: dict[str, Train | None] = {}
    for name, path, table in named_tables(values, raw, "trains"):
        read = values.table(table, path, "trains")
        trains[name] = None
        if read is None:
            continue
        later = set(table) & set(LATER["trains"])
        if read["axles"] is None or read["axles"] == []:
            if not later:
                values.faults.add(path, "a train with nothing in it", "add axles, as [[0, 10], [2.5, 15]]")
            continue
        axles = _axles(values, read["axles"], join(path, "axles"))
        if axles is not None:
            trains[name] = Train(name, axles)
    return trains


def _axles(values: Values, raw: object, path: str) -> tuple[Axle, ...] | None:
    if not isinstance(raw, list):
        values.faults.add(path, f"{show(raw)} where a list belongs", "write [[distance, load], ...]")
        return None
    axles = []
    for i, pair in enumerate(raw):
        here = f"{path}[{i}]"
        if not isinstance(pair, list) or len(pair) != 2:
            values.faults.add(here, f"{show(pair)} where an axle belongs", "write [distance, load]")
            continue
        distance = _distance(values, pair[0], f"{here}[0]")
        load = values.number(pair[1], f"{here}[1]", "positive", "force")
        if distance is not None and load is not None:
            axles.append(Axle(float(distance), float(load)))
    return tuple(axles) if len(axles) == len(raw) else None


def _distance(values: Values, raw: object, path: str) -> Fraction | None:
    return values.number(raw, path, "not negative", "length")


def read_crossings(
    values: Values,
    raw: object,
    trains: Mapping[str, Train | None],
    chords: Collection[str],
    cases: Collection[str],
) -> dict[str, Crossing | None]:
    """Read crossings by name; one with a fault is known but None."""
    crossings: dict[str, Crossing | None] = {}
    for name, path, table in named_tables(values, raw, "crossings"):
        note_reserved(values, name, path)
        if name in cases:
            values.faults.add(path, f"a case is called {name} too", "cases and crossings share their names")
        read = values.table(table, path, "crossings")
        crossings[name] = None if read is None else _crossing(values, name, path, read, (trains, chords))
    return crossings


def _crossing(
    values: Values,
    name: str,
    path: str,
    read: dict[str, Any],
    known: tuple[Mapping[str, Train | None], Collection[str]],
) -> Crossing | None:
    trains, chords = known
    train_known = values.named(read["train"], join(path, "train"), "train", trains, NONE_BUNDLED)
    chord_known = values.named(read["chord"], join(path, "chord"), "chord", chords)
    ways = values.choice(read["directions"], join(path, "directions"), tuple(WAYS))
    train = trains[read["train"]] if train_known else None
    numbers = [read[key] for key in ("factor", "impact", "counts")]
    if train is None or not chord_known or ways is None or None in numbers:
        return None
    factor, impact, counts = (float(number) for number in numbers)
    return Crossing(name, train, read["chord"], WAYS[ways], factor, impact, counts)


def read_combinations(
    values: Values, raw: object, cases: Collection[str], crossings: Collection[str]
) -> tuple[Combination, ...]:
    """Read combinations in the file's order; faults of single factors leave them out."""
    if raw is None:
        return ()
    if isinstance(raw, dict) and not raw:
        values.faults.add("combinations", "an empty table", "add a combination or leave it out")
    combinations = []
    for name, path, table in named_tables(values, raw, "combinations"):
        if not isinstance(table, dict) or not table:
            what = "an empty table" if table == {} else f"{show(table)} where a table belongs"
            values.faults.add(path, what, "write factors by name of case or crossing")
            continue
        combinations.append(_combination(values, name, path, table, (cases, crossings)))
    return tuple(combinations)


def _combination(
    values: Values,
    name: str,
    path: str,
    table: dict[str, Any],
    known: tuple[Collection[str], Collection[str]],
) -> Combination:
    cases, crossings = known
    standing: dict[str, float] = {}
    travelling = [key for key in table if key in crossings]
    crossing_factor = 1.0
    for key, raw in table.items():
        here = join(path, key)
        if key in LATER["combinations"]:
            values.faults.add(here, f"not supported in this version: {key}", "leave it out")
            continue
        if key not in cases and key not in crossings:
            names = [*cases, *crossings]
            values.faults.add(here, f"there is no case or crossing {show(key)}", one_of(key, names))
        factor = values.number(raw, here)
        if factor is not None and key in crossings:
            crossing_factor = float(factor)
        elif factor is not None:
            standing[key] = float(factor)
    if len(travelling) > 1:
        two = " and ".join(travelling[:2])
        values.faults.add(path, f"two travelling crossings, {two}", "one train travels at a time")
    factors = {key: factor for key, factor in standing.items() if key in cases}
    return Combination(name, factors, next(iter(travelling), None), crossing_factor)


def note_counts(
    values: Values, cases: Mapping[str, LoadCase], crossings: Mapping[str, Crossing | None]
) -> None:
    """Note a study whose load cases count nothing."""
    counts = [load.counts for load in (*cases.values(), *crossings.values()) if load is not None]
    if counts and not any(counts) and None not in crossings.values():
        values.faults.add("cases", "all counts are 0", "let at least one load case count")
