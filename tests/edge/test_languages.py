"""A second language is words files alone; what is not fit in them is a problem with its line, and English stands there."""

import re

import pytest

from generator.pages.finder.query_words import query_words
from generator.pages.wording import lacking
from tests.fixtures.greek import forget, greek_pages, in_greek, use_pages
from tests.fixtures.told import ENGLISH

WORD = re.compile(r"[A-Za-z]{2,}")


@pytest.fixture
def pages(depot, tmp_path_factory, monkeypatch):
    """The words files of a depot in Greek letters, for a test to spoil."""
    folder = greek_pages(tmp_path_factory.mktemp("pages"))
    use_pages(folder, monkeypatch)
    depot_yml = depot / "catalogue/depot.yml"
    kept = re.sub("(?m)^language:.*\n", "", depot_yml.read_text(encoding="utf-8"))
    depot_yml.write_text(f"language: da\n{kept}", encoding="utf-8")
    yield folder
    monkeypatch.undo()
    forget()


def changed(file, before, after):
    """Change a line of a file, and tell its number."""
    text = file.read_text(encoding="utf-8")
    assert text.count(before) == 1
    file.write_text(text.replace(before, after), encoding="utf-8")
    return text[: text.index(before)].count("\n") + 1


def besides_notes(err):
    """A fresh machine says that it cannot tell what the records said before, in whatever language."""
    notes = ("note: ", in_greek("note: "))
    return "\n".join(line for line in err.splitlines() if not line.startswith(notes))


def built(depot, spares):
    """What stands on all pages, of a build that ends well."""
    code, _, err = spares("build", "--markdown", "out")
    assert (code, besides_notes(err)) == (0, "")
    return "\n".join(each.read_text(encoding="utf-8") for each in sorted((depot / "out").rglob("*.md")))


def test_a_whole_language_is_shown_and_told_of_by_nobody(pages, depot, spares):
    code, out, err = spares("check")
    assert (code, besides_notes(err)) == (0, "")
    assert out == in_greek(ENGLISH.flat["told.checked.other"]).format(
        n=3, root="catalogue", count=in_greek(ENGLISH.flat["told.none"])
    ) + "\n"
    shown = built(depot, spares)
    assert in_greek("Do not fit") in shown or in_greek("Ask first") in shown
    assert "Ask first" not in shown


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (f"  ask: {in_greek('Ask first')}\n", ""),
        (f"  ask: {in_greek('Ask first')}\n", f"  ask: {in_greek('Ask first')} {{bye}}\n"),
        (f"  ask: {in_greek('Ask first')}\n", f"  ask: '{in_greek('Ask first')} [{{name'\n"),
        (f"  ask: {in_greek('Ask first')}\n", f"  ask: '{in_greek('Ask first')} <b>!</b>'\n"),
        (f"  ask: {in_greek('Ask first')}\n", "  ask: 12\n"),
        (f"  ask: {in_greek('Ask first')}\n", "  ask: {a: b}\n"),
    ],
    ids=["lacking", "misspelt placeholder", "open bracket", "HTML", "a number", "keys"],
)  # fmt: skip
def test_a_sentence_that_is_not_fit_is_told_with_its_line(pages, depot, spares, before, after):
    line = changed(pages / "words/da.yml", before, after)
    code, out, err = spares("check")
    assert (code, besides_notes(err)) == (1, "")
    told = re.search(r"^catalogue/depot\.yml:1:11: .* DEPOT02: .* words/da\.yml:(\d+) .*", out, re.MULTILINE)
    assert told
    assert "'verdict.ask'" in told[0]
    assert int(told[1]) == (line if after else line - 2)  # what lacks has no line: the key around it
    shown = built(depot, spares)
    assert "Ask first" in shown
    assert in_greek("Do not fit") in shown


@pytest.mark.parametrize(
    ("content", "line"),
    [(b"part: [\n", ":"), (b"part:\n  a: \xff\n", ":2"), (b"part: &a b\n", ":1"), (b"", ""), (None, "")],
    ids=["broken", "not UTF-8", "a reference", "empty", "not there"],
)
def test_a_file_that_is_not_fit_is_told_and_stands_in_english(pages, depot, spares, content, line):
    file = pages / "part/words/da.yml"
    if content is None:
        file.unlink()
    else:
        file.write_bytes(content)
    code, out, err = spares("check")
    assert (code, besides_notes(err)) == (1, "")
    assert len(re.findall("DEPOT02", out)) == 1
    assert f" part/words/da.yml{line}" in out
    shown = built(depot, spares)
    assert ENGLISH.flat["broken.warnings"] not in shown
    assert ENGLISH.flat["event.heading"] in shown


def test_what_nothing_asks_for_is_told(pages, spares):
    line = changed(pages / "words/da.yml", "\nverdict:\n", "\nverdicts:\n  fit: x\nverdict:\n") + 1
    (pages / "finder/spoken/da.yml").write_text("linkz: [o]\nlinks: [o]\nby: 7\n", encoding="utf-8")
    code, out, _ = spares("check", "--format", "json")
    assert code == 1
    assert f" words/da.yml:{line} " in out
    assert " finder/spoken/da.yml:1 " in out
    assert " finder/spoken/da.yml:3 " in out
    assert query_words("da")["links"] == ["o"]
    assert query_words("da")["by"] == query_words("en")["by"]


def test_of_many_that_lack_the_last_one_tells_how_many_more(pages, spares):
    file = pages / "part/words/da.yml"
    kept = [line for line in file.read_text(encoding="utf-8").splitlines() if not line.startswith("  ")]
    file.write_text("".join(f"{line} {{}}\n" for line in kept if line.endswith(":")), encoding="utf-8")
    _, out, _ = spares("check")
    told = [line for line in out.splitlines() if "DEPOT02" in line]
    lacking = sum(len(each) for each in ENGLISH.tree.values() if isinstance(each, dict))
    assert len(told) == 20
    (last,) = (line for line in told if in_greek("more like it") in line)
    assert 20 < int(re.findall(r"\d+", last)[-1]) + 20 < lacking


@pytest.mark.parametrize(
    ("elsewhere", "told"),
    [("as it is", "lacks 'event.heading' (part/words/da.yml:{line} has it)"), ("lacks too", "lacks 'event.heading', which is asked for")],
)
def test_what_english_lacks_is_told_with_its_file(pages, depot, spares, elsewhere, told):
    """English stands in for the others; nothing stands in for English."""
    for language in ("en", "de"):
        _without_heading(pages / f"part/words/{language}.yml")
    file = pages / "part/words/da.yml"
    line = file.read_text(encoding="utf-8").splitlines().index("event:") + 2
    if elsewhere == "lacks too":
        _without_heading(file)
    code, _, err = spares("build", "--markdown", "out")
    assert code == 1
    assert f"spares: words file part/words/en.yml {told.format(line=line)}" in err.splitlines()
    assert "fault of spares" not in err


def _without_heading(file):
    text, found = re.subn(r"(?m)^event:\n  heading: .*\n", "event:\n", file.read_text(encoding="utf-8"))
    assert found == 1
    file.write_text(text, encoding="utf-8")


def test_what_no_words_file_has_is_told_all_the_same():
    assert str(lacking("nowhere.heading")) == "no words file has 'nowhere.heading', which is asked for"
