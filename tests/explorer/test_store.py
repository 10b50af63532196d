"""Results are kept by content and worked once; jobs tell how far they are, what went wrong, and can end."""

from __future__ import annotations

import logging
import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from explorer import store
from explorer.document import FaultyStudy, read_study
from explorer.store import Jobs, JobState, Results, Worked, content_key, fault_lines
from solver.answers import Answers, answer
from solver.errors import Cancelled, InputError, MechanismError, UntrustworthyError
from solver.progress import Progress, silent
from solver.study import Study
from tests.document.example import GOOD, edited

PATIENCE = 30.0
MECHANISM = edited(('"L1-U1"]', '"L0-L2"]'), ('U1-L1" = 3', 'L0-L1" = 3'))


def titled(title: str) -> str:
    return edited(("Teal Ford footbridge", title))


class Gate:
    """Holds every study back until it is opened, and counts them."""

    def __init__(self) -> None:
        self.reached, self.opened = threading.Event(), threading.Event()
        self.passed: list[str] = []
        self.error: Exception | None = None

    def answer(self, study: Study, progress: Progress = silent) -> Answers:
        self.passed.append(study.title)
        self.reached.set()
        deadline = time.monotonic() + PATIENCE
        while not self.opened.wait(0.01):
            assert time.monotonic() < deadline, "nobody opened the gate"
            progress("held back", 0.25)
        if self.error:
            raise self.error
        return answer(study, progress)


@pytest.fixture
def gate(monkeypatch: pytest.MonkeyPatch) -> Gate:
    made = Gate()
    monkeypatch.setattr(store, "answer", made.answer)
    return made


def until(holds: Callable[[], bool]) -> None:
    deadline = time.monotonic() + PATIENCE
    while not holds():
        assert time.monotonic() < deadline, "waited in vain"
        time.sleep(0.005)


def end_of(jobs: Jobs, token: str) -> JobState:
    until(lambda: jobs.look(token).ended)
    return jobs.look(token)


def call_off(_what: str, _share: float) -> None:
    raise Cancelled("called off")


