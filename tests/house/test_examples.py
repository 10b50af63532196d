"""Every example in a docstring is run."""

from __future__ import annotations

import doctest
import importlib

import pytest

from tests.house.test_architecture import FILES, name_of

MODULES = [name_of(path) for path in FILES if path.stem != "__main__"]


@pytest.mark.parametrize("name", MODULES)
def test_the_examples_of_a_module_hold(name: str) -> None:
    assert doctest.testmod(importlib.import_module(name)).failed == 0


def test_there_are_examples_at_all() -> None:
    attempted = [doctest.testmod(importlib.import_module(name)).attempted for name in MODULES]
    assert sum(attempted) >= 8
