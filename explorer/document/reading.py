"""A study file, from bytes to a checked `Document`; every fault is told, all together."""

from __future__ import annotations

import sys
import tomllib
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from explorer.document.families import read_families
from explorer.document.faults import Faults
from explorer.document.joints import read_joints, read_supports
from explorer.document.limits import read_limits
from explorer.document.loads import Frame, read_cases, read_chords
from explorer.document.members import Bars, note_joints_without_members, read_groups, read_pieces
from explorer.document.section_tables import read_section_tables
from explorer.document.sections_and_materials import (
    Properties,
    Sizes,
    note_taken,
    note_thickness,
    read_materials,
    read_sections,
)
from explorer.document.standards import note_standard, read_standards
from explorer.document.traffic import (
    note_counts,
    note_impacts,
    read_combinations,
    read_crossings,
)
from explorer.document.trains import note_bundled, read_trains
from explorer.document.units import METRIC, SYSTEMS, UnitSystem
from explorer.document.values import MOST_DIGITS, Values
from solver.cases import LoadCase
from solver.chords import Chord, make_chord
from solver.combining import Combination
from solver.crossings import Crossing
from solver.rules import Rules
from solver.study import Study
from solver.truss import ExactVector, Piece, Support, Truss

MOST_BYTES = 8 * 10**6
TITLE = 200


@dataclass(frozen=True)
class Document:
    """A study as read: what it asks, the units it is written in, its file's name and text."""

    study: Study
    units: UnitSystem
    file: str
    text: str


def read_study(path: Path | str) -> Document:
    """Read a study file by its path. Raises FaultyStudy with every fault found."""
    faults = Faults(str(path))
    try:
        with Path(path).open("rb") as file:
            # One byte more than is taken on tells a file that is too large, also one without end.
            content = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        faults.add("", f"cannot be read: {reason}", "name a study file, or a bundled study")
    faults.stop_if_any()
    return read_text(content, str(path), Path(path).parent)


def read_text(content: bytes | str, name: str, folder: Path | None = None) -> Document:
    """Read a study from its text or bytes; `name` stands for the file in messages.

    folder: where tables of sections stand that it names; without one they cannot be read. Raises FaultyStudy
    with every fault found.
    """
    faults = Faults(name)
    text = _decode(content, faults)
    tree = _parse(text, faults)
    units = SYSTEMS.get(tree.get("units", "")) if isinstance(tree.get("units"), str) else None
    values = Values(faults, units or METRIC)
    if units is None and "units" in tree:
        values.choice(values.text(tree["units"], "units"), "units", tuple(SYSTEMS))
    study = _build(values, tree, folder)
    faults.stop_if_any()
    if study is None:
        raise AssertionError("a study without faults is always built")
    return Document(study, values.units, name, text)


def _decode(content: bytes | str, faults: Faults) -> str:
    if isinstance(content, str):
        content = content.encode("utf-8", "surrogatepass")
    if len(content) > MOST_BYTES:
        faults.add("", f"larger than {MOST_BYTES // 10**6} MB", "split the study")
        faults.stop_if_any()
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        faults.add("", f"byte {error.start + 1} is not UTF-8", "save the file as UTF-8")
        faults.stop_if_any()
        raise


def _parse(text: str, faults: Faults) -> dict[str, Any]:
    try:
        return tomllib.loads(text, parse_float=_decimal)
    except RecursionError:
        faults.add("", "brackets within brackets without end", "a study needs no more than a few levels")
    except tomllib.TOMLDecodeError as error:
        faults.add("", f"is not TOML: {error}", "mend that line")
    except ValueError:
        # Python itself takes no whole number of more decimals on, and says so in its own words.
        most = sys.get_int_max_str_digits()
        faults.add("", f"holds a whole number of more than {most} digits", f"write at most {MOST_DIGITS}")
    faults.stop_if_any()
    raise AssertionError("stopped above")


def _decimal(text: str) -> Decimal:
    """The decimals as written; an exponent beyond all bounds is as good as infinite."""
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal("Infinity")


@dataclass(frozen=True)
class _Frame:
    """The truss as far as it could be read; joints with a fault are known but None."""

    joints: dict[str, ExactVector | None]
    supports: list[Support]
    properties: Properties
    bars: Bars
    pieces: list[Piece]

    @property
    def dimension(self) -> int:
        """2 or 3, as the first joint that could be read."""
        return _dimension(self.joints)

    @property
    def place(self) -> dict[str, int]:
        """Index of each joint by name."""
        return {name: index for index, name in enumerate(self.joints)}

    def truss(self) -> Truss:
        """The truss itself, once there is no fault."""
        points = {name: point for name, point in self.joints.items() if point is not None}
        members, supports = tuple(self.bars.members), tuple(self.supports)
        return Truss(tuple(points), tuple(points.values()), members, supports, tuple(self.pieces))


@dataclass(frozen=True)
class _Actions:
    """Chords by their joints, and all that acts; chords and crossings with a fault are known but None."""

    chords: dict[str, tuple[str, ...] | None]
    cases: dict[str, LoadCase]
    crossings: dict[str, Crossing | None]
    combinations: tuple[Combination, ...]


