"""Fixtures of the library's tests."""

import pytest

from tests.library.data_copy import copied


@pytest.fixture
def shelf(tmp_path):
    """A copy of the data files that a test may change."""
    return copied(tmp_path / "data")
