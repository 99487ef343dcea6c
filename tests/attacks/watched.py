"""A site that is opened in a real browser, and all by which a script that ran gives itself away."""

import contextlib
import os
import re
import threading
from http.server import BaseHTTPRequestHandler, SimpleHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import quote

from playwright.sync_api import Error as BrowserError

from tests.fixtures.commands import ROOT
from tests.fixtures.in_process import answered
from tests.fixtures.tablets import forgetting

DAY = "2026-11-25"
ENOUGH = int(os.environ.get("SPARES_SIGNS", "20"))
KINDS = {  # as usual servers name them, whatever this machine's own list says
    **dict.fromkeys((".html", ".htm", ".shtml", ".hta"), "text/html"),
    **dict.fromkeys((".xhtml", ".xht"), "application/xhtml+xml"),
    **dict.fromkeys((".svg", ".svgz"), "image/svg+xml"),
    **dict.fromkeys((".xml", ".xsl", ".xslt", ".rdf", ".rss", ".atom"), "text/xml"),
    **dict.fromkeys((".js", ".mjs"), "text/javascript"),
    **dict.fromkeys((".mht", ".mhtml"), "multipart/related"),
    ".css": "text/css",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".txt": "text/plain",
    ".md": "text/markdown",
    ".pdf": "application/pdf",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".webp": "image/webp",
    ".gif": "image/gif",
    ".zip": "application/zip",
    ".wasm": "application/wasm",
}


def spares(*words):
    env = {name: value for name, value in os.environ.items() if name != "SOURCE_DATE_EPOCH"} | {
        "NO_COLOR": "1"
    }
    return answered(words, cwd=ROOT, env=env)


def build(depot, site, store):
    ran = spares(
        *("build", "--catalogue", depot, "--site", site, "--store", store, "--on", DAY),
        *("--config", ROOT / "mkdocs.yml"),
    )
    assert ran.returncode == 0, ran.stderr[-3000:]
    return site


class Canary(BaseHTTPRequestHandler):
    """Answers everything and remembers who called."""

    def do_GET(self):
        self.server.called.append(self.path)
        self.send_response(200)
        self.send_header("Content-Length", "0")
        self.send_header("Access-Control-Allow-Origin", "*")
        self.end_headers()

    do_POST = do_HEAD = do_OPTIONS = do_GET  # noqa: N815

    def log_message(self, *_):
        """Keep the tests' output quiet."""


class Shelf(SimpleHTTPRequestHandler):
    extensions_map = KINDS

    def log_message(self, *_):
        """Keep the tests' output quiet."""

    def end_headers(self):
        if self.path.partition("?")[0].endswith(".svgz"):
            self.send_header("Content-Encoding", "gzip")
        super().end_headers()


class Untyped(Shelf):
    """A careless server that says of no file what it is: the browser guesses by the content."""

    def send_header(self, name, value):
        if name.lower() != "content-type":
            super().send_header(name, value)


@contextlib.contextmanager
def served(handler):
    with ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        server.called = []
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server, f"http://127.0.0.1:{server.server_port}"
        server.shutdown()


def over(site, handler=Shelf):
    return served(lambda *of: handler(*of, directory=str(site)))


def address(base, site, file):
    """Where the browser finds a file of the site; `base` is an address, or `file`."""
    name = quote(os.fsencode(file.relative_to(site)))
    return f"{site.as_uri() if base == 'file' else base}/{name}"


ALIKE = ("guide", "reports")


def telling(site, mark="RAN"):
    """The pages of a site; but of those of the guide, and of the months, that hold the same texts of the depot one is among them."""
    seen = set()
    for page in sorted(site.rglob("*.html")):
        text = page.read_text(encoding="utf-8")
        own = text.partition("<main")[2].partition("</main")[0] or text  # what has none is no page of ours
        texts = frozenset(re.findall(rf"{mark}\W*\w+", own))
        like = (page.parent, texts) if page.parent.name in ALIKE and own is not text else page
        if like not in seen:
            seen.add(like)
            yield page


class Watch:
    """A browser whose consoles, dialogs and titles are watched for the word RAN."""

    def __init__(self, browser):
        self.signs = []
        self.refusals = []
        self.context = browser.new_context(accept_downloads=True, service_workers="block")
        self.context.on("console", self.heard)
        self.context.on("dialog", self.asked)
        self.context.on("weberror", lambda error: self.refusals.append(str(error.error)))
        self.tabs = []

    def forget(self):
        """As new, for the next test; see `forgetting` for what its browser still has."""
        forgetting(self.context, {"width": 1280, "height": 720})
        self.tabs = self.context.pages
        self.signs.clear()
        self.refusals.clear()

    def heard(self, message):
        text = message.text
        if "RAN" in text and "Content Security Policy" not in text:
            self.signs.append(f"console: {text}")
        if "Content Security Policy" in text or message.type == "error":
            self.refusals.append(text)

    def asked(self, dialog):
        self.signs.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def open(self, url, tabs=3):
        """Open it in one of some tabs, so that the others have time for what they do late."""
        if len(self.tabs) < tabs:
            self.tabs.insert(0, self.context.new_page())
        tab = self.tabs.pop()
        self.tabs.insert(0, tab)
        self.look(tab)
        with contextlib.suppress(BrowserError):  # a download is no page
            tab.goto(url, wait_until="load", timeout=20000)
        self.look(tab)
        return tab

    def open_all(self, urls):
        """Open them until enough is known: a site on which everything runs would take minutes."""
        for url in urls:
            self.open(url)
            if len(set(self.signs)) >= ENOUGH:
                break

    def look(self, tab):
        with contextlib.suppress(BrowserError):
            if tab.title().startswith("RAN"):
                self.signs.append(f"title: {tab.title()}")

    def settle(self):
        if self.tabs:
            self.tabs[0].wait_for_timeout(200)  # for all of them: what is to be seen is that nothing happens
        for tab in self.tabs:
            self.look(tab)


def nothing_ran(watch, canary):
    watch.settle()
    signs = sorted({*watch.signs, *(f"called: {path}" for path in canary[0].called)})
    assert not signs, "\n".join(signs)
