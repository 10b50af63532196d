"""Lines of bars for tests of props: drawn at random, and two bars held in the middle."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

import numpy as np
from hypothesis import strategies as st

from solver.propping.demand import HeldPoint


@dataclass(frozen=True)
class Line:
    """Bars in line: lengths [m], EI [N m2], compressions [N] of which each bar alone bears its own."""

    lengths: tuple[float, ...]
    bending: tuple[float, ...]
    compressions: tuple[float, ...]


@st.composite
def lines(draw: st.DrawFn, *, pulled: bool = True) -> Line:
    """Lines of two to five bars, pushed by up to 0.95 of their Euler loads; some are pulled."""
    seed = draw(st.integers(0, 2**32 - 1))
    random = np.random.default_rng(seed)
    bars = int(random.integers(2, 6))
    lengths = random.uniform(0.5, 4.0, bars)
    bending = 10 ** random.uniform(-1, 1, bars)
    share = random.uniform(-0.9 if pulled else 0.05, 0.95, bars)
    share[random.integers(bars)] = random.uniform(0.3, 0.95)
    compressions = share * pi**2 * bending / lengths**2
    return Line(tuple(lengths.tolist()), tuple(bending.tolist()), tuple(compressions.tolist()))


def middle(
    compressions: tuple[float, float] = (90e3, 120e3),
    lengths: tuple[float, float] = (3.0, 3.0),
    *,
    alike: int = 1,
    permitted: float | None = None,
    in_plane: bool = True,
) -> HeldPoint:
    """The joint between two bars."""
    return HeldPoint(lengths, compressions, 1, alike, permitted, in_plane)
