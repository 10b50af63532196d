"""Settings for all tests."""

import os

from hypothesis import settings

# Timing is measured by benchmarks, never by tests; in CI the same examples come every time.
settings.register_profile("everywhere", deadline=None, print_blob=True)
settings.register_profile("ci", parent=settings.get_profile("everywhere"), derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "everywhere")
