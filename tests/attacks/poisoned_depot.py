"""A depot with one withdrawn part and one poisoned part for each poison, built and checked once."""

import json
import os
import shutil
import stat
import subprocess
import zipfile
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

from tests.attacks.poisons import GROUPS, SECRET, document, picture
from tests.fixtures.commands import ROOT, SPARES, ran

DAY = "2026-11-25"
LIMIT_S = 60  # only a guard that it ends at all
BOUND = (
    256 * 2**20
)  # no file that spares writes may be larger here: a guard for the disk of whoever runs this


def spares(*words, before=(), **more):
    """One command to its end; what runs it (`setpriv`) comes in front."""
    more = {"timeout": LIMIT_S, "cwd": ROOT, "env": environment()} | more
    if before:
        return subprocess.run([*before, SPARES, *map(str, words)], capture_output=True, check=False, **more)
    return ran(words, **more)


def environment():
    kept = {name: value for name, value in os.environ.items() if name != "SOURCE_DATE_EPOCH"}
    return kept | {"NO_COLOR": "1", "COLUMNS": "400"}


def depot_in(folder):
    """The tiny depot, in which EX-0001 was withdrawn five days ago and EX-0002 may be fitted."""
    depot = shutil.copytree(ROOT / "tests/fixtures/depot", folder / "depot")
    record = depot / "parts/EX-0001-lid-knob/approval.yml"
    with record.open("a", encoding="utf-8") as file:
        file.write("  - {on: 2026-11-20, what: withdrawn, by: reviewer, reason: it cracks}\n")
    return depot


def another_part(depot, number, slug):
    """A plain part of its own, not approved; its folder."""
    folder = depot / "parts" / f"{number}-{slug}"
    folder.mkdir()
    model = depot / "parts/EX-0001-lid-knob"
    text = (model / "part.yml").read_text(encoding="utf-8")
    text = (
        text.replace("EX-0001", number)
        .replace("look_alikes: [EX-0003]\n", "")
        .replace('"0417"', f'"{number}"')
    )
    (folder / "part.yml").write_text(text, encoding="utf-8")
    shutil.copy(model / "model.stl", folder)
    shutil.copy(model / "fitting.md", folder)
    (folder / "approval.yml").write_text("route: customer\nevents: []\n", encoding="utf-8")
    (folder / "documents").mkdir()
    (folder / "photos").mkdir()
    return folder


class Links(HTMLParser):
    def __init__(self):
        super().__init__()
        self.found = []

    def handle_starttag(self, tag, attrs):
        self.found += [value for name, value in attrs if name in ("href", "src") and value]


def offered(site, page):
    """The contents of the files that the page offers, directly or in a zip."""
    links = Links()
    links.feed(page.read_text(encoding="utf-8"))
    for link in links.found:
        if urlsplit(link).scheme:
            continue
        file = (
            page.parent / os.fsdecode(unquote(urlsplit(link).path).encode("utf-8", "surrogateescape"))
        ).resolve()
        if not file.is_file() or not file.is_relative_to(site.resolve()):
            continue
        yield file.read_bytes()
        if zipfile.is_zipfile(file):
            with zipfile.ZipFile(file) as box:
                yield from (box.read(name) for name in box.namelist())


def everything_in(site):
    for file in site.rglob("*"):
        if file.is_file():
            yield file.read_bytes()
            if zipfile.is_zipfile(file):
                with zipfile.ZipFile(file) as box:
                    yield from (box.read(name) for name in box.namelist())


def defused(depot):
    """Leave nothing behind on which somebody else's program could hang: pipes, devices, endless files."""
    for folder, _, names in os.walk(depot):
        for name in names:
            file = Path(folder, name)
            kind = file.lstat()
            if not (stat.S_ISREG(kind.st_mode) or stat.S_ISLNK(kind.st_mode)) or kind.st_size > BOUND:
                file.unlink()


class Outcome:
    def __init__(self, group, folder, store):
        self.site = folder / "site"
        self.kept = {}
        self.folders = {}
        self.depot = depot_in(folder)
        (folder / "secret.txt").write_bytes(SECRET)
        (folder / "secret.pdf").write_bytes(b"%PDF-1.4 " + SECRET)
        (folder / "secret.png").write_bytes(picture("PNG") + SECRET)
        (folder / "secrets").mkdir()
        (folder / "secrets/letter.txt").write_bytes(SECRET)
        for at, (slug, (_, put)) in enumerate(GROUPS[group].items(), 1):
            part = another_part(self.depot, f"PX-{at:04}", slug)
            self.folders[slug] = part
            self.kept[slug] = put(part)
        if group == "markdown":  # the page that a site builder would make of twin.md, and of README.md
            document("twin.html", b"twin as a page")(self.folders["md-and-html"])
            document("index.md", b"the index beside it")(self.folders["readme-md"])
        if group == "names":
            document("LETTER.HTML", b"the high letter")(self.folders["case-low"])
        at = ["--catalogue", self.depot, "--store", store, "--on", DAY]
        self.build = self.ended("build", *at, "--site", self.site, "--config", ROOT / "mkdocs.yml")
        self.check = self.ended("check", *at, "--format", "json")
        defused(self.depot)

    def ended(self, *words):
        try:
            return spares(*words, limits={"RLIMIT_FSIZE": BOUND})
        except subprocess.TimeoutExpired:
            return None

    def page(self, slug):
        return self.site / "parts" / f"{self.folders[slug].name[:7]}.html"

    def told(self, slug):
        """Everything that check says of the part's folder, as one text."""
        assert self.check is not None, f"check did not end within {LIMIT_S} s"
        assert self.check.returncode in (0, 1), said(self.check)
        part = f"parts/{self.folders[slug].name}"
        problems = json.loads(self.check.stdout)["problems"]
        return [problem for problem in problems if part in problem["file"] or part in problem["says"]]


def said(ran):
    return (ran.stdout + ran.stderr)[-3000:].decode(errors="replace")
