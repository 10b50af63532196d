"""How benchmarks take time: the least of several rounds, which a busy machine disturbs least."""

from __future__ import annotations

import time
from collections.abc import Callable


def best(work: Callable[[], object], rounds: int) -> float:
    """Least seconds of several rounds."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)
