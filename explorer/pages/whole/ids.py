"""Ids of this page that Python speaks of, beside those that every page has."""

LETTERED = "lettered-data"
SETTING, TOLD = "setting", "told-data"
"""The units in which members are told, and what is told of them."""

STATE, STATE_SHOWN = "state-asked", "state-data"
"""Which state of self-stress is to be drawn, and how it looks."""
