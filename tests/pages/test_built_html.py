"""The built site: hostile texts stay texts, no page asks another host, every link leads somewhere."""

import re
from itertools import pairwise
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from tests.pages.built import Built, pages
from tests.pages.conftest import CONFIG, HOSTILE, IMAGE, inline_script

pytestmark = pytest.mark.slow


def test_every_kind_of_page_is_there(hostile_site: Path) -> None:
    names = {page.path.relative_to(hostile_site).as_posix() for page in pages(hostile_site)}
    assert {
        "index.html", "vehicles.html", "vehicles/F1/at-cab.html", "states.html", "states/approved.html",
        "requests.html", "catalogue.html", "evidence.html", "materials/plain.html", "guide/mechanics.html", "guide/specialist.html", "changelog.html",
        "parts/P-0001.html", "parts/P-0002.html", "parts/P-0003.html", "parts/P-0004.html",
    } <= names  # fmt: skip


def test_scripts_are_ours_alone(hostile_site: Path) -> None:
    for page in pages(hostile_site):
        for script in page.every("script"):
            source = script.attributes.get("src")
            if source is None:
                assert script.text == inline_script(), page.path
            else:
                assert re.fullmatch(r"(\.\./|/)*\.?/?assets/(js|data)/[A-Za-z0-9/.-]+\.js", source), source


def test_nothing_in_a_page_acts(hostile_site: Path) -> None:
    for page in pages(hostile_site):
        for element in page.elements:
            assert element.tag not in ("iframe", "object", "embed", "base", "applet"), page.path
            assert not any(name.startswith("on") or name == "srcdoc" for name in element.attributes), element
            assert "style" not in element.attributes, element
            for name in ("href", "src", "action", "formaction", "poster", "xlink:href"):
                scheme = urlsplit(element.attributes.get(name, "").strip()).scheme
                assert scheme == "", (page.path, element)


def test_no_page_or_style_names_another_host(hostile_site: Path) -> None:
    for page in pages(hostile_site):
        for element in page.elements:
            for name in ("href", "src", "srcset", "action", "poster", "data", "cite"):
                value = element.attributes.get(name, "")
                assert "//" not in value, (page.path, element)
        assert not page.every("form")
        assert not any(
            "refresh" in each.attributes.get("http-equiv", "").lower() for each in page.every("meta")
        )
    for sheet in hostile_site.rglob("*.css"):
        for address in re.findall(r"url\(([^)]*)\)|@import ([^;]*)", sheet.read_text(encoding="utf-8")):
            assert "//" not in re.sub(r"data:.*", "", "".join(address)), sheet


