"""The product leaves its checkout: from the wheel, a folder of records and two lines of mkdocs.yml become a site."""

import os
import re
import shutil
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

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

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def spares(tmp_path_factory):
    """The command of an environment that holds the wheel and what it depends on, and nothing of the checkout."""
    home = tmp_path_factory.mktemp("wheel")
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(home)]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    venv.create(home / "env", with_pip=False)
    own = Path(sysconfig.get_path("purelib", vars={"base": str(home / "env")}))
    shutil.unpack_archive(next(home.glob("*.whl")), own, "zip")
    # The dependencies are those of the tests' environment; their .pth files are not read, so no checkout comes with them.
    (own / "dependencies.pth").write_text(sysconfig.get_path("purelib") + "\n", encoding="utf-8")
    python = shutil.which("python", path=sysconfig.get_path("scripts", vars={"base": str(home / "env")}))
    assert python

    def run(folder: Path, *words: str, code: str = COMMAND) -> subprocess.CompletedProcess[str]:
        environment = {key: value for key, value in os.environ.items() if key != "PYTHONPATH"}
        environment["SOURCE_DATE_EPOCH"] = "1795564800"
        command = [python, "-P", "-c", code, *words]
        return subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)

    return run


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
    done = spares(bare, "build", "--strict")
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
