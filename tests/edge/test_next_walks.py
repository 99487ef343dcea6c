"""From an empty record to *approved* by doing what `spares next` says: each command is pasted, its CAPITALS filled in.

What stands in a file only a person can write; the test writes it where `next` says that it is missing.
"""

import re
import shlex
from itertools import count

import pytest

from generator.edge.commands.next import _may
from generator.reading.catalogue import read_catalogue
from generator.records.approvals import Route
from tests.edge.conftest import bytes_of
from tests.edge.test_new import filled_in

MOST = 30
# Who does what; next gives one's own role where it may.
ROLES = {"customer acceptance given": "keeper", "approve": "reviewer"}
FIRE = """\
fire:
  requirement_set: R22
  thinnest_wall_mm: 2
  thickest_section_mm: 6
  chosen_by: fire-engineer
  reason: small part
  reference: fire note N-1
  on: 2025-06-01
  evidence: {file: documents/fire-note.txt, sha256: cc44af79512ac46ca2a040285c7766f395d18c10dae8cc01a7db237d7298774a}
"""
CHECKS = "checks:\n  - {name: Length, nominal_mm: 20, plus_mm: 0.2, minus_mm: 0.1}\n"
FACTORS = ("failure_consequence", "novelty", "complexity", "monitoring", "reversibility", "additionality")
SCREENING = (
    'screening:\n  identical_function: {answer: "yes", reason: does the same, by: specialist, on: 2026-11-20}\n'
    + "".join(f"  {each}: {{answer: as before, by: specialist, on: 2026-11-20}}\n" for each in FACTORS)
    + '  judged_significant: "no"\n  judged_by: keeper\n  judged_on: 2026-11-21\n'
)


class Person:
    """Who does what `next` says, and knows what no command can."""

    def __init__(self, depot, spares, folder):
        self.depot, self.spares, self.folder = depot, spares, folder
        self.done = []
        self.letters = count(1)

    def walk(self):
        for _ in range(MOST):
            out = self.spares("next")[1]
            if "\nNothing to do\n" in out:
                return
            self.do(*self.first(out))
        raise AssertionError(f"it never ends: {self.done}")

    def first(self, out):
        """The first thing that is missing, and its command."""
        found = re.findall(r"^  ✕ (.*)\n    .*\n      (spares .*)$", out, re.MULTILINE)
        assert found, out
        return found[0]

    def do(self, missing, command):
        if command == "spares check":
            self.write(missing)
            return
        self.done.append(shlex.split(command)[1:4:2] if " record " in command else ["approve"])
        filled = self.filled(command)
        code, _, err = self.spares(*shlex.split(filled)[1:])
        assert code == 0, f"{filled}\n{err}"

    def filled(self, command):
        who = next((role for what, role in ROLES.items() if what in command), "specialist")
        letter = next(self.letters)
        file = self.depot / f"letter-{letter}.txt"
        file.write_text(f"Letter {letter}", encoding="utf-8")
        answers = {"ROLE": who, "TEXT": f"'letter {letter}'", "DATE": "2031-01-31", "FILE": str(file)}
        for capitals, answer in answers.items():
            command = re.sub(rf"\b{capitals}\b", answer, command)
        return command

    def write(self, missing):
        self.done.append(missing)
        part, record = self.folder / "part.yml", self.folder / "approval.yml"
        if "mistakes" in missing:
            filled_in(self.folder)
        elif "drawing" in missing:
            (self.folder / "documents").mkdir(exist_ok=True)
            (self.folder / "documents/drawing.txt").write_text("20 × 20 × 40", "utf-8")
        elif "what the fire standard asks" in missing:
            (self.folder / "documents").mkdir(exist_ok=True)
            note = self.depot / "catalogue/parts/EX-0001-lid-knob/documents/fire-note.txt"
            (self.folder / "documents/fire-note.txt").write_bytes(note.read_bytes())
            part.write_text(part.read_text("utf-8") + FIRE, "utf-8")
        elif "dimensions" in missing:
            part.write_text(part.read_text("utf-8") + CHECKS, "utf-8")
        elif "screening" in missing:
            record.write_text(record.read_text("utf-8") + SCREENING, "utf-8")
        else:
            raise AssertionError(f"nobody knows how to mend: {missing}")


