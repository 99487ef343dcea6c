"""`spares init`: a depot of one's own, from an empty folder to a site that says what to do next."""

import json
import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from generator.edge import cli
from generator.edge.commands import init
from generator.edge.refusals import Ending
from generator.reading.catalogue import read_catalogue
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.depot import Language
from generator.records.machines import Machine
from generator.writing.starter import starter_files
from tests.edge.conftest import EPOCH, bytes_of

DEMO = re.compile(r"TV-\d|Tarnvale|Eastmere|\bTR[47]\b|am-specialist|fitter-body|fr-petg|technical-review\b|screenshots|EX-000")
LANGUAGES = [each.value for each in Language]
# "#  - id: TRAM" and "#floor_languages: …" are examples, "# Who we are." is none; blank lines and words part them.
EXAMPLE = re.compile(r"#(?! [^ ])(?=.)")


@pytest.fixture(autouse=True)
def here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("SOURCE_DATE_EPOCH", EPOCH)
    return tmp_path


def blocks(text):
    """Runs of lines that are examples, as numbers of lines."""
    found, run = [], []
    for at, line in enumerate(text.splitlines()):
        if EXAMPLE.match(line):
            run.append(at)
        elif run:
            found.append(run)
            run = []
    return [*found, *([run] if run else [])]


def used(text, lines):
    return "".join(line[1:] if at in lines else line for at, line in enumerate(text.splitlines(keepends=True)))


def problems(spares, catalogue):
    """What `check` names, but for words that a language lacks still."""
    told = json.loads(spares("check", "--format", "json", "--catalogue", catalogue)[1])
    return {each["code"] for each in told["problems"]} - {"DEPOT01", "DEPOT02"}


@pytest.mark.parametrize("language", LANGUAGES)
def test_it_checks_clean_and_builds_a_site_that_says_what_comes_next(here, spares, language):
    code, out, _ = spares("init", "depot", "--language", language)
    assert (code, len(out.splitlines()) <= 12) == (0, True)
    assert "spares build" in out
    assert problems(spares, "depot/catalogue") == set()
    note = spares("check", "--catalogue", "depot/catalogue")[2]
    assert f": depot.yml:{4 if language == 'en' else 5} " in note
    assert len(note.splitlines()) == 1
    assert "railway, depot, contact, currency" in note
    code, out, _ = spares("build", "--strict", "--markdown", "out", "--catalogue", "depot/catalogue")
    assert code == 0
    home = Path("out/index.md").read_text("utf-8")
    assert "spares new 1001 " in home
    assert "finder" not in home
    shown = "\n".join(each.read_text("utf-8") for each in Path("out").rglob("*.md"))
    assert not re.search(r"\bNaN\b|\bNone\b|\| *\n\|---\|---\|\n\n", shown)
    assert not DEMO.search(shown)


def test_the_command_of_the_home_page_is_one(here):
    parser, _ = cli._parser(["new"])
    assert parser.parse_args(["new", "1001", "Name of the part", "--mesh", "model.stl"]).number == "1001"


def test_what_is_said_leaves_no_blank_and_is_taken_as_it_is(here, spares):
    said = {"railway": 'A "B": <<x>> # ø', "depot": "Süd", "currency": "DKK", "contact": "[office], 12"}
    assert spares("init", "d", *(word for key, text in said.items() for word in (f"--{key}", text)))[0] == 0
    record = yaml.safe_load(Path("d/catalogue/depot.yml").read_text("utf-8"))
    assert {key: record[key] for key in said} == said
    assert spares("check", "--catalogue", "d/catalogue") == (0, "0 parts in d/catalogue: no problems.\n", "")


@pytest.mark.parametrize(("option", "text"), [("--currency", "euro"), ("--railway", ""), ("--depot", "x" * 81), ("--contact", "a\nb")])
def test_what_no_record_takes_is_refused_and_nothing_is_written(here, spares, option, text):
    code, out, err = spares("init", "a/b", option, text)
    assert (code, out, "nothing was written" in err) == (Ending.MISUSE, "", True)
    assert list(here.iterdir()) == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_example_holds_when_its_sign_is_taken_away(here, spares, language):
    files = starter_files(Language(language), {})
    for name in ("fleets", "materials/petg-black", "makers", "words", "depot"):
        path = f"catalogue/{name}.yml"
        found = blocks(files[path].decode())
        assert found, path
        for block in found:
            shutil.rmtree("d", ignore_errors=True)
            spares("init", "d", "--language", language)
            if name == "makers":  # it names that material, and says so
                material = Path("d/catalogue/materials/petg-black.yml")
                material.write_text(used(material.read_text("utf-8"), blocks(material.read_text("utf-8"))[0]), "utf-8")
            Path("d", path).write_text(used(files[path].decode(), block), "utf-8")
            assert problems(spares, "d/catalogue") == set(), (path, block)


