"""Run every check against the outside world and print the record: `python -m tests.published`."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from textwrap import fill

import pytest

from tests.published.record import CERTAINTIES, RECORD, Check, sources


def main() -> int:
    """Run the checks, then print what was compared, source by source."""
    os.environ.setdefault("PYTEST_DISABLE_PLUGIN_AUTOLOAD", "1")  # the checks need no plug-in
    status = int(pytest.main(["-q", "--no-header", "-p", "no:cacheprovider", str(Path(__file__).parent)]))
    print()
    print("\n".join(lines(list(RECORD.values()))))
    return status


def lines(checks: list[Check]) -> list[str]:
    """The record in lines of text."""
    told: list[str] = []
    for key, source in sources().items():
        here = [check for check in checks if check.source == key]
        if not here:
            continue
        told.append(fill(source.citation, 100, subsequent_indent="  "))
        told += [f"    {check.values:6d}  {check.what}" for check in here]
    for certainty in CERTAINTIES:
        values = sum(check.values for check in checks if sources()[check.source].certainty == certainty)
        told.append(f"{values:6d} values {certainty}")
    told.append(f"{sum(check.values for check in checks):6d} values in {len(checks)} checks")
    return told


if __name__ == "__main__":
    sys.exit(main())
