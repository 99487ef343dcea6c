"""Fixtures that many tests share."""

from pathlib import Path

import pytest

from tests.fixtures.tiny import copied


@pytest.fixture
def depot(tmp_path: Path) -> Path:
    """A copy of the tiny valid depot that the test may spoil."""
    return copied(tmp_path / "depot")