@pytest.fixture
def started(depot, spares, monkeypatch):
    knob = (depot / "catalogue/parts/EX-0001-lid-knob/model.stl").read_text("ascii")
    (depot / "cap.stl").write_text(re.sub(r"(vertex \S+ \S+) (\S+)", lambda it: f"{it[1]} {2 * float(it[2])}", knob), "ascii")
    known = ("--fleet", "A1", "--place", "cab", "--per-vehicle", "2", "--material", "petg", "--by", "specialist", "--on", "2026-10-01")
    assert spares("new", "EX-0100", "Cap", "--mesh", "cap.stl", *known)[0] == 0
    folder = depot / "catalogue/parts/EX-0100-cap"
    monkeypatch.chdir(folder)
    return folder


@pytest.mark.parametrize("own", [None, "specialist"])
def test_the_whole_way_by_doing_what_next_says(depot, spares, started, own):
    if own:
        assert spares("role", own)[0] == 0
    person = Person(depot, spares, started)
    person.walk()
    events = [each.what for each in read_catalogue(depot / "catalogue").folder("EX-0100").approval.events]
    assert events == [
        "design started", "prototype printed", "sent for customer acceptance", "customer acceptance given", "documents complete",
        "sent to technical review", "approved",
    ]  # fmt: skip
    assert "Fit it" in spares("explain")[1]


def test_gaps_that_were_recorded_are_filled_and_submitted_anew_as_next_says(depot, spares, started):
    filled_in(started)
    assert spares("record", "prototype printed", "customer acceptance given@keeper", "documents complete", "sent to technical review", "--by", "specialist")[0] == 0
    person = Person(depot, spares, started)
    person.walk()
    assert ["record", "documents complete"] in person.done
    assert person.done[-1] == ["approve"]
    assert person.done.count(["approve"]) == 1
    assert "Fit it" in spares("explain")[1]


@pytest.mark.parametrize("gap", [("results:", "{test: "), ("colour: ",), ("accepted_by: ",)])
def test_what_an_approval_would_be_refused_for_is_named_before(depot, spares, started, gap):
    """A report that answers, but for what nobody has noted of it."""
    filled_in(started)
    person = Person(depot, spares, started)
    for missing in ("a drawing", "what the fire standard asks", "dimensions", "screening"):
        person.write(missing)
    (depot / "minutes.txt").write_text("tried and liked", "utf-8")
    assert spares("record", "prototype printed", "--by", "specialist")[0] == 0
    assert spares("record", "customer acceptance given", "--by", "keeper", "--evidence", depot / "minutes.txt")[0] == 0
    material = depot / "catalogue/materials/petg.yml"
    lines = material.read_text("utf-8").splitlines(keepends=True)
    material.write_text("".join(line for line in lines if not line.strip(" -").startswith(gap)), "utf-8")
    assert spares("record", "documents complete", "sent to technical review", "--by", "specialist")[0] == 0
    out = spares("next")[1]
    told = re.findall(r"^  ✕ (.*)$", out, re.MULTILINE)
    answer = next(line.strip() for line in out.splitlines() if "spares approve" in line)
    code, out, _ = spares(*shlex.split(person.filled(answer))[1:])
    refused = re.findall(r"^  ✕ (.*)$", out, re.MULTILINE)
    assert (code, told) == (1, [*refused, "the customer's answer"])


def test_ones_own_role_stands_in_the_command_where_it_may_say_it(depot, spares, started, monkeypatch):
    filled_in(started)
    assert '"prototype printed" --by ROLE' in spares("next")[1]
    monkeypatch.setenv("SPARES_ROLE", "specialist")
    assert '"prototype printed" --by specialist' in spares("next")[1]
    assert not _may("spares approve EX-0100 --by ROLE", ("quality",), Route.CUSTOMER)


