"""The envelope along a line of members: tension upwards, compression downwards, a step a member."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from explorer.drawing.figures.placing import Ground
from explorer.drawing.figures.strokes import draw_line, draw_rectangle, draw_sheet
from explorer.drawing.figures.words import FALL, LINE, RISE, Box, Word, cut, draw_word, width_of
from explorer.markup import Markup

WIDTH, SPAN = 640.0, 66.0
"""Width of the picture; height of both sides of the line together [px]."""

EDGE, TOP = 6.0, 32.0
"""Room at the sides; where the steps may begin, below the title and a line of numbers [px]."""

LEAST = 1.5
"""A peak too small to be seen still shows that it is one [px]."""

TAG = 5.0
"""What the ink tag of the chosen member reaches beyond its name [px]."""


@dataclass(frozen=True)
class EnvelopeMember:
    """A member on the line: its ends along it [m], and sizes of its peaks [N] (0: never)."""

    name: str
    start: float
    end: float
    tension: float
    compression: float
    chosen: bool = False


@dataclass(frozen=True)
class Envelope:
    """A line of members; `tell` writes a force [N], tension positive, with its letter and its unit."""

    title: str
    members: tuple[EnvelopeMember, ...]
    tell: Callable[[float], str]


@dataclass(frozen=True)
class _Frame:
    """Where the line lies [px], and pixels per metre along it and per newton across it."""

    first: float
    along: float
    line: float
    across: float

    def ends(self, member: EnvelopeMember) -> tuple[float, float]:
        """Return a member's left and right end [px], whichever way it was given."""
        near, far = sorted((member.start, member.end))
        return EDGE + (near - self.first) * self.along, EDGE + (far - self.first) * self.along

    def middle(self, member: EnvelopeMember) -> float:
        return sum(self.ends(member)) / 2

    def size(self, force: float) -> float:
        """Return how far a peak reaches from the line [px]."""
        return max(LEAST, force * self.across) if force > 0 else 0.0


def draw_envelope(envelope: Envelope) -> Markup:
    """Draw a step up and a step down for each member, with numbers at the largest and at the chosen."""
    members = envelope.members
    title = Word(cut(envelope.title, WIDTH - 2 * EDGE, "b"), EDGE, 11.0, "b", whole=envelope.title)
    if not members:
        none = Word("no members", EDGE, TOP + LINE)
        return draw_sheet(
            "envelope", f"{envelope.title}: no members", map(draw_word, (title, none)), 48.0, WIDTH
        )
    frame = _lay_out(members)
    bottom = TOP + SPAN + LINE + 4
    strokes = [stroke for member in members for stroke in _draw_member(member, frame)]
    strokes += [_mark(member, frame) for member in members if member.chosen]
    names = _letter_names(members, frame, bottom + RISE + 2)
    strokes += [_draw_tag(word) for word in names if word.look == "r"]
    words = [title, *_letter_peaks(envelope, frame), *names]
    height = bottom + (RISE + FALL + 5 if names else 0.0)
    content = [*strokes, *map(draw_word, words)]
    return draw_sheet("envelope", _tell_all(envelope), content, height, WIDTH)


def _lay_out(members: Sequence[EnvelopeMember]) -> _Frame:
    """Both sides share one scale; the line lies in the middle where no member ever works."""
    places = [place for member in members for place in (member.start, member.end)]
    length = max(places) - min(places)
    up = max(member.tension for member in members)
    down = max(member.compression for member in members)
    along = (WIDTH - 2 * EDGE) / length if length else 0.0
    if not up + down:
        return _Frame(min(places), along, TOP + SPAN / 2, 0.0)
    return _Frame(min(places), along, TOP + SPAN * up / (up + down), SPAN / (up + down))


def _draw_member(member: EnvelopeMember, frame: _Frame) -> list[Markup]:
    """The steps of a member and its stretch of the line, which is broken where it is never loaded."""
    left, right = frame.ends(member)
    up, down = frame.size(member.tension), frame.size(member.compression)
    if not up and not down:
        return [draw_line("zero", (left + 1, frame.line), (right - 1, frame.line))]
    steps = []
    if up:
        steps.append(draw_rectangle("step t", left, frame.line - up, (right - left, up)))
    if down:
        steps.append(draw_rectangle("step c", left, frame.line, (right - left, down)))
    return [*steps, draw_line("axis-line", (left, frame.line), (right, frame.line))]


