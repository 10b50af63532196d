"""What a prop must have, of which joint it is asked, and what a rule for it is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from solver.errors import InputError
from solver.resistance.steps import Quantity, Step


@dataclass(frozen=True)
class Demand:
    """What a rule asks of whatever holds a joint across a compressed piece.

    force [N], across the piece, either way; None where the rule gives none. stiffness [N/m]: None where the
    rule asks for none or cannot tell. stretched: why the clause does not literally cover this use, empty
    where it does. refused names what kept the rule from an answer; unchecked what it leaves out. The steps
    to the force and those to the stiffness stand apart; some rules need a step for both.
    """

    force: float | None
    stiffness: float | None
    force_steps: tuple[Step, ...]
    stiffness_steps: tuple[Step, ...]
    stretched: str
    refused: tuple[str, ...] = ()
    unchecked: tuple[str, ...] = ()

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps, each once: first those to the force."""
        return tuple(dict.fromkeys((*self.force_steps, *self.stiffness_steps)))


@dataclass(frozen=True)
class Side:
    """The bar on one side of a joint: compression [N], negative where it is pulled, and length [m]."""

    compression: float
    length: float

    @property
    def push(self) -> float:
        """Compression over length [N/m]: what a joint's movement across is multiplied by."""
        return self.compression / self.length


@dataclass(frozen=True)
class HeldPoint:
    """A joint of bars in line that must be held across them; the others between them are held as well.

    lengths [m] and compressions [N] (negative where pulled) by bar, in order; place: the joint, 0 to the
    number of bars. alike: how many such lines the same props hold. permitted [m]: the longest effective
    length at which the bars beside the joint still bear their compression. in_plane: held by the truss
    itself, in its plane. Raises InputError where there is no such joint, or where neither bar beside it is
    compressed.
    """

    lengths: tuple[float, ...]
    compressions: tuple[float, ...]
    place: int
    alike: int = 1
    permitted: float | None = None
    in_plane: bool = True

    def __post_init__(self) -> None:
        if not self.lengths or len(self.lengths) != len(self.compressions):
            raise InputError("every bar needs a length and a compression")
        if min(self.lengths) <= 0 or not 0 <= self.place <= len(self.lengths) or self.alike < 1:
            raise InputError(f"there is no joint {self.place} to hold between these bars")
        if self.compression <= 0:
            raise InputError("neither bar beside this joint is compressed: there is nothing to hold")

    @property
    def sides(self) -> tuple[Side, ...]:
        """The bars beside the joint: one at an end, else two."""
        near = range(max(self.place - 1, 0), min(self.place + 1, len(self.lengths)))
        return tuple(Side(self.compressions[bar], self.lengths[bar]) for bar in near)

    @property
    def compression(self) -> float:
        """The larger compression beside the joint, of one line [N]."""
        return max(side.compression for side in self.sides)

    @property
    def together(self) -> float:
        """The larger compression beside the joint, of all lines alike together [N]."""
        return self.alike * self.compression

    @property
    def hardest(self) -> Side:
        """The side that pushes the joint away hardest, all lines alike together: the larger push."""
        side = max(self.sides, key=lambda side: side.push)
        return Side(self.alike * side.compression, side.length)

    @property
    def at_end(self) -> bool:
        """Whether only one bar of the line meets at the joint."""
        return len(self.sides) == 1

    @property
    def braces(self) -> int:
        """How many joints between the ends are held."""
        return len(self.lengths) - 1

    @property
    def span(self) -> float:
        """Length of the whole line [m]."""
        return sum(self.lengths)


class Rule(Protocol):
    """A rule for what a prop must have."""

    @property
    def name(self) -> str:
        """Its name with edition, and of several methods which."""
        ...

    def demand(self, point: HeldPoint) -> Demand:
        """What it asks of whatever holds this joint."""
        ...


def stretched(written_for: str, point: HeldPoint) -> str:
    """Return why a clause is stretched when the truss itself must hold a joint; empty for props across it."""
    if not point.in_plane:
        return ""
    return f"common practice: written for {written_for}, here asked of members that hold a joint in the plane"


def per_length(symbol: str, value: float) -> Quantity:
    """A stiffness or a load per length [N/m]; no kind of quantity is one, so the symbol names the unit."""
    return Quantity(f"{symbol} [N/m]", value)
