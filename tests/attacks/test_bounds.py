"""Huge, deep and endless texts in every file: check and build end, name the file, and serve the other parts."""

import re
import shutil
import subprocess

import pytest

from tests.attacks.at_work import CLIP, FIXTURE, KNOB, LEVER, Ended, at, building, sane, start, together

ENDS_S = 90  # a guard that it ends at all; speed is measured elsewhere
N = 20_000
NOTES = {
    "brackets": "[" * N,
    "open links": "[a](" * N,
    "closed brackets": "[]" * N,
    "pictures": "![" * N,
    "linked pictures": "[![" * N,
    "references": "[x]: y\n" + "[x]" * N,
    "many references": "".join(f"[r{i}]: u{i}\n" for i in range(N)),
    "one huge reference": "[" + "x" * 500_000 + "]: y\n",
    "parentheses": "(" * N,
    "link in link": "[" * 2000 + "a" + "](b)" * 2000,
    "footnotes": "[^a]" * N,
    "backticks": "`" * N + "a",
    "rising backticks": " ".join("`" * i for i in range(1, 600)),
    "asterisks": "*" * N,
    "asterisks apart": "*a " * N,
    "mixed marks": "**a_" * N,
    "underscores": "_a " * N,
    "tildes": "~~a " * N,
    "backslashes": "\\" * N,
    "ampersands": "&" * N,
    "half entities": "&#x" * N,
    "less-than": "<" * N,
    "open tags": "<a " * N,
    "open attributes": '<a b="' * N,
    "addresses": "<http://" * N,
    "comments": "<!--" * N,
    "instructions": "<?" * N,
    "sections": "<![CDATA[" * N,
    "div tags": "<div>" * 5000,
    "markdown in tags": "<div markdown=1>\n" * 3000,
    "quotes": ">" * N,
    "quotes apart": "> " * N,
    "nested list": "\n".join("  " * i + "- a" for i in range(600)),
    "list on one line": "- " * 5000 + "a",
    "nested numbers": "\n".join("   " * i + "1. a" for i in range(400)),
    "indent": " " * N + "a",
    "tabs": "\t" * N + "a",
    "falling indent": "\n".join(" " * i + "a" for i in range(600, 0, -1)),
    "list in quote": "\n".join("> " * i + "- a" for i in range(400)),
    "wide table": "|a" * 5000 + "|\n" + "|-" * 5000 + "|\n" + ("|b" * 100 + "|\n") * 200,
    "long table": "|a|\n|-|\n" + "|b|\n" * N,
    "one table line": "|" * 100_000,
    "many lines": "- a\n" * 200_000,
    "long line": "a" * 1_500_000,
    "long lines": ("a" * 9000 + "\n") * 200,
    "blank lines": "\n" * 500_000,
    "returns": "\r" * N,
    "numbered": "\n".join(f"{i}. a" for i in range(N)),
    "fences": "```\n" * N,
    "tilde fences": "~~~\n- " * N,
    "titles": "# a\n" * N,
    "underlined": "a\n=\n" * N,
    "rules": "---\n" * N,
    "definitions": "a\n: b\n" * N,
    "abbreviations": "*[a]: b\n" * N,
    "hashes": "#" * N,
    "too large": "a\n" * 2_000_000,
    "accents": "e" + "\u0301" * 100_000,
    "formulas": "$" * N,
    "attributes": "{: " * N,
}
DEEP = {
    "flow maps": "x: " + "{a: " * N + "1" + "}" * N,
    "flow lists": "x: " + "[" * N,
    "dashes": "x:\n  " + "- " * N,
    "question marks": "x:\n  " + "? " * N,
    "indents": "\n".join(" " * i + "a:" for i in range(900)),
    "closed lists": "x: " + "[" * N + "]" * N,
}
LARGE = {
    "150,000 keys": "".join(f"k{i}: 1\n" for i in range(150_000)),
    "140,000 short keys": "".join(f"{i:x}:\n" for i in range(140_000)),
    "30,000 keys": "".join(f"k{i}: 1\n" for i in range(30_000)),
    "1,000 keys": "".join(f"k{i}: 1\n" for i in range(1_000)),
    "keys in a flow": "x: {" + ", ".join(f"k{i}: 1" for i in range(30_000)) + "}",
    "a long key": "k" * 100_000 + ": 1",
    "a key of lists": "? [" + "a, " * N + "]\n: 1",
    "anchors": "x:\n" + "".join(f"  - &a{i} 1\n" for i in range(N)),
    "aliases": "x: &a 1\ny: [" + "*a, " * N + "]",
    "tags": "x: " + "!a " * N,
    "one key again": "name: x\n" * N,
    "documents": "---\n" * N,
    "a huge text": "x: |\n" + "  a\n" * 200_000,
    "quotes": "x: '" + "''" * 200_000 + "'",
    "escapes": 'x: "' + "\\u0041" * 100_000 + '"',
    "comments": "# a\n" * 200_000,
    "colons": "x: " + "a: " * N,
    "merges": "<<: 1\n" * N,
    "empty maps": "x: [" + "{}, " * N + "]",
    "an open quote": 'x: "' + "a\n" * N,
}
DEMAND, CHECK, ALIKE, FITS = "yearly_demand: 4", "checks:\n", "look_alikes: [EX-0003]", "fits:\n"
WITHIN = {  # part.yml with one place changed; all are wrong, or too many to be meant
    "a huge number": (DEMAND, "yearly_demand: " + "9" * 100_000),
    "4,000 digits": (DEMAND, "yearly_demand: " + "9" * 4_000),
    "a power": ("nominal_mm: 6", "nominal_mm: 1e999999999"),
    "a small power": ("nominal_mm: 6", "nominal_mm: 1e-999999999"),
    "sixties": (DEMAND, "yearly_demand: " + "1:" * N + "1"),
    "hexadecimal": (DEMAND, "yearly_demand: 0x" + "f" * 100_000),
    "underscored": (DEMAND, "yearly_demand: 1" + "_" * 100_000),
    "a name of marks": ("Lid knob", '"' + "[*_`<&>" * 570 + '"'),
    "an open name": ("Lid knob", "[" * 4_000),
    "a purpose of marks": ("Turns the latch of the lid.", '"' + "[![" * N + '"'),
}
MANY = {  # as above, but large is all that they are: served, or named
    "10,000 checks": (
        CHECK,
        CHECK
        + "".join(f"  - {{name: B{i}, nominal_mm: 6, plus_mm: 0.1, minus_mm: 0}}\n" for i in range(10_000)),
    ),
    "10,000 look-alikes": (ALIKE, "look_alikes: [" + "EX-0003, " * 10_000 + "]"),
    "10,000 other names": ("[knob]", "[" + ", ".join(f"knob{i}" for i in range(10_000)) + "]"),
    "4,000 letters of marks": ("Turns the latch of the lid.", '"' + "[*_`<&>" * 570 + '"'),
    "4,000 brackets": ("Turns the latch of the lid.", '"' + "[" * 4000 + '"'),
    "5,000 fits": (FITS, FITS + "  - {fleet: A1, place: door, per_vehicle: 2}\n" * 5_000),
    "10,000 numbers": ('  - number: "0417"\n', "".join(f'  - number: "{i}"\n' for i in range(10_000))),
}
EVENT = "  - on: 2026-02-01\n    what: condition added\n    by: reviewer\n    condition: look\n"
EVENTS = {
    "100,000 events": "  - {on: 2026-02-01}\n" * 100_000,
    "9,000 events": EVENT * 9_000,
    "10,000 papers": "    evidence:\n" + '      - {file: documents/a.txt, sha256: "0"}\n' * 10_000,
    "20,000 vehicles": EVENT
    + "    scope: [{fleet: A1, places: [cab], vehicles: ["
    + '"11-14", ' * N
    + "]}]\n",
}


