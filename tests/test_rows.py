"""The gathering of rows into one test: none is left out, and every one that fails is named."""

import re

import pytest

from tests.rows import each


def said(test, *args, **fixtures) -> str:
    with pytest.raises(AssertionError) as caught:
        test(*args, **fixtures)
    return str(caught.value)


def test_every_row_is_asked_though_one_before_it_fails():
    seen = []

    @each("number, word", [(1, "one"), (2, "two"), (3, "three")])
    def check(number, word):
        seen.append((number, word))
        assert number != 2, "not this one"
        assert len(word) < 4

    words = said(check)
    assert seen == [(1, "one"), (2, "two"), (3, "three")]
    assert words.startswith("2 of 3 fail\n2-two: not this one\n")
    assert re.search(r"^3-three: .*5 < 4", words, re.MULTILINE | re.DOTALL)


def test_what_breaks_counts_as_a_failure_and_says_what_it_is():
    @each("key", ["a", "b"], ids=["first", "second"])
    def check(key):
        {"a": 1}[key]

    assert said(check) == "1 of 2 fail\nsecond: KeyError: 'b'"


def test_two_tables_are_asked_with_one_another():
    seen = []

    @each("one", "ab")
    @each("other", [1, 2])
    def check(one, other):
        seen.append((one, other))
        assert (one, other) != ("b", 1)

    assert said(check).startswith("1 of 2 fail\nb: 1 of 2 fail\n1: ")
    assert seen == [("a", 1), ("a", 2), ("b", 1), ("b", 2)]


@each("row", [1, 2], ids=lambda row: f"number {row}")
def test_fixtures_come_as_always(row, tmp_path):
    assert tmp_path.is_dir()


class TestInAClass:
    @each("row", [1, 2])
    def test_the_first_argument_is_the_object(self, row, tmp_path):
        assert isinstance(self, TestInAClass) and row in (1, 2) and tmp_path.is_dir()


def test_an_empty_table_is_refused():
    with pytest.raises(ValueError, match="without rows"):
        each("row", [])


def test_a_table_may_be_made_when_it_is_needed():
    made = []

    def rows():
        made.append(1)
        return [1, 2]

    @each("number", rows)
    def check(number):
        assert number == 1, "another"

    assert made == []
    assert said(check).startswith("1 of 2 fail\n2: another")
    assert made == [1]
