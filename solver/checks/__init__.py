"""Checks: everything that a member is held against, each with its number, its place and its steps."""
