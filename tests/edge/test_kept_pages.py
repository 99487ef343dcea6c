"""Rendered pages are kept by what they depend on: the same bytes as without, and no dead link slips through."""

import json
import logging
import os
from pathlib import Path

import pytest
from mkdocs.config import load_config
from mkdocs.structure.files import File, Files
from mkdocs.structure.pages import Page

from generator.edge.site import plugin
from generator.edge.site.kept_pages import KeptPage
from generator.edge.site.site_builder import listening
from generator.systems.store import Store
from tests.edge.conftest import bytes_of

KNOB = Path("catalogue/parts/EX-0001-lid-knob")


@pytest.fixture
def rendered(monkeypatch):
    """The pages that MkDocs really renders."""
    names = []
    render = Page.render

    def watched(page, config, files):
        names.append(page.file.src_uri)
        render(page, config, files)

    monkeypatch.setattr(Page, "render", watched)
    return names


def test_a_second_build_renders_only_the_pages_of_the_navigation_and_writes_the_same_bytes(
    depot, spares, rendered
):
    spares("build")
    first = bytes_of(depot / "site")
    assert "parts/EX-0001.md" in rendered
    rendered.clear()
    spares("build")
    assert not [name for name in rendered if "/" in name]
    assert bytes_of(depot / "site") == first


def test_the_same_bytes_as_without(depot, spares, monkeypatch):
    spares("build")
    spares("build")
    kept = bytes_of(depot / "site")
    monkeypatch.setattr(plugin, "KeptPage", lambda file, config, _: Page(None, file, config))
    spares("build")
    assert bytes_of(depot / "site") == kept


def test_an_edit_renders_the_pages_that_it_changes(depot, spares, rendered):
    spares("build")
    rendered.clear()
    file = KNOB / "part.yml"
    file.write_text(file.read_text().replace("purpose: Turns the latch", "purpose: Turns the old latch"))
    spares("build")
    assert "parts/EX-0001.md" in rendered
    assert "parts/EX-0002.md" not in rendered
    assert "Turns the old latch" in (depot / "site/parts/EX-0001.html").read_text()


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("use_directory_urls: false", "use_directory_urls: true"),
        ("anchors: warn", "anchors: warn, not_found: info"),
        ("plugins:", "markdown_extensions: [attr_list]\nplugins:"),
    ],
)
def test_a_change_of_the_site_file_renders_all_anew(depot, spares, rendered, old, new):
    spares("build")
    rendered.clear()
    file = depot / "mkdocs.yml"
    file.write_text(file.read_text().replace(old, new))
    spares("build")
    assert "parts/EX-0001.md" in rendered


def test_an_extension_that_may_read_other_files_keeps_nothing(depot, spares, rendered):
    file = depot / "mkdocs.yml"
    file.write_text(file.read_text().replace("plugins:", "markdown_extensions: [nl2br]\nplugins:"))
    spares("build")
    rendered.clear()
    spares("build")
    assert "parts/EX-0001.md" in rendered


GUIDE = "# Guide\n\n## Latches\n"


@pytest.fixture
def page_of(depot, rendered):
    """Render parts/X.md, which links to a page written by hand, in a build of its own; gives it and what was said."""
    store = Store(depot / "kept")

    def build(guide=GUIDE, at="guide.md"):
        config = load_config(str(depot / "mkdocs.yml"))
        config.plugins._current_plugin = "test"  # as MkDocs sets it around a plugin's hooks
        made = File.generated(
            config, "parts/X.md", content="# X\n\n[the guide](../guide.md#latches)\n\n## Two\n"
        )
        written = [File.generated(config, at, content=guide)] if guide else []
        files = Files([made, *written])
        for file in files:
            KeptPage(file, config, store)
            file.page.read_source(config)
        rendered.clear()
        with listening() as said:
            for file in files:
                file.page.render(config, files)
            for file in files:
                file.page.validate_anchor_links(files=files, log_level=logging.WARNING)
        return made.page, said

    return build


def test_what_is_kept_is_all_that_mkdocs_needs(page_of, rendered):
    first, said = page_of()
    assert (said, sorted(rendered)) == ([], ["guide.md", "parts/X.md"])
    again, said = page_of()
    assert (said, rendered) == ([], [])
    for page in (first, again):
        assert 'href="../guide.html#latches"' in page.content
        assert str(page.toc) == "X - #x\n    Two - #two\n"
        assert page.toc.items[0].active
        assert page.title == "X"
        assert page.present_anchor_ids == {"x", "two"}


def test_a_link_that_never_led_anywhere_is_warned_of_in_every_build(page_of):
    for _ in range(2):
        _, said = page_of(guide=None)
        assert "the target 'guide.md' is not found" in said[0]


def test_a_link_that_dies_is_warned_of_in_every_build(page_of):
    page_of()
    for _ in range(2):
        page, said = page_of(guide=None)
        assert "'../guide.md#latches', but the target 'guide.md' is not found" in said[0]
        assert 'href="../guide.md#latches"' in page.content
    page, said = page_of()
    assert (said, 'href="../guide.html#latches"' in page.content) == ([], True)


def test_an_anchor_that_goes_is_warned_of_in_every_build(page_of):
    page_of()
    for _ in range(2):
        _, said = page_of(guide="# Guide\n")
        assert "'guide.md' does not contain an anchor '#latches'" in said[0]


def test_a_damaged_entry_is_made_anew(depot, spares):
    spares("build")
    before = bytes_of(depot / "site")
    for file in (depot / ".store/pages").rglob("page.json"):
        file.write_text(json.dumps({"content": "not this"}))
    assert spares("build")[0] == 0
    assert bytes_of(depot / "site") == before


def test_pages_of_other_days_do_not_pile_up(depot, spares):
    spares("build", "--on", "2026-11-25")
    first = len(list((depot / ".store/pages").rglob("page.json")))
    for sums in (depot / ".store/pages").rglob("sums.sha256"):
        os.utime(sums, (0, 0))
    spares("build", "--on", "2026-11-26")
    assert len(list((depot / ".store/pages").rglob("page.json"))) == first


def test_pages_that_another_catalogue_uses_today_stay(depot, spares):
    spares("build", "--on", "2026-11-25")
    first = {file.parent for file in (depot / ".store/pages").rglob("page.json")}
    spares("build", "--on", "2026-11-26")
    assert all(folder.is_dir() for folder in first)


def test_a_store_that_cannot_be_written_is_no_failure(depot, spares):
    (depot / ".store/pages").write_text("a file in the way")
    assert spares("build")[0] == 0
