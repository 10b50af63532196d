"""Numbers at the tails of a train's arrows: one for each axle, or one for neighbours that stand too near."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from explorer.drawing.figures.placing import Ground, Words
from explorer.drawing.figures.strokes import draw_line
from explorer.drawing.figures.train_layout import WIDTH, Convoy, Road, Telling
from explorer.drawing.figures.words import FALL, LINE, RISE, Point, Word, cut, width_of
from explorer.markup import Markup

MANY = 24
"""A train of more axles than this has all of its near neighbours told together, whatever their loads."""

TIMES = "\N{MULTIPLICATION SIGN}"


@dataclass(frozen=True)
class Group:
    """Neighbouring axles (place [px], load [N]) that one number tells, from the front on."""

    axles: tuple[Point, ...]

    @property
    def ends(self) -> tuple[float, float]:
        """The outermost places [px]."""
        places = [x for x, _ in self.axles]
        return min(places), max(places)

    @property
    def middle(self) -> float:
        """Where the number stands best [px]."""
        return sum(self.ends) / 2

    def level(self, road: Road) -> float:
        """Return the height of the highest tail [px]; a line over a group lies there."""
        return min(road.tail(load) for _, load in self.axles)

    def told(self, tell: Telling) -> str:
        """Return a load, a number of equal loads, or from where to where the loads lie."""
        loads = [load for _, load in self.axles]
        least, most = tell(min(loads)), tell(max(loads))
        if len(loads) == 1:
            return most
        return f"{len(loads)} {TIMES} {most}" if least == most else f"{len(loads)} of {bare(least)} to {most}"


def bare(text: str) -> str:
    """Return a size without the unit behind its blank.

    >>> bare("14 ft"), bare("14")
    ('14', '14')
    """
    pieces = text.split()
    return pieces[0] if pieces else text


def place_numbers(
    ground: Ground, road: Road, convoys: Sequence[Convoy], tell: Telling
) -> list[tuple[Group, Word]]:
    """Return groups with their numbers, which are put on the ground.

    Whatever finds no room is put together with its nearest neighbours; a number for all always has room.
    """
    groups = [group for convoy in convoys for group in _equal_neighbours(road, convoy, tell)]
    while groups:
        trial = ground.copy()
        placed: dict[int, Words] = {}
        # A number for several may stand aside, for its line shows what it tells.
        for i in sorted(range(len(groups)), key=lambda i: len(groups[i].axles) > 1):
            placed[i] = _place(trial, groups[i], groups[i].told(tell), (road, [*placed.values()]))
        stuck = next((i for i in range(len(groups)) if not placed[i]), None)
        if stuck is None:
            ground.boxes, ground.lines = trial.boxes, trial.lines
            return [(group, placed[i][0]) for i, group in enumerate(groups)]
        groups = _join(groups, stuck) if len(groups) > 1 else []
    return []


def draw_ties(group: Group, word: Word, road: Road) -> Iterator[Markup]:
    """Draw the line over a group, or the hairline from a single tail to a number well above it."""
    level = group.level(road)
    if len(group.axles) > 1:
        left, right = group.ends
        yield draw_line("span", (left, level), (right, level))
    if level - word.box.bottom > LINE / 2:
        yield draw_line("lead", (group.middle, level - 1), (group.middle, word.box.bottom))


def _equal_neighbours(road: Road, convoy: Convoy, tell: Telling) -> list[Group]:
    """Put axles of one load together whose numbers would collide."""
    groups: list[list[Point]] = []
    for distance, load in sorted(convoy.axles):
        x = road.x(distance)
        last = groups[-1][-1] if groups else None
        near = last is not None and last[0] - x < width_of(tell(load), "b") + 2
        if last is not None and near and (tell(last[1]) == tell(load) or len(convoy.axles) > MANY):
            groups[-1].append((x, load))
        else:
            groups.append([(x, load)])
    return [Group(tuple(group)) for group in groups]


def _join(groups: Sequence[Group], stuck: int) -> list[Group]:
    """Put a group together with the nearer of its neighbours."""
    beside = [i for i in (stuck - 1, stuck + 1) if 0 <= i < len(groups)]
    first = min(stuck, min(beside, key=lambda i: abs(groups[i].middle - groups[stuck].middle)))
    joined = Group((*groups[first].axles, *groups[first + 1].axles))
    return [*groups[:first], joined, *groups[first + 2 :]]


def _place(ground: Ground, group: Group, told: str, given: tuple[Road, Sequence[Words]]) -> Words:
    """Find room for a number at its tail, then higher up; the way from the one to the other stays free.

    `given`: the road, and the numbers placed before.
    """
    road, before = given
    text = cut(told, WIDTH - 4, "b")
    half, level = width_of(text, "b") / 2, group.level(road)
    middle = min(max(group.middle, half + 1.5), WIDTH - half - 1.5)
    line = level - FALL - 2.5
    shifts = (0.0, 4.0, -4.0, 8.0, -8.0, half / 2, -half / 2)
    places = [Word(text, middle + shift, line, "b", "middle", told) for shift in shifts]
    heights = [line - LINE * step for step in (1, 2, 3, 4)] + [RISE + 1.5]
    places += [Word(text, middle, y, "b", "middle", told) for y in heights if y > RISE + 1]
    found = ground.take((word,) for word in places if _is_reached(before, group, word, level))
    if found:
        left, right = group.ends
        ground.lines.append(((left, level), (right, level), 1.0))
        ground.lines.append(((group.middle, level), (group.middle, found[0].box.bottom), 1.0))
    return found


def _is_reached(before: Sequence[Words], group: Group, word: Word, level: float) -> bool:
    """Whether the line over a group and the hairline to its number cross no other number."""
    tie = (group.middle, level), (group.middle, word.box.bottom)
    over = (group.ends[0], level), (group.ends[1], level)
    boxes = [other.box.wider(1.0) for words in before for other in words]
    return not any(box.crossed_by(*line) for box in boxes for line in (tie, over))
