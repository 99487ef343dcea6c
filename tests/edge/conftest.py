"""A depot of one's own for each test: the small fixture depot with a site builder's file and a bare theme."""

from pathlib import Path

import pytest

from generator.edge.cli import main
from generator.edge.disk import list_files
from generator.importing.any_list import tables_in
from tests.edge.listed import LETTERS, LIST, MAP
from tests.fixtures.copying import copied_from
from tests.fixtures.measured_once import measured_once

FIXTURE = Path(__file__).parents[1] / "fixtures" / "depot"
THEME = Path(__file__).parents[2] / "site_src" / "theme"
EPOCH = "1795564800"  # 2026-11-25 00:00 UTC, by `date -u -d 2026-11-25 +%s`
MKDOCS_YML = """\
site_name: Example depot
docs_dir: site_src
use_directory_urls: false
theme: {name: null, custom_dir: theme, language: en}
validation: {anchors: warn, omitted_files: warn}
plugins: [spares]
"""
TEMPLATE = '<!doctype html><html lang="{{ config.theme.language }}"><body>{{ page.content }}</body></html>\n'


@pytest.fixture(autouse=True)
def _measured_once():
    """Before all else, so that a test that takes the children away has the last word."""
    with measured_once():
        yield


@pytest.fixture
def depot(tmp_path, monkeypatch, tiny_store):
    """The folder a user stands in: catalogue/, mkdocs.yml, site_src/ and a bare theme."""
    copied_from(FIXTURE, tmp_path / "catalogue")
    copied_from(tiny_store, tmp_path / ".store")
    (tmp_path / "mkdocs.yml").write_text(MKDOCS_YML, encoding="utf-8")
    (tmp_path / "site_src").mkdir()
    (tmp_path / "theme").mkdir()
    for real in THEME.glob("*.html"):
        (tmp_path / "theme" / real.name).write_text(TEMPLATE, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", EPOCH)
    # Whoever runs the tests may have a role of his own.
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    monkeypatch.delenv("SPARES_ROLE", raising=False)
    return tmp_path


@pytest.fixture
def spares(capsys):
    """Run a command as a user would; gives its exit code, standard output and standard error."""

    def run(*arguments):
        capsys.readouterr()
        code = main([str(each) for each in arguments])
        said = capsys.readouterr()
        assert "Traceback" not in said.err
        return int(code), said.out, said.err

    return run


@pytest.fixture
def in_this_process(monkeypatch):
    """The child's start is most of what a small list takes."""
    monkeypatch.setattr(list_files, "read_in_a_child", tables_in)


@pytest.fixture
def parts(depot):
    (depot / "parts.csv").write_text(LIST, "utf-8")
    return depot / "parts.csv"


@pytest.fixture
def with_letters(depot, spares):
    (depot / "parts.csv").write_text(LETTERS, "utf-8")
    (depot / "papers").mkdir()
    (depot / "papers/letter.txt").write_text("Approval of part EX-0100.\n", "utf-8")
    spares("import", "parts.csv")
    return ("import", "parts.csv", "--map", MAP, "--files", "papers")


@pytest.fixture
def sent(depot):
    """Writes a file as a tablet would send it, outside the catalogue."""

    def write(text, name="sent.yml"):
        file = depot / name
        file.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
        return file

    return write


def bytes_of(folder):
    """Every file below a folder with its bytes."""
    return {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in sorted(folder.rglob("*"))
        if file.is_file()
    }


def names_in(folder):
    return sorted(each.name for each in folder.iterdir())