def keys(text):
    """Lines of a record with words of a language and explanations left out."""
    kept = [re.sub(r"\s+#.*", "", line) for line in text.splitlines() if not re.match(r"# [^ ]|\s*$", line)]
    return [re.sub(r"((?:name|order_at|language|railway|depot|contact):).*|^(#  ?- |#  )\[?.*\]|(nob|Knopp|knob):.*|^(#floor_languages:).*", r"\1\2\4", line) for line in kept]


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_languages_hold_the_same_records(language):
    own, english = starter_files(Language(language), {}), starter_files(Language.ENGLISH, {})
    assert own.keys() == english.keys()
    for name in own:
        if name.startswith("catalogue/") and name.endswith(".yml"):
            assert keys(own[name].decode()) == keys(english[name].decode()), name


@pytest.mark.parametrize("language", LANGUAGES)
def test_what_a_folder_says_of_its_files_holds(language):
    """Its commands are ones, in all languages the same but for what is free text; its record is one."""
    files = {name: text.decode() for name, text in starter_files(Language(language), {}).items() if name.endswith("/README.md")}
    assert {Path(name).parent.as_posix() for name in files} == {f"catalogue/{each}" for each in ("machines", "materials/lots", "batches", "recalls", "fitted")}
    said = [shlex.split(line, comments=True)[1:] for text in files.values() for line in text.splitlines() if line.startswith("spares ")]
    assert len(said) == 11
    for words in said:
        cli._parser([words[0]])[0].parse_args(words)
    text = re.search("```yaml\n(.*?)```", files["catalogue/machines/README.md"], re.DOTALL)[1]
    assert record(Machine, read_yaml("machines/printer-1.yml", text.encode())).qualifications[0].coupons


def test_a_folder_that_holds_something_stays_as_it_is(here, spares):
    for names, named in ((("a.txt",), "a.txt"), (("b", "c", "d", "e"), "b, c, d and 1 more")):
        for name in names:
            Path("full").mkdir(exist_ok=True)
            Path("full", name).write_text("mine")
        before = bytes_of(here)
        code, out, err = spares("init", "full")
        assert (code, out, f"full is not empty: {named}" in err) == (Ending.MISUSE, "", True)
        assert bytes_of(here) == before
        shutil.rmtree("full")


def test_a_second_time_is_refused_also_after_an_edit(here, spares):
    spares("init", "d")
    Path("d/catalogue/depot.yml").write_text("edited")
    before = bytes_of(here)
    code, _, err = spares("init", "d", "--language", "da")
    assert (code, "der er allerede et værksted i d" in err) == (Ending.MISUSE, True)
    assert bytes_of(here) == before


def test_what_systems_leave_in_a_folder_is_nothing(here, spares, monkeypatch):
    Path(".git").mkdir()
    Path(".git/HEAD").write_text("ref")
    Path(".DS_Store").write_text("x")
    Path(f".new-{2**22 + 7}-depot").mkdir()  # of a process that was killed
    assert spares("init", ".")[0] == 0
    assert Path(".git/HEAD").read_text() == "ref"
    assert not list(here.glob(".new-*"))
    assert spares("check")[0] == 0


@pytest.mark.parametrize("folder", ["", " ", "~/depot", "file", "gone", "file/below"])
def test_what_can_be_no_folder_is_refused(here, spares, folder):
    Path("file").write_text("x")
    Path("gone").symlink_to("nowhere")
    before = sorted(here.rglob("*"))
    assert spares("init", folder)[0] in (Ending.MISUSE, Ending.PROBLEMS)
    assert sorted(here.rglob("*")) == before


def test_no_depot_grows_inside_another(here, spares):
    spares("init", "d")
    for inside in ("d/x", "d/catalogue/parts/x"):
        code, _, err = spares("init", inside)
        assert (code, "lies inside the depot in" in err) == (Ending.MISUSE, True)
        assert not Path(inside).exists()


