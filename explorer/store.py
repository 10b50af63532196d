"""Studies that have been worked through, found again by their content; long work runs in threads of its own.

Nothing here knows who asks: no session, no current study. Whoever holds a study's key finds its answers,
and whoever holds its text can have them worked out again.
"""

from __future__ import annotations

import hashlib
import logging
import secrets
import threading
import time
from collections import OrderedDict
from collections.abc import Callable, Collection
from dataclasses import dataclass, field
from pathlib import Path
from typing import Generic, NamedTuple, TypeVar

from explorer.document import Document, FaultyStudy, read_text
from solver.answers import Answers, answer, size
from solver.errors import Cancelled, MechanismError, StudyError, UntrustworthyError
from solver.progress import Progress, silent
from solver.sizing.candidates import Candidates
from solver.sizing.choice import find_sizes
from solver.sizing.trial import Bench

MOST_LINES = 100
"""Lines of faults told of one study; a page with more of them is not read."""
MOST_REMEMBERED = 256
"""Jobs remembered at once, those that have ended included; the oldest of these go first."""
MOST_SIZED = 8
"""Studies whose lighter sections are kept, and as many whose trials are."""
MOST_TRIED = 48
"""Choices of sections kept with a study; with more of them its trials begin anew."""
TELL_AGAIN = 0.1
"""Seconds between two looks at work that another thread does."""
Made = TypeVar("Made")
log = logging.getLogger(__name__)


@dataclass(frozen=True)
class Worked:
    """A study worked through: the key of its text, the document and its answers."""

    key: str
    document: Document
    answers: Answers


@dataclass(frozen=True)
class Start:
    """The study that a page opens on, read and worked through: its key, its text, its file's name."""

    key: str
    text: str
    name: str


class Line(NamedTuple):
    """A line of what went wrong: the key path in the study or nothing, what is wrong, what would be right."""

    key: str
    wrong: str
    right: str = ""


@dataclass(frozen=True)
class JobState:
    """How far a job is: what it does and the share done (0 to 1); once ended, a key or what went wrong."""

    what: str = "beginning"
    share: float = 0.0
    ended: bool = False
    key: str | None = None
    lines: tuple[Line, ...] = ()


@dataclass
class _Work(Generic[Made]):
    """Work that one thread does, for the others that ask for the same meanwhile."""

    told: tuple[str, float] = ("beginning", 0.0)
    made: Made | None = None
    error: BaseException | None = None
    done: threading.Event = field(default_factory=threading.Event)

    def wait(self, progress: Progress) -> Made | None:
        """Wait for the end; None where it was called off, which was the wish of the other alone."""
        while not self.done.wait(TELL_AGAIN):
            progress(*self.told)
        if isinstance(self.error, Exception) and not isinstance(self.error, Cancelled):
            raise self.error
        return self.made


class _Shelf(Generic[Made]):
    """What was made last, found again by its key; the newest stays, whatever its size; thread-safe."""

    def __init__(self, is_too_much: Callable[[Collection[Made]], bool]) -> None:
        self._is_too_much = is_too_much
        self._lock = threading.Lock()
        self._kept: OrderedDict[str, Made] = OrderedDict()
        self._under_way: dict[str, _Work[Made]] = {}

    def find(self, key: str) -> Made | None:
        """Return what is kept under a key; it is then the last to be forgotten."""
        with self._lock:
            return self._touch(key)

    def put(self, key: str, made: Made) -> None:
        """Keep something, and forget what was asked for longest ago."""
        with self._lock:
            self._put(key, made)

    def take(self, key: str, make: Callable[[Progress], Made], progress: Progress) -> Made:
        """Return what is kept under a key, or make it; what another thread makes is waited for."""
        while True:
            with self._lock:
                if (kept := self._touch(key)) is not None:
                    return kept
                others = self._under_way.get(key)
                mine = self._under_way.setdefault(key, _Work())
            if others is None:
                return self._lead(mine, key, make, progress)
            if (made := others.wait(progress)) is not None:
                return made

    def _lead(
        self, work: _Work[Made], key: str, make: Callable[[Progress], Made], progress: Progress
    ) -> Made:
        def tell(what: str, share: float) -> None:
            work.told = (what, share)
            progress(what, share)

        try:
            work.made = make(tell)
        except BaseException as error:
            work.error = error
            raise
        finally:
            with self._lock:
                del self._under_way[key]
                if work.made is not None:
                    self._put(key, work.made)
            work.done.set()
        return work.made

    def _touch(self, key: str) -> Made | None:
        if key in self._kept:
            self._kept.move_to_end(key)
        return self._kept.get(key)

    def _put(self, key: str, made: Made) -> None:
        self._kept[key] = made
        self._kept.move_to_end(key)
        while len(self._kept) > 1 and self._is_too_much(self._kept.values()):
            self._kept.popitem(last=False)


