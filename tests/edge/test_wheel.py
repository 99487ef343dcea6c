"""The product leaves its checkout: from the wheel, a folder of records and two lines of mkdocs.yml become a site.

One command is started as its user does (`COMMAND`), the others are given to one process of the wheel's environment.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import sysconfig
import tarfile
import venv
import zipfile
from pathlib import Path

import pydantic
import pytest

ROOT = Path(__file__).parents[2]
FIXTURE = ROOT / "tests" / "fixtures" / "depot"
TWO_LINES = "site_name: Printed spare parts\nplugins: [spares]\n"
REQUEST = """\
name: Lid knob of the locker
what_it_does: Opens the locker.
stops_without: Ticket sales on that set; the conductor sells by hand.
yearly_demand: 4
fleet: A1
by: fitter
on: 2026-11-20
"""

COMMAND = "import sys; from generator.edge.cli import main; sys.exit(main())"
ONE_AFTER_THE_OTHER = """
import contextlib, io, json, os, sys
from generator.edge.cli import main
for line in sys.stdin:
    folder, *words = json.loads(line)
    os.chdir(folder)
    with contextlib.redirect_stdout(io.StringIO()) as out, contextlib.redirect_stderr(io.StringIO()) as err:
        code = int(main(words))
    print(json.dumps([code, out.getvalue(), err.getvalue()]), flush=True)
"""

pytestmark = pytest.mark.slow


def packed(checkout, to):
    """The wheel and the source archive of a checkout."""
    subprocess.run([sys.executable, "-m", "hatchling", "build", "-d", str(to)], cwd=checkout, check=True, capture_output=True)
    return next(to.glob("*.whl")), next(to.glob("*.tar.gz"))


@pytest.fixture(scope="module")
def archives(tmp_path_factory):
    return packed(ROOT, tmp_path_factory.mktemp("archives"))


@pytest.fixture(scope="module")
def spares(tmp_path_factory, archives):
    """The command of an environment that holds the wheel and what it depends on, and nothing of the checkout.

    A wheel is unpacked where pip would put it: so no test asks for pip or for a network.
    """
    home = tmp_path_factory.mktemp("wheel")
    venv.create(home / "env", with_pip=False)
    own = Path(sysconfig.get_path("purelib", vars={"base": str(home / "env")}))
    shutil.unpack_archive(archives[0], own, "zip")
    # The dependencies are those of the tests' environment; their .pth files are not read, so no checkout comes with them.
    (own / "dependencies.pth").write_text(f"{Path(pydantic.__file__).parents[1]}\n", encoding="utf-8")
    python = shutil.which("python", path=sysconfig.get_path("scripts", vars={"base": str(home / "env")}))
    assert python

    environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
    environment["SOURCE_DATE_EPOCH"] = "1795564800"

    def run(folder: Path, *words: str, code: str = "") -> subprocess.CompletedProcess[str]:
        """code: a process of its own runs it."""
        if code:
            command = [python, "-P", "-c", code, *words]
            return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
        process.stdin.write(f"{json.dumps([str(folder), *words])}\n")
        process.stdin.flush()
        return subprocess.CompletedProcess(words, *json.loads(process.stdout.readline()))

    command = [python, "-P", "-c", ONE_AFTER_THE_OTHER]
    with subprocess.Popen(command, cwd=home, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        yield run


@pytest.fixture
def bare(tmp_path, tiny_store):
    shutil.copytree(FIXTURE, tmp_path / "catalogue")
    shutil.copytree(tiny_store, tmp_path / ".store")
    (tmp_path / "mkdocs.yml").write_text(TWO_LINES, encoding="utf-8")
    return tmp_path


def test_it_is_not_the_checkout_that_runs(spares, bare):
    found = spares(bare, code="import generator; print(generator.__file__)").stdout.strip()
    assert found.endswith("__init__.py")
    assert not Path(found).is_relative_to(ROOT)


def test_records_and_two_lines_become_the_whole_site(spares, bare):
    done = spares(bare, "build", "--strict", code=COMMAND)
    assert done.returncode == 0, done.stdout + done.stderr
    site = bare / "site"
    written = {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    assert {"index.html", "404.html", "guide/mechanics.html", "parts/EX-0001.html", "assets/css/all.css", "assets/js/judge.js", "sw.js"} <= written
    assert not [name for name in written if name.startswith("theme/") or "screenshots" in name]
    page = (site / "parts" / "EX-0001.html").read_text("utf-8")
    assert re.findall(r'rel="stylesheet" href="([^"]*)"', page) == ["../assets/css/all.css"]
    assert "Content-Security-Policy" in page
    assert {path.name for path in bare.iterdir()} == {"catalogue", "mkdocs.yml", "site", ".store"}


def test_a_depots_own_page_and_style_come_before_ours(spares, bare):
    (bare / "docs" / "assets" / "css").mkdir(parents=True)
    (bare / "docs" / "house.md").write_text("# House rules\n", encoding="utf-8")
    (bare / "docs" / "assets" / "css" / "print.css").write_text("/* theirs */\n", encoding="utf-8")
    done = spares(bare, "build")
    assert done.returncode == 0, done.stdout + done.stderr
    assert (bare / "site" / "house.html").is_file()
    assert (bare / "site" / "assets" / "css" / "print.css").read_text("utf-8") == "/* theirs */\n"
    page = (bare / "site" / "house.html").read_text("utf-8")
    assert re.findall(r'rel="stylesheet" href="([^"]*)"', page) == ["assets/css/all.css", "assets/css/print.css"]


def test_the_finder_answers_and_a_request_is_added(spares, bare):
    found = spares(bare, "find", "knob")
    assert (found.returncode, "EX-0001" in found.stdout) == (0, True), found.stdout + found.stderr
    (bare / "asked.yml").write_text(REQUEST, encoding="utf-8")
    added = spares(bare, "request", "add", "asked.yml", "--dry-run")
    assert added.returncode == 0, added.stdout + added.stderr
    assert "EX-0001" in added.stdout


def test_the_source_archive_makes_the_same_wheel_and_nothing_is_lacking(archives, tmp_path):
    wheel, source = archives
    with tarfile.open(source) as archive:
        archive.extractall(tmp_path / "source", filter="data")
    again, _ = packed(next((tmp_path / "source").iterdir()), tmp_path)
    names = set(zipfile.ZipFile(wheel).namelist())
    assert set(zipfile.ZipFile(again).namelist()) == names
    listed = subprocess.run(["git", "ls-files", "generator", "site_src"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split()
    assert {name.replace("site_src/", "generator/site_src/", 1) if name.startswith("site_src/") else name for name in listed} <= names


@pytest.fixture(scope="module")
def started(spares, tmp_path_factory):
    """A depot of one's own, begun and built with the wheel alone, its package read only."""
    home = tmp_path_factory.mktemp("own")
    made = spares(home, "init", "Depot Süd")
    assert made.returncode == 0, made.stderr
    done = spares(home / "Depot Süd", "build", "--strict")
    assert done.returncode == 0, done.stdout + done.stderr
    return home / "Depot Süd"