def _build(values: Values, tree: dict[str, Any], folder: Path | None) -> Study | None:
    read = values.table(tree, "", "") or {}
    _check_title(values, read["title"])
    frame = _read_frame(values, tree, read["section_tables"], folder)
    actions = _read_actions(values, tree, frame)
    rules = _read_rules(values, tree, frame)
    if values.faults.found:
        return None
    truss = frame.truss()
    return Study(
        title=read["title"],
        truss=truss,
        chords={name: _chord(name, names, truss) for name, names in actions.chords.items()},
        cases=actions.cases,
        crossings={name: crossing for name, crossing in actions.crossings.items() if crossing is not None},
        combinations=actions.combinations,
        zero_limit=float(read["zero_limit"]),
        lean=float(read["lean"]),
        rules=rules,
        notices=(
            *note_bundled(tree.get("trains")),
            *note_impacts(actions.crossings),
            *note_taken(frame.properties),
            *note_thickness(frame.bars.groups, frame.properties),
            *note_standard(rules.standard, actions.combinations),
        ),
    )


def _read_frame(
    values: Values, tree: dict[str, Any], table_names: list[str] | None, folder: Path | None
) -> _Frame:
    joints = read_joints(values, tree.get("joints"))
    dimension = _dimension(joints)
    place = {name: index for index, name in enumerate(joints)}
    supports = read_supports(values, tree.get("supports"), place, dimension)
    tables = read_section_tables(values, table_names, folder)
    doubtful = tables is None or (table_names is None and "section_tables" in tree)
    properties = _read_properties(values, tree, Sizes(tables or (), doubtful, dimension == 3))
    bars = read_groups(values, tree.get("groups"), joints, properties)
    note_joints_without_members(values, joints, bars)
    pieces = read_pieces(values, tree.get("pieces"), joints, bars)
    return _Frame(joints, supports, properties, bars, pieces)


def _read_properties(values: Values, tree: dict[str, Any], sizes: Sizes) -> Properties:
    """Sections, materials and families; families name sections."""
    sections = read_sections(values, tree.get("sections"), sizes)
    properties = Properties(sections, read_materials(values, tree.get("materials")), sizes)
    return replace(properties, families=read_families(values, tree.get("families"), properties))


def _read_actions(values: Values, tree: dict[str, Any], truss: _Frame) -> _Actions:
    joints = truss.joints
    chords = read_chords(values, tree.get("chords"), joints)
    lengths = {name: _plan_length(names, joints) for name, names in chords.items()}
    doubtful = _doubtful(tree, joints, truss.supports)
    frame = Frame(joints, tuple(truss.supports), truss.bars, lengths, truss.dimension, doubtful)
    cases = read_cases(values, tree.get("cases"), frame)
    trains = read_trains(values, tree.get("trains"))
    case_names = tree["cases"] if isinstance(tree.get("cases"), dict) else {}
    crossings = read_crossings(values, tree.get("crossings"), trains, chords, case_names)
    combinations = read_combinations(values, tree.get("combinations"), case_names, crossings)
    note_counts(values, cases, crossings)
    if all(tree.get(table) in (None, {}) for table in ("cases", "crossings")):
        values.faults.add("", "neither a case nor a crossing", "add [cases.NAME] or [crossings.NAME]")
    return _Actions(chords, cases, crossings, combinations)


def _read_rules(values: Values, tree: dict[str, Any], frame: _Frame) -> Rules:
    standard, recommendations = read_standards(values, tree.get("standards"))
    limits = read_limits(values, tree.get("limits"), frame.place)
    families = {name: family for name, family in frame.properties.families.items() if family is not None}
    return Rules(standard, recommendations, limits, families)


def _dimension(joints: dict[str, ExactVector | None]) -> int:
    return len(next((point for point in joints.values() if point is not None), (0, 0)))


def _check_title(values: Values, title: str | None) -> None:
    if title is not None and not 1 <= len(title) <= TITLE:
        values.faults.add("title", f"{len(title)} characters", f"write 1 to {TITLE}")


def _doubtful(
    tree: dict[str, Any], joints: dict[str, ExactVector | None], supports: list[Support]
) -> frozenset[str]:
    """Joints whose support is written but could not be read."""
    written = tree.get("supports")
    names = list(joints)
    read = {names[support.joint] for support in supports}
    return frozenset(written if isinstance(written, dict) else ()) - read


def _plan_length(
    names: tuple[str, ...] | None, joints: dict[str, ExactVector | None]
) -> Fraction | float | None:
    """Plan length of a chord: exact in the plane, where it is a sum of differences."""
    if names is None:
        return None
    points = [point for point in (joints[name] for name in names) if point is not None]
    steps = [[b - a for a, b in zip(p[:-1], q[:-1], strict=True)] for p, q in pairwise(points)]
    if all(len(step) == 1 for step in steps):
        return sum((abs(step[0]) for step in steps), Fraction(0))
    return float(sum(np.hypot.reduce([float(part) for part in step]) for step in steps))


def _chord(name: str, names: tuple[str, ...] | None, truss: Truss) -> Chord:
    if names is None:
        raise AssertionError("a chord with a fault stops the reading")
    return make_chord(name, tuple(truss.joint_index(joint) for joint in names), truss)
