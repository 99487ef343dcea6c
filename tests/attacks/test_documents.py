"""No document of a depot runs in the catalogue's own name: it is offered byte for byte, never as a page."""

import contextlib
import re
import shutil
import zipfile
from pathlib import PurePosixPath
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Error as BrowserError

from tests.attacks.dangerous import dangerous, html, picture, script, svg
from tests.attacks.poisoned_depot import Links, offered
from tests.attacks.watched import (
    DAY,
    ROOT,
    Untyped,
    address,
    build,
    nothing_ran,
    over,
    spares,
    telling,
)

SHOWN = {
    ".pdf": b"%PDF-",
    ".png": b"\x89PNG\r\n\x1a\n",
    ".jpg": b"\xff\xd8\xff",
    ".jpeg": b"\xff\xd8\xff",
    ".webp": b"RIFF",
}
PLAIN = "Torque: 4 Nm <b>not bold</b> & ½ turn, Prüfung\n{{ 7*7 }} [x](y)\n  two  blanks\n"


class Depot:
    """The tiny depot with every dangerous document in every folder that may hold one, built."""

    def __init__(self, home, canary, store):
        self.canary, self.store = canary, store
        self.depot = shutil.copytree(ROOT / "tests/fixtures/depot", home / "depot")
        self.part = self.depot / "parts/EX-0001-lid-knob"
        self.documents = dangerous(canary)
        for name, content in self.documents.items():
            (self.part / "documents" / name).write_bytes(content)
        (self.part / "documents/plain.txt").write_text(PLAIN, encoding="utf-8")
        for kind, name in (("PNG", "fine.png"), ("JPEG", "fine.jpg"), ("WEBP", "fine.webp")):
            (self.part / "documents" / name).write_bytes(picture(kind))
        (self.part / "documents/fine.pdf").write_bytes(b"%PDF-1.4\n1 0 obj<<>>endobj\ntrailer<<>>\n%%EOF\n")
        self.photos(self.part / "photos")
        self.evidence(home)
        self.material()
        self.request()
        self.site = build(self.depot, home / "site", store)
        self.page = self.site / "parts/EX-0001.html"

    def photos(self, folder):
        folder.mkdir(exist_ok=True)
        for at, kind in enumerate(("svg", "png", "webp", "html", "md", "xht", "jpg.html")):
            make = html if kind in ("html", "md", "jpg.html") else svg
            (folder / f"p{at}.{kind}").write_text(make(f"p{at}", self.canary), encoding="utf-8")
        (folder / "p9.png").write_bytes(picture("PNG") + html("p9", self.canary).encode())
        (folder / "p10 <img src=x: onerror=console.log('RAN p10')>.png").write_bytes(picture("PNG"))
        (folder / "fitted.webp").write_bytes(picture("WEBP"))

    def evidence(self, home):
        """Letters that came from elsewhere, taken in by the command itself."""
        letters = home / "letters"
        letters.mkdir()
        kinds = [
            "html",
            "svg",
            "xht",
            "md",
            "shtml",
            "txt",
            "mht",
            "pdf",
            "#.html",
            "hand",
        ]
        files = [letters / f"e{at}.{kind}" for at, kind in enumerate(kinds)]
        for file in files:
            file.write_text(html(file.name[:2], self.canary), encoding="utf-8")
        ran = spares(
            *(
                "record",
                "EX-0003",
                "condition added",
                "--by",
                "keeper",
                "--condition",
                "<svg onload=console.log('RAN c')>",
            ),
            *(
                "--on",
                "2026-11-01",
                "--catalogue",
                self.depot,
                "--store",
                self.store,
                "--evidence",
                *files,
            ),
            *("--note", f"<script>{script('note', self.canary)}</script>"),
        )
        assert ran.returncode == 0, ran.stderr
        self.renamed_by_hand("e9.hand", "e9.<img src=x onerror=console.log('RAN e')>")

    def renamed_by_hand(self, name, to):
        """To a name that no command would file, in the folder and in the record."""
        part = next(self.depot.glob("parts/EX-0003-*"))
        (part / "documents" / name).rename(part / "documents" / to)
        record = part / "approval.yml"
        text = record.read_text(encoding="utf-8")
        assert f"documents/{name}" in text
        record.write_text(text.replace(f"documents/{name}", f'"documents/{to}"'), encoding="utf-8")

    def material(self):
        file = self.depot / "materials/petg.yml"
        folder = self.depot / "materials/documents"
        text = (
            file.read_text(encoding="utf-8")
            .replace("petg-certificate.txt", "m1.html")
            .replace("petg-fire.txt", "m2.svg")
        )
        file.write_text(text, encoding="utf-8")
        (folder / "m1.html").write_text(html("m1", self.canary), encoding="utf-8")
        (folder / "m2.svg").write_text(svg("m2", self.canary), encoding="utf-8")
        (folder / "m3.md").write_text(html("m3", self.canary), encoding="utf-8")

    def request(self):
        folder = self.depot / "requests"
        self.photos(folder / "photos")
        plain = (folder / "coat-hook.yml").read_text(encoding="utf-8")
        for at, photo in enumerate(("p0.svg", "p1.png", "p2.webp", "p3.html", "p9.png", "fitted.webp"), 1):
            (folder / f"R-{at:04}.yml").write_text(f"{plain}photo: photos/{photo}\n", encoding="utf-8")

    def files(self):
        """Every file of the site but the program's own, and zips, which no browser opens as a page."""
        own = {"js", "css", "stylesheets", "icons", "images", "pictures", "data"}
        for file in sorted(self.site.rglob("*")):
            inside = file.relative_to(self.site).parts
            if file.is_file() and file.suffix != ".zip" and not (inside[0] == "assets" and inside[1] in own):
                yield file

    def opened(self):
        """Of them, what the browser opens: of the guide's pages, which are alike, those that hold anything of a document and one."""
        pages = set(telling(self.site))
        return [file for file in self.files() if file.suffix != ".html" or file in pages]


