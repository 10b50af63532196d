"""Ids of this page that Python speaks of, beside those that every page has."""

SIZE, SIZING, CALL_OFF = "size-asked", "sizing-data", "call-off-data"
"""That lighter sections are to be looked for, how far that is, and that it is to end."""

TOLD_ASKED, TOLD = "told-asked", "told-data"
"""The units in which candidates and the table of trials are told, and both as markup."""

TRY, TRIAL = "try-asked", "trial-data"
"""Sections tried on groups, and what became of them."""

POLL = "lighter-poll"
"""Asks how far the work is while any is under way."""

LETTERED = "lettered-data"
