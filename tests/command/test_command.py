"""The command line as a user meets it: exit statuses, tables all or none, no traceback."""

from __future__ import annotations

import csv
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from explorer import command
from explorer.bundled import DEFAULT_STUDY, find_bundled, list_bundled
from explorer.tables.whole import MAKERS
from solver.errors import Cancelled, InputError
from tests.document.example import GOOD, edited

PROJECT = Path(__file__).resolve().parents[2]
TABLES = {
    "members", "forces", "totals", "zero_shares", "influence", "reactions", "deflections", "concurrent",
    "inspection", "reasons", "waking", "removals", "verdicts", "checks", "candidates",
}  # fmt: skip


def run(*arguments: str, cwd: Path = PROJECT) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(PROJECT)}
    line = [
        sys.executable,
        "-c",
        "import sys; from explorer.command import main; sys.exit(main())",
        *arguments,
    ]
    return subprocess.run(line, cwd=cwd, env=environment, capture_output=True, text=True, check=False)


def study(folder: Path, text: str = GOOD) -> str:
    path = folder / "teal.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def rows(folder: Path, table: str) -> list[dict[str, str]]:
    with (folder / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_a_run_writes_every_table_and_the_summary(tmp_path: Path) -> None:
    done = run("run", study(tmp_path), "--out", str(tmp_path / "deep" / "out"))
    assert (done.returncode, done.stderr) == (0, "")
    written = {path.name for path in (tmp_path / "deep" / "out").iterdir()}
    assert written == {f"{name}.csv" for name in TABLES} | {"summary.json"}
    # candidates are made apart, for they take longer
    assert len(MAKERS) == len(TABLES) - 1
    assert "local codes and a licensed engineer decide" in done.stdout.lower()
    assert {path.name for path in tmp_path.iterdir()} == {"teal.toml", "deep"}


def test_the_tables_of_the_example_are_those_of_the_pencil(tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("run", study(tmp_path), "--out", str(out)).returncode == 0
    hanger = rows(out, "members")[4]
    assert (hanger["member"], hanger["group"], hanger["length"]) == ("L1-U1", "rest", "3")
    # own weight of the bottom chord's halves and of the hanger's, deck 3 x 4, and the cart at its worst:
    # 15 over L1 and 10 at 1.5 from L2, halved, with impact
    weight = 77e-6 * 1500 * (4 / 2 + 4 / 2 + 3 / 2)
    cart = 0.5 * 1.3 * (15 + 10 * 1.5 / 4)
    assert float(hanger["peak_tension"]) == pytest.approx(1.35 * (weight + 12) + 1.5 * cart, rel=1e-12)
    assert (hanger["tension_in"], hanger["tension_at"]) == ("strength", "6.5 forward")
    assert (hanger["peak_compression"], hanger["compression_in"], hanger["compression_at"]) == ("0", "", "")
    assert hanger["zero_share"] == "0.2"
    # nothing but it holds L1, and the deck weighs on that joint
    assert (hanger["utilisation"], hanger["outcome"], hanger["verdict"]) == ("", "falls", "mechanism")
    ordinates = {(r["joint"], r["member"]): r["force"] for r in rows(out, "influence")}
    assert (ordinates["L1", "L1-U1"], ordinates["L0", "L1-U1"]) == ("1", "0")
    totals = {(r["case"], r["direction"]): r for r in rows(out, "totals")}
    applied, carried = (float(totals["dead", "y"][key]) for key in ("applied", "reactions"))
    assert applied == pytest.approx(-(5 + 24 + 77e-6 * 1500 * 21), rel=1e-12)
    assert carried == pytest.approx(-applied, rel=1e-12)
    settled = next(r for r in rows(out, "deflections") if (r["joint"], r["direction"]) == ("L2", "y"))
    assert settled["largest"] == "0"
    forces = {(r["member"], r["under"]): r for r in rows(out, "forces")}
    assert float(forces["L1-U1", "deck_cart"]["largest"]) == pytest.approx(cart, rel=1e-12)
    assert forces["L1-U1", "deck_cart"]["smallest"] == "0"
    assert forces["L1-U1", "deck_cart"]["kind"] == "crossing"
    shares = {(r["member"], r["under"]): (r["kind"], r["zero_share"]) for r in rows(out, "zero_shares")}
    assert shares["L1-U1", "frost"] == ("case", "1")
    assert shares["L1-U1", "strength"] == ("combination", "0")
    waking = {r["member"]: r for r in rows(out, "waking")}
    assert (waking["L1-U1"]["joint"], waking["L1-U1"]["direction"]) == ("L1", "0 -1")
    removals = {r["member"]: r for r in rows(out, "removals")}
    assert (removals["L1-U1"]["mechanism"], removals["L1-U1"]["moves"]) == ("yes", "L1")
    inspected = [r for r in rows(out, "inspection") if r["under"] == "frost"]
    assert (inspected[0]["step"], inspected[0]["joint"], inspected[0]["member"]) == ("1", "L1", "L1-U1")
    summary = json.loads((out / "summary.json").read_text(encoding="utf-8"))
    assert (summary["joints"], summary["members"], summary["combinations"]) == (4, 5, 1)
    assert (summary["static_indeterminacy"], summary["self_stress_states"], summary["still"]) == (0, 0, [])
    assert summary["units"] == "metric"
    assert 0 <= summary["largest_imbalance"] < 1e-12


def test_uplift_is_told_in_the_notices(tmp_path: Path) -> None:
    out = tmp_path / "out"
    lifted = edited(("joints = { U1 = [0, -5] }", "joints = { U1 = [0, 500] }"))
    done = run("run", study(tmp_path, lifted), "--out", str(out))
    assert "uplift at support L0 along y in 'strength'" in done.stdout
    notices = json.loads((out / "summary.json").read_text(encoding="utf-8"))["notices"]
    known = [notice for notice in notices if "not known" not in notice]
    assert [notice.split(" ")[0] for notice in known] == ["uplift", "uplift", "in"]


def test_roundings_are_written_as_zero_and_choose_no_place(tmp_path: Path) -> None:
    done = run("run", study(tmp_path), "--out", str(tmp_path))
    assert done.returncode == 0
    frost = [row for row in rows(tmp_path, "totals") if row["case"] == "frost"]
    assert [(row["applied"], row["reactions"]) for row in frost] == [("0", "0"), ("0", "0")]
    across = next(
        row for row in rows(tmp_path, "reactions") if (row["joint"], row["direction"]) == ("L0", "x")
    )
    assert abs(float(across["largest"])) == abs(float(across["smallest"])) == 0
    assert across["largest_at"] == across["smallest_at"] == "0 forward"


def test_a_load_in_no_combination_is_told_in_the_notices(tmp_path: Path) -> None:
    done = run("run", study(tmp_path, edited()), "--out", str(tmp_path / "out"))
    assert "in no combination, so in no peak: 'wind', 'frost'" in done.stdout


STATUSES = [
    (2, ("area = 1500", "area = -1"), "sections.tube.area"),
    (3, ('"L1-U1"]', '"L0-L2"]'), "joints that move: L1"),
    (4, ("L1 = [4, 0]\nL2 = [8, 0]\nU1 = [4, 3]", "L1 = [4, 0]\nL2 = [8, 0]\nU1 = [4, 1e-11]"), "mechanism"),
]


@pytest.mark.parametrize(("status", "change", "words"), STATUSES, ids=["input", "mechanism", "not trusted"])
def test_a_failed_run_says_why_and_writes_nothing(
    tmp_path: Path, status: int, change: tuple[str, str], words: str
) -> None:
    extra = () if status == 2 else (('U1-L1" = 3', 'L0-L1" = 3'),)
    done = run("run", study(tmp_path, edited(change, *extra)), "--out", str(tmp_path / "out"))
    assert done.returncode == status
    assert words in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""
    assert {path.name for path in tmp_path.iterdir()} == {"teal.toml"}


def test_a_study_that_is_not_there_is_told() -> None:
    done = run("run", "nowhere.toml", "--out", "unused")
    assert (done.returncode, "nowhere.toml: cannot be read" in done.stderr) == (2, True)
    done = run("run", "no_such_study", "--out", "unused")
    assert (done.returncode, DEFAULT_STUDY in done.stderr) == (2, True)


def test_an_output_folder_that_cannot_be_is_told(tmp_path: Path) -> None:
    done = run("run", study(tmp_path), "--out", str(tmp_path / "teal.toml"))
    assert done.returncode == 2
    assert "teal.toml" in done.stderr
    assert {path.name for path in tmp_path.iterdir()} == {"teal.toml"}


def test_tables_replace_those_of_an_earlier_run_and_nothing_else(tmp_path: Path) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "notes.txt").write_text("mine", encoding="utf-8")
    (out / "members.csv").write_text("old", encoding="utf-8")
    assert run("run", study(tmp_path), "--out", str(out)).returncode == 0
    assert (out / "notes.txt").read_text(encoding="utf-8") == "mine"
    assert (out / "members.csv").read_text(encoding="utf-8").startswith("member,group,length")


def test_commands_of_later_versions_are_told_as_such() -> None:
    done = run("report", "study.toml")
    assert (done.returncode, "not supported in this version: report" in done.stderr) == (2, True)


def test_bundled_lists_prints_and_names_what_there_is() -> None:
    listed = run("bundled").stdout
    assert all(item.name in listed and item.title in listed for item in list_bundled("study"))
    assert listed.startswith(f"study  {DEFAULT_STUDY}")
    text = find_bundled(DEFAULT_STUDY).text()
    assert run("bundled", DEFAULT_STUDY).stdout == text
    assert run("bundled", f"study/{DEFAULT_STUDY}").stdout == text
    done = run("bundled", "nothing")
    assert (done.returncode, "nothing bundled is called nothing" in done.stderr) == (2, True)
    with pytest.raises(InputError):
        find_bundled(f"train/{DEFAULT_STUDY}")


def test_a_fault_of_the_program_itself_is_one_line_with_a_file(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    def fail(*_given: object) -> None:
        raise RuntimeError("inner trouble")

    monkeypatch.setattr(command, "answer", fail)
    status = command.main(["run", study(tmp_path), "--out", str(tmp_path / "out")])
    told = capsys.readouterr().err
    assert status == 1
    assert "Traceback" not in told
    details = Path(told.rsplit(" ", 1)[1].strip())
    assert "inner trouble" in details.read_text(encoding="utf-8")
    details.unlink()
    assert not (tmp_path / "out").exists()


def test_a_cancelled_run_says_so_and_leaves_nothing(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    def cancel(*_given: object) -> None:
        raise Cancelled("called off")

    monkeypatch.setattr(command, "answer", cancel)
    status = command.main(["run", study(tmp_path), "--out", str(tmp_path / "out")])
    assert status == 130
    assert "nothing was written" in capsys.readouterr().err
    assert {path.name for path in tmp_path.iterdir()} == {"teal.toml"}


@pytest.mark.skipif(os.name == "nt", reason="signals are sent otherwise there")
@pytest.mark.parametrize("sent", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_in_the_middle_of_a_long_run_leaves_nothing_behind(tmp_path: Path, sent: int) -> None:
    path = study(tmp_path, long_study(600))
    line = "import sys; from explorer.command import main; sys.exit(main())"
    process = subprocess.Popen(
        [sys.executable, "-c", line, "run", path, "--out", str(tmp_path / "out")],
        cwd=PROJECT, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    assert process.stderr is not None
    # the first line of progress comes after a second of work
    assert "%" in process.stderr.readline()
    process.send_signal(sent)
    start = time.monotonic()
    assert process.wait(timeout=30) == 130
    assert time.monotonic() - start < 30
    process.stderr.close()
    assert {item.name for item in tmp_path.iterdir()} == {"teal.toml"}


def long_study(panels: int) -> str:
    """A bridge of many panels, a long train and ten combinations: some seconds of work."""
    joints = [
        f"{side}{i} = [{3 * i}, {height}]" for side, height in (("L", 0), ("U", 4)) for i in range(panels + 1)
    ]
    bars = [f'"L{i}-L{i + 1}", "U{i}-U{i + 1}", "U{i}-L{i + 1}", "L{i}-U{i + 1}"' for i in range(panels)]
    bars += [f'"L{i}-U{i}"' for i in range(panels + 1)]
    deck = ", ".join(f'"L{i}"' for i in range(panels + 1))
    axles = ", ".join(f"[{1.3 * k + 0.01 * k * k:.2f}, {50 + k}]" for k in range(18))
    combinations = [f"[combinations.c{k}]\ndead = 1.{k}\ncart = 1.5" for k in range(10)]
    return "\n".join([
        'title = "Long"\nunits = "metric"\n[joints]', *joints,
        f'[supports]\nL0 = "xy"\nL{panels} = "y"',
        "[materials.s]\nE = 210000\nunit_weight = 77\n[sections.t]\narea = 1500",
        f'[groups.all]\nsection = "t"\nmaterial = "s"\nmembers = [{", ".join(bars)}]',
        f"[chords.deck]\njoints = [{deck}]", "[cases.dead]\nself_weight = 1",
        f"[trains.t]\naxles = [{axles}]", '[crossings.cart]\ntrain = "t"\nchord = "deck"', *combinations,
    ])  # fmt: skip
