"""A train to scale: wheels, load arrows, strips, its lane, its second train; never a pictured vehicle.

It travels to the right, so its front is at the right-hand side.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from explorer.drawing.figures.placing import Ground
from explorer.drawing.figures.strokes import (
    draw_arrow,
    draw_line,
    draw_lines,
    draw_polygon,
    draw_rectangle,
    draw_ring,
    draw_sheet,
)
from explorer.drawing.figures.train_layout import (
    WIDEST,
    WIDTH,
    Axles,
    Convoy,
    Following,
    Road,
    Strip,
    TrainPicture,
    lay_road,
    line_up,
)
from explorer.drawing.figures.train_numbers import bare, draw_ties, place_numbers
from explorer.drawing.figures.words import FALL, LINE, Box, Point, Word, cut, draw_word, width_of
from explorer.markup import Markup

__all__ = ["Following", "TrainPicture", "draw_train_picture"]

RULER, BELOW = 11.0, 23.0
"""The dimension line, and the base line of its numbers, below the road [px]."""

HATCH, TEETH = 6.0, 4.0
"""From one stroke of a hatched band to the next; depth of a broken end [px]."""

SWATCH = 16.0
"""Room for a piece of the lane before the words that tell what it is [px]."""


@dataclass
class _Sheet:
    """What has been drawn; words keep off what lies on the ground; `key` tells what found no room."""

    road: Road
    ground: Ground
    strokes: list[Markup] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    key: list[str] = field(default_factory=list)

    def write(self, *places: Word) -> bool:
        """Write a word at the first free of its places; return whether there is one."""
        found = self.ground.take((word,) for word in places)
        self.words += found
        return bool(found)


def draw_train_picture(train: TrainPicture) -> Markup:
    """Draw a train with its loads to scale along the road, and by size against one another."""
    convoys = line_up(train)
    road = lay_road(train, convoys)
    sheet = _Sheet(road, Ground(Box(0.0, 0.0, WIDTH, road.level + BELOW + FALL + 1)))
    if train.lane:
        _draw_lane(sheet, train.lane, train.clear)
    strips = [strip for convoy in convoys for strip in convoy.strips]
    for strip in strips:
        _draw_strip(sheet, strip)
    sheet.strokes.append(draw_line("road", (0.0, road.level), (WIDTH, road.level)))
    sheet.ground.lines.append(((0.0, road.level), (WIDTH, road.level), 1.0))
    for convoy in convoys:
        _draw_axles(sheet, convoy.axles)
    for group, word in place_numbers(sheet.ground, road, convoys, train.tell_load):
        sheet.words.append(word)
        sheet.strokes += draw_ties(group, word, road)
    for strip in strips:
        _letter_strip(sheet, strip, train.tell_uniform(strip[2]))
    depth = BELOW if _draw_rulers(sheet, train, convoys) else 0.0
    height = _write_key(sheet, train, road.level + depth + LINE + 5)
    content = [*sheet.strokes, *map(draw_word, sheet.words)]
    return draw_sheet("train-picture", train.label, content, height, WIDTH)


def _draw_lane(sheet: _Sheet, load: float, clear: tuple[float, float] | None) -> None:
    """A light band over all of the road, with broken ends; the stretch in which it never lies stays empty."""
    road = sheet.road
    sides = [(0.0, WIDTH)]
    if clear:
        sides = [(0.0, road.x(max(clear))), (road.x(min(clear)), WIDTH)]
    for left, right in sides:
        box = Box(left, road.top(load), right, road.level)
        sheet.strokes.append(draw_polygon("lane", _outline(box, (left <= 0, right >= WIDTH))))
        sheet.ground.boxes.append(box)


def _draw_strip(sheet: _Sheet, strip: Strip) -> None:
    """A hatched band, height by load; an endless one has a broken end."""
    left, right, top = sheet.road.band(strip)
    box, endless = Box(left, top, right, sheet.road.level), strip[1] is None
    sheet.strokes.append(draw_polygon("strip", _outline(box, (endless, False))))
    sheet.strokes += draw_lines("hatching", _hatch(box, TEETH if endless else 0.0))
    sheet.ground.boxes.append(box)


def _outline(box: Box, broken: tuple[bool, bool]) -> list[Point]:
    """A band on the road, its left and its right end straight or broken: three teeth."""
    heights = [box.top + (box.bottom - box.top) * share / 6 for share in range(7)]
    depths = [TEETH if i % 2 else 0.0 for i in range(7)]
    falling = [(box.right - depth, y) for depth, y in zip(depths, heights, strict=True)]
    rising = [(box.left + depth, y) for depth, y in zip(depths, heights, strict=True)]
    right = falling if broken[1] else [falling[0], falling[-1]]
    left = rising if broken[0] else [rising[0], rising[-1]]
    return [*right, *reversed(left)]


def _hatch(box: Box, teeth: float) -> Iterator[tuple[Point, Point]]:
    """Strokes that rise to the right at 45 degrees, cut off at both ends and before the teeth."""
    left, height = box.left + teeth, box.bottom - box.top
    foot = left - height + HATCH / 2
    while foot < box.right:
        start, end = max(foot, left), min(foot + height, box.right)
        if end > start:
            yield (start, box.bottom - (start - foot)), (end, box.bottom - (end - foot))
        foot += HATCH


def _draw_axles(sheet: _Sheet, axles: Axles) -> None:
    """Wheels, the thin line that joins them, and an arrow for each load."""
    road = sheet.road
    places = sorted({road.x(distance) for distance, _ in axles})
    radius = min(5.0, max(1.8, 0.42 * min((b - a for a, b in pairwise(places)), default=WIDEST)))
    if len(places) > 1:
        height = road.level - 1.9 * radius
        ends = (places[0] - 1.3 * radius, height), (places[-1] + 1.3 * radius, height)
        sheet.strokes.append(draw_line("frame-line", *ends))
        sheet.ground.lines.append((*ends, 1.0))
    for distance, load in axles:
        x, tail = road.x(distance), road.tail(load)
        sheet.strokes.append(draw_ring("wheel", (x, road.level - radius), radius))
        sheet.strokes.append(draw_arrow((x, tail), (x, road.level - 1.5)))
        # A number may stand right on a tail, but not beside it on the shaft.
        sheet.ground.lines.append(((x, tail + 2), (x, road.level), 1.2))


def _letter_strip(sheet: _Sheet, strip: Strip, told: str) -> None:
    """Write a uniform load over its band, in the middle or where arrows leave room."""
    left, right, top = sheet.road.band(strip)
    full = f"{told}, endless" if strip[1] is None else told
    places = []
    for text in dict.fromkeys((full, told)):
        half = width_of(text) / 2
        for share in (0.5, 0.25, 0.75, 0.1, 0.9):
            x = min(max(left + share * (right - left), half + 1), WIDTH - half - 1)
            places += [Word(text, x, top - 4 - rise, "s", "middle") for rise in (0.0, LINE)]
    if not sheet.write(*places):
        sheet.key.append(f"strip of {full}")


def _draw_rulers(sheet: _Sheet, train: TrainPicture, convoys: Sequence[Convoy]) -> bool:
    """Distances beneath, and how far the second train stays behind at least; whether there are any."""
    spans: list[tuple[float, float]] = []
    for i, convoy in enumerate(convoys or [Convoy((), ())]):
        more = train.clear or () if i == 0 else ()
        spans += pairwise(sorted({*convoy.places, *more}))
    spans = [span for span in spans if span[1] - span[0] > 1e-9]
    for span in spans:
        sheet.strokes += _draw_span(sheet.road, span)
    _letter_spans(sheet, train, spans)
    if train.second and len(convoys) == 2:
        between = convoys[0].places[-1], convoys[1].places[0]
        told = f"at least {train.tell_length(train.second.gap)}"
        sheet.strokes += _draw_span(sheet.road, between)
        if not _letter_span(sheet, between, told):
            sheet.key.append(f"second train {told} behind")
    return bool(spans) or len(convoys) == 2


def _letter_spans(sheet: _Sheet, train: TrainPicture, spans: Sequence[tuple[float, float]]) -> None:
    """Write distances with their unit where all fit so, else as bare numbers with the unit told once."""
    told = [train.tell_length(far - near) for near, far in spans]
    if not all(_fits(sheet.road, span, text) for span, text in zip(spans, told, strict=True)):
        sheet.key.append(f"distances in {told[0].removeprefix(bare(told[0])).strip()}")
        told = [bare(text) for text in told]
    written = [_letter_span(sheet, span, text) for span, text in zip(spans, told, strict=True)]
    if not all(written):
        places = [place for span in spans for place in span]
        sheet.key.append(f"{train.tell_length(max(places) - min(places))} from end to end")


def _draw_span(road: Road, span: tuple[float, float]) -> list[Markup]:
    line, (right, left) = road.level + RULER, map(road.x, span)
    ticks = [draw_line("span", (x, line - 3), (x, line + 3)) for x in (left, right)]
    return [draw_line("span", (left, line), (right, line)), *ticks]


def _letter_span(sheet: _Sheet, span: tuple[float, float], text: str) -> bool:
    middle = sum(map(sheet.road.x, span)) / 2
    word = Word(text, middle, sheet.road.level + BELOW, "s", "middle")
    return _fits(sheet.road, span, text) and sheet.write(word)


def _fits(road: Road, span: tuple[float, float], text: str) -> bool:
    return width_of(text) + 2 <= (span[1] - span[0]) * road.scale


def _write_key(sheet: _Sheet, train: TrainPicture, y: float) -> float:
    """Write below what a lane is and what found no room; return the height that the picture takes."""
    texts = [(text, 0.0) for text in sheet.key]
    if train.lane:
        texts.insert(0, (f"lane of {train.tell_uniform(train.lane)}, placed where adverse", SWATCH))
    x = 1.0
    for text, indent in texts:
        short = cut(text, WIDTH - 2 - indent)
        if x > 1 and x + indent + width_of(short) > WIDTH - 1:
            x, y = 1.0, y + LINE
        if indent:
            sheet.strokes.append(draw_rectangle("lane", x + 0.5, y - 8, (11.0, 8.0)))
        sheet.words.append(Word(short, x + indent, y, whole=text))
        x += indent + width_of(short) + 16
    if line_up(train):
        way = Word("travels →", WIDTH - 1, y, "s", "end")
        y += LINE if way.box.left < x else 0.0
        sheet.words.append(Word(way.text, way.x, y, "s", "end"))
    return y + FALL + 3
