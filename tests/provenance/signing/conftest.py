"""A depot whose every event is signed."""


import pytest

from tests.fixtures.copying import copied_from
from tests.fixtures.shared import made_once
from tests.fixtures.signing import ruled, sign
from tests.fixtures.tiny import copied


@pytest.fixture(scope="session")
def all_signed(tmp_path_factory, keys):
    def fill(root):
        copied(root)
        for part in (root / "parts").iterdir():
            sign(part, keys)

    return made_once(tmp_path_factory, "signed-depot", fill)


@pytest.fixture
def root(tmp_path, all_signed, keys):
    """A depot that requires signatures, and has them all."""
    return ruled(copied_from(all_signed, tmp_path / "catalogue"), keys)
