"""Findings as sentences: the only prose about results."""
