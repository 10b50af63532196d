"""The command line: `stillbar open`, as which `stillbar` alone counts, `stillbar run`, `stillbar bundled`."""

from __future__ import annotations

import argparse
import os
import signal
import sys
import tempfile
import threading
import traceback
import webbrowser
from collections.abc import Callable, Sequence
from pathlib import Path
from types import FrameType

from explorer import __version__
from explorer.bundled import DEFAULT_STUDY, find_bundled, list_bundled
from explorer.document import Document, FaultyStudy, read_study
from explorer.progress_line import ProgressLine
from explorer.sections.catalogue import find_profile
from explorer.store import Jobs, Results, Start
from explorer.tables import make_tables, summarise, write_tables
from explorer.wording.summary import CAUTION, describe_run
from solver.answers import Answers, answer, size
from solver.errors import Cancelled, InputError, MechanismError, UntrustworthyError

DONE, OWN_FAULT, BAD_INPUT, CANNOT_STAND, NOT_TRUSTED, CANCELLED = 0, 1, 2, 3, 4, 130
HOST, MOST_PORT = "127.0.0.1", 65535


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command line; returns the exit status of the contract (see the format page)."""
    options = _parser().parse_args(arguments)
    signal.signal(signal.SIGTERM, _interrupt)
    return _guarded(options.act, options)


def _guarded(act: Callable[[argparse.Namespace], None], options: argparse.Namespace) -> int:
    """Do the work and turn what went wrong into a line for the reader and an exit status."""
    try:
        act(options)
        sys.stdout.flush()
    except (KeyboardInterrupt, Cancelled):
        return _tell("cancelled, nothing was written", CANCELLED)
    except (FaultyStudy, InputError) as error:
        return _tell(str(error), BAD_INPUT)
    except MechanismError as error:
        return _tell(f"{options.study}: {error}", CANNOT_STAND)
    except UntrustworthyError as error:
        return _tell(f"{options.study}: no result, for it could not be trusted: {error}", NOT_TRUSTED)
    except BrokenPipeError:
        # The reader has closed the pipe (as `head` does); what it wanted it has.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as error:
        return _tell(f"{error.filename or ''}: {error.strerror or error}".lstrip(": "), BAD_INPUT)
    except Exception:
        # A fault of ours: the reader gets one line and never a traceback, which goes to a file.
        return _tell(f"a fault of Stillbar itself; the details are in {_write_details()}", OWN_FAULT)
    return DONE


def _tell(message: str, status: int) -> int:
    print(f"stillbar: {message}", file=sys.stderr)
    return status


def _write_details() -> str:
    with tempfile.NamedTemporaryFile(
        "w", prefix="stillbar-fault-", suffix=".txt", delete=False, encoding="utf-8"
    ) as file:
        file.write(f"stillbar {__version__}\n{' '.join(sys.argv)}\n\n{traceback.format_exc()}")
    return file.name


def _interrupt(_signal: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="stillbar",
        description="Which members of a truss are zero, when, and why zero now does not mean removable.",
        epilog=CAUTION,
    )
    parser.add_argument("--version", action="version", version=f"stillbar {__version__}")
    parser.set_defaults(act=_open, study=DEFAULT_STUDY, host=HOST, port=None, browser=True)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    _describe_open(commands.add_parser("open", help="open the explorer on a study", epilog=CAUTION))
    run = commands.add_parser("run", help="work a study through and write its tables", epilog=CAUTION)
    run.add_argument("study", metavar="STUDY", help="a study file, or the name of a bundled study")
    run.add_argument("--out", metavar="DIR", required=True, type=Path, help="folder for the tables")
    run.set_defaults(act=_run)
    bundled = commands.add_parser("bundled", help="list what comes with Stillbar, or print one of it")
    bundled.add_argument("name", metavar="NAME", nargs="?", help="NAME, or KIND/NAME where names clash")
    bundled.set_defaults(act=_bundled)
    later = "not supported in this version"
    report = commands.add_parser("report", help=later, description=f"A report of a study: {later}.")
    report.add_argument("rest", nargs=argparse.REMAINDER)
    report.set_defaults(act=_not_yet, command="report")
    return parser


def _describe_open(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "study",
        metavar="STUDY",
        nargs="?",
        default=DEFAULT_STUDY,
        help=f"a study file, or the name of a bundled study; without it {DEFAULT_STUDY}",
    )
    command.add_argument(
        "--port",
        metavar="N",
        type=_port,
        help="port to serve on, 0 for any free one; without it 8717, or any free one while that is taken",
    )
    command.add_argument(
        "--host",
        metavar="H",
        default=HOST,
        help=f"address to serve at, {HOST} unless told otherwise; another lets others in, with no login",
    )
    command.add_argument(
        "--no-browser", dest="browser", action="store_false", help="print the address and open no browser"
    )
    command.set_defaults(act=_open)


def _port(text: str) -> int:
    if not text.isascii() or not text.isdigit() or int(text) > MOST_PORT:
        raise argparse.ArgumentTypeError(f"{text} is no port: write a whole number from 0 to {MOST_PORT}")
    return int(text)


def _open(options: argparse.Namespace) -> None:
    """Open the explorer on a study, once that is worked through: what is wrong with it is told here."""
    document, answers = _answer(options.study)
    # Only the explorer needs the pages and all that they bring; a run must not wait for them.
    from explorer.app import make_app
    from explorer.server import guard, is_loopback, serve, trusted_hosts

    results = Results()
    worked = results.keep(document, answers)
    jobs = Jobs(results)
    app = make_app(results, jobs, Start(worked.key, document.text, Path(document.file).name))
    hosts = trusted_hosts(options.host)
    guard(app.server, hosts, app.csp_hashes())

    def ready(address: str) -> None:
        print(f"{document.study.title} is open at {address}\n{CAUTION}\nCtrl-C here ends it.", flush=True)
        if not is_loopback(options.host):
            _warn(f"whoever reaches {options.host} over the network can use it; no login guards it")
            _warn(f"it answers to the names {', '.join(dict.fromkeys(hosts))} and to no other")
        if options.browser and _has_display():
            # A browser in a terminal comes back only when it is closed.
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    serve(app.server, options.host, options.port, ready)
    working = jobs.cancel_all()
    print("ended", flush=True)
    if working:
        # A thread in the midst of its arithmetic would upset Python's own end (exit status 120).
        sys.stderr.flush()
        os._exit(DONE)


def _has_display() -> bool:
    """Whether a browser would open in a window, and not in the terminal that shows the address."""
    if sys.platform in ("win32", "darwin"):
        return True
    return any(os.environ.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER"))


def _warn(message: str) -> None:
    print(f"stillbar: warning: {message}", file=sys.stderr, flush=True)


def _run(options: argparse.Namespace) -> None:
    document, answers = _answer(options.study)
    candidates = None
    if any(member.group.making.family for member in document.study.truss.members):
        with ProgressLine(sys.stderr) as progress:
            candidates = size(answers, progress)
    tables = make_tables(answers, document.units, candidates)
    write_tables(options.out, tables, summarise(answers, document.units))
    print(describe_run(answers, document.units, str(options.out), candidates))


def _answer(study: str) -> tuple[Document, Answers]:
    path = Path(study)
    if not path.exists() and path.suffix != ".toml":
        path = find_bundled(study).path
    document = read_study(path)
    with ProgressLine(sys.stderr) as progress:
        return document, answer(document.study, progress)


def _bundled(options: argparse.Namespace) -> None:
    if options.name:
        print(_bundled_text(options.name), end="")
        return
    items = list_bundled()
    width = max(len(item.name) for item in items)
    for item in items:
        print(f"{item.kind}  {item.name:<{width}}  {item.title}")
    print('A study names a train in a crossing: train = "lm71".')
    print('A group names a size of a section and a steel: section = "SHS 100x100x5", material = "S355".')


def _bundled_text(name: str) -> str:
    """The file of that name; of a size of a table, that table."""
    try:
        return find_bundled(name).text()
    except InputError as unknown:
        try:
            profile = find_profile(name)
        except InputError as no_size:
            # Which of the two was meant is told by which has something near.
            near = "did you mean"
            raise (no_size if near in str(no_size) and near not in str(unknown) else unknown) from None
        return find_bundled(f"section/{profile.table}").text()


def _not_yet(options: argparse.Namespace) -> None:
    raise InputError(f"not supported in this version: {options.command}", [options.command])
