"""Two builds of one day for the tests of copies: the morning's, and noon's in which a part was withdrawn."""

import http.server
import json
import os
import re
import shutil
import threading
from contextlib import contextmanager

from playwright.sync_api import Error

from tests.browser.patience import wait_until
from tests.fixtures.commands import ROOT as PROJECT
from tests.fixtures.in_process import answered
from tests.fixtures.tablets import unseen

NOON = 1795694400  # 26 Nov 2026, 12:00 UTC: both builds are of this day
AN_HOUR_LATER = "2026-11-26T13:00:00Z"  # what the tablet's clock says

PARTS = {f"TV-0{number}" for number in (104, 105, 112, 123, 235, 236, 260, 231, 417)}
MATERIALS = {"fr-petg-black", "pa12-fr-grey", "pc-fr-black"}  # of these parts
PART = "parts/TV-0417.html"
PLACE = "vehicles/TR4/at-saloon-window.html"
FOUND = "index.html?q=4-117-0417"
OWN_DATA = "assets/data/parts/TV-0417.js"
LETTER = "parts/TV-0417/documents/approval-letter.pdf"
INDEX = "assets/data/finder.js"
FINDER = "assets/js/finder.js"
RULES = "assets/data/rules.js"
READY = "A newer catalogue is ready"
PATIENCE = 20_000  # ms, for what comes from the tablet's own disk; only a failing test waits so long

# What a mechanic would take for leave to fit: the word alone wherever it shows, or behind a colon in a text to be
# copied. Only "the answer was: Fit it" of a page whose scripts do not run tells of another day and is no verdict.
LEAVES = """() => {
  const alone = [...document.querySelectorAll("body *")]
    .filter(e => !e.children.length && e.tagName !== "OPTION" && e.checkVisibility()
                 && /^Fit it[.,:!]?$/.test(e.textContent.trim()))
    .map(e => (e.closest("li, .verdict, p") || e).innerText.replace(/\\s+/g, " "));
  return alone.concat(document.body.innerText.match(/(?<!was): Fit it[^\\n]*/g) || []);
}"""
WORDS = """() => [...document.querySelectorAll("body *")]
  .filter(e => !e.children.length && e.checkVisibility()).map(e => e.textContent.trim())"""
OWN_WORDS = "() => [...document.querySelectorAll('.verdict__word')].map(e => e.textContent.trim())"
# At rest: nothing more was asked for during a fifth of a second.
REST = """async () => {
  for (let before = -1, now; before !== (now = performance.getEntriesByType("resource").length); before = now)
    await new Promise(next => setTimeout(next, 200));
}"""


def spares(*arguments, at=NOON):
    environment = {**os.environ, "SOURCE_DATE_EPOCH": str(at)}
    done = answered(arguments, cwd=PROJECT, env=environment)
    assert done.returncode == 0, done.stdout + done.stderr


def build(catalogue, site, store, at=NOON):
    spares("build", "--catalogue", catalogue, "--site", site, "--store", store, "--config", "mkdocs.yml", at=at)
    return site


def record(catalogue, store, number, event, *arguments):
    spares("record", number, event, "--by", "technical-review", "--reference", "letter TR-26-300",
           "--on", "2026-11-26", "--catalogue", catalogue, "--store", store, *arguments)


def a_catalogue(folder):
    """The demo's parts that these tests speak of, and those that they name: a copy of few pages is kept soon."""
    shutil.copytree(PROJECT / "catalogue", folder, ignore=shutil.ignore_patterns("lots", "machines", "batches", "recalls", "fitted"))
    for part in (folder / "parts").iterdir():
        if part.name[:7] not in PARTS:
            shutil.rmtree(part)
    for material in (folder / "materials").glob("*.yml"):
        if material.stem not in MATERIALS:
            material.unlink()
    return folder


def light(site):
    """Its worker keeps no pictures and no papers but the letter: half the files, and no word of these tests rests on them."""
    worker = site / "sw.js"
    before, _, rest = worker.read_text(encoding="utf-8").partition("const FILES = ")
    files, _, after = rest.partition(";\n")
    kept = [each for each in json.loads(files) if each[0] == LETTER or not re.search("^assets/pictures/|/documents/", each[0])]
    worker.write_text(f"{before}const FILES = {json.dumps(kept)};\n{after}", encoding="utf-8")
    return site


def withdraw(catalogue, store):
    record(catalogue, store, "TV-0417", "withdrawn", "--reason", "wing breaks off")


class Server(http.server.ThreadingHTTPServer):
    """A server whose folder can be exchanged, and which can go away."""

    daemon_threads = True
    folder, gone = None, False

    @property
    def address(self):
        return f"http://127.0.0.1:{self.server_address[1]}"


class Answer(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_):
        pass

    def end_headers(self):
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def do_GET(self):
        if self.server.gone:  # no network: the line is cut without a word
            self.close_connection = True
            return
        self.directory = str(self.server.folder)
        super().do_GET()


@contextmanager
def serving(folder):
    with Server(("127.0.0.1", 0), Answer) as server:
        server.folder = folder
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield server
        server.shutdown()


class Tablet:
    """A tablet that keeps its copy of what its server has, and the network that it has or has not; its page draws no frame."""

    def __init__(self, context, server):
        self.context, self.server = context, server
        self.page = context.pages[0] if context.pages else unseen(context)
        self.page.goto(f"{server.address}/{PART}")
        wait_until(self.page, "navigator.serviceWorker.controller")

    def go(self, path, page=None):
        """Opens a page; gives whether anything came, were it only a page that says that nothing is there."""
        page = page or self.page
        try:
            page.goto(f"{self.server.address}/{path}", timeout=60_000)
        except Error:
            return False
        page.evaluate(REST)
        return True

    def leave_the_network(self):
        self.server.gone = True
        self.context.set_offline(True)

    def is_back_in_the_network(self):
        self.server.gone = False
        self.context.set_offline(False)

    def hears_of(self, site):
        """The server has another catalogue; the tablet looks, fetches all of it, and says so."""
        self.server.folder = site
        self.page.evaluate("async () => { await (await navigator.serviceWorker.getRegistration()).update(); }")
        self.page.get_by_text(READY).wait_for(timeout=60_000)

    def comes_to_say(self, word, page=None, where=OWN_WORDS):
        """Waits as long as a patient reader: all verdicts of the part, or one of the words on a page, are this."""
        which = "every" if where == OWN_WORDS else "some"
        try:
            wait_until(page or self.page, f"({where})().{which}(word => word === '{word}')", PATIENCE)
        except Error:
            return False
        return True