def part(catalogue, name, number):
    """A copy of the knob under a number of its own, with a record of nothing but its prototype."""
    folder = catalogue / "parts" / f"EX-{number}-{re.sub('[^a-z0-9]+', '-', name.lower()).strip('-')}"
    shutil.copytree(FIXTURE / KNOB, folder)
    larger(folder / "model.stl")  # the very model of the knob would make the knob itself doubtful
    text = (folder / "part.yml").read_text()
    (folder / "part.yml").write_text(text.replace("number: EX-0001", f"number: EX-{number}"))
    (folder / "approval.yml").write_text(
        "route: customer\nevents:\n  - on: 2025-09-01\n    what: prototype printed\n    by: specialist\n"
    )
    return folder


def larger(file):
    file.write_text(re.sub(r"(?m)(?<=vertex ).*$", lambda found: " ".join(
        f"{float(value) * 1.01:.6f}" for value in found[0].split()), file.read_text()))


def within(file, old, new):
    text = file.read_text()
    assert old in text
    file.write_text(text.replace(old, new))


def behind(file, text):
    file.write_text(file.read_text() + text + "\n")


def noted(names):
    def fill(catalogue):
        for number, name in enumerate(names, 1001):
            file = part(catalogue, name, number) / "fitting.md"
            within(file, "- Mind your fingers.", f"- Mind your fingers.\n\n{NOTES[name]}\n")
            yield file, name == "too large"

    return fill


