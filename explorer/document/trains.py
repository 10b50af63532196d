"""Trains of a study and those that come with Stillbar: axles, strips, lanes, second trains, sets."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cache
from math import inf, isinf
from typing import Any

from explorer.bundled import list_bundled
from explorer.document.attributes import attributes_of
from explorer.document.faults import Faults
from explorer.document.names import named_tables
from explorer.document.units import SYSTEMS
from explorer.document.values import Values, join, show
from solver.trains import Axle, Lane, Second, Strip, Train

Trains = tuple[Train, ...]
Shelf = Mapping[str, Trains | None]
"""Trains by name: one, or those of a set; None where one is written but has a fault."""

RELIEVING = ("counted", "left out")


@dataclass(frozen=True)
class _Known:
    """What trains may name: trains by name, which of them are sets, and which have a second of their own."""

    shelf: Shelf
    sets: frozenset[str]
    followed: frozenset[str]


def read_trains(values: Values, raw: object) -> dict[str, Trains | None]:
    """Read a study's trains by name, beside them the bundled ones; a name in both is the study's."""
    tables = {name: (path, table) for name, path, table in named_tables(values, raw, "trains")}
    return {**bundled_trains(), **_read_tables(values, tables, bundled_trains())}


@cache
def bundled_trains() -> Mapping[str, Trains]:
    """All bundled trains by name, in SI units. Raises FaultyStudy if one of our own files has a fault."""
    known: dict[str, Trains] = {}
    waiting = []
    for item in list_bundled("train"):
        tree = tomllib.loads(item.text(), parse_float=Decimal)
        waiting.append((item, tree))
    # Sets and second trains name others: what stands alone comes first.
    for item, tree in sorted(waiting, key=lambda pair: "one_of" in pair[1]["train"]):
        values = Values(Faults(str(item.path)), SYSTEMS[tree["units"]])
        read = _read_tables(values, {item.name: ("train", tree["train"])}, known)[item.name]
        values.faults.stop_if_any()
        if read is not None:
            known[item.name] = read
    return known


def _read_tables(
    values: Values, tables: Mapping[str, tuple[str, object]], others: Shelf
) -> dict[str, Trains | None]:
    """Read trains that stand alone, add their second trains, then gather sets; one with a fault is None."""
    read = {name: (path, values.table(table, path, "trains")) for name, (path, table) in tables.items()}
    known = _name_all({name: keys for name, (_, keys) in read.items()}, others)
    alone: dict[str, Train | None] = {}
    for name, (path, keys) in read.items():
        if name not in known.sets:
            alone[name] = None if keys is None else _single(values, name, path, keys)
    known = _shelve(known, {name: (train,) if train else None for name, train in alone.items()})
    found: dict[str, Trains | None] = {}
    for name, train in alone.items():
        path, keys = read[name]
        found[name] = None if keys is None else _followed(values, path, keys["second"], (train, known))
    # A set takes its trains with their seconds.
    known = _shelve(known, found)
    for name, (path, keys) in read.items():
        if keys is not None and name in known.sets:
            found[name] = _set(values, path, keys, known)
    return found


def _name_all(read: Mapping[str, dict[str, Any] | None], others: Shelf) -> _Known:
    """Tell sets and trains with a second from the others, before any is read; what is read hides `others`."""
    sets = {name for name, trains in others.items() if name not in read and trains and len(trains) > 1}
    sets |= {name for name, keys in read.items() if keys and keys["one_of"] is not None}
    followed = {name for name, keys in read.items() if keys and keys["second"] is not None}
    return _Known({**others, **dict.fromkeys(read)}, frozenset(sets), frozenset(followed))


def _shelve(known: _Known, trains: Mapping[str, Trains | None]) -> _Known:
    return replace(known, shelf={**known.shelf, **trains})


def _single(values: Values, name: str, path: str, keys: dict[str, Any]) -> Train | None:
    """Read a train without its second; None after a fault."""
    before = len(values.faults.found)
    axles = _axles(values, keys["axles"], join(path, "axles"))
    strips = _strips(values, keys["strips"], join(path, "strips"))
    clear = _clear(values, keys["lane_clear"], join(path, "lane_clear"))
    relieving = values.choice(keys["relieving"], join(path, "relieving"), RELIEVING)
    lane = None if keys["lane"] is None else Lane(float(keys["lane"]), clear)
    if len(values.faults.found) > before:
        return None
    if not axles and not strips and lane is None:
        if not _has_fault_at(values, path):
            values.faults.add(path, "a train with nothing in it", "add axles, as [[0, 10], [2.5, 15]]")
        return None
    if clear is not None and lane is None:
        if not _has_fault_at(values, join(path, "lane")):
            values.faults.add(join(path, "lane_clear"), "there is no lane", "add lane, or leave it out")
        return None
    if clear is not None and not axles and not strips:
        values.faults.add(join(path, "lane_clear"), "nothing travels", "add axles or strips, or leave it out")
        return None
    return Train(name, axles, strips, lane, relieving == "left out")


def _has_fault_at(values: Values, path: str) -> bool:
    """Whether a fault is told at a key or below it, so that what follows from it need not be."""
    return any(fault.key == path or fault.key.startswith(f"{path}.") for fault in values.faults.found)


def _axles(values: Values, raw: object, path: str) -> tuple[Axle, ...]:
    axles = []
    for i, pair in enumerate(_list(values, raw, path, "write [[distance, load], ...]")):
        here = f"{path}[{i}]"
        if not isinstance(pair, list) or len(pair) != 2:
            values.faults.add(here, f"{show(pair)} where an axle belongs", "write [distance, load]")
            continue
        distance = values.number(pair[0], f"{here}[0]", "not negative", "length")
        load = values.number(pair[1], f"{here}[1]", "positive", "force")
        if distance is not None and load is not None:
            axles.append(Axle(float(distance), float(load)))
    return tuple(axles)


def _strips(values: Values, raw: object, path: str) -> tuple[Strip, ...]:
    strips = []
    for i, table in enumerate(_list(values, raw, path, "write [{ from = 4, to = 30, load = 8 }]")):
        here = f"{path}[{i}]"
        keys = values.table(table, here, "strips")
        if keys is None or keys["from"] is None or keys["load"] is None:
            continue
        if "to" in table and keys["to"] is None:
            continue
        start, end = keys["from"], keys["to"]
        if end is not None and end <= start:
            wrong = "the ends are swapped" if end < start else "the ends are equal"
            values.faults.add(join(here, "to"), wrong, "write it above from, or leave it out: endless")
            continue
        strips.append(Strip(float(start), inf if end is None else float(end), float(keys["load"])))
    return tuple(strips)


def _list(values: Values, raw: object, path: str, right: str) -> list[Any]:
    if raw is None:
        return []
    if not isinstance(raw, list):
        values.faults.add(path, f"{show(raw)} where a list belongs", right)
        return []
    return raw


def _clear(values: Values, raw: object, path: str) -> tuple[float, float] | None:
    if raw is None:
        return None
    ends = values.vector(raw, path, 2, "length") if isinstance(raw, list) and len(raw) == 2 else None
    if ends is None:
        if not isinstance(raw, list) or len(raw) != 2:
            values.faults.add(path, f"{show(raw)} where a stretch belongs", "write [from, to]")
        return None
    if ends[1] <= ends[0]:
        wrong = "the ends are swapped" if ends[1] < ends[0] else "the ends are equal"
        values.faults.add(path, wrong, "write [from, to], negative ahead of the front")
        return None
    return float(ends[0]), float(ends[1])


def _followed(values: Values, path: str, raw: object, told: tuple[Train | None, _Known]) -> Trains | None:
    """Add the second train, which is the same one where no other is named."""
    train = told[0]
    if raw is None:
        return None if train is None else (train,)
    here = join(path, "second")
    keys = values.table(raw, here, "second")
    if keys is None or keys["gap"] is None:
        return None
    behind = train if keys["train"] is None else _behind(values, join(here, "train"), keys["train"], told)
    if train is None or behind is None:
        return None
    return _second_of(values, here, (train, behind), keys["gap"])


def _behind(values: Values, path: str, name: str, told: tuple[Train | None, _Known]) -> Train | None:
    """The train that a second names: a single one, with no lane and no second of its own."""
    train, known = told
    if not values.named(name, path, "train", known.shelf):
        return None
    if name in known.sets:
        values.faults.add(path, f"{name} is a set of trains", "write the name of one of them")
        return None
    named = known.shelf[name]
    if named is None or named[0] is train:
        return train if named else None
    behind = named[0]
    if behind.lane or behind.second or name in known.followed:
        values.faults.add(path, f"{name} has a lane or a second of its own", "name another")
        return None
    return behind


def _second_of(values: Values, path: str, pair: tuple[Train, Train], gap: Fraction) -> Trains | None:
    train, behind = pair
    if any(isinf(strip.end) for strip in train.strips):
        values.faults.add(path, "behind an endless strip there is no room", "let the strip end")
    elif train.lane and train.lane.clear:
        values.faults.add(path, "beside a lane with a clear stretch", "leave one of them out")
    elif not train.travels:
        values.faults.add(path, "a train of nothing but a lane does not travel", "give it axles or strips")
    else:
        return (replace(train, second=Second(behind.axles, behind.strips, float(gap))),)
    return None


def _set(values: Values, path: str, keys: dict[str, Any], known: _Known) -> Trains | None:
    """Read a set of trains of which the worst is taken."""
    here = join(path, "one_of")
    defaults = {key: attribute.default for key, attribute in attributes_of("trains").items()}
    others = [key for key, value in keys.items() if key != "one_of" and value != defaults[key]]
    if others:
        values.faults.add(
            join(path, others[0]), "a set has nothing of its own", "give it to the trains it names"
        )
        return None
    if not keys["one_of"]:
        values.faults.add(here, "an empty set", "name the trains")
        return None
    twice = [name for i, name in enumerate(keys["one_of"]) if name in keys["one_of"][:i]]
    if twice:
        values.faults.add(here, f"{twice[0]} is named twice", "name each train once")
        return None
    found = [_of_set(values, f"{here}[{i}]", name, known) for i, name in enumerate(keys["one_of"])]
    return None if None in found else tuple(train for train in found if train is not None)


def _of_set(values: Values, path: str, name: str, known: _Known) -> Train | None:
    """One train that a set names; None after a fault, its own or that of the train."""
    if not values.named(name, path, "train", known.shelf):
        return None
    if name in known.sets:
        values.faults.add(path, f"{name} is a set itself", "name its trains")
        return None
    named = known.shelf[name]
    if named is None:
        return None
    if not named[0].travels:
        right = "a lane alone goes into combinations by itself"
        values.faults.add(path, f"{name} is nothing but a lane", right)
        return None
    return named[0]


def note_bundled(raw: object) -> tuple[str, ...]:
    """Return a notice for each train of a study that bears a bundled one's name: the study's own is taken."""
    names = [name for name in raw if name in bundled_trains()] if isinstance(raw, dict) else []
    return tuple(f"the study's own train {name} is taken, not the bundled one" for name in names)