def test_a_key_is_the_sha_256_of_the_text() -> None:
    # FIPS 180-4, example of one block
    assert content_key("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert content_key("\ud800") != content_key("\ud801")


def test_a_study_worked_through_is_found_by_its_key() -> None:
    results = Results()
    worked = results.work(GOOD, "teal.toml")
    assert worked.key == content_key(GOOD)
    assert (worked.document.text, worked.document.file) == (GOOD, "teal.toml")
    assert worked.answers.study is worked.document.study
    assert results.find(worked.key) is worked
    assert results.work(GOOD, "another.toml") is worked
    assert results.find(content_key("nothing")) is None


def test_a_text_with_a_byte_order_mark_is_found_by_the_text_as_given() -> None:
    results = Results()
    worked = results.work("\ufeff" + GOOD, "teal.toml")
    assert results.find(content_key("\ufeff" + GOOD)) is worked


def test_a_study_worked_through_elsewhere_is_kept_too() -> None:
    made = Results().work(GOOD, "teal.toml")
    results = Results()
    kept = results.keep(made.document, made.answers)
    assert results.find(content_key(GOOD)) is kept
    assert (kept.key, kept.answers) == (content_key(GOOD), made.answers)


def test_a_study_of_a_file_finds_its_tables_of_sections_again_once_it_is_forgotten(tmp_path: Path) -> None:
    table = "# shape: rod\n# making: rolled\nsize,diameter [mm]\nOWN 20,20\n"
    (tmp_path / "own.csv").write_text(table, encoding="utf-8")
    own = GOOD.replace('section = "', 'section = "OWN 20" # ')
    text = own.replace("[joints]", 'section_tables = ["own.csv"]\n[joints]', 1)
    path = tmp_path / "teal.toml"
    path.write_text(text, encoding="utf-8")
    document = read_study(path)
    results = Results(most=1)
    kept = results.keep(document, answer(document.study))
    results.work(GOOD, "another.toml")
    assert results.find(kept.key) is None
    again = results.work(text, "teal.toml")
    assert again.document.study.truss.members[0].group.section.name == "OWN 20"
    with pytest.raises(FaultyStudy, match="folder"):
        results.work(text + "\n", "teal.toml")


def test_the_study_asked_for_longest_ago_is_forgotten_first() -> None:
    results = Results(most=2)
    first, second = (results.work(titled(name), "t.toml") for name in ("first", "second"))
    assert results.find(first.key) is first
    third = results.work(titled("third"), "t.toml")
    assert [results.find(worked.key) for worked in (first, second, third)] == [first, None, third]


def test_members_altogether_are_bounded_but_the_newest_study_stays() -> None:
    # each study has five members
    results = Results(most_members=14)
    keys = [results.work(titled(name), "t.toml").key for name in ("first", "second", "third")]
    assert [results.find(key) is not None for key in keys] == [False, True, True]
    results = Results(most_members=4)
    keys = [results.work(titled(name), "t.toml").key for name in ("first", "second")]
    assert [results.find(key) is not None for key in keys] == [False, True]


def test_a_text_that_two_threads_ask_for_is_worked_once(gate: Gate) -> None:
    results = Results()
    told: list[tuple[str, float]] = []
    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(results.work, GOOD, "one.toml")
        assert gate.reached.wait(PATIENCE)
        second = pool.submit(results.work, GOOD, "two.toml", lambda *words: told.append(words))
        until(lambda: ("held back", 0.25) in told)
        gate.opened.set()
        assert first.result(PATIENCE) is second.result(PATIENCE)
    assert len(gate.passed) == 1


def test_whoever_waits_for_anothers_work_is_not_called_off_with_it(gate: Gate) -> None:
    results, wish = Results(), threading.Event()

    def until_wished(_what: str, _share: float) -> None:
        if wish.is_set():
            raise Cancelled("called off")

    waiting = threading.Event()
    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(results.work, GOOD, "one.toml", until_wished)
        assert gate.reached.wait(PATIENCE)
        second = pool.submit(results.work, GOOD, "two.toml", lambda *_: waiting.set())
        assert waiting.wait(PATIENCE)
        wish.set()
        with pytest.raises(Cancelled):
            first.result(PATIENCE)
        gate.opened.set()
        assert isinstance(second.result(PATIENCE), Worked)
    assert len(gate.passed) == 2


def test_whoever_waits_can_be_called_off_alone(gate: Gate) -> None:
    results = Results()
    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(results.work, GOOD, "one.toml")
        assert gate.reached.wait(PATIENCE)
        with pytest.raises(Cancelled):
            results.work(GOOD, "two.toml", call_off)
        gate.opened.set()
        assert first.result(PATIENCE).key == content_key(GOOD)


def test_whoever_waits_is_told_what_went_wrong(gate: Gate) -> None:
    results, waiting = Results(), threading.Event()
    gate.error = UntrustworthyError("does not balance")
    with ThreadPoolExecutor(2) as pool:
        first = pool.submit(results.work, GOOD, "one.toml")
        assert gate.reached.wait(PATIENCE)
        second = pool.submit(results.work, GOOD, "two.toml", lambda *_: waiting.set())
        assert waiting.wait(PATIENCE)
        gate.opened.set()
        for one in (first, second):
            with pytest.raises(UntrustworthyError, match="does not balance"):
                one.result(PATIENCE)
    assert len(gate.passed) == 1
    assert results.find(content_key(GOOD)) is None


def test_what_went_wrong_is_not_kept_and_can_be_tried_again() -> None:
    results = Results()
    for text, error in ((edited(("area = 1500", "area = -1")), FaultyStudy), (MECHANISM, MechanismError)):
        for _ in range(2):
            with pytest.raises(error):
                results.work(text, "t.toml")
        assert results.find(content_key(text)) is None
    with pytest.raises(Cancelled):
        results.work(GOOD, "t.toml", call_off)
    assert results.work(GOOD, "t.toml").key == content_key(GOOD)


def test_texts_worked_at_the_same_time_do_not_disturb_one_another() -> None:
    # only the joint load differs: 5 kN, 10 kN ... on top of the frame of two panels
    texts = [edited(("U1 = [0, -5]", f"U1 = [0, -{5 * k}]"), ("teal".title(), f"No{k}")) for k in range(1, 9)]
    results = Results()
    with ThreadPoolExecutor(8) as pool:
        found = list(pool.map(lambda text: results.work(text, "t.toml"), texts))
    for k, worked in enumerate(found, 1):
        assert worked.document.study.title == f"No{k} Ford footbridge"
        # by hand: half the joint load goes down either diagonal, at a slope of 3 in 5
        diagonal = worked.answers.responses.forces.cases[2, 0]
        alone = found[0].answers.responses.forces.cases[2, 0]
        assert diagonal - alone == pytest.approx(-(5e3 * (k - 1)) / 2 * 5 / 3, rel=1e-12)


def test_a_job_ends_with_the_key_under_which_its_study_is_found() -> None:
    results = Results()
    jobs = Jobs(results)
    state = end_of(jobs, jobs.start(GOOD, "teal.toml"))
    assert (state.key, state.share, state.lines) == (content_key(GOOD), 1.0, ())
    assert results.find(content_key(GOOD)) is not None
    again = jobs.look(jobs.start(GOOD, "teal.toml"))
    assert (again.ended, again.key) == (True, content_key(GOOD))


def test_a_job_tells_what_it_does_and_its_share(gate: Gate) -> None:
    jobs = Jobs(Results())
    token = jobs.start(GOOD, "teal.toml")
    until(lambda: jobs.look(token) == JobState("held back", 0.25))
    gate.opened.set()
    assert end_of(jobs, token).key == content_key(GOOD)


def test_a_job_that_is_cancelled_ends_and_leaves_nothing(gate: Gate) -> None:
    results = Results()
    jobs = Jobs(results)
    token, other = jobs.start(GOOD, "teal.toml"), jobs.start(titled("Other"), "other.toml")
    jobs.cancel(token)
    state = end_of(jobs, token)
    assert (state.key, [line.wrong for line in state.lines]) == (None, ["cancelled"])
    assert not jobs.look(other).ended
    gate.opened.set()
    assert end_of(jobs, other).key == content_key(titled("Other"))
    assert results.find(content_key(GOOD)) is None
    jobs.cancel(other)
    assert jobs.look(other).key == content_key(titled("Other"))
    jobs.cancel("nobody's")


def test_every_job_can_be_called_off_at_once(gate: Gate) -> None:
    jobs = Jobs(Results())
    tokens = [jobs.start(titled(name), "t.toml") for name in ("first", "second")]
    jobs.cancel_all()
    assert [end_of(jobs, token).lines[0].wrong for token in tokens] == ["cancelled", "cancelled"]
    assert not gate.opened.is_set()


def test_a_job_that_nobody_looks_at_is_called_off(gate: Gate) -> None:
    jobs = Jobs(Results(), given_up=0.05)
    token = jobs.start(GOOD, "teal.toml")
    assert gate.reached.wait(PATIENCE)
    time.sleep(0.2)
    assert end_of(jobs, token).lines[0].wrong == "cancelled"


def test_more_jobs_than_there_is_place_for_are_told_so(gate: Gate) -> None:
    jobs = Jobs(Results(), most=2)
    tokens = [jobs.start(titled(name), "t.toml") for name in ("first", "second")]
    refused = jobs.look(jobs.start(titled("third"), "t.toml"))
    assert (refused.ended, refused.key) == (True, None)
    assert refused.lines[0].wrong == "2 studies are being worked through already"
    gate.opened.set()
    for token in tokens:
        end_of(jobs, token)
    assert end_of(jobs, jobs.start(titled("third"), "t.toml")).key == content_key(titled("third"))


def test_jobs_that_have_ended_are_forgotten_after_a_while() -> None:
    results = Results()
    results.work(GOOD, "teal.toml")
    jobs = Jobs(results, forgotten=0.05)
    token = jobs.start(GOOD, "teal.toml")
    assert jobs.look(token).key
    time.sleep(0.1)
    jobs.start(GOOD, "teal.toml")
    state = jobs.look(token)
    assert (state.ended, state.key, state.lines[0].wrong) == (True, None, "not known any more")


def test_the_oldest_jobs_that_have_ended_make_way_and_no_other(
    gate: Gate, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store, "MOST_REMEMBERED", 3)
    jobs = Jobs(Results(), most=1)
    running = jobs.start(GOOD, "teal.toml")
    refused = [jobs.start(titled(str(k)), "t.toml") for k in range(4)]
    assert not jobs.look(running).ended
    known = [jobs.look(token).lines[0].wrong != "not known any more" for token in refused]
    assert known == [False, False, True, True]
    gate.opened.set()
    assert end_of(jobs, running).key


def test_tokens_cannot_be_guessed() -> None:
    results = Results()
    results.work(GOOD, "teal.toml")
    jobs = Jobs(results)
    tokens = {jobs.start(GOOD, "teal.toml") for _ in range(50)}
    assert len(tokens) == 50
    # 16 random bytes make 22 letters
    assert {len(token) for token in tokens} == {22}


def test_faults_are_listed_each_with_its_key_path() -> None:
    jobs = Jobs(Results())
    text = edited(("area = 1500", "area = -1"), ("E = 210_000", "E = 0"))
    state = end_of(jobs, jobs.start(text, "teal.toml"))
    assert state.key is None
    lines = {line.key: line for line in state.lines}
    assert set(lines) == {"sections.tube.area", "materials.steel.E"}
    assert all(line.wrong and "teal.toml" not in line.wrong for line in state.lines)
    assert "-1" in lines["sections.tube.area"].wrong


def test_a_study_full_of_faults_is_told_in_so_many_lines() -> None:
    joints = "\n".join(f"X{k} = [{k}, {k}]" for k in range(130))
    jobs = Jobs(Results())
    state = end_of(jobs, jobs.start(edited(("U1 = [4, 3]", f"U1 = [4, 3]\n{joints}")), "teal.toml"))
    # 130 joints without members; X0 lies on L0, which is a fault of its own
    assert len(state.lines) == 101
    assert state.lines[-1].wrong == "31 more faults"


def test_a_mechanism_is_told_with_the_joints_that_move() -> None:
    jobs = Jobs(Results())
    (line,) = end_of(jobs, jobs.start(MECHANISM, "teal.toml")).lines
    assert "mechanism" in line.wrong
    assert line.wrong.endswith("joints that move: L1")


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (UntrustworthyError("joints do not balance"), "could not be trusted: joints do not balance"),
        (InputError("nothing is called so"), "nothing is called so"),
        (Cancelled("called off"), "cancelled"),
    ],
)
def test_what_stops_a_study_is_told_in_a_line(error: Exception, words: str) -> None:
    (line,) = fault_lines(error)
    assert line.wrong.endswith(words)


def test_a_fault_of_the_program_is_one_line_and_its_details_are_logged(
    gate: Gate, caplog: pytest.LogCaptureFixture
) -> None:
    gate.error = RuntimeError("inner trouble")
    gate.opened.set()
    jobs = Jobs(Results())
    with caplog.at_level(logging.ERROR):
        (line,) = end_of(jobs, jobs.start(GOOD, "teal.toml")).lines
    assert line.wrong == "a fault of Stillbar itself"
    assert "inner trouble" not in " ".join(line)
    assert "inner trouble" in caplog.text
    assert "Traceback" in caplog.text
