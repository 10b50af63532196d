"""Ids of this page that Python speaks of, beside those that every page has."""

SETTING = "setting"
"""Under what the truss is looked at: a load with its train's place, or loads of the reader's own; units."""

LESSON, HAND, SHEETS = "lesson-data", "hand-data", "sheets-data"
MARKS, JUDGED = "marks", "judged-data"
"""What the reader believes, and what is said of it."""

TASK, TASK_TEXT = "task-asked", "task-data"
LETTERED = "lettered-data"
