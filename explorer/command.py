"""The command line: `stillbar run`, `stillbar bundled`, and what `stillbar` alone does."""

from __future__ import annotations

import argparse
import os
import signal
import sys
import tempfile
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from types import FrameType

from explorer import __version__
from explorer.bundled import DEFAULT_STUDY, find_bundled, list_bundled
from explorer.document import Document, FaultyStudy, read_study
from explorer.progress_line import ProgressLine
from explorer.tables import make_tables, summarise, write_tables
from explorer.wording.summary import CAUTION, describe_members, describe_run
from solver.answers import Answers, answer
from solver.errors import Cancelled, InputError, MechanismError, UntrustworthyError

DONE, OWN_FAULT, BAD_INPUT, CANNOT_STAND, NOT_TRUSTED, CANCELLED = 0, 1, 2, 3, 4, 130


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
    parser.set_defaults(act=_show, study=DEFAULT_STUDY)
    commands = parser.add_subparsers(title="commands", metavar="COMMAND")
    run = commands.add_parser("run", help="work a study through and write its tables", epilog=CAUTION)
    run.add_argument("study", metavar="STUDY", help="a study file, or the name of a bundled study")
    run.add_argument("--out", metavar="DIR", required=True, type=Path, help="folder for the tables")
    run.set_defaults(act=_run)
    bundled = commands.add_parser("bundled", help="list what comes with Stillbar, or print one of it")
    bundled.add_argument("name", metavar="NAME", nargs="?", help="NAME, or KIND/NAME where names clash")
    bundled.set_defaults(act=_bundled)
    for later in ("open", "report"):
        command = commands.add_parser(later, help="not supported in this version")
        command.add_argument("rest", nargs=argparse.REMAINDER)
        command.set_defaults(act=_not_yet, command=later)
    return parser


def _run(options: argparse.Namespace) -> None:
    document, answers = _answer(options.study)
    write_tables(options.out, make_tables(answers, document.units), summarise(answers, document.units))
    print(describe_run(answers, document.units, str(options.out)))


def _show(options: argparse.Namespace) -> None:
    """Without a command: the bundled bridge, its tables in a new folder, its members in a few words."""
    document, answers = _answer(options.study)
    folder = Path(tempfile.mkdtemp(prefix="stillbar-"))
    write_tables(folder, make_tables(answers, document.units), summarise(answers, document.units))
    print(describe_members(answers, document.units))
    print()
    print(describe_run(answers, document.units, str(folder)))


def _answer(study: str) -> tuple[Document, Answers]:
    path = Path(study)
    if not path.exists() and path.suffix != ".toml":
        path = find_bundled(study).path
    document = read_study(path)
    with ProgressLine(sys.stderr) as progress:
        return document, answer(document.study, progress)


def _bundled(options: argparse.Namespace) -> None:
    if options.name:
        print(find_bundled(options.name).text(), end="")
        return
    items = list_bundled()
    width = max(len(item.name) for item in items)
    for item in items:
        print(f"{item.kind}  {item.name:<{width}}  {item.title}")
    print("Trains, sections and materials: none bundled in this version; a study defines its own.")


def _not_yet(options: argparse.Namespace) -> None:
    raise InputError(f"not supported in this version: {options.command}", [options.command])
