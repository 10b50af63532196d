"""The study as a document: TOML in, a checked `Study` out; units, attributes and faults."""

from explorer.document.faults import Fault, FaultyStudy
from explorer.document.reading import Document, read_study, read_text
from explorer.document.units import UnitSystem

__all__ = ["Document", "Fault", "FaultyStudy", "UnitSystem", "read_study", "read_text"]
