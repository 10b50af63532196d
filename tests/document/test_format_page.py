"""The format page says what the attribute list and the commands say."""

from __future__ import annotations

from explorer.document.attributes import ATTRIBUTES, attributes_of
from explorer.document.format_page import HEADINGS, PAGE, make_page
from explorer.tables.forces import MEMBERS_HEADER
from explorer.tables.supports import EXTREMES_HEADER
from explorer.tables.whole import MAKERS


def test_the_page_is_the_one_that_the_attribute_list_makes() -> None:
    assert PAGE.read_text(encoding="utf-8") == make_page()


def test_every_attribute_stands_under_a_heading() -> None:
    assert {attribute.table for attribute in ATTRIBUTES} == set(HEADINGS)
    assert all(f"| `{key}` |" in make_page() for table in HEADINGS for key in attributes_of(table))


def test_the_page_names_every_table_and_its_columns_in_order() -> None:
    page = make_page()
    for maker in MAKERS:
        assert f"`{maker.__name__.removesuffix('_table')}.csv`" in page
    assert ", ".join(MEMBERS_HEADER) in page
    assert ", ".join(EXTREMES_HEADER) in page
    assert "<!--" not in page
