"""What a study is held against: a standard for resistances, recommendations, limits, families of sections."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from solver.resistance.slenderness import Recommendation
from solver.resistance.standard import Standard
from solver.truss import Section


@dataclass(frozen=True)
class Limits:
    """What the study itself sets; None or empty where it sets nothing.

    deflection [m]: of any joint along any axis; deflections [m]: of single joints (indices). length_to_depth:
    a member is at least so many times as long as its section is deep, that the bending of its stiff joints
    may be left out. slenderness: largest length over radius of gyration in compression and in tension.
    after_loss: no single loss may bring a new overload.
    """

    deflection: float | None = None
    deflections: Mapping[int, float] = field(default_factory=dict)
    length_to_depth: float | None = None
    slenderness: tuple[float | None, float | None] = (None, None)
    after_loss: bool = False


@dataclass(frozen=True)
class Rules:
    """All of it. Without a standard only resistances given outright are known.

    families: by name, sections in order of area, of which a lighter one may be chosen.
    """

    standard: Standard | None = None
    recommendations: tuple[Recommendation, ...] = ()
    limits: Limits = Limits()
    families: Mapping[str, tuple[Section, ...]] = field(default_factory=dict)