def test_the_number_comes_from_the_folder_below_too_and_from_no_other(depot, spares, started, monkeypatch):
    filled_in(started)
    (started / "documents").mkdir()
    monkeypatch.chdir(started / "documents")
    for command in ("next", "explain", "fire"):
        assert "EX-0100 Cap" in spares(command)[1]
    assert "EX-0001" in spares("next", "EX-0001")[1]
    assert not (started / ".store").exists()
    for strange in (depot, depot / "catalogue", depot / "catalogue/parts"):
        monkeypatch.chdir(strange)
        code, _, err = spares("next")
        assert (code, "the part's number is missing" in err) == (2, True)
    assert not (depot / "catalogue/.store").exists()


def test_the_role_is_ones_own_until_it_is_said(depot, spares, started, monkeypatch):
    filled_in(started)
    code, _, err = spares("record", "prototype printed")
    assert (code, "nobody says who did it" in err) == (2, True)
    monkeypatch.setenv("SPARES_ROLE", "specialist")
    code, out, err = spares("record", "prototype printed", "--dry-run")
    assert code == 0
    assert "by: specialist" in out
    assert "By specialist, as SPARES_ROLE says." in err
    assert "by: fitter" in spares("record", "prototype printed", "--by", "fitter", "--dry-run")[1]
    monkeypatch.setenv("SPARES_ROLE", "nobody")
    before = bytes_of(depot / "catalogue")
    code, _, err = spares("record", "prototype printed")
    assert (code, "nobody" in err) == (1, True)
    assert bytes_of(depot / "catalogue") == before


def test_a_role_that_may_not_approve_does_not_by_being_kept(depot, spares, started):
    filled_in(started)
    spares("role", "specialist")
    for what in ("prototype printed", "documents complete"):
        spares("record", what)
    code, _, err = spares("record", "customer acceptance given", "--reference", "tried")
    assert code == 1
    assert "keeper" in err


@pytest.mark.parametrize(("settings", "says"), [
    ("role: [a]", "is no role"), ("- role", "holds no settings"), ("role: 'x", "cannot be read"), ("role: !!python/none x", "cannot be read"),
    (b"\xff\xfe\x00", "cannot be read"),
])  # fmt: skip
def test_broken_settings_are_one_clear_line_and_stop_nothing_else(depot, spares, started, settings, says):
    file = depot / "config/spares/settings.yml"
    file.parent.mkdir(parents=True)
    file.write_bytes(settings if isinstance(settings, bytes) else settings.encode())
    code, _, err = spares("record", "prototype printed")
    assert (code, says in err, str(file) in err) == (2, True, True)
    assert spares("find", "knob")[0] == 0


def test_the_role_that_is_kept_stands_in_the_users_own_settings(depot, spares):
    file = depot / "config/spares/settings.yml"
    assert str(file) in spares("role")[1]
    assert spares("role", "boss")[0] == 2
    assert not file.exists()
    assert spares("role", "keeper")[0] == 0
    assert file.read_text("utf-8") == "role: keeper\n"
    assert "Your role: keeper" in spares("role")[1]


SEVERAL = ("prototype printed", "customer acceptance given@keeper", "documents complete@fitter", "sent to technical review")


def test_one_call_holds_steps_of_several_roles_each_by_its_own(depot, spares, started):
    filled_in(started)
    spares("role", "specialist")
    code, _, err = spares("record", *SEVERAL)
    assert (code, "By specialist" in err) == (0, True)
    events = read_catalogue(depot / "catalogue").folder("EX-0100").approval.events
    assert [each.by for each in events[-4:]] == ["specialist", "keeper", "fitter", "specialist"]


@pytest.mark.parametrize(("steps", "code"), [
    (("prototype printed", "customer acceptance given@specialist"), 1), (("prototype printed", "customer acceptance given"), 1),
    (("prototype printed@boss",), 1), (("prototype printed@",), 2), (("@keeper",), 2), (("prototype printed@specialist@keeper",), 2),
])  # fmt: skip
def test_a_step_by_who_may_not_say_it_leaves_all_unwritten(depot, spares, started, steps, code):
    filled_in(started)
    spares("role", "specialist")
    before = bytes_of(depot / "catalogue")
    assert spares("record", *steps)[0] == code
    assert bytes_of(depot / "catalogue") == before


def test_steps_that_all_name_their_role_need_no_other(depot, spares, started):
    filled_in(started)
    assert spares("record", "EX-0100", "prototype printed@specialist", "customer acceptance given@keeper")[0] == 0