class Results:
    """The studies last asked for, bounded by their number and by their members altogether; thread-safe.

    A member holds on to a tenth of a megabyte or so, by how many others and loads there are.
    """

    def __init__(self, most: int = 16, most_members: int = 6_000) -> None:
        def is_too_much(kept: Collection[Worked]) -> bool:
            members = sum(len(worked.answers.study.truss.members) for worked in kept)
            return len(kept) > most or members > most_members

        self._worked: _Shelf[Worked] = _Shelf(is_too_much)
        self._sized: _Shelf[Candidates] = _Shelf(lambda kept: len(kept) > MOST_SIZED)
        self._benches: _Shelf[Bench] = _Shelf(lambda kept: len(kept) > MOST_SIZED)
        self._folders: dict[str, Path] = {}

    def find(self, key: str) -> Worked | None:
        """Return the study of this key, if it is still kept; it is then the last to be forgotten."""
        return self._worked.find(key)

    def keep(self, document: Document, answers: Answers) -> Worked:
        """Keep a study of a file that was worked through elsewhere.

        Its folder is remembered: tables of sections beside it are found again once it is forgotten here.
        """
        worked = Worked(content_key(document.text), document, answers)
        self._worked.put(worked.key, worked)
        self._folders[worked.key] = Path(document.file).parent
        return worked

    def work(self, text: str, name: str, progress: Progress = silent) -> Worked:
        """Return the study of this text, worked through if it is not kept; `name` stands for its file.

        A text that another thread is at is waited for. Raises FaultyStudy where the text is at fault and
        what `solver.answers.answer` raises; nothing is kept then.
        """
        key = content_key(text)

        def make(tell: Progress) -> Worked:
            tell("reading the study", 0.0)
            document = read_text(text, name, self._folders.get(key))
            return Worked(key, document, answer(document.study, tell))

        return self._worked.take(key, make, progress)

    def find_sized(self, key: str) -> Candidates | None:
        """Return the candidates of the study of this key, if they are kept."""
        return self._sized.find(key)

    def size(self, worked: Worked, progress: Progress = silent) -> Candidates:
        """Return the candidates of a study, found if they are not kept.

        Raises what `solver.answers.size` raises; nothing is kept then.
        """
        return self._sized.take(worked.key, lambda tell: size(worked.answers, tell), progress)

    def bench(self, worked: Worked) -> Bench:
        """Return what tries sections of a study out; raises InputError where no group names a family."""
        kept = self._benches.find(worked.key)
        if kept is not None and kept.tried < MOST_TRIED:
            return kept
        answers = worked.answers
        bench = Bench(find_sizes(answers.study), (answers.statics, answers.removals))
        self._benches.put(worked.key, bench)
        return bench


@dataclass
class _Job:
    """One job; its state is replaced as a whole, so that whoever looks sees one moment of it."""

    token: str = field(default_factory=lambda: secrets.token_urlsafe(16))
    state: JobState = JobState()
    called_off: threading.Event = field(default_factory=threading.Event)
    looked: float = field(default_factory=time.monotonic)
    ended: float = 0.0

    def end(self, key: str | None, lines: tuple[Line, ...] = ()) -> None:
        """End with the key of the study worked through, or with what went wrong."""
        self.ended = time.monotonic()
        self.state = JobState("ended", 1.0, True, key, lines)


