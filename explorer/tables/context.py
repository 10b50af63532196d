"""What every table needs: the answers, the units they are told in, and names for indices."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from explorer.document import UnitSystem
from explorer.tables.table import text
from solver.answers import Answers
from solver.sweep import Governing
from solver.truss import AXES, Truss

Array = NDArray[np.float64]
WAYS = ("forward", "backward")


@dataclass(frozen=True)
class Context:
    """Answers and the unit system of their study."""

    answers: Answers
    units: UnitSystem

    @property
    def truss(self) -> Truss:
        """The study's truss."""
        return self.answers.study.truss

    def joint_names(self, joints: tuple[int, ...]) -> str:
        """Names of joints, separated by blanks."""
        return " ".join(self.truss.joint_names[joint] for joint in joints)

    def member_names(self, members: tuple[int, ...]) -> str:
        """Names of members, separated by blanks."""
        return " ".join(self.truss.members[member].name for member in members)

    def force(self, values: Array) -> Array:
        """Forces [N] in the study's unit."""
        return self.units.from_si("force", values)

    def under(self, governing: Governing, row: int, names: tuple[str, ...]) -> str:
        """Name of the combination that governs a row."""
        return names[int(governing.combinations[row])]

    def at(self, governing: Governing, row: int) -> str:
        """Position and direction at which a row's extreme occurs; empty without a travelling crossing."""
        return self.place(int(governing.directions[row]), float(governing.positions[row]))

    def place(self, direction: int, position: float) -> str:
        """A position [m] and direction (0 forward, 1 backward) as written; empty without a direction."""
        if direction < 0:
            return ""
        told = self.units.from_si("length", np.array([position]))[0]
        return f"{text(float(told))} {WAYS[direction]}"

    def support_rows(self) -> list[tuple[str, str]]:
        """Joint and direction of each reaction, in the order of reaction rows."""
        return [
            (self.truss.joint_names[support.joint], label)
            for support in self.truss.supports
            for label in support.labels
        ]

    def movement_rows(self) -> list[tuple[str, str]]:
        """Joint and axis of each deflection, in the order of deflection rows."""
        axes = AXES[: self.truss.dimension]
        return [(name, axis) for name in self.truss.joint_names for axis in axes]

    def axes(self) -> str:
        """The letters of the study's axes."""
        return AXES[: self.truss.dimension]
