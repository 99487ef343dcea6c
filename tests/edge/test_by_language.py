"""Pages written by hand stand in the depot's language, in site and Markdown alike; what a depot wrote itself is never replaced."""

import re

import pytest


@pytest.fixture
def german(depot):
    file = depot / "catalogue/depot.yml"
    kept = re.sub("(?m)^language:.*\n", "", file.read_text(encoding="utf-8"))
    file.write_text(f"language: de\n{kept}", encoding="utf-8")
    own = depot / "site_src"
    (own / "shift.md").write_text("# Night shift\n", encoding="utf-8")
    (own / "shift.de.md").write_text("# Nachtschicht\n", encoding="utf-8")
    (own / "shift.da.md").write_text("# Natholdet\n", encoding="utf-8")
    return depot


def test_a_translation_stands_under_the_pages_own_name(german, spares):
    assert spares("build")[0] == 0
    assert "Nachtschicht" in (german / "site/shift.html").read_text(encoding="utf-8")
    assert [each.name for each in (german / "site").glob("shift*")] == ["shift.html"]


def test_so_it_does_in_markdown(german, spares):
    assert spares("build", "--markdown", "out")[0] == 0
    assert (german / "out/shift.md").read_text(encoding="utf-8") == "# Nachtschicht\n"
    assert [each.name for each in (german / "out").glob("shift*")] == ["shift.md"]


def test_a_page_of_the_depots_own_is_not_replaced_by_our_translation(german, spares):
    (german / "mkdocs.yml").write_text("site_name: Ours\nplugins: [spares]\n", encoding="utf-8")
    (german / "site_src/guide").mkdir()
    (german / "site_src/guide/mechanics.md").write_text("# How we do it here\n", encoding="utf-8")
    assert spares("build")[0] == 0
    assert "How we do it here" in (german / "site/guide/mechanics.html").read_text(encoding="utf-8")
    assert "Dieses Tablet" in (german / "site/guide/tablet.html").read_text(encoding="utf-8")
