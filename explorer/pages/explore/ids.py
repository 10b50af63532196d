"""Every id of the page that Python speaks of, in one place."""

WISH = "wish"
"""What the reader wants opened: a bundled name, the text of a file, or what the program started with."""

OPENING = "opening"
"""The work on a study being opened: a job, or the lines of its faults."""

POLL, PROGRESS, FAULTS = "poll", "progress", "faults"
STUDY, STAGE, VIEW = "study", "stage-data", "view"
LOAD, MEMBER, PLACE = "load-chosen", "member-chosen", "place-chosen"
LETTERED, LOADS, STRIP, SHEET = "lettered-data", "loads-data", "strip-data", "sheet-data"
ROWS, GRID = "rows-data", "schedule-grid"
DONE = "done"
