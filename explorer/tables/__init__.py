"""Finished results as tables in the study's own units: the only place that turns answers into rows."""

from explorer.tables.table import Table, write_tables
from explorer.tables.whole import make_tables, summarise

__all__ = ["Table", "make_tables", "summarise", "write_tables"]
