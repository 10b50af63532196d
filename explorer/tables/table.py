"""A table: a name, a header and rows; how numbers are written; how tables reach a folder, all or none."""

from __future__ import annotations

import csv
import json
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

from solver.tolerances import NOISE

Cell = str | float | int


@dataclass(frozen=True)
class Table:
    """Rows under a header; `name` is that of its file without the ending."""

    name: str
    header: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


def tidy(values: ArrayLike, scale: ArrayLike) -> NDArray[np.float64]:
    """Return the values with computed true zeros (up to NOISE of `scale`) written as 0.

    >>> tidy([3.0, -1e-14], 10.0)
    array([3., 0.])
    """
    array = np.asarray(values, dtype=float)
    return np.where(np.abs(array) <= NOISE * np.asarray(scale), 0.0, array)


def text(cell: Cell) -> str:
    """Write a cell: numbers with 15 significant digits, zero without a sign.

    >>> text(0.1), text(-0.0), text("L0-U1"), text(3)
    ('0.1', '0', 'L0-U1', '3')
    """
    return cell if isinstance(cell, str) else f"{cell + 0.0:.15g}" if isinstance(cell, float) else str(cell)


def write_tables(folder: Path, tables: Sequence[Table], summary: Mapping[str, object]) -> None:
    """Write every table as CSV and the summary as JSON into `folder`, all or none.

    All are written beside their place first and moved there at the end, so that a run broken off
    leaves nothing behind. Raises OSError where the folder cannot be written.
    """
    with _beside(folder) as draft:
        for table in tables:
            with (draft / f"{table.name}.csv").open("w", encoding="utf-8", newline="") as file:
                writer = csv.writer(file, lineterminator="\n")
                writer.writerow(table.header)
                writer.writerows([text(cell) for cell in row] for row in table.rows)
        summary_text = json.dumps(summary, ensure_ascii=False, indent=2)
        (draft / "summary.json").write_text(summary_text + "\n", encoding="utf-8")
        folder.mkdir(parents=True, exist_ok=True)
        for path in sorted(draft.iterdir()):
            os.replace(path, folder / path.name)


@contextmanager
def _beside(folder: Path) -> Iterator[Path]:
    """A folder for drafts on the same disk as `folder`, gone in the end whatever happens."""
    parent = next(place for place in folder.absolute().parents if place.is_dir())
    draft = Path(tempfile.mkdtemp(prefix=".stillbar-", dir=parent))
    try:
        yield draft
    finally:
        shutil.rmtree(draft, ignore_errors=True)