def recorded(cases):
    def fill(catalogue):
        for number, (name, text) in enumerate(cases.items(), 1001):
            file = part(catalogue, name, number) / "part.yml"
            behind(file, text)
            yield file, name != "comments"  # comments alone are no mistake

    return fill


def replaced(cases, wrong):
    def fill(catalogue):
        for number, (name, change) in enumerate(cases.items(), 1001):
            file = part(catalogue, name, number) / "part.yml"
            within(file, *change)
            yield file, wrong

    return fill


def happened(catalogue):
    for number, (name, text) in enumerate(EVENTS.items(), 1001):
        file = part(catalogue, name, number) / "approval.yml"
        behind(file, text)
        yield file, True


def elsewhere(catalogue):
    """A request and a material, attacked by the same means; both stand beside whole ones."""
    asked, nylon = catalogue / "requests" / "coat-hook.yml", catalogue / "materials" / "petg.yml"
    for number, (name, text) in enumerate({**DEEP, **LARGE}.items()):
        if name == "comments":
            continue
        for source, folder in ((asked, "requests"), (nylon, "materials")):
            file = catalogue / folder / f"x{number}.yml"
            file.write_text(source.read_text() + text + "\n")
            yield file, True
    for number, (old, new) in enumerate(
        [
            ("Holds the driver's coat.", '"' + "[" * N + '"'),
            ("Coat hook", '"' + "*_`" * 1300 + '"'),
            ("[hook]", "[" + ", ".join(f"h{i}" for i in range(N)) + "]"),
            ("[60, 20]", "[" + "60, " * N + "]"),
            ('["12"]', "[" + '"12", ' * N + "]"),
            ("yearly_demand: 3", "yearly_demand: " + "9" * N),
        ]
    ):
        file = catalogue / "requests" / f"y{number}.yml"
        file.write_text(asked.read_text().replace(old, new))
        yield file, True


THIRD = len(NOTES) // 3
GROUPS = {
    "notes, links": noted(list(NOTES)[:THIRD]),
    "notes, marks": noted(list(NOTES)[THIRD : 2 * THIRD]),
    "notes, blocks": noted(list(NOTES)[2 * THIRD :]),
    "deep records": recorded(DEEP),
    "large records": recorded(LARGE),
    "huge values": replaced(WITHIN, wrong=True),
    "many values": replaced(MANY, wrong=False),
    "events": happened,
    "requests and materials": elsewhere,
}


def ended(process):
    try:
        out, err = process.communicate(timeout=ENDS_S)
    except subprocess.TimeoutExpired:
        process.kill()
        process.communicate()
        pytest.fail(f"does not end within {ENDS_S} s: {' '.join(process.args[1:3])}")
    whole = Ended.__new__(Ended)
    whole.code, whole.out, whole.err = (
        process.returncode,
        out.decode(errors="replace"),
        err.decode(errors="replace"),
    )
    whole.all = whole.out + whole.err
    return sane(whole)


