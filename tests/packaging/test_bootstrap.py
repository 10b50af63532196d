"""The first start's own pieces, without network."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from pathlib import Path

import pytest

from explorer import bootstrap, pip_wheel
from explorer.bootstrap import RUNTIME, TESTS, Environment

PROJECT = Path(__file__).resolve().parents[2]


def test_requirements_are_those_of_pyproject() -> None:
    assert [name.split(">")[0] for name in RUNTIME.requirements()] == ["numpy", "scipy"]
    assert {"pytest>=8.2", "numpy>=2.0"} <= set(TESTS.requirements())


def test_an_environment_is_ready_only_with_its_own_stamp(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap, "PROJECT", tmp_path)
    (tmp_path / "pyproject.toml").write_text('[project]\ndependencies = ["numpy"]\n', encoding="utf-8")
    environment = Environment("env", ())
    environment.folder.mkdir()
    assert not environment.is_ready()
    (environment.folder / bootstrap.STAMP).write_text(environment.stamp(), encoding="utf-8")
    assert environment.is_ready()
    (tmp_path / "pyproject.toml").write_text('[project]\ndependencies = ["scipy"]\n', encoding="utf-8")
    assert not environment.is_ready()


def test_ways_are_tried_in_turn_and_told_when_none_works(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(bootstrap, "PROJECT", tmp_path)
    (tmp_path / "pyproject.toml").write_text('[project]\ndependencies = ["numpy"]\n', encoding="utf-8")
    tried: list[str] = []
    for way in ("_with_its_own_pip", "_with_the_systems_pip", "_with_a_fetched_pip"):
        monkeypatch.setattr(bootstrap, way, lambda _environment, way=way: tried.append(way) or f"no {way}")
    with pytest.raises(SystemExit) as caught:
        bootstrap.ensure(Environment("env", ()))
    assert tried == ["_with_its_own_pip", "_with_the_systems_pip", "_with_a_fetched_pip"]
    assert all(f"no {way}" in str(caught.value) for way in tried)
    assert "needs the network" in str(caught.value)
    assert not (tmp_path / "env").exists()


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
