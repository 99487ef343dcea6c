"""`spares take-over` and its confirmation: an old letter asks first until who may has looked; several steps in one call."""

import hashlib
from pathlib import Path

import pytest

from generator.pages.wording import wording
from generator.records.depot import Language
from generator.rules.verdicts import Verdict
from tests.edge.conftest import bytes_of
from tests.fixtures.tiny import KNOB, sheets

FOLDER = Path("catalogue/parts/EX-0001-lid-knob")
LETTER = b"Approval A-17 of 17 March 2019: the lid knob, revision A, for A1 11-14, cab and door, until 2028.\n"
TAKE = (
    "take-over", KNOB, "--letter", "a-17.txt", "--letter-of", "2019-03-17", "--approved-by", "technical office of the keeper",
    "--approver", "customer", "--reference", "A-17", "--scope", "A1:11-14:cab", "--until", "2028-12-31", "--by", "specialist",
)  # fmt: skip
CONFIRM = ("record", KNOB, "take-over confirmed", "--by", "reviewer", "--reference", "K-3", "--evidence", "word.txt")


@pytest.fixture
def old(depot, spares):
    """The knob without a way of its own, with its letter of 2019 and a word of the reviewer beside the catalogue."""
    record = depot / FOLDER / "approval.yml"
    text = record.read_text("utf-8")
    screening = text[text.index("screening:") :].split("\nevents:")[0] if "screening:" in text else ""
    record.write_text(f"format: 2\nroute: customer\nevents: []\n{screening}\n", "utf-8")
    for memory in (depot / ".store").glob("*past*"):
        memory.unlink()
    for name, content in {"a-17.txt": LETTER, "word.txt": b"We held the knob against A-17: it is the same.\n"}.items():
        (depot / name).write_bytes(content)
    return depot


def verdict(depot):
    (knob,) = [each for each in sheets(depot / "catalogue")[0] if each.number == KNOB]
    return {judgement.verdict for ground, judgement in zip(knob.grounds, knob.judgements, strict=True) if (ground.fleet, ground.place) == ("A1", "cab")}


def test_it_asks_until_it_is_confirmed_and_next_says_by_which_command(old, spares):
    code, said, _ = spares(*TAKE, "--minutes", "35")
    assert code == 0
    assert "what: taken over" in said
    assert (old / FOLDER / "documents/a-17.txt").read_bytes() == LETTER
    assert verdict(old) == {Verdict.ASK_FIRST}
    said = spares("next", KNOB)[1]
    assert f'spares record {KNOB} "take-over confirmed" --by ROLE' in said
    assert "Ask first. An older letter was taken over" in spares("explain", KNOB)[1]
    code, said, _ = spares(*CONFIRM)
    assert code == 0
    assert verdict(old) == {Verdict.FIT_IT}
    assert hashlib.sha256(LETTER).hexdigest() in (old / FOLDER / "approval.yml").read_text()
    assert spares("check")[0] == 0
    assert any("minutes: 35" in each.read_text("utf-8") for each in Path("catalogue/parts").glob("*/approval.yml"))
    assert "Approved by A-17 of 17 Mar 2019." in spares("explain", KNOB)[1]


@pytest.mark.parametrize("role", ["specialist", "quality"])
def test_whoever_does_not_act_for_the_approver_confirms_nothing(old, spares, role):
    spares(*TAKE)
    before = bytes_of(old / "catalogue")
    code, _, said = spares(*[role if each == "reviewer" else each for each in CONFIRM])
    assert (code, "nothing" in said or "not recorded" in said) == (1, True)
    assert bytes_of(old / "catalogue") == before


def test_the_one_who_took_it_over_never_confirms_it_even_as_a_customer(old, spares):
    spares(*["reviewer" if each == "specialist" else each for each in TAKE])
    code, _, said = spares(*CONFIRM)
    assert (code, "the same role" in said) == (1, True)


def test_the_letter_itself_confirms_nothing(old, spares):
    spares(*TAKE)
    code, _, said = spares(*["documents/a-17.txt" if each == "word.txt" else each for each in CONFIRM])
    assert (code, "which 'taken over' names already" in said) == (1, True)


def test_the_parts_own_drawing_confirms_nothing(old, spares):
    (old / FOLDER / "documents/drawing-lid-knob.txt").write_bytes(b"Lid knob, sheet 1 of 1, drawn on 10 February 2023.\n")
    spares(*TAKE)
    code, _, said = spares(*["documents/drawing-lid-knob.txt" if each == "word.txt" else each for each in CONFIRM])
    assert (code, "names already" in said) == (1, True), said
    assert verdict(old) == {Verdict.ASK_FIRST}