def problems(told, catalogue, file):
    """The lines that name this file, by a path that its user can open."""
    return [line for line in told.all.splitlines() if str(file.relative_to(catalogue)) in line]


@pytest.mark.parametrize("group", GROUPS)
def test_check_and_build_end_name_the_file_and_serve_the_others(home, tmp_path, group):
    catalogue, site = shutil.copytree(FIXTURE, tmp_path / "d"), tmp_path / "site"
    files = dict(GROUPS[group](catalogue))
    checking, writing = (
        start(home, "check", *at(catalogue, home)),
        start(home, *building(catalogue, home, site)),
    )
    try:
        built, checked = ended(writing), ended(checking)
    finally:
        for process in (checking, writing):
            if process.poll() is None:
                process.kill()  # our own two
                process.communicate()
    assert built.code == 0, built
    for file, wrong in files.items():
        named = problems(checked, catalogue, file)
        if file.name == "fitting.md":  # of records build lists only the first mistakes
            assert bool(named) == bool(problems(built, catalogue, file)), (
                f"check and build differ on {file.parent.name}"
            )
        if wrong:
            assert named, f"{file.parent.name}/{file.name} is accepted"
            assert checked.code == 1
        if file.parts[-3] == "parts":
            page = (site / "parts" / f"{file.parent.name[:7]}.html").read_text()
            assert named or file.name != "fitting.md" or "Mind your fingers" in page, (
                f"{file.parent.name}: notes are lost"
            )
            assert "Fit it" not in words(page), file.parent.name
    for whole in (KNOB, LEVER, CLIP):
        assert not problems(checked, catalogue, catalogue / whole), "a part that nobody touched is blamed"
        assert "Fit it" in words((site / "parts" / f"{whole[6:13]}.html").read_text())
    assert len(checked.all) < 2_000_000, "a flood of words"


def words(page):
    """What a page says as its verdicts, without scripts."""
    return re.findall(
        r"Fit it|Ask first|Do not fit", re.sub(r"<script.*?</script>", "", page, flags=re.DOTALL)
    )


SHARED = {
    "words.yml": {
        "groups": "synonyms:\n" + "".join(f"  - [a{i}, b{i}]\n" for i in range(40_000)),
        "one group": "synonyms:\n  - [" + ", ".join(f"a{i}" for i in range(40_000)) + "]\n",
        "chains": "synonyms:\n" + "".join(f"  - [a{i}, a{i + 1}]\n" for i in range(N)),
        "spellings": "spellings:\n" + "".join(f"  a{i}: a{i + 1}\n" for i in range(40_000)),
        "letters": "spellings:\n  " + "a" * 900 + ": " + "b" * 500_000 + "\n",
    },
    "depot.yml": {
        "roles": "".join(f"  - {{id: r{i}, name: R}}\n" for i in range(N)),
        "keys": LARGE["30,000 keys"],
        "deep": DEEP["flow lists"],
    },
    "fleets.yml": {
        "fleets": "".join(f"  - {{id: F{i}}}\n" for i in range(N)),
        "deep": DEEP["flow maps"],
        "keys": LARGE["30,000 keys"],
    },
    "makers.yml": {
        "makers": "".join(f"  - {{id: m{i}, name: M}}\n" for i in range(N)),
        "keys": LARGE["30,000 keys"],
    },
}


def test_files_that_all_parts_share_are_read_to_an_end_or_named(home, tmp_path):
    def one(name, case):
        catalogue = shutil.copytree(FIXTURE, tmp_path / f"{name}-{case}".replace(" ", "-"))
        text = SHARED[name][case]
        if name == "words.yml":
            (catalogue / name).write_text(text)
        else:
            behind(catalogue / name, text)
        return ended(start(home, "check", *at(catalogue, home))), catalogue / name

    calls = [lambda n=n, c=c: one(n, c) for n, cases in SHARED.items() for c in cases]
    for told, file in together(calls, 2):
        assert told.code in (0, 1), told
        if told.code:
            assert str(file) in told.all or file.name in told.all, told
        assert len(told.all) < 2_000_000
