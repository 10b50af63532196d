"""Resistance of members: an interface, a file a standard, and every step as an engineer writes it."""
