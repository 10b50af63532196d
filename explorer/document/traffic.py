"""Crossings and combinations of a study."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any, cast

from explorer.document.attributes import LATER, attributes_of
from explorer.document.loads import note_reserved
from explorer.document.names import named_tables
from explorer.document.trains import Shelf
from explorer.document.values import Values, join, one_of, show
from solver.cases import LoadCase
from solver.combining import Combination
from solver.combining.combination import Purpose
from solver.crossings import Crossing, Direction

PURPOSES = ("strength", "service", "nothing")
WAYS: Mapping[str, tuple[Direction, ...]] = {
    "forward": ("forward",),
    "backward": ("backward",),
    "both": ("forward", "backward"),
}


def read_crossings(
    values: Values,
    raw: object,
    trains: Shelf,
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
    known: tuple[Shelf, Collection[str]],
) -> Crossing | None:
    trains, chords = known
    train_known = values.named(read["train"], join(path, "train"), "train", trains)
    chord_known = values.named(read["chord"], join(path, "chord"), "chord", chords)
    ways = values.choice(read["directions"], join(path, "directions"), tuple(WAYS))
    named = trains[read["train"]] if train_known else None
    numbers = [read[key] for key in ("factor", "impact", "counts", "lane_impact")]
    if named is None or not chord_known or ways is None or None in numbers:
        return None
    factor, impact, counts, lane_impact = (float(number) for number in numbers)
    return Crossing(
        name, named, read["chord"], WAYS[ways], factor, impact, counts, lane_impact, called=read["train"]
    )


def read_combinations(
    values: Values, raw: object, cases: Collection[str], crossings: Mapping[str, Crossing | None]
) -> tuple[Combination, ...]:
    """Read combinations in the file's order; faults of single factors leave them out."""
    if raw is None:
        return ()
    if isinstance(raw, dict) and not raw:
        values.faults.add("combinations", "an empty table", "add a combination or leave it out")
    combinations = []
    for name, path, table in named_tables(values, raw, "combinations"):
        if not isinstance(table, dict) or not set(table) - set(attributes_of("combinations")):
            empty = isinstance(table, dict)
            what = "an empty table" if empty else f"{show(table)} where a table belongs"
            values.faults.add(path, what, "write factors by name of case or crossing")
            continue
        combinations.append(_combination(values, name, path, table, (cases, crossings)))
    return tuple(combinations)


def _combination(
    values: Values,
    name: str,
    path: str,
    table: dict[str, Any],
    known: tuple[Collection[str], Mapping[str, Crossing | None]],
) -> Combination:
    cases, crossings = known
    purpose = _purpose(values, table, path)
    standing: dict[str, float] = {}
    lanes: dict[str, float] = {}
    travelling: dict[str, float] = {}
    for key, raw in table.items():
        here = join(path, key)
        if key in attributes_of("combinations"):
            continue
        if key in LATER["combinations"]:
            values.faults.add(here, f"not supported in this version: {key}", "leave it out")
            continue
        if key not in cases and key not in crossings:
            names = [*cases, *crossings]
            values.faults.add(here, f"there is no case or crossing {show(key)}", one_of(key, names))
        factor = values.number(raw, here)
        crossing = crossings.get(key)
        # A factor that could not be read is told; a crossing counts as one of those that travel all the same.
        size = 1.0 if factor is None else float(factor)
        if key in cases:
            standing[key] = size
        elif crossing is not None:
            (travelling if crossing.travels else lanes)[key] = size
    if len(travelling) > 1:
        two = " and ".join(list(travelling)[:2])
        values.faults.add(path, f"two travelling crossings, {two}", "one train travels at a time")
    crossing_name, crossing_factor = next(iter(travelling.items()), (None, 1.0))
    return Combination(name, standing, crossing_name, crossing_factor, lanes, purpose)


def _purpose(values: Values, table: dict[str, Any], path: str) -> Purpose:
    """What a combination counts for; left out, strength and service both."""
    if "for" not in table:
        return "both"
    here = join(path, "for")
    written = values.choice(values.text(table["for"], here), here, PURPOSES)
    return cast(Purpose, written or "both")


def note_impacts(crossings: Mapping[str, Crossing | None]) -> tuple[str, ...]:
    """Return a notice for each impact above 1: it may have been meant in per cent, or as the whole factor."""
    notices = []
    for name, crossing in crossings.items():
        if crossing is None:
            continue
        for key, impact in (("impact", crossing.impact), ("lane_impact", crossing.lane_impact)):
            if impact > 1:
                told = f"crossing {name}: {key} = {impact:g} counts loads {1 + impact:g} times"
                notices.append(f"{told}; 0.33 would be 33 %")
    return tuple(notices)


def note_counts(
    values: Values, cases: Mapping[str, LoadCase], crossings: Mapping[str, Crossing | None]
) -> None:
    """Note a study whose load cases count nothing."""
    counts = [load.counts for load in (*cases.values(), *crossings.values()) if load is not None]
    if counts and not any(counts) and None not in crossings.values():
        values.faults.add("cases", "all counts are 0", "let at least one load case count")