def test_spaces_umlauts_and_missing_parents_do_no_harm(here, spares):
    assert spares("init", "Bahn/Betriebshof Süd", "--language", "de_AT")[0] == 0
    assert "language: de" in Path("Bahn/Betriebshof Süd/catalogue/depot.yml").read_text("utf-8")


@pytest.mark.parametrize(("text", "code"), [("DE", "de"), ("Dansk", "da"), ("en_GB", "en"), ("de-AT", "de"), ("Deutsch", "de")])
def test_a_language_is_known_by_its_names(text, code):
    assert init.language(text) == code


def test_no_other_language_is_guessed(here, spares):
    code, _, err = spares("init", "d", "--language", "xx")
    assert (code, "write one of: en, da, de" in err) == (Ending.MISUSE, True)
    assert not Path("d").exists()


@pytest.mark.parametrize("made", [False, True])
@pytest.mark.parametrize("error", [OSError(28, "full"), KeyboardInterrupt()])
def test_broken_off_nothing_is_left_and_a_second_time_works(here, spares, monkeypatch, error, made):
    if made:
        Path("a/b").mkdir(parents=True)
    before = sorted(here.rglob("*"))
    real, written = Path.write_bytes, []

    def full(self, content):
        if len(written) == 5:
            raise error
        written.append(self)
        return real(self, content)

    monkeypatch.setattr(Path, "write_bytes", full)
    assert spares("init", "a/b")[0] in (Ending.PROBLEMS, Ending.STOPPED)
    monkeypatch.setattr(Path, "write_bytes", real)
    assert sorted(here.rglob("*")) == before
    assert spares("init", "a/b")[0] == 0


def test_a_renaming_that_fails_takes_back_what_came_in(here, spares, monkeypatch):
    Path("d").mkdir()
    real = Path.rename

    def failing(self, target):
        if self.name == "mkdocs.yml":
            raise OSError(13, "no")
        return real(self, target)

    monkeypatch.setattr(Path, "rename", failing)
    assert spares("init", "d")[0] == Ending.PROBLEMS
    assert list(Path("d").iterdir()) == []


def test_commands_on_no_part_say_so(here, spares):
    spares("init", "d")
    at = ("--catalogue", "d/catalogue")
    assert spares("find", "knob", *at)[1] == "There is no part in this catalogue yet.\n"
    assert spares("approvals", *at)[:2] == (0, "There is no part in this catalogue yet.\n")
    assert spares("fire-tests", *at)[0] == 0
    assert spares("holds", *at)[0] == 0
    assert spares("queries", *at)[0] == 0
    assert spares("migrate", *at)[:2] == (0, "nothing to do: all is of the newest format\n")


def test_the_hook_stops_a_commit_of_a_broken_depot(here, spares):
    spares("init", "d")
    tool = Path("bin/spares")
    tool.parent.mkdir()
    tool.write_text(f"#!/bin/sh\nexec {sys.executable} -c 'import sys; from generator.edge.cli import main; sys.exit(main())' \"$@\"\n")
    tool.chmod(0o755)
    hook = ["env", f"PATH={here / 'bin'}:/usr/bin:/bin", f"PYTHONPATH={Path(__file__).parents[2]}", "sh", "hints/pre-commit"]
    assert subprocess.run(hook, cwd="d", capture_output=True, check=False).returncode == 0
    Path("d/catalogue/depot.yml").write_text("railway: [\n")
    assert subprocess.run(hook, cwd="d", capture_output=True, check=False).returncode == 1


@pytest.mark.parametrize("language", LANGUAGES)
def test_with_examples_a_first_part_begins_without_any_file_edited(here, spares, language):
    assert spares("init", "d", "--language", language, "--with-examples")[0] == 0
    assert spares("check", "--catalogue", "d/catalogue")[0] == 0
    fleet = read_catalogue(Path("d/catalogue")).fleets
    first = next(iter(fleet.values()))
    told = ("--fleet", first.id, "--place", first.places[0].id, "--material", next(iter(read_catalogue(Path("d/catalogue")).materials)))
    code, _, err = spares("new", "1001", "x", "--no-model", "bought", "--catalogue", "d/catalogue", *told)
    assert (code, err) == (0, "")
