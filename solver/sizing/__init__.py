"""Sizing: which sections, all groups together, are lightest with everything that was asked still held."""
