"""The form of a truss before it is written down: joints on a grid of half metres, bars, supports."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

Point = tuple[int, ...]
"""Coordinates in half metres, the last one up; whole numbers, so that directions are rational."""
Bar = tuple[str, str]
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True)
class Form:
    """A truss without loads.

    `kind`: what the trade calls it. `supports`: held directions by joint, as letters. `crossings`: how
    many pairs of bars may pass one another without a joint.
    """

    kind: str
    joints: dict[str, Point]
    bars: tuple[Bar, ...]
    supports: dict[str, str]
    crossings: int = 0

    @property
    def dimension(self) -> int:
        """2 in the plane, 3 in space."""
        return len(next(iter(self.joints.values())))

    def bars_at(self, joint: str) -> list[Bar]:
        """The bars that meet at a joint."""
        return [bar for bar in self.bars if joint in bar]

    def free_joints(self) -> list[str]:
        """Joints without a support: what is laid on another goes into the ground and reaches no bar."""
        return [joint for joint in self.joints if joint not in self.supports]

    def next_name(self) -> str:
        """A name for a further joint: the next letter, or beside L0 and U0 the next of M1, M2 ..."""
        if "A" not in self.joints:
            return f"M{1 + sum(name.startswith('M') for name in self.joints)}"
        return next(letter for letter in LETTERS if letter not in self.joints)

    def with_joint(self, point: Point, ends: Iterable[str], without: Bar | None = None) -> Form:
        """Add a joint, tied to each of `ends`; the bar `without` gives way to it."""
        name = self.next_name()
        kept = tuple(bar for bar in self.bars if bar != without)
        new = tuple((end, name) for end in ends)
        return replace(self, joints={**self.joints, name: point}, bars=kept + new)


def turned(form: Form, kind: str, supports: dict[str, str]) -> Form:
    """Exchange the first axis and the last one: a girder along x becomes a tower, a mast lies down."""
    joints = {name: (point[-1], *point[1:-1], point[0]) for name, point in form.joints.items()}
    return replace(form, kind=kind, joints=joints, supports=supports)


def upside_down(form: Form) -> Form:
    """Turn a girder over, its chords' names exchanged: L0 is below U0 again."""
    swap = str.maketrans("LU", "UL")
    highest = max(point[-1] for point in form.joints.values())
    return replace(
        form,
        joints={n.translate(swap): (*p[:-1], highest - p[-1]) for n, p in form.joints.items()},
        bars=tuple((a.translate(swap), b.translate(swap)) for a, b in form.bars),
        supports={name.translate(swap): held for name, held in form.supports.items()},
    )
