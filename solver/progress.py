"""How long work tells how far it is, and how it is called off."""

from __future__ import annotations

from collections.abc import Callable, Iterator

Progress = Callable[[str, float], None]
"""Called with what is being done and the share of it that is done (0 to 1); it may raise
`solver.errors.Cancelled`, upon which nothing half-done is kept."""


def silent(what: str, share: float) -> None:
    """Take no notice of progress."""


def blocks(count: int, size: int, what: str, progress: Progress) -> Iterator[slice]:
    """Yield slices of at most `size` that cover range(count), telling `progress` before each.

    >>> [s.stop for s in blocks(5, 2, "work", silent)]
    [2, 4, 5]
    """
    for start in range(0, count, max(1, size)):
        progress(what, start / count)
        yield slice(start, min(count, start + max(1, size)))
