"""Tests of Stillbar; `python3 -m tests` runs lint, types and all of them."""