def _mark(member: EnvelopeMember, frame: _Frame) -> Markup:
    """The chosen member's outline in ink: around its steps, or around its zero."""
    left, right = frame.ends(member)
    up, down = max(3.0, frame.size(member.tension)), max(3.0, frame.size(member.compression))
    return draw_rectangle("chosen", left, frame.line - up, (right - left, up + down))


def _letter_peaks(envelope: Envelope, frame: _Frame) -> list[Word]:
    """The largest of each side, then the chosen member's own, each where its number hits nothing."""
    members = envelope.members
    ground = Ground(Box(EDGE, TOP - LINE - 1, WIDTH - EDGE, TOP + SPAN + LINE + 1))
    for member in members:
        left, right = frame.ends(member)
        top, bottom = frame.line - frame.size(member.tension), frame.line + frame.size(member.compression)
        ground.boxes.append(Box(left, top, right, bottom))
    found: list[Word] = []
    for sign in (1, -1):
        largest = max(members, key=lambda member: _peak(member, sign))
        wanted = [largest, *(member for member in members if member.chosen and member is not largest)]
        for member in wanted:
            if _peak(member, sign) > 0:
                found += ground.take([(word,) for word in _places(envelope, member, sign, frame)])
    zeros = [member for member in members if not member.tension and not member.compression]
    return found + [word for member in zeros for word in ground.take([(_zero(member, frame),)])]


def _peak(member: EnvelopeMember, sign: int) -> float:
    return member.tension if sign > 0 else member.compression


def _places(envelope: Envelope, member: EnvelopeMember, sign: int, frame: _Frame) -> Iterable[Word]:
    """A number beyond the end of its step, as near to its middle as the edges let it."""
    size = _peak(member, sign)
    text = envelope.tell(sign * size)
    half = width_of(text) / 2
    reach = frame.size(size)
    line = frame.line - reach - FALL - 1.5 if sign > 0 else frame.line + reach + RISE + 1.5
    look = "t" if sign > 0 else "c"
    middle = min(max(frame.middle(member), EDGE + half), WIDTH - EDGE - half)
    left, right = frame.ends(member)
    for x in (middle, right - half, left + half):
        yield Word(text, x, line, look, "middle")


def _zero(member: EnvelopeMember, frame: _Frame) -> Word:
    return Word("0", frame.middle(member), frame.line - FALL - 4.5, "s", "middle")


def _letter_names(members: Sequence[EnvelopeMember], frame: _Frame, line: float) -> list[Word]:
    """All names where all have room; else the chosen ones alone, for some would look like a choice."""
    words = [_name(member, frame, line) for member in members]
    for some in (words, [word for word in words if word.look == "r"]):
        boxes = [word.box.wider(TAG if word.look == "r" else 1.0) for word in some]
        if not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i]):
            return some
    return [word for word in words if word.look == "r"][:1]


def _name(member: EnvelopeMember, frame: _Frame, line: float) -> Word:
    text = cut(member.name, WIDTH - 2 * EDGE - 2 * TAG)
    half = width_of(text) / 2 + TAG
    x = min(max(frame.middle(member), half), WIDTH - half)
    return Word(text, x, line, "r" if member.chosen else "s", "middle", member.name)


def _draw_tag(word: Word) -> Markup:
    box = word.box
    size = (box.right - box.left + 2 * TAG, RISE + FALL + 3)
    return draw_rectangle("tag", box.left - TAG, box.top - 1.5, size)


def _tell_all(envelope: Envelope) -> str:
    """The picture for readers of the text alone: the largest of both kinds, and the chosen member's own."""
    told = []
    for sign in (1, -1):
        largest = max(envelope.members, key=lambda member: _peak(member, sign))
        if size := _peak(largest, sign):
            told.append(f"up to {envelope.tell(sign * size)} in {largest.name}")
    for member in envelope.members:
        if member.chosen:
            own = [envelope.tell(s * _peak(member, s)) for s in (1, -1) if _peak(member, s)]
            told.append(f"{member.name}: {' and '.join(own) or '0'}")
    return f"{envelope.title}: {'; '.join(told) or 'zero in all members'}"