@pytest.fixture(scope="module")
def depot(tmp_path_factory, canary, warm_store):
    return Depot(tmp_path_factory.mktemp("documents"), canary[1], warm_store)


@pytest.mark.browser
def test_no_file_of_the_site_runs_a_documents_script_from_disk(depot, watch, canary):
    watch.open_all(address("file", depot.site, file) for file in depot.opened())
    nothing_ran(watch, canary)


@pytest.mark.browser
def test_no_file_of_the_site_runs_a_documents_script_over_http(depot, watch, canary):
    with over(depot.site) as (_, base):
        watch.open_all(address(base, depot.site, file) for file in depot.opened())
        nothing_ran(watch, canary)


@pytest.mark.browser
def test_no_document_runs_where_the_server_does_not_say_what_a_file_is(depot, watch, canary):
    pages = {depot.site / name for name in ("sw.js", "made-by-spares.txt", "manifest.webmanifest")}
    with over(depot.site, Untyped) as (_, base):
        files = [file for file in depot.files() if file.suffix != ".html" and file not in pages]
        watch.open_all(address(base, depot.site, file) for file in files)
        nothing_ran(watch, canary)


@pytest.mark.browser
@pytest.mark.parametrize("number", ["EX-0001", "EX-0003"])
@pytest.mark.parametrize("way", ["file", "http"])
def test_every_link_of_a_parts_page_leads_to_a_file_of_the_site(depot, watch, canary, number, way):
    """Each of these files is opened above; whatever else a link may be is clicked."""
    with over(depot.site) as (_, base):
        root = depot.site.as_uri() if way == "file" else base
        start = f"{root}/parts/{number}.html"
        tab = watch.open(start, tabs=1)
        links = tab.eval_on_selector_all("a[href]", "links => links.map(link => link.href)")
        files = [
            (at, depot.site / unquote(link[len(root) + 1 :].partition("#")[0]))
            for at, link in enumerate(links)
        ]
        stray = [at for at, file in files if not links[at].startswith(root) or not file.is_file()]
        for at in stray:
            with contextlib.suppress(BrowserError):
                tab.locator("a[href]").nth(at).evaluate("link => link.click()")
            watch.look(tab)
            watch.open(start, tabs=1)
        nothing_ran(watch, canary)
        assert not [links[at] for at in stray]
        assert links


def unfolded(tab):
    """The page with its documents in sight, as a reader opens their fold."""
    tab.evaluate("document.querySelectorAll('main details').forEach((each) => { each.open = true; })")
    return tab


@pytest.mark.browser
def test_a_click_on_a_packed_document_downloads_it_whole(depot, watch, canary):
    with over(depot.site) as (_, base):
        tab = watch.open(address(base, depot.site, depot.page), tabs=1)
        for name in [
            next(name for name in depot.documents if name.endswith(kind)) for kind in (".html", ".md", ".svg")
        ]:
            link = unfolded(tab).locator("main a").filter(has_text=re.compile(rf"^{re.escape(name)}")).first
            with tab.expect_download(timeout=20000) as download:
                link.click()
            with zipfile.ZipFile(download.value.path()) as box:
                assert box.read(box.namelist()[0]) == depot.documents[name]
            assert download.value.suggested_filename == f"{name}.zip"
        nothing_ran(watch, canary)


