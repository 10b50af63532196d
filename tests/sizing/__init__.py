"""Tests of choosing sections, against going through every choice in plain matrices."""
