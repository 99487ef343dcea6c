"""What the attacks share: places to work in, a browser that is watched, and somebody elsewhere who hears of calls."""

import pytest

from tests.attacks import approval_depot, wrong_word_depot
from tests.attacks.approval_keys import keys, once, signed, unsigned
from tests.attacks.at_work import REQUEST
from tests.attacks.watched import Canary, Watch, served

__all__ = ["keys", "once", "signed", "unsigned"]


@pytest.fixture(scope="module")
def home(tmp_path_factory, warm_store):
    """Where the commands of one file work: a request, a letter, and the store that all tests share."""
    folder = tmp_path_factory.mktemp("home")
    (folder / "store").symlink_to(warm_store, target_is_directory=True)
    (folder / "asked.yml").write_text(REQUEST.format(name="Lamp hook"))
    (folder / "letter.txt").write_text("letter\n")
    return folder


@pytest.fixture(scope="session")
def base(tmp_path_factory, warm_store):
    """One folder for all depots of the attacks on the word."""
    folder = tmp_path_factory.mktemp("wrong-word")
    (folder / "store").symlink_to(warm_store, target_is_directory=True)
    return folder


@pytest.fixture(scope="session")
def permit(base):
    return wrong_word_depot.Permits(base)


@pytest.fixture(scope="session")
def history(base):
    return wrong_word_depot.History(base)


@pytest.fixture
def demo(tmp_path, warm_store):
    """Makes a fresh folder with a few parts of the demo, on the store that all tests share."""
    (tmp_path / "store").symlink_to(warm_store, target_is_directory=True)
    return lambda *numbers: approval_depot.demo(tmp_path, *(numbers or [approval_depot.KNOB]))


@pytest.fixture(scope="module")
def canary():
    with served(Canary) as (server, address):
        yield server, address


@pytest.fixture(scope="module")
def one_watch(chromium):
    one = Watch(chromium)
    yield one
    one.context.close()


@pytest.fixture
def watch(one_watch, canary):
    """One for all tests of a file, since another browser of its own costs as much as two pages."""
    canary[0].called.clear()
    yield one_watch
    one_watch.forget()
