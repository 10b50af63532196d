"""Finished results as pictures: pure functions from results to markup, for page, report and README."""
