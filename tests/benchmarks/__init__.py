"""Benchmarks: ratios within one run against a named plain way. `python -m tests.benchmarks` prints them."""
