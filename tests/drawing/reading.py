"""Reads pictures back: where strokes lie and words stand, apart from how they were drawn."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import combinations
from xml.etree import ElementTree

PER_LETTER, RISE, FALL = 6.2, 8.5, 2.5
BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
HUNDREDTH = 0.011
"""Coordinates are written to a hundredth of a pixel."""
MEASURES = {"x", "y", "x1", "y1", "x2", "y2", "cx", "cy", "r", "width", "height"}

Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Picture:
    """A picture as written."""

    root: ElementTree.Element

    @classmethod
    def read(cls, text: str) -> Picture:
        return cls(ElementTree.fromstring(text))

    @property
    def size(self) -> tuple[float, float]:
        left, top, width, height = map(float, self.root.attrib["viewBox"].split())
        assert (left, top, width) == (0, 0, 168)
        return width, height

    def all(self, tag: str, *classes: str) -> list[ElementTree.Element]:
        found = self.root.iter(tag)
        return [one for one in found if set(classes) <= set(one.attrib.get("class", "").split())]

    def words(self) -> list[str]:
        return [written(one) for one in self.root.iter("text")]

    def boxes(self) -> list[tuple[str, Box]]:
        return [(written(one), box_of(one)) for one in self.root.iter("text")]

    def points(self) -> list[tuple[float, float]]:
        return [point for one in self.root.iter() for point in points_of(one)]


def written(text: ElementTree.Element) -> str:
    """What is seen of a word; its title is shown on pointing only."""
    pieces = [text.text or ""]
    for child in text:
        pieces += [child.text or "" if child.tag == "tspan" else "", child.tail or ""]
    return "".join(pieces)


def box_of(text: ElementTree.Element) -> Box:
    width = PER_LETTER * len(written(text))
    left = float(text.attrib["x"]) - BEFORE[text.attrib.get("text-anchor", "start")] * width
    y = float(text.attrib["y"])
    return left, y - RISE, left + width, y + FALL


def points_of(one: ElementTree.Element) -> list[tuple[float, float]]:
    get = {key: float(value) for key, value in one.attrib.items() if key in MEASURES}
    if one.tag == "line":
        return [(get["x1"], get["y1"]), (get["x2"], get["y2"])]
    if one.tag == "rect":
        assert get["width"] >= 0 and get["height"] >= 0
        return [(get["x"], get["y"]), (get["x"] + get["width"], get["y"] + get["height"])]
    if one.tag == "circle":
        return [(get["cx"] + sign * get["r"], get["cy"] + sign * get["r"]) for sign in (-1, 1)]
    numbers = re.findall(r"-?[\d.]+", one.attrib.get("points", "") + one.attrib.get("d", ""))
    return [(float(x), float(y)) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]


def check(text: str) -> Picture:
    """A picture is well-formed, tells what it shows, keeps inside its edges, and no two words overlap."""
    picture = Picture.read(text)
    width, height = picture.size
    assert picture.root.attrib["role"] == "img" and picture.root.attrib["aria-label"]
    assert height >= 112
    for x, y in picture.points():
        assert -HUNDREDTH <= x <= width + HUNDREDTH and -HUNDREDTH <= y <= height + HUNDREDTH
    boxes = picture.boxes()
    for word, (left, top, right, bottom) in boxes:
        inside = left >= -HUNDREDTH and right <= width + HUNDREDTH and top >= 0 and bottom <= height
        assert inside, (word, left, top, right, bottom)
    for (one, a), (other, b) in combinations(boxes, 2):
        apart = a[2] <= b[0] + 0.02 or b[2] <= a[0] + 0.02 or a[3] <= b[1] + 0.02 or b[3] <= a[1] + 0.02
        assert apart, (one, a, other, b)
    return picture
