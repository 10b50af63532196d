"""Progress of long work on a terminal: nothing within the first second, then one line kept up to date."""

from __future__ import annotations

import time
from types import TracebackType
from typing import TextIO

FIRST, AGAIN, AGAIN_IN_A_LOG = 1.0, 0.2, 10.0
"""Seconds until progress is told at all, and between two tellings."""


class ProgressLine:
    """Tells progress on `stream`; called with what is being done and the share of it that is done."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._next = time.monotonic() + FIRST
        self._width = 0

    def __enter__(self) -> ProgressLine:
        return self

    def __call__(self, what: str, share: float) -> None:
        """Tell how far the work is, if it is time to."""
        now = time.monotonic()
        if now < self._next:
            return
        line = f"{what}: {share:.0%}"
        if self._stream.isatty():
            self._next = now + AGAIN
            print(f"\r{line:<{self._width}}", end="", file=self._stream, flush=True)
            self._width = max(self._width, len(line))
        else:
            self._next = now + AGAIN_IN_A_LOG
            print(line, file=self._stream, flush=True)

    def __exit__(
        self,
        _kind: type[BaseException] | None,
        _error: BaseException | None,
        _trace: TracebackType | None,
    ) -> None:
        if self._width:
            print(f"\r{'':<{self._width}}\r", end="", file=self._stream, flush=True)
