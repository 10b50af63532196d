"""Ids that every page has, in one place."""

WISH = "wish"
"""What the reader wants opened: a bundled name, the text of a file, or what the program started with."""

OPENING = "opening"
"""The work on a study being opened: a job, or the lines of its faults."""

POLL, CANCEL = "poll", "cancel-data"
STUDY, STAGE, VIEW = "study", "stage-data", "view"
DONE = "done"
"""What the browser's own functions answer with: nothing."""

SHARED = (WISH, OPENING, CANCEL, STUDY, STAGE, VIEW)
