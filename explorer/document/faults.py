"""Faults of a study, told all together: the file, the key, what is wrong, what would be right."""

from __future__ import annotations

from dataclasses import dataclass, field

from solver.errors import StudyError


@dataclass(frozen=True)
class Fault:
    """One fault: where (`key` is a path such as `groups.bottom.section`), what is wrong, what is right."""

    file: str
    key: str
    wrong: str
    right: str

    def __str__(self) -> str:
        place = f"{self.file}: {self.key}" if self.key else self.file
        return f"{place}: {self.wrong}" + (f"; {self.right}" if self.right else "")


class FaultyStudy(StudyError):  # noqa: N818 - named for what it tells
    """A study with at least one fault; `faults` holds all of them."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        head = "1 fault" if len(faults) == 1 else f"{len(faults)} faults"
        lines = [f"{head}, nothing was computed", *(f"  {fault}" for fault in faults)]
        super().__init__("\n".join(lines), [fault.key for fault in faults])
        self.faults = faults


@dataclass
class Faults:
    """Collects the faults of one file while it is read."""

    file: str
    found: list[Fault] = field(default_factory=list)

    def add(self, key: str, wrong: str, right: str = "") -> None:
        """Note a fault at a key path."""
        self.found.append(Fault(self.file, key, wrong, right))

    def stop_if_any(self) -> None:
        """Raise FaultyStudy if anything was found."""
        if self.found:
            raise FaultyStudy(tuple(self.found))
