"""Words in the small pictures: how much room one takes, and how it is written.

A picture is drawn before anybody knows the reader's face of type, so a word takes a width estimated
from its letters, and whatever decides about room asks here.
"""

from __future__ import annotations

from dataclasses import dataclass

from explorer.markup import Markup, element

Point = tuple[float, float]
PER_LETTER, PER_BOLD_LETTER = 6.2, 6.9
"""Estimated width of a letter at 11 px [px]."""

RISE, FALL = 8.5, 2.5
"""How far a word reaches above and below its base line [px]."""

LINE = 12.0
"""From one base line to the next [px]."""

BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""The part of a word that lies left of its anchor."""

FORCE_LETTERS = ("T ", "C ")


@dataclass(frozen=True)
class Box:
    """A rectangle [px], downwards."""

    left: float
    top: float
    right: float
    bottom: float

    def overlaps(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def within(self, other: Box) -> bool:
        """Whether this one lies inside the other."""
        return (
            self.left >= other.left
            and self.right <= other.right
            and self.top >= other.top
            and self.bottom <= other.bottom
        )

    def wider(self, room: float) -> Box:
        """Return the box with room around it."""
        return Box(self.left - room, self.top - room, self.right + room, self.bottom + room)

    def crossed_by(self, a: Point, b: Point) -> bool:
        """Whether the straight line from a to b touches the box: by separating axes."""
        half = (self.right - self.left) / 2, (self.bottom - self.top) / 2
        along = (b[0] - a[0]) / 2, (b[1] - a[1]) / 2
        away = (
            (a[0] + b[0]) / 2 - (self.left + self.right) / 2,
            (a[1] + b[1]) / 2 - (self.top + self.bottom) / 2,
        )
        if abs(away[0]) > half[0] + abs(along[0]) or abs(away[1]) > half[1] + abs(along[1]):
            return False
        turned = abs(along[0] * away[1] - along[1] * away[0])
        return turned <= half[0] * abs(along[1]) + half[1] * abs(along[0])


@dataclass(frozen=True)
class Word:
    """A word on its base line.

    `look`: t or c in the hue of its force, s second voice, b bold ink. `whole`: what it was cut from.
    """

    text: str
    x: float
    y: float
    look: str = "s"
    anchor: str = "start"
    whole: str = ""

    @property
    def box(self) -> Box:
        """The room it takes."""
        width = width_of(self.text, self.look)
        left = self.x - BEFORE[self.anchor] * width
        return Box(left, self.y - RISE, left + width, self.y + FALL)


def width_of(text: str, look: str = "s") -> float:
    """Return the estimated width of a text in a word's look [px].

    >>> width_of("T 103")
    31.0
    """
    return (PER_BOLD_LETTER if look == "b" else PER_LETTER) * len(text)


def cut(text: str, width: float, look: str = "s") -> str:
    """Return the text, or as much of it as `width` holds with an ellipsis for the rest.

    >>> cut("hanger", 40), cut("hanger", 26)
    ('hanger', 'han…')
    """
    # A width that was made from this very text may come back a rounding short.
    if width_of(text, look) <= width + 1e-6:
        return text
    return text[: max(0, int(width / width_of("…", look)) - 1)] + "…"


def wrap(text: str, width: float, look: str = "s") -> list[str]:
    """Break a text into lines at its blanks; a piece that no line holds is cut.

    >>> wrap("149 - 149 = 0", 40)
    ['149 -', '149 =', '0']
    """
    lines: list[str] = []
    for piece in text.split():
        if lines and width_of(f"{lines[-1]} {piece}", look) <= width:
            lines[-1] += f" {piece}"
        else:
            lines.append(cut(piece, width, look))
    return lines


def draw_word(word: Word) -> Markup:
    """Write a word; the letter of a force is set bold, and what was cut is told in full on pointing."""
    text = word.text
    content = [text]
    if word.look in ("t", "c") and text.startswith(FORCE_LETTERS):
        content = [element("tspan", text[0], {"class": "lt"}), text[1:]]
    if word.whole and word.whole != text:
        content.append(element("title", word.whole))
    anchor = None if word.anchor == "start" else word.anchor
    return element(
        "text",
        content,
        {"class": f"mk {word.look}", "x": float(word.x), "y": float(word.y), "text-anchor": anchor},
    )
