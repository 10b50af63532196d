"""The rules of the house: arrows point down, files stay small, imports stay few, the top level stays bare."""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

PROJECT = Path(__file__).resolve().parents[2]
FLOORS = {
    0: ["solver.errors", "solver.tolerances", "solver.exact", "solver.progress"],
    1: ["solver.polynomials", "solver.influence", "solver.profiles"],
    2: ["solver.truss", "solver.trains", "solver.sums"],
    3: ["solver.chords", "solver.statics", "solver.exact_algebra", "solver.lengths", "solver.resistance"],
    4: ["solver.cases", "solver.crossings", "solver.rules"],
    5: ["solver.combining", "solver.travel"],
    6: ["solver.study", "solver.factor", "solver.adverse"],
    7: ["solver.stiffness", "solver.resisting"],
    8: ["solver.response", "solver.propping"],
    9: ["solver.redundancy", "solver.placement"],
    10: ["solver.demand", "solver.arranged", "solver.sensitivity", "solver.state"],
    11: ["solver.sweep"],
    12: ["solver.peaks", "solver.peak_states", "solver.reasons"],
    13: ["solver.equilibrium", "solver.concurrent", "solver.removal", "solver.passage"],
    14: ["solver.virtual_work", "solver.by_hand", "solver.leaving_out", "solver.losses"],
    15: ["solver.verdicts", "solver.checks"],
    16: ["solver.notices", "solver.sizing"],
    17: ["solver.answers"],
    18: ["explorer.bundled"],
    19: ["explorer.sections"],
    20: ["explorer.document"],
    21: ["explorer.tasks", "explorer.wording", "explorer.progress_line", "explorer.markup", "explorer.store"],
    22: ["explorer.tables", "explorer.drawing"],
    23: ["explorer.pages", "explorer.server"],
    24: ["explorer.app"],
    25: ["explorer.command", "explorer.pip_wheel"],
    26: ["explorer.bootstrap"],
    27: ["explorer.__main__"],
}
FLOOR = {room: floor for floor, rooms in FLOORS.items() for room in rooms}
FILES = sorted(path for folder in ("solver", "explorer") for path in (PROJECT / folder).rglob("*.py"))
ALLOWED = {"solver": {"numpy", "scipy", "solver"}, "explorer": {"numpy", "solver", "explorer"}}
SERVED = {"dash", "dash_ag_grid", "flask", "waitress"}
"""Only what makes pages and serves them knows the web."""

SERVING = (
    "explorer/app.py",
    "explorer/server.py",
    "explorer/pages/chosen.py",
    "explorer/pages/handing.py",
    "explorer/pages/opening.py",
    "explorer/pages/shell.py",
    "explorer/pages/explore/layout.py",
    "explorer/pages/explore/callbacks.py",
    "explorer/pages/learn/layout.py",
    "explorer/pages/learn/callbacks.py",
    "explorer/pages/sheet/serving.py",
    "explorer/pages/lighter/layout.py",
    "explorer/pages/lighter/callbacks.py",
    "explorer/pages/whole/layout.py",
    "explorer/pages/whole/callbacks.py",
)
STANDARD_LIBRARY_ONLY = {"explorer/bootstrap.py", "explorer/pip_wheel.py", "explorer/__init__.py"}
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "explorer", "solver", "tests", "data"}
TOO_VAGUE = {"utils", "util", "helpers", "helper", "common", "manager", "misc"}


def name_of(path: Path) -> str:
    parts = path.relative_to(PROJECT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def room_of(module: str) -> str | None:
    parts = module.split(".")
    return next((name for n in (3, 2) if (name := ".".join(parts[:n])) in FLOOR), None)


def imports(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def short(path: Path) -> str:
    return str(path.relative_to(PROJECT))


@pytest.mark.parametrize("path", FILES, ids=short)
def test_a_room_imports_only_from_lower_floors(path: Path) -> None:
    module = name_of(path)
    room = room_of(module)
    if module in ("solver", "explorer"):
        return
    assert room, f"{module} has no floor: give it one in FLOORS"
    for target in imports(path):
        other = room_of(target)
        if other and other != room:
            assert FLOOR[other] < FLOOR[room], f"{module} (floor {FLOOR[room]}) imports {target}"


@pytest.mark.parametrize("path", FILES, ids=short)
def test_only_allowed_packages_are_imported(path: Path) -> None:
    allowed = ALLOWED[path.relative_to(PROJECT).parts[0]]
    if short(path) in STANDARD_LIBRARY_ONLY:
        allowed = {"explorer"}
    if short(path) in SERVING:
        allowed = allowed | SERVED
    foreign = {target.split(".")[0] for target in imports(path)} - set(sys.stdlib_module_names)
    assert foreign <= allowed


@pytest.mark.parametrize("path", FILES, ids=short)
def test_files_and_functions_stay_small(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 400
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.FunctionDef):
            continue
        body = node.body[1:] if ast.get_docstring(node) else node.body
        lines = body[-1].end_lineno - body[0].lineno + 1 if body else 0  # type: ignore[operator]
        assert lines <= 40, f"{node.name} has {lines} lines"
        given = [a for a in (*node.args.posonlyargs, *node.args.args) if a.arg not in ("self", "cls")]
        assert len(given) <= 5, f"{node.name} takes {len(given)} arguments"


@pytest.mark.parametrize(
    "path", sorted(path for path in (PROJECT / "explorer" / "assets").rglob("*") if path.is_file()), ids=short
)
def test_files_of_the_browser_stay_small(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


def test_every_room_of_the_map_exists() -> None:
    for room in FLOOR:
        place = PROJECT / room.replace(".", "/")
        assert place.with_suffix(".py").is_file() or (place / "__init__.py").is_file(), room


def test_file_names_say_what_is_inside() -> None:
    assert not {path.stem for path in FILES} & TOO_VAGUE


def test_the_top_level_holds_what_it_should_and_nothing_else() -> None:
    if not (PROJECT / ".git").exists():
        pytest.skip("not a git checkout: what belongs to the project cannot be told from what lies about")
    listed = subprocess.run(["git", "ls-files"], cwd=PROJECT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.fail(f"git could not list the files: {listed.stderr}")
    names = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {name for name in names if not name.startswith(".")} == TOP_LEVEL