@pytest.mark.parametrize("note", [(), ("--note", "-"), ("--note", "TBD"), ("--note", "see letter")])
def test_a_paper_that_says_nothing_confirms_only_with_what_it_says(old, spares, note):
    spares(*TAKE)
    (old / "word.txt").write_bytes(b"x")
    spares(*CONFIRM, *note)
    assert verdict(old) == {Verdict.ASK_FIRST}


def test_a_note_that_says_nothing_makes_no_letter_readable(old, spares):
    (old / "a-17.txt").write_bytes(b"   \n\t")
    spares(*TAKE)
    assert spares(*CONFIRM, "--note", "TBD")[0] == 1
    assert verdict(old) == {Verdict.ASK_FIRST}


def test_a_changed_letter_is_a_mistake(old, spares):
    spares(*TAKE)
    spares(*CONFIRM)
    letter = old / FOLDER / "documents/a-17.txt"
    letter.write_bytes(LETTER.replace(b"2028", b"2038"))
    assert verdict(old) == {Verdict.DO_NOT_FIT}
    assert spares(*CONFIRM)[0] == 1


def test_a_letter_without_text_is_told_and_its_confirmation_says_what_it_says(old, spares):
    (old / "a-17.txt").write_bytes(b"   \n\t")
    assert spares(*TAKE)[0] == 0
    code, said, _ = spares("check")
    assert "APPR48" in said
    code, _, said = spares(*CONFIRM)
    assert (code, "in a note what the letter says" in said) == (1, True)
    assert verdict(old) == {Verdict.ASK_FIRST}
    assert spares(*CONFIRM, "--note", "A scan: A-17 names the knob, revision A, for 11-14.")[0] == 0
    assert verdict(old) == {Verdict.FIT_IT}
    record = old / FOLDER / "approval.yml"
    text = record.read_text("utf-8")
    note = next(line for line in text.splitlines(keepends=True) if "A scan: A-17" in line)
    record.write_text(text.replace(note, "", 1), "utf-8")
    assert Verdict.FIT_IT not in verdict(old)


def test_a_short_letter_that_is_read_is_told_as_that(old, spares):
    (old / "a-17.txt").write_text("A-17: gut", "utf-8")
    spares(*TAKE)
    said = spares("check")[1]
    assert ("fewer than 20 letters" in said, "no text can be read" in said) == (True, False)


def test_the_refusal_speaks_as_the_depot_does(old, spares):
    (old / "a-17.txt").write_text("A-17: gut", "utf-8")
    spares(*TAKE)
    depot = old / "catalogue/depot.yml"
    depot.write_text("language: de\n" + depot.read_text("utf-8").replace("language: en\n", ""), "utf-8")
    code, _, said = spares(*CONFIRM)
    assert (code, "in einem Vermerk" in said, "the letter" in said) == (1, True, False)


def first_command(said):
    return next(line.strip() for line in said.splitlines() if line.startswith("      spares "))


@pytest.mark.parametrize("until", ["2028-12-31", "2026-01-31"])
@pytest.mark.parametrize(("letter", "note"), [(LETTER, ""), (b"A-17: gut", " --note TEXT")])
def test_the_confirmation_comes_first_and_names_all_that_it_will_be_asked_for(old, spares, until, letter, note):
    (old / "a-17.txt").write_bytes(letter)
    for file in (old / "catalogue/materials").glob("*.yml"):
        file.write_text(file.read_text("utf-8").replace("valid_until: 2027-", "valid_until: 2026-"), "utf-8")
    spares(*[until if each == "2028-12-31" else each for each in TAKE])
    said = spares("next", KNOB)[1]
    assert first_command(said) == f'spares record {KNOB} "take-over confirmed" --by ROLE --reference TEXT --evidence FILE{note}'
    assert "change accepted" not in said
    assert spares(*CONFIRM, *(["--note", "A-17 names the knob."] if note else []))[0] == 0


def test_nothing_is_renewed_before_it_is_confirmed(old, spares):
    spares(*TAKE)
    (old / "longer.txt").write_bytes(b"Longer, until the end of 2030, says the technical office.")
    renew = ("record", KNOB, "renewed", "--by", "reviewer", "--reference", "R-1", "--until", "2030-12-31", "--evidence", "longer.txt")
    before = bytes_of(old / "catalogue")
    code, _, said = spares(*renew)
    assert (code, "nobody has confirmed yet" in said) == (1, True)
    assert bytes_of(old / "catalogue") == before
    assert spares(*CONFIRM)[0] == 0
    assert spares(*renew)[0] == 0