def test_only_four_kinds_of_document_open_in_place_by_content_and_name(depot):
    """A copy of a document that is neither packed nor shown by a page of ours must be of a harmless kind."""
    wrong = set()
    files = [(file, file.read_bytes()) for file in depot.files()]
    for name, content in depot.documents.items():
        for file, held in files:
            start = SHOWN.get(file.suffix.lower())
            if content in held and (start is None or not content.startswith(start)):
                wrong.add(f"{name!r} lies open as {file.relative_to(depot.site)}")
    assert not wrong


def test_no_document_becomes_a_page_of_the_site(depot):
    """Markdown, and whatever a site builder takes for it, is not read as a page."""
    builder = {"md", "markdown", "mdown", "mkd", "mkdn"}
    marks = [name.partition(".")[0] for name in depot.documents if name.rpartition(".")[2].lower() in builder]
    pages = [str(file.relative_to(depot.site)) for file in depot.site.rglob("*.html")]
    assert not [
        page for page in pages for mark in marks if mark.startswith("d") and PurePosixPath(page).stem == mark
    ]


def test_every_document_is_offered_byte_for_byte(depot):
    """What we show as text inside a page of ours need not be a copy as well; hidden files may be left out."""
    found = set(offered(depot.site, depot.page))
    missing = [name for name, content in depot.documents.items() if content not in found and name[0] != "."]
    # A name with signs that cannot be seen is no name: it is left out, and `check` says so.
    unseen = [name for name in missing if not name.isprintable()]
    told = spares("check", "--catalogue", depot.depot, "--store", depot.store, "--on", DAY).stdout
    assert told.count("has a name with unprintable characters") == len(unseen)
    missing = [name for name in missing if name not in unseen]
    assert not [name for name in missing if not name.lower().endswith(".txt")]
    page = depot.page.read_text(encoding="utf-8")
    assert not [name for name in missing if re.search(r"d\d+|RAN", name)[0] not in page]


def links_of(page):
    links = Links()
    links.feed(page.read_text(encoding="utf-8"))
    return [unquote(urlsplit(link).path) for link in links.found if not urlsplit(link).scheme]


@pytest.mark.parametrize("kind", ["html", "svg", "md", "xht", "js", "docx"])
def test_other_kinds_are_offered_in_a_zip_of_their_name(depot, kind):
    name = next(name for name in depot.documents if name.endswith(f".{kind}"))
    linked = [link for link in links_of(depot.page) if link.endswith(f"/{name}.zip")]
    assert linked, f"{name}.zip is not linked"
    with zipfile.ZipFile(depot.page.parent / linked[0]) as box:
        assert box.namelist() == [name]
        assert box.read(name) == depot.documents[name]


def test_no_zip_of_a_document_leads_out_of_the_folder_it_is_unpacked_in(depot):
    boxes = [file for file in depot.site.rglob("*.zip") if zipfile.is_zipfile(file)]
    assert boxes
    for file in boxes:
        assert file.read_bytes()[:2] == b"PK"  # else a browser that guesses takes it for something else
        with zipfile.ZipFile(file) as box:
            assert len(box.namelist()) == 1
            inside = box.namelist()[0]
            assert "/" not in inside
            assert "\\" not in inside
            assert inside not in {"", ".", ".."}


@pytest.mark.parametrize("name", ["fine.pdf", "fine.png", "fine.jpg", "fine.webp"])
def test_four_kinds_open_in_place(depot, name):
    """Holds already."""
    linked = [link for link in links_of(depot.page) if link.endswith("/" + name)]
    assert linked
    copied = depot.page.parent / linked[0]
    assert copied.read_bytes() == (depot.part / "documents" / name).read_bytes()


@pytest.mark.browser
@pytest.mark.parametrize("way", ["file", "http"])
def test_plain_text_is_shown_as_the_text_that_it_is(depot, watch, way):
    with over(depot.site) as (_, base):
        tab = watch.open(address(base if way == "http" else "file", depot.site, depot.page), tabs=1)
        unfolded(tab).locator("main a", has_text="plain.txt").first.click()
        tab.wait_for_load_state("load")
        shown = tab.locator("body").text_content()
        assert "<b>not bold</b> & ½ turn, Prüfung\n{{ 7*7 }} [x](y)\n  two  blanks" in shown
        assert tab.locator("meta[http-equiv='Content-Security-Policy']").count() == 1  # it is a page of ours
