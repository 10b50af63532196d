"""A stream of whole numbers that is the same on every machine and in every version of Python."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import TypeVar

Item = TypeVar("Item")


class Draws:
    """Numbers drawn one after another; the same key gives the same stream.

    They are digests of the key and a counter. The generators of Python and of numpy do not serve here:
    neither promises the same stream in later versions.
    """

    def __init__(self, *key: int) -> None:
        self._key = "/".join(map(str, key))
        self._drawn = 0

    def below(self, bound: int) -> int:
        """Draw a whole number from 0 to `bound` - 1."""
        digest = hashlib.sha256(f"{self._key}:{self._drawn}".encode("ascii")).digest()
        self._drawn += 1
        return int.from_bytes(digest[:8], "big") % bound

    def between(self, least: int, most: int) -> int:
        """Draw a whole number from `least` to `most`, both included."""
        return least + self.below(most - least + 1)

    def one_of(self, items: Sequence[Item]) -> Item:
        """Draw one of some items."""
        return items[self.below(len(items))]

    def happens(self, percent: int) -> bool:
        """Draw whether something happens that happens `percent` times in a hundred."""
        return self.below(100) < percent