@pytest.mark.parametrize("language", Language)
def test_an_approval_that_an_import_told_of_is_offered_first(old, spares, language):
    record = old / FOLDER / "approval.yml"
    line = wording(language)("importing.unconfirmed", row="7", file="parts.csv")
    record.write_text(record.read_text("utf-8").replace("events: []", f"# {line}\n#   Letter: A-17\nevents: []"), "utf-8")
    said = spares("next", KNOB)[1]
    assert first_command(said).startswith(f"spares take-over {KNOB} --letter FILE --letter-of DATE --approved-by TEXT --approver customer")
    assert "prototype" not in said.split("Next step")[1]
    code, said, _ = spares("check")
    assert (code, "approval.yml:3" in said, "APPR49" in said) == (0, True, True)
    assert spares(*TAKE)[0] == 0
    assert "APPR49" not in spares("check")[1]


@pytest.mark.parametrize(
    ("old_word", "new", "told"),
    [
        ("2019-03-17", "2026-12-01", "later than"),
        ("customer", "authority", "route: customer"),
        ("technical office of the keeper", "unknown", "says nothing"),
        ("2028-12-31", "2018-12-31", "2018-12-31"),
        ("A-17", "-", "says nothing"),
        ("A1:11-14:cab", "A1:11-99:cab", "vehicle 15"),
    ],
)
def test_what_such_a_letter_cannot_be_is_refused_and_nothing_is_written(old, spares, old_word, new, told):
    before = bytes_of(old / "catalogue")
    code, _, said = spares(*[new if each == old_word else each for each in TAKE])
    assert code == 1
    assert told in said
    assert bytes_of(old / "catalogue") == before


def test_after_a_way_was_walked_here_it_is_refused(depot, spares):
    (depot / "a-17.txt").write_bytes(LETTER)
    before = bytes_of(depot / "catalogue")
    code, _, said = spares(*TAKE)
    assert (code, "the way was walked or judged here" in said) == (1, True)
    assert bytes_of(depot / "catalogue") == before


# Several steps in one call.
def test_several_steps_of_one_day_are_written_together_in_order(old, spares):
    code, said, _ = spares("record", KNOB, "design started", "prototype printed", "--by", "specialist", "--reference", "log 7")
    assert code == 0
    assert said.index("what: design started") < said.index("what: prototype printed")
    text = (old / FOLDER / "approval.yml").read_text("utf-8")
    assert text.count("  - on:") == 2
    assert text.count("reference: log 7") == 2


def test_of_several_steps_all_are_written_or_none(old, spares):
    before = bytes_of(old / "catalogue")
    for steps in (("prototype printed", "documents complete"), ("documents complete", "prototype printed"), ("design started", "sent to technical review")):
        code, _, said = spares("record", KNOB, *steps, "--by", "specialist")
        assert code == 1
        assert "not recorded" in said
    assert bytes_of(old / "catalogue") == before


def test_what_is_submitted_twice_in_one_call_is_written_down_once(old, spares):
    spares("record", KNOB, "design started", "prototype printed", "sent for customer acceptance", "--by", "specialist")
    spares("record", KNOB, "customer acceptance given", "--by", "keeper")
    assert spares("record", KNOB, "documents complete", "sent to technical review", "--by", "specialist")[0] == 0
    text = (old / FOLDER / "approval.yml").read_text("utf-8")
    assert text.count("submitted_as:") == 1
    assert spares("check")[0] == 0


@pytest.mark.parametrize(
    "words",
    [
        ["design started", "design started"],
        ["design started", "prototype printed", "--evidence", "word.txt"],
        ["design started", "prototype printed", "--note", "cold"],
        ["design started", "prototype printed", "--reason", "cold"],
        ["customer acceptance refused", "approval refused", "--reason", "cold"],
        ["design started", "record corrected", "--corrects", "1", "--why", "tried", "--checked-by", "quality"],
        ["design started", "question asked"],
    ],
)
def test_of_several_steps_nobody_guesses_whose_an_option_is(old, spares, words):
    before = bytes_of(old / "catalogue")
    code, _, said = spares("record", KNOB, *words, "--by", "specialist")
    assert code == 2, said
    assert bytes_of(old / "catalogue") == before


def test_an_option_that_one_step_alone_takes_belongs_to_it(old, spares):
    spares("record", KNOB, "design started", "prototype printed", "sent for customer acceptance", "--by", "specialist")
    code, said, _ = spares("record", KNOB, "customer acceptance refused", "prototype printed", "--reason", "too soft", "--by", "keeper")
    assert code == 0, said
    assert said.count("reason: too soft") == 1


def test_a_dry_run_of_several_writes_nothing(old, spares):
    before = bytes_of(old / "catalogue")
    code, said, _ = spares("record", KNOB, "design started", "prototype printed", "--by", "specialist", "--dry-run")
    assert (code, "what: prototype printed" in said) == (0, True)
    assert bytes_of(old / "catalogue") == before
