"""Ids of this page that Python speaks of, beside those that every page has."""

LOAD, MEMBER, PLACE = "load-chosen", "member-chosen", "place-chosen"
LETTERED, LOADS, STRIP, SHEET = "lettered-data", "loads-data", "strip-data", "sheet-data"
ROWS, GRID = "rows-data", "schedule-grid"
TRAIN_ASKED, TRAIN_SHOWN = "train-asked", "train-data"
