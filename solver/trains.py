"""Trains: loads that keep their distances from one another and move together."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Axle:
    """A downward load [N] at a distance behind the train's front [m]."""

    distance: float
    load: float


@dataclass(frozen=True)
class Train:
    """Axles that move together; `distance` 0 is the train's front."""

    name: str
    axles: tuple[Axle, ...]
