"""Checks against the outside world: one file a source; `python -m tests.published` prints the record."""
