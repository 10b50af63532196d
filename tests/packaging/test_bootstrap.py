"""The first start's own pieces, without network."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

import pytest

from explorer import bootstrap, pip_wheel
from explorer.bootstrap import RUNTIME, TESTS, Environment, SetUpError

PROJECT = Path(__file__).resolve().parents[2]


def test_requirements_are_those_of_pyproject() -> None:
    assert [name.split(">")[0] for name in RUNTIME.requirements()] == [
        "dash",
        "dash-ag-grid",
        "flask",
        "numpy",
        "scipy",
        "waitress",
    ]
    assert {"pytest>=8.2", "numpy>=2.0"} <= set(TESTS.requirements())


@pytest.fixture
def environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Environment:
    """An environment of a small project, made up to the point where it gets its stamp."""
    monkeypatch.setattr(bootstrap, "PROJECT", tmp_path)
    want(tmp_path, "numpy")
    made = Environment("env", ())
    made.python.parent.mkdir(parents=True)
    made.python.touch()
    return made


def want(project: Path, package: str) -> None:
    text = f'[project]\ndependencies = ["{package}"]\n'
    (project / "pyproject.toml").write_text(text, encoding="utf-8")


def put_stamp(environment: Environment) -> None:
    (environment.folder / bootstrap.STAMP).write_text(environment.stamp(), encoding="utf-8")


def test_an_environment_without_a_stamp_was_broken_off(environment: Environment) -> None:
    assert not environment.is_ready()
    put_stamp(environment)
    assert environment.is_ready()


def test_other_requirements_ask_for_another_environment(environment: Environment, tmp_path: Path) -> None:
    put_stamp(environment)
    want(tmp_path, "scipy")
    assert not environment.is_ready()


def test_another_patch_of_the_same_python_shares_the_environment(
    environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_stamp(environment)
    monkeypatch.setattr(sys, "version", "another patch")
    monkeypatch.setattr(sys, "executable", "/elsewhere/python3")
    assert environment.is_ready()
    monkeypatch.setattr(sys.implementation, "cache_tag", "cpython-399")
    assert not environment.is_ready()


def test_an_environment_whose_python_has_gone_is_made_anew(environment: Environment) -> None:
    put_stamp(environment)
    environment.python.unlink()
    assert not environment.is_ready()


WAYS = ("_own_pip", "_pip_of_this_python", "_fetched_pip")


def without_pip(monkeypatch: pytest.MonkeyPatch, ways: Sequence[str]) -> list[str]:
    """Make the ways fail; returns the list of those that are then tried."""
    tried: list[str] = []

    def fail(way: str) -> NoReturn:
        tried.append(way)
        raise SetUpError(f"no {way}")

    for way in ways:
        monkeypatch.setattr(bootstrap, way, lambda _environment, way=way: fail(way))
    return tried


def test_every_way_to_a_pip_is_tried_in_turn_and_told_when_none_works(
    environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried = without_pip(monkeypatch, WAYS)
    with pytest.raises(SetUpError) as caught:
        bootstrap.ensure(environment)
    assert tuple(tried) == WAYS
    assert all(f"no {way}" in str(caught.value) for way in WAYS)
    assert "Connect to the network" in str(caught.value)
    assert not environment.is_ready()


def test_packages_are_asked_for_once_and_a_failure_leaves_no_stamp(
    environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    without_pip(monkeypatch, WAYS[:2])
    words = "import sys; sys.exit('no match for ' + sys.argv[-1])"
    monkeypatch.setattr(bootstrap, "_fetched_pip", lambda _environment: [sys.executable, "-c", words])
    with pytest.raises(SetUpError, match=r"no match for numpy.*needs the network"):
        bootstrap.ensure(environment)
    assert not environment.is_ready()


def test_a_pip_that_works_makes_the_environment_ready(
    environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap, "_own_pip", lambda _environment: [sys.executable, "-c", ""])
    bootstrap.ensure(environment)
    assert environment.is_ready()


def test_a_folder_that_cannot_be_written_is_told_with_what_to_do(
    environment: Environment, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_environment: Environment) -> NoReturn:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(bootstrap, "ensure", refuse)
    with pytest.raises(SystemExit, match=r"Permission denied\. Copy the project"):
        bootstrap.enter(environment, "explorer", [])


def test_an_installed_package_and_an_entered_environment_go_straight_on(
    environment: Environment, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(bootstrap, "ensure", lambda _environment: pytest.fail("nothing is to be made"))
    monkeypatch.setattr(sys, "prefix", str(environment.folder))
    bootstrap.enter(environment, "explorer", [])
    monkeypatch.setattr(sys, "prefix", str(TESTS.folder))
    bootstrap.enter(environment, "explorer", [])
    monkeypatch.setattr(sys, "prefix", str(tmp_path / "elsewhere"))
    (tmp_path / "pyproject.toml").unlink()
    bootstrap.enter(environment, "explorer", [])


HTML = b"""<html><body>
<a href="../files/pip-9.0.3-py2.py3-none-any.whl#sha256=aa">old</a>
<a href="/files/pip-24.0-py3-none-any.whl#sha256=bb" data-requires-python="&gt;=3.7">24.0</a>
<a href="/files/pip-24.10-py3-none-any.whl#sha256=cc">24.10</a>
<a href="/files/pip-25.0b1-py3-none-any.whl#sha256=dd">trial</a>
<a href="/files/pip-24.9.tar.gz#sha256=ee">source</a>
</body></html>"""
JSON = b'{"files": [{"url": "https://host.example/pip-23.1-py3-none-any.whl", "hashes": {"sha256": "ff"}}]}'


def test_the_newest_released_wheel_is_found_on_either_kind_of_page() -> None:
    found = pip_wheel.links(HTML, "https://host.example/simple/pip/")
    assert pip_wheel.newest(found) == ("https://host.example/files/pip-24.10-py3-none-any.whl", "cc")
    assert pip_wheel.newest(pip_wheel.links(JSON, "https://host.example/simple/pip/"))[1] == "ff"
    with pytest.raises(ValueError, match="no pip"):
        pip_wheel.newest([])


def test_the_index_is_that_of_pips_own_settings(tmp_path: Path) -> None:
    assert pip_wheel.index_url({"PIP_INDEX_URL": "https://a.example/s"}) == "https://a.example/s"
    settings = tmp_path / "pip.conf"
    settings.write_text("[global]\nindex-url = https://b.example/simple\n", encoding="utf-8")
    assert pip_wheel.index_url({"PIP_CONFIG_FILE": str(settings)}) == "https://b.example/simple"


def test_bytes_that_the_index_does_not_promise_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content = b"a wheel"
    digest = hashlib.sha256(content).hexdigest()
    for promised, fine in ((digest, True), ("0" * 64, False)):
        page = f'<a href="pip-24.0-py3-none-any.whl#sha256={promised}">pip</a>'.encode()
        monkeypatch.setattr(
            pip_wheel, "_get", lambda url, page=page: page if url.endswith("/pip/") else content
        )
        if fine:
            assert pip_wheel.fetch(tmp_path).read_bytes() == content
        else:
            with pytest.raises(ValueError, match="not what the index promises"):
                pip_wheel.fetch(tmp_path)


@pytest.mark.parametrize("package", ["explorer", "tests"])
def test_an_old_python_is_told_so_before_anything_else(package: str) -> None:
    line = (
        "import sys, runpy; sys.version_info = (3, 9, 1, 'final', 0);"
        f"runpy.run_module({package!r}, run_name='__main__')"
    )
    done = subprocess.run(
        [sys.executable, "-c", line], cwd=PROJECT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    assert done.stderr.strip() == "Stillbar needs Python 3.11 or newer; this is Python 3.9"
