"""Tests of what members are held against, by hand and against plain matrices."""
