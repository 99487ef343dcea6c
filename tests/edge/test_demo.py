"""The demo depot through both doors: `spares build` and bare MkDocs give the same bytes, without a warning."""

import os

import pytest

from tests.edge.conftest import EPOCH, bytes_of
from tests.fixtures.commands import ROOT, SPARES, ran


@pytest.fixture(scope="module")
def through_both(tmp_path_factory):
    """The demo's site as each of the two builds it, in processes of their own."""
    place = tmp_path_factory.mktemp("demo")
    environment = os.environ | {"SOURCE_DATE_EPOCH": EPOCH}
    for script, folder, name in (("spares", "--site", "ours"), ("mkdocs", "--site-dir", "bare")):
        words = ["build", "--strict", folder, place / name]
        done = ran(words, script=SPARES.with_name(script), cwd=ROOT, env=environment, text=True)
        assert done.returncode == 0, done.stdout + done.stderr
    return bytes_of(place / "ours"), bytes_of(place / "bare")


def test_same_bytes_through_both_doors(through_both):
    ours, bare = through_both
    assert sorted(ours) == sorted(bare)
    assert [name for name in ours if ours[name] != bare[name]] == []


def test_no_page_shows_the_machinery(through_both):
    ours, _ = through_both
    pages = {name: content for name, content in ours.items() if name.endswith(".html")}
    for sign in (b"built-in method", b"object at 0x", b"{{", b"{%", str(ROOT).encode()):
        assert [name for name, content in pages.items() if sign in content] == []


def test_every_part_has_its_page(through_both):
    ours, _ = through_both
    numbers = {folder.name[:7] for folder in (ROOT / "catalogue" / "parts").iterdir()}
    assert {f"parts/{number}.html" for number in numbers} <= set(ours)
