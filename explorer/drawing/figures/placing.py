"""Where words find room in a picture: several places are tried, and the first free one is taken."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from explorer.drawing.figures.words import Box, Point, Word

Words = tuple[Word, ...]
ROOM = 1.0
"""Room between two words [px]."""


@dataclass
class Ground:
    """What words must keep off: the edge, other words, marks, and lines with half their widths [px]."""

    edge: Box
    boxes: list[Box] = field(default_factory=list)
    lines: list[tuple[Point, Point, float]] = field(default_factory=list)

    def is_free(self, words: Words) -> bool:
        """Whether words (that belong together) lie inside, on nothing, and not on one another."""
        boxes = [word.box for word in words]
        if any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i]):
            return False
        return all(self._is_free(box) for box in boxes)

    def _is_free(self, box: Box) -> bool:
        wide = box.wider(ROOM)
        return (
            box.within(self.edge)
            and not any(wide.overlaps(other) for other in self.boxes)
            and not any(box.wider(half).crossed_by(a, b) for a, b, half in self.lines)
        )

    def take(self, places: Iterable[Words]) -> Words:
        """Return the words at the first free of their places, which is then taken; none if none is free."""
        for words in places:
            if self.is_free(words):
                self.boxes += [word.box for word in words]
                return words
        return ()

    def copy(self) -> Ground:
        """Return a ground on which places can be tried."""
        return Ground(self.edge, list(self.boxes), list(self.lines))
