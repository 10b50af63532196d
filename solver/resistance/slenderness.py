"""Slenderness that codes recommend or ask not to exceed: checks of their own beside the resistances.

Certainty: 'seen' means that the figure was read in print or on a public page, 'from memory' that it was not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from solver.profiles.profile import Shape

Force = Literal["compression", "tension", "tension with reversal"]
Certainty = Literal["seen", "from memory"]
Rank = Literal["any", "primary", "secondary"]
"""Of which members: of all, of main members, or of bracing and other secondary ones."""


@dataclass(frozen=True)
class Recommendation:
    """A largest length over radius of gyration: of which members, under which force, and by whom.

    members: in words, with their force. exempt: shapes of which it is not asked. not_told: what cannot be
    told of a member that it is asked of, empty where nothing. eased: it eases another one under some loads
    alone; these are not told apart here, so that it is asked of nobody.
    """

    code: str
    clause: str
    force: Force
    members: str
    most: float
    certainty: Certainty
    exempt: tuple[Shape, ...] = ()
    not_told: str = ""
    rank: Rank = "any"
    eased: bool = False

    @property
    def name(self) -> str:
        """Code, clause, members and limit in one line."""
        return f"{self.code}, {self.clause}: {self.members}, L/r ≤ {self.most:g}"

    def holds(self, slenderness: float) -> bool:
        """Whether a member of this slenderness keeps to it."""
        return slenderness <= self.most * (1 + 1e-12)


_AASHTO = "AASHTO LRFD Bridge Design Specifications"
_AREMA = "AREMA Manual for Railway Engineering, chapter 15"
_IS_800 = "IS 800:2007"

_HANGERS = "a hanger, which the user note of D1 exempts, cannot be told from another member in tension"
_WIND = {
    "compression": "250 where wind or earthquake alone compresses it, which is not told apart here",
    "tension with reversal": "350 where wind or earthquake reverses it, which is not told apart here",
}
_BUT_RODS = "but rods, eyebars, cables and plates"


def _aashto(clause: str, force: Force, members: str, most: float) -> Recommendation:
    exempt: tuple[Shape, ...] = ("rod", "flat") if clause == "6.8.4" else ()
    rank: Rank = "secondary" if members.startswith("secondary") else "primary"
    return Recommendation(_AASHTO, clause, force, members, most, "from memory", exempt, rank=rank)


def _arema(force: Force, members: str, most: float, rank: Rank) -> Recommendation:
    return Recommendation(_AREMA, "part 1", force, members, most, "from memory", rank=rank)


def _is_800(force: Force, members: str, most: float, eased: bool = False) -> Recommendation:
    told = "" if eased or force == "tension" else _WIND[force]
    return Recommendation(_IS_800, "table 3", force, members, most, "seen", not_told=told, eased=eased)


AISC_360 = (
    Recommendation(
        "AISC 360-22", "user note of E2", "compression", "members in compression", 200, "from memory"
    ),
    Recommendation(
        "AISC 360-22",
        "user note of D1",
        "tension",
        "members but rods and hangers in tension",
        300,
        "from memory",
        exempt=("rod",),
        not_told=_HANGERS,
    ),
)
AASHTO = (
    _aashto("6.9.3", "compression", "primary members in compression", 120),
    _aashto("6.9.3", "compression", "secondary members in compression", 140),
    _aashto("6.8.4", "tension with reversal", f"primary members {_BUT_RODS} in tension with reversal", 140),
    _aashto("6.8.4", "tension", f"primary members {_BUT_RODS} in tension", 200),
    _aashto("6.8.4", "tension", f"secondary members {_BUT_RODS} in tension", 240),
)
AREMA = (
    _arema("compression", "main members in compression", 100, "primary"),
    _arema("compression", "bracing in compression", 120, "secondary"),
    _arema("tension", "members in tension", 200, "any"),
)
IS_800 = (
    _is_800("compression", "members in compression under dead and imposed loads", 180),
    _is_800("compression", "members in compression under wind or earthquake alone", 250, eased=True),
    _is_800("tension with reversal", "members in tension, reversed by other than wind or earthquake", 180),
    _is_800("tension with reversal", "ties reversed by wind or earthquake", 350, eased=True),
    _is_800("tension", "members always in tension", 400),
)
ALL = (*AISC_360, *AASHTO, *AREMA, *IS_800)
"""All recommendations, code by code; EN 1993-1-1 states none for members of buildings."""