def test_every_page_asks_for_one_stylesheet_with_all_of_ours_in_their_order(hostile_site: Path) -> None:
    """A drawing alone on its page has its own, for nothing of a page lies around it on paper."""
    drawn = hostile_site / "assets/drawings/sheet.css"
    (sheet,) = (each for each in hostile_site.rglob("*.css") if each != drawn)
    for page in pages(hostile_site):
        (asked,) = (each for each in page.every("link") if each.attributes.get("rel") == "stylesheet")
        if page.path.name != "404.html":  # its links start at the root of the server
            own = drawn if page.path.parent.name == "drawings" else sheet
            assert (page.path.parent / asked.attributes["href"]).resolve() == own.resolve()
    text, at = sheet.read_text(encoding="utf-8"), 0
    named = re.findall(r"^  - (assets/css/\S+)", CONFIG.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(named) == len(list(CONFIG.parent.glob("site_src/assets/css/*.css")))
    for name in named:
        at = text.index((CONFIG.parent / "site_src" / name).read_text(encoding="utf-8"), at)
    assert 0 < text.index("--md-") < at  # the theme's come first, so that ours have the last word


def test_every_link_leads_to_a_file_of_the_site(hostile_site: Path) -> None:
    inner = {page.path: {each.attributes.get("id") for each in page.elements} for page in pages(hostile_site)}
    for page in pages(hostile_site):
        if page.path.name == "404.html":
            continue  # its links start at the root of the server
        for element in page.elements:
            link = element.attributes.get("href") or element.attributes.get("src")
            if not link or element.tag == "use":
                continue
            parts = urlsplit(link)
            target = (page.path.parent / unquote(parts.path)).resolve() if parts.path else page.path
            if target.suffix == ".js" and "assets/js" in target.as_posix() and not target.exists():
                pytest.fail(f"{page.path.name} loads {link}, which is not there")
            assert target.is_file(), (page.path, link)
            asks = "=" in parts.fragment  # not a place: what the request page's script is asked, also from disk
            if parts.fragment and target in inner and not asks:
                assert unquote(parts.fragment) in inner[target], (page.path, link)


def part(site: Path, number: str) -> Built:
    return next(page for page in pages(site) if page.path.as_posix().endswith(f"parts/{number}.html"))


def test_a_hostile_name_is_read_as_it_is_written(hostile_site: Path) -> None:
    page = part(hostile_site, "P-0001")
    assert page.every("h1")[0].text == HOSTILE
    assert "bdi" in [each.tag for each in page.elements if "h1" in each.inside]
    assert HOSTILE in page.every("title")[0].text
    assert IMAGE in page.every("title")[0].text
    assert HOSTILE in page.of_class("purpose")[0].text
    assert HOSTILE in page.of_class("order__text")[0].text


def test_hostile_texts_reach_every_page_whole(hostile_site: Path) -> None:
    for name in ("vehicles.html", "vehicles/F1/at-cab.html", "requests.html", "parts/P-0002.html"):
        page = next(each for each in pages(hostile_site) if each.path == hostile_site / name)
        assert HOSTILE in page.text, name


def test_fitting_notes_keep_their_words_and_lose_what_acts(hostile_site: Path) -> None:
    page = part(hostile_site, "P-0001")
    notes = "".join(each.text for each in page.of_class("notes"))
    for words in ("Hammer", "drawing", "tap", "styled"):
        assert words in notes
    assert "alert(1)" not in notes.replace("{: onclick=alert(1) }", "")
    links = {
        each.attributes["href"] for each in page.elements if each.tag == "a" and "href" in each.attributes
    }
    assert "P-0001/documents/drawing.txt.html" in links
    sources = [each.attributes.get("src") for each in page.every("img")]
    assert "P-0001/photos/fitted%20one.png" in sources
    assert sources.count("P-0001/photos/other.png") == 1
    assert page.of_class("foot")
    assert [each.inside for each in page.of_class("foot")] == [
        each.inside for each in part(hostile_site, "P-0002").of_class("foot")
    ]


def test_a_document_that_could_act_is_only_offered_for_saving(hostile_site: Path) -> None:
    links = [
        each
        for each in part(hostile_site, "P-0001").every("a")
        if "/page." in each.attributes.get("href", "")
    ]
    assert {each.attributes["href"] for each in links} == {"P-0001/documents/page.html.zip"}
    assert [each for each in links if "download" in each.attributes]


def test_documents_with_odd_names_open(hostile_site: Path) -> None:
    links = [each.attributes.get("href", "") for each in part(hostile_site, "P-0001").every("a")]
    (link,) = {link for link in links if unquote(link).startswith("P-0001/documents/a-b-c-d-e-f-g-")}
    shown = (hostile_site / "parts" / unquote(link)).read_text(encoding="utf-8")
    assert "a document with an odd name" in shown


def test_a_broken_part_says_what_is_wrong_and_do_not_fit(hostile_site: Path) -> None:
    page = part(hostile_site, "P-0003")
    assert page.of_class("verdict--no")[0].text.count("Do not fit") == 1
    assert "'wieght_g' is not a key" in page.text
    assert "part.yml:22:1" in page.text


def test_pages_are_sane_for_readers_of_every_kind(hostile_site: Path) -> None:
    """One main heading, landmarks, a language, words for every picture, no identifier twice."""
    for page in pages(hostile_site):
        assert len(page.every("h1")) == 1, page.path
        assert len(page.every("main")) == len(page.every("header")) == len(page.every("footer")) == 1, (
            page.path
        )
        assert page.every("html")[0].attributes["lang"] == "en"
        ids = [each.attributes["id"] for each in page.elements if "id" in each.attributes]
        assert len(ids) == len(set(ids)), page.path
        for image in page.every("img"):
            assert {"alt", "width", "height"} <= set(image.attributes), (page.path, image)
        levels = [int(each.tag[1]) for each in page.elements if re.fullmatch("h[1-6]", each.tag)]
        assert all(after <= before + 1 for before, after in pairwise(levels)), page.path


def test_pages_are_small(hostile_site: Path) -> None:
    """Out of the navigation a page must not carry the list of all others."""
    for page in pages(hostile_site):
        assert page.path.stat().st_size < 60_000, page.path
