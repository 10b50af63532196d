"""The README's own study and notebook lines, run as they are printed."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[2]
README = (PROJECT / "README.md").read_text(encoding="utf-8")


def printed(kind: str) -> list[str]:
    return re.findall(rf"```{kind}\n(.*?)```", README, re.DOTALL)


def told(folder: Path, code: str) -> list[str]:
    """What the lines print for the README's study, saved under the name that they use."""
    (folder / "bridge.toml").write_text(printed("toml")[0], encoding="utf-8")
    line = [sys.executable, "-c", code]
    done = subprocess.run(
        line, cwd=folder, env={"PYTHONPATH": str(PROJECT)}, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    return done.stdout.split("\n")[:-1]


def test_the_lines_for_a_notebook_run_as_printed_on_the_study_as_printed(tmp_path: Path) -> None:
    names = [line.split(" ")[0] for line in told(tmp_path, printed("python")[0])]
    assert names == ["L0-L1", "L1-L2", "L0-U1", "U1-L2", "L1-U1"]


def test_the_train_of_the_readme_stands_on_the_chord_where_the_readme_puts_it(tmp_path: Path) -> None:
    call = re.search(r"`(give_reasons_at\(answers, \"deck_cart\", .*?\)\))`", README)
    assert call is not None
    lines = printed("python")[0].split("\nfor ")[0]
    code = f"{lines}\nfrom solver.placement import Standing\nfor r in {call[1]}: print(r.kind)"
    assert "not zero" in told(tmp_path, code)