def test_a_depot_begins_with_the_wheel_alone(spares, started):
    home = (started / "site/index.html").read_text("utf-8")
    assert "spares new 1001" in home
    checked = spares(started, "check")
    assert (checked.returncode, checked.stdout) == (0, "0 parts in catalogue: no problems.\n")
    assert spares(started, "find", "knob").stdout == "There is no part in this catalogue yet.\n"


DEMO = re.compile(rb"TV-\d|Tarnvale|Eastmere|\bTR[47]\b|am-specialist|fitter-body|fr-petg|pa12-fr|--by technical-review")


def test_no_page_of_a_depot_of_ones_own_speaks_of_the_demo(started):
    files = [each for each in (started / "site").rglob("*") if each.suffix in (".html", ".js", ".json", ".txt", ".css", ".webmanifest")]
    assert len(files) > 30
    spoken = {each.name: DEMO.search(each.read_bytes()) for each in files if "/js/" not in each.as_posix()}
    assert {name: found for name, found in spoken.items() if found} == {}


def test_a_first_part_is_found_and_a_request_near_to_it_is_told(spares, started, tmp_path):
    depot = shutil.copytree(started, tmp_path / "depot")
    for name in ("fleets", "materials/petg-black", "makers"):
        file = depot / f"catalogue/{name}.yml"
        file.write_text(re.sub("(?m)^#(?! [^ ])", "", file.read_text("utf-8")), "utf-8")
    mesh = FIXTURE / "parts/EX-0001-lid-knob/model.stl"
    place = ("--fleet", "TRAM", "--place", "cab", "--per-vehicle", "1", "--material", "petg-black", "--by", "specialist")
    made = spares(depot, "new", "1001", "Lid knob", "--mesh", str(mesh), *place)
    assert made.returncode == 0, made.stdout + made.stderr
    part, approval = (next((depot / "catalogue/parts").glob(f"1001-*/{name}.yml")) for name in ("part", "approval"))
    filled = {"purpose": "Opens the lid.", "safety_role": "none", "orientation": "flat"}
    text = part.read_text("utf-8")
    for key, words in filled.items():
        text = text.replace(f"{key}: TODO", f"{key}: {words}")
    part.write_text(text, "utf-8")
    approval.write_text(approval.read_text("utf-8").replace("route: TODO", "route: customer"), "utf-8")
    built = spares(depot, "build")
    assert built.returncode == 0, built.stdout + built.stderr
    assert (depot / "site/parts/1001.html").is_file()
    assert "spares new" not in (depot / "site/index.html").read_text("utf-8")
    assert "1001" in spares(depot, "find", "knob").stdout
    (depot / "asked.yml").write_text(REQUEST.replace("fleet: A1", "fleet: TRAM").replace("by: fitter", "by: workshop"), encoding="utf-8")
    added = spares(depot, "request", "add", "asked.yml")
    assert added.returncode == 0, added.stdout + added.stderr
    assert "1001" in added.stdout
    assert list((depot / "catalogue/requests").glob("*.yml"))
    shutil.rmtree(next((depot / "catalogue/parts").glob("1001-*")))
    next((depot / "catalogue/requests").glob("*.yml")).unlink()
    assert spares(depot, "build").returncode == 0
    assert "1001" not in (depot / "site/assets/data/finder.js").read_text("utf-8")
    assert "spares new 1001" in (depot / "site/index.html").read_text("utf-8")
