"""What can go wrong with a study, told by the names of the joints and members at fault."""

from __future__ import annotations

from collections.abc import Sequence


class StudyError(Exception):
    """A study cannot be answered; `culprits` are the names at fault, in the study's order."""

    def __init__(self, message: str, culprits: Sequence[str] = ()) -> None:
        super().__init__(message)
        self.culprits = tuple(culprits)


class InputError(StudyError):
    """The input is at fault: a value is missing, out of range or contradicts another."""


class MechanismError(StudyError):
    """The truss cannot stand: it is a mechanism at the written coordinates; culprits are joints."""


class UntrustworthyError(StudyError):
    """A result was computed and failed its own checks, so it is not handed out."""


class Cancelled(StudyError):  # noqa: N818 - not an error of the study, the user's wish
    """The user has called the work off."""
