"""Stillbar: studies in, tables and pages out; the command line and everything a reader sees."""

__version__ = "0.1.0"
