"""How laws are tried: on seeds that hypothesis picks, or, in the campaign, on a thousand in a row."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

Law = Callable[[int], None]
CAMPAIGN = range(20_000, 21_000)


def law(tries: int) -> Callable[[Law], Law]:
    """Try a law on so many seeds; a smaller seed is no simpler study, so failures are not shrunk."""
    phases = (Phase.explicit, Phase.reuse, Phase.generate)
    seeds = given(seed=st.integers(0, 2**32 - 1))
    return lambda test: settings(max_examples=tries, phases=phases)(seeds(test))


def campaign(test: Law) -> None:
    """Try a law on every seed of the campaign."""
    for seed in CAMPAIGN:
        try:
            test.hypothesis.inner_test(seed)  # type: ignore[attr-defined]
        except AssertionError as error:
            raise AssertionError(f"seed {seed}") from error
