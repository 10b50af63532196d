"""Sections and steels by name: bundled tables, a user's own, and single profiles out of them."""