class Jobs:
    """Studies being worked through, each in a thread of its own and told by a token that nobody can guess.

    A job that nobody looks at for `given_up` seconds is called off: its page has gone, and the place is
    wanted. One that has ended is forgotten `forgotten` seconds later.
    """

    def __init__(
        self, results: Results, most: int = 4, *, given_up: float = 180.0, forgotten: float = 600.0
    ) -> None:
        self._results, self._most = results, most
        self._given_up, self._forgotten = given_up, forgotten
        self._lock = threading.Lock()
        self._jobs: dict[str, _Job] = {}

    def start(self, text: str, name: str) -> str:
        """Start working a text through and return the job's token; a study that is kept has ended at once.

        So has one for which there is no place: its state tells so.
        """
        kept = self._results.find(content_key(text))
        return self.start_work(
            lambda tell: self._results.work(text, name, tell).key, kept.key if kept else None
        )

    def start_work(self, work: Callable[[Progress], str], kept: str | None = None) -> str:
        """Start any work on a study, which returns the study's key; return the job's token.

        With the key of what is kept it has ended at once.
        """
        job = _Job()
        with self._lock:
            self._forget()
            running = sum(not other.state.ended for other in self._jobs.values())
            self._jobs[job.token] = job
            if kept:
                job.end(kept)
            elif running >= self._most:
                wrong = f"{running} studies are being worked through already"
                job.end(None, (Line("", wrong, "cancel one or wait for it, then open this one again"),))
            else:
                threading.Thread(target=self._run, args=(job, work), daemon=True).start()
        return job.token

    def look(self, token: str) -> JobState:
        """Return how far a job is; a token that is not known has ended, and its state says so."""
        with self._lock:
            job = self._jobs.get(token)
        if job is None:
            return JobState("ended", 1.0, True, None, (Line("", "not known any more", "open it again"),))
        job.looked = time.monotonic()
        return job.state

    def cancel(self, token: str) -> None:
        """Call a job off; it ends at its next word of progress. One that has ended, or none, stays as is."""
        with self._lock:
            job = self._jobs.get(token)
        if job:
            job.called_off.set()

    def cancel_all(self) -> bool:
        """Call every job off; returns whether any still works, until its next word of progress."""
        with self._lock:
            jobs = list(self._jobs.values())
        for job in jobs:
            job.called_off.set()
        return any(not job.state.ended for job in jobs)

    def _run(self, job: _Job, work: Callable[[Progress], str]) -> None:
        def tell(what: str, share: float) -> None:
            if job.called_off.is_set() or time.monotonic() - job.looked > self._given_up:
                raise Cancelled("called off")
            job.state = JobState(what, share)

        try:
            key = work(tell)
        except Exception as error:
            job.end(None, fault_lines(error))
        else:
            job.end(key)

    def _forget(self) -> None:
        """Forget what ended long ago, and the oldest of what ended where too much is remembered."""
        ended = [job for job in self._jobs.values() if job.state.ended]
        surplus = len(self._jobs) + 1 - MOST_REMEMBERED
        for number, job in enumerate(ended):
            if number < surplus or time.monotonic() - job.ended > self._forgotten:
                del self._jobs[job.token]


def content_key(text: str) -> str:
    """Return the key of a text: its SHA-256 in hexadecimal digits. Any change of it gives another."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def fault_lines(error: Exception) -> tuple[Line, ...]:
    """Return what went wrong as lines for a reader; a fault of Stillbar itself is one, its details logged."""
    if isinstance(error, FaultyStudy):
        told = [Line(fault.key, fault.wrong, fault.right) for fault in error.faults[:MOST_LINES]]
        more = len(error.faults) - len(told)
        return (*told, Line("", f"{more} more faults", "mend these first")) if more else tuple(told)
    if isinstance(error, Cancelled):
        return (Line("", "cancelled"),)
    if isinstance(error, MechanismError):
        return (Line("", str(error), "hold these joints by members or supports"),)
    if isinstance(error, UntrustworthyError):
        return (Line("", f"no result, for it could not be trusted: {error}"),)
    if isinstance(error, StudyError):
        return (Line("", str(error)),)
    log.error("a fault of Stillbar itself", exc_info=error)
    return (Line("", "a fault of Stillbar itself", "the details are told where Stillbar was started"),)
