"""Fixtures that many tests share."""

import signal
from pathlib import Path

import pytest
from hypothesis import settings

from tests.fixtures.tiny import copied

# Where the tests are started in the background, a shell has them ignore Ctrl-C, and so would every program that a test
# starts and stops by it.
signal.signal(signal.SIGINT, signal.default_int_handler)

# Hypothesis' own 200 ms an example fail on a busy machine: no test depends on the clock.
settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")


@pytest.fixture
def depot(tmp_path: Path) -> Path:
    """A copy of the tiny valid depot that the test may spoil."""
    return copied(tmp_path / "depot")
