"""`spares check`: all problems with their places, for people and for machines."""

import json

import pytest

from generator.edge.commands.terminal import printable
from generator.measuring.guarded import Guard


@pytest.fixture
def knob(depot):
    return depot / "catalogue" / "parts" / "EX-0001-lid-knob"


def test_a_clean_catalogue(depot, spares):
    clean = (0, "3 parts in catalogue: no problems.\n")
    assert spares("check")[:2] == clean
    assert spares("check") == (*clean, "")


def test_errors_are_one_with_place_and_mend(knob, spares):
    file = knob / "part.yml"
    file.write_text(file.read_text().replace("material: petg", "material: petgg"))
    code, out, _ = spares("check")
    assert code == 1
    assert "catalogue/parts/EX-0001-lid-knob/part.yml:" in out
    assert "mend: did you mean 'petg'?" in out
    assert out.endswith("1 error.\n")


def test_warnings_alone_are_clean_unless_strict(knob, spares):
    (knob / "notes.txt").write_text("x")
    assert spares("check")[0] == 0
    assert spares("check", "--strict")[0] == 1


def test_json_holds_every_problem(knob, spares):
    (knob / "notes.txt").write_text("x")
    file = knob / "part.yml"
    file.write_text(file.read_text().replace("name: Lid knob", "nam: Lid knob"))
    code, out, err = spares("check", "--format", "json")
    told = json.loads(out)
    assert (code, err) == (1, "")
    assert {key: told[key] for key in ("catalogue", "parts", "errors", "warnings")} == {
        "catalogue": "catalogue",
        "parts": 3,
        "errors": 2,
        "warnings": 1,
    }
    assert {
        "code": "REC02",
        "severity": "error",
        "file": "parts/EX-0001-lid-knob/part.yml",
        "line": 3,
        "column": 1,
        "says": "'nam' is not a key",
        "fix": "did you mean 'name'?",
    } in told["problems"]
    assert all(
        set(one) == {"code", "severity", "file", "line", "column", "says", "fix"} for one in told["problems"]
    )


def test_a_link_that_leads_out_is_named_and_not_followed(knob, spares, tmp_path_factory):
    outside = tmp_path_factory.mktemp("outside") / "secret.pdf"
    outside.write_bytes(b"secret")
    (knob / "documents" / "letter.pdf").symlink_to(outside)
    code, out, _ = spares("check")
    assert code == 1
    assert "documents/letter.pdf: error DISK04: is a link that leads out of the catalogue" in out


def test_a_name_that_steers_the_terminal_is_shown_harmless(knob, spares):
    (knob / "\x1b[31mred\u202e.txt").write_text("x")
    _, out, _ = spares("check")
    assert "red" in out
    assert "\x1b" not in out
    assert "\u202e" not in out


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Türgriff 😀 מ", "Türgriff 😀 מ"),
        ("a\x1b[2Jb", r"a\x1b[2Jb"),
        ("a\u202eb", r"a\u202eb"),
        ("\udcff", r"\udcff"),
    ],
)
def test_printable_text_steers_no_terminal(text, shown):
    assert printable(text) == shown


def test_a_language_without_words_is_told_with_those_there_are(depot, spares, monkeypatch):
    for place in ("generator.assemble.whole_way.languages", "generator.pages.wording.languages"):
        monkeypatch.setattr(place, lambda: ("en",))
    file = depot / "catalogue" / "depot.yml"
    file.write_text(file.read_text().replace("language: en", "language: da"))
    code, out, _ = spares("check")
    says = "warning DEPOT01: asks for the language 'da', which has no words file yet: pages are English"
    assert (code, f"catalogue/depot.yml:4:11: {says}\n    mend: write one of: en\n" in out) == (0, True)


@pytest.mark.parametrize("number", ["0", "-1", "two", "1.5", "٣"])
def test_less_than_one_worker_is_refused(depot, spares, number):
    code, _, said = spares("check", "--workers", number)
    assert code == 2
    assert f"'{number}' processes can do no work; write 1 or more" in said


@pytest.mark.parametrize(
    "command",
    [
        ("check",),
        ("find", "knob"),
        ("explain", "EX-0001"),
        ("approvals",),
        ("build", "--markdown", "plain"),
        ("request", "add", "none.yml"),
    ],
)
def test_the_number_of_workers_reaches_those_who_measure(depot, spares, monkeypatch, command):
    asked = []
    real = Guard.__init__
    monkeypatch.setattr(Guard, "__init__", lambda self, **given: asked.append(given.get("workers")) or real(self, **given))
    spares(*command, "--workers", "3")
    assert set(asked) == {3}


def test_one_bad_rule_of_a_maker_is_one_mistake_and_one_count(depot, spares):
    makers = depot / "catalogue/makers.yml"
    makers.write_text(makers.read_text("utf-8").replace("    lead_time_days: 2\n", "    lead_time_days: 2\n    rules: {min_wall_mm: -1}\n"), encoding="utf-8")
    (depot / "catalogue/prints.yml").write_text("prints:\n  - {on: 2026-03-02, part: EX-0001, revision: A, maker: bench, count: 2, minutes: 100}\n", "utf-8")
    code, out, _ = spares("check")
    told = " ".join(out.split())
    assert code == 1
    assert out.count(": error ") == 2
    assert "makers.yml:9:" in told
    assert "which cannot be read, as do 2 more places" in told
