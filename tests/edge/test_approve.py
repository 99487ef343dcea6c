"""`spares approve` and `spares record`: judged first, then added, every byte of the record kept."""

import hashlib
import stat
import subprocess
from pathlib import Path

import pytest

from generator.edge.disk import recording
from generator.edge.refusals import Ending
from generator.provenance.remembering.kept import memory_file
from generator.reading.catalogue import read_catalogue
from generator.rules.binding import approved_text, part_text
from generator.rules.canonical import fingerprint, from_record
from tests.edge.conftest import bytes_of, names_in
from tests.fixtures.bind import before as as_it_lay
from tests.fixtures.written_once import written_once

KNOB = Path("catalogue/parts/EX-0001-lid-knob")
CLIP = Path("catalogue/parts/EX-0003-hose-clip")
LETTER = b"We approve the hose clip, revision A, for the bogies of B2."


@pytest.fixture
def clip(depot, spares, monkeypatch):
    """The hose clip on its way: on trial, and all but approved."""
    (depot / "letter.txt").write_bytes(LETTER)
    text = (CLIP / "approval.yml").read_text() + "# the end of the record\nwaiver: null  # none\n"
    (CLIP / "approval.yml").write_text(text)

    def walked():
        for event in ("customer acceptance given", "documents complete", "sent to technical review"):
            assert spares("record", "EX-0003", event, "--by", "keeper", "--on", "2026-11-02")[0] == 0
        return subprocess.CompletedProcess((), 0)

    with monkeypatch.context() as around:
        around.setenv("XDG_CONFIG_HOME", "/none")  # the same for all: nobody's role
        written_once(Path("catalogue"), memory_file(Path(".store"), Path("catalogue")), ("clip",), walked)
    return CLIP


def approve(number="EX-0003", scope="B2:21-22:bogie", **options):
    words = {
        "by": "reviewer",
        "reference": "L-3: of the 25th",
        "until": "2028-11-30",
        "evidence": "letter.txt",
    }
    words |= options
    flags = [each for key, value in words.items() for each in (f"--{key}", *([value] if value else []))]
    return ["approve", number, "--scope", scope, *flags, "--yes"]  # the clip has no drawing, checks, screening


def test_an_approval_is_added_and_every_byte_stays(clip, spares):
    before = (clip / "approval.yml").read_bytes()
    words = {"evidence": "letter.txt", "condition": "Look at it: each 14 days", "replaces": "2026-10-01", "minutes": "35"}
    code, out, err = spares(*approve(**words))
    assert (code, err) == (0, "Ends with it: the trial of 1 Oct 2026 for revision A, T-3.\n")
    after = (clip / "approval.yml").read_bytes()
    added = out.partition("approval.yml:\n")[2].rstrip("\n").encode() + b"\n"
    assert added in after
    assert after.replace(added, b"") == before

    catalogue = read_catalogue(Path("catalogue"))
    folder = catalogue.folder("EX-0003")
    event = folder.approval.events[-1]
    text = approved_text(part_text(folder.part, catalogue, as_it_lay(folder, -1)), [("B2", "bogie")], catalogue, folder.part)
    assert from_record(event.approved_as) == text
    assert event.fingerprint == fingerprint(text)
    assert (event.revision, event.reference, event.on.isoformat(), event.minutes) == ("A", "L-3: of the 25th", "2026-11-25", 35)
    assert event.conditions == ("Look at it: each 14 days",)
    assert [(each.file, each.sha256) for each in event.evidence] == [
        ("documents/letter.txt", hashlib.sha256(LETTER).hexdigest())
    ]
    assert (clip / "documents" / "letter.txt").read_bytes() == LETTER
    assert spares("check")[0] == 0
    assert "Ask first. Approved with a condition, before fitting: Look at it: each 14 days" in spares("explain", "EX-0003")[1]


def test_a_change_afterwards_shows(clip, spares):
    spares(*approve(evidence="letter.txt"))
    assert "Fit it. " in spares("explain", "EX-0003")[1]
    part = clip / "part.yml"
    part.write_text(part.read_text().replace("orientation: flat", "orientation: upright"))
    assert "Do not fit. Changed since approval: orientation" in spares("explain", "EX-0003")[1]


def without_yes(**options):
    return [each for each in approve(**options) if each != "--yes"]


def test_missing_evidence_is_named_before_anything_is_written(clip, spares, depot):
    before = bytes_of(depot / "catalogue")
    for more in ([], ["--dry-run"]):
        code, out, err = spares(*without_yes(), *more)
        assert (code, err.splitlines()[0]) == (1, "spares: EX-0003 lacks what is named above, so nothing is approved")
        assert "--yes" in err
        found = {line[4:] for line in out.splitlines() if line.startswith("  ✕ ")}
        assert found == {"a drawing in documents/", "critical dimensions", "the customer's letter or minutes on the acceptance"}
    assert bytes_of(depot / "catalogue") == before


def test_what_would_keep_it_from_fit_it_is_named_with_its_mend(clip, spares, depot):
    """The certificate of the material ended before today; with --yes it is approved, and is not to be fitted."""
    petg = depot / "catalogue/materials/petg.yml"
    petg.write_text(petg.read_text().replace("valid_until: 2027-12-31", "valid_until: 2026-10-31"))
    for event in ("documents complete", "sent to technical review"):
        assert spares("record", "EX-0003", event, "--by", "keeper", "--on", "2026-11-03")[0] == 0
    says = "  ✕ The certificate of the material, C-petg (EN 10204 3.1), ended on 31 Oct 2026"
    code, out, _ = spares(*without_yes())
    assert (code, says in out.splitlines()) == (1, True)
    assert "materials/petg.yml" in out
    code, out, _ = spares(*approve(replaces="2026-10-01"))
    assert (code, says in out.splitlines()) == (0, True)
    assert "Do not fit. The certificate" in spares("explain", "EX-0003")[1]


def test_an_approval_is_asked_about_by_itself_whatever_else_speaks(clip, spares):
    """A condition of the trial beside it is nothing that the approval lacks, nor is its own."""
    _, out, _ = spares(*without_yes(condition="Look at it"))
    assert "condition" not in out.lower()


def test_a_trial_wants_no_drawing_and_no_screening(depot, spares):
    words = ["approve", "EX-0001", "--scope", "A1:11:cab", "--by", "reviewer", "--reference", "T-9", "--trial", "--pieces", "2"]
    (depot / "permit.txt").write_text("a trial, the reviewer\n")
    code, out, _ = spares(*words, "--until", "2027-01-31", "--evidence", "permit.txt", "--dry-run")
    assert (code, "✕" in out) == (0, False)


def test_a_dry_run_writes_nothing(clip, spares, depot):
    before = bytes_of(depot / "catalogue")
    code, out, _ = spares(*approve(evidence="letter.txt"), "--dry-run")
    assert (code, "Would be added:" in out.splitlines()) == (0, True)
    assert '    approved_as: |\n      spares fingerprint: 4\n      number: "EX-0003"\n' in out
    assert bytes_of(depot / "catalogue") == before


def test_without_the_letter_nothing_is_approved(clip, spares, depot):
    before = bytes_of(depot / "catalogue")
    letterless = [each for each in approve() if each not in ("--evidence", "letter.txt")]
    code, _, err = spares(*letterless)
    assert (code, "the following arguments are required: --evidence" in err) == (Ending.MISUSE, True)
    assert bytes_of(depot / "catalogue") == before


def test_a_relative_letter_is_looked_for_in_the_parts_folder_first(clip, spares, depot):
    (clip / "documents" / "letter.txt").write_bytes(b"the one in the folder")
    (depot / "documents").mkdir()
    (depot / "documents" / "letter.txt").write_bytes(b"another one")
    assert spares(*approve(evidence="documents/letter.txt"))[0] == 0
    event = read_catalogue(Path("catalogue")).folder("EX-0003").approval.events[-1]
    assert event.evidence[0].sha256 == hashlib.sha256(b"the one in the folder").hexdigest()


@pytest.mark.parametrize("file", ["model.stl", "approval.yml", "part.yml", "photos/front.jpg"])
def test_only_documents_are_evidence(clip, spares, depot, file):
    (clip / "photos").mkdir()
    (clip / "photos" / "front.jpg").write_bytes(b"\xff\xd8\xff")
    before = bytes_of(depot / "catalogue")
    for given in (file, clip / file):
        code, _, err = spares(*approve(evidence=given), "--despite-warnings")
        assert (code, err.splitlines()[0]) == (1, f"spares: {file} of the part's own folder is no evidence")
        code, _, err = spares(
            "record", "EX-0003", "documents complete", "--by", "keeper", "--evidence", given
        )
        assert (code, err.splitlines()[0]) == (1, f"spares: {file} of the part's own folder is no evidence")
    assert bytes_of(depot / "catalogue") == before


def test_what_check_warns_of_is_only_approved_knowingly(clip, spares, depot):
    fleets = depot / "catalogue" / "fleets.yml"
    text = fleets.read_text()
    assert text.count("largest_mm: 200") == 4
    fleets.write_text("largest_mm: 2".join(text.rsplit("largest_mm: 200", 1)))
    before = bytes_of(depot / "catalogue")
    code, out, err = spares(*approve())
    assert (code, err.splitlines()[0]) == (1, "spares: EX-0003 has warnings, so nothing is approved")
    assert "warning SIZE01" in out
    assert bytes_of(depot / "catalogue") == before
    code, out, _ = spares(*approve(), "--despite-warnings")
    assert (code, "warning SIZE01" in out) == (0, True)


@pytest.mark.parametrize(
    ("event", "own"),
    [("renewed", ["--until", "2030-01-01"]), ("condition lifted", ["--condition", "Look at it"])],
)
def test_longer_or_freer_only_with_the_letter(clip, spares, event, own):
    spares(*approve(condition="Look at it"))
    words = ["record", "EX-0003", event, *own, "--by", "reviewer"]
    code, _, err = spares(*words)
    assert (code, err.splitlines()[0]) == (Ending.MISUSE, f"spares: '{event}' needs --evidence")
    assert spares(*words, "--evidence", "documents/letter.txt")[0] == 0


def test_a_depot_that_cannot_be_read_records_nothing(clip, spares, depot):
    (depot / "catalogue" / "depot.yml").write_text("roles: [\n")
    code, _, err = spares(*approve())
    assert (code, "depot.yml cannot be read" in err) == (1, True)


def test_a_role_that_may_not_approve_is_refused(clip, spares, depot):
    before = bytes_of(depot / "catalogue")
    code, _, err = spares(*approve(by="authority"))
    assert code == 1
    assert "says 'approved' by 'authority', a role that does not act as customer" in err
    assert "name a role that does: keeper, reviewer" in err
    assert bytes_of(depot / "catalogue") == before


def test_a_trial(depot, spares):
    (KNOB / "documents/permit.txt").write_text("a trial, the reviewer\n")
    code, _, _ = spares(
        *approve("EX-0001", "A1:11,13:cab", evidence=KNOB / "documents/permit.txt"), "--trial", "--pieces", "2"
    )
    event = read_catalogue(Path("catalogue")).folder("EX-0001").approval.events[-1]
    assert (code, event.what, event.valid_until.isoformat()) == (0, "trial opened", "2028-11-30")
    assert (event.scope[0].vehicles, event.scope[0].places) == (("11", "13"), ("cab",))
    assert event.evidence[0].file == "documents/permit.txt"
    assert names_in(KNOB / "documents") == ["acceptance.txt", "approval-letter.txt", "fire-note.txt", "permit.txt"]


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ({"by": "boss"}, "names the role 'boss', which does not exist"),
        ({"scope": "C3"}, "names the fleet 'C3', which does not exist"),
        ({"scope": "A1"}, "speaks of A1, which the part does not fit"),
        ({"scope": "B2:21-29"}, "names vehicle 23, which B2 does not have"),
        ({"scope": "B2:22:roof"}, "names the place 'roof', which does not exist"),
        ({"scope": "B2:22-21"}, "runs backwards"),
        ({"on": "2026-11-26"}, "is dated 2026-11-26, which is still to come"),
        ({"on": "2026-10-30"}, "is dated 2026-10-30, before the event above it"),
        ({"until": "2026-11-24"}, "ends on 2026-11-24, before it begins"),
        ({"reference": "a\nb"}, "holds a line break"),
        ({"condition": ""}, ""),
    ],
    ids=str,
)
def test_what_cannot_be_so_is_refused_before_anything_is_written(clip, spares, depot, options, says):
    before = bytes_of(depot / "catalogue")
    if options == {"condition": ""}:
        options = {"condition": " "}
    code, _, err = spares(*approve(**{"evidence": "letter.txt"} | options))
    assert code == 1
    assert err.startswith("spares: the event is not recorded: ")
    assert says in err
    assert "\n  mend: " in err
    assert bytes_of(depot / "catalogue") == before


def test_an_approval_before_its_acceptance_is_refused(depot, spares):
    (depot / "letter.txt").write_bytes(LETTER)
    before = bytes_of(depot / "catalogue")
    code, _, err = spares(*approve())
    assert code == 1
    assert "'approved' without 'customer acceptance given' before it" in err
    assert "'approved' without 'documents complete' before it" in err
    assert bytes_of(depot / "catalogue") == before


def test_a_folder_with_mistakes_is_refused_and_they_are_named(clip, spares):
    part = clip / "part.yml"
    part.write_text(part.read_text().replace("material: petg", "material: petgg"))
    before = (clip / "approval.yml").read_bytes()
    code, out, err = spares(*approve())
    assert code == 1
    assert "part.yml:11:11: error LINK01: names the material 'petgg'" in out
    assert err == "spares: EX-0003 has mistakes, so nothing is recorded\n  mend: mend them first\n"
    assert (clip / "approval.yml").read_bytes() == before


def test_an_unknown_part_is_misuse_with_near_ones(depot, spares):
    code, _, err = spares(*approve("EX-0033"))
    assert code == Ending.MISUSE
    assert err.startswith("spares: there is no part EX-0033 in catalogue\n  mend: did you mean EX-00")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--trial", "--open-ended"], "a trial always has a last day"),
        (["--trial", "--until", "2027-01-01"], "a trial says how many pieces it is to fit"),
        (["--pieces", "2", "--until", "2027-01-01"], "--pieces is for a trial alone"),
        (["--trial", "--pieces", "0", "--until", "2027-01-01"], "is no whole number from 1 to 999999"),
        (["--until", "2027-01-01", "--minutes", "0"], "is no whole number of minutes from 1 to 9600"),
        (["--until", "2026-02-30"], "is not a day that exists"),
        (["--until", "2027-01-01", "--scope", "a:b:c:d"], "is no scope"),
        (["--until", "2027-01-01", "--open-ended"], "not allowed with"),
    ],
)
def test_misuse(clip, spares, words, says):
    head = ["approve", "EX-0003", "--by", "reviewer", "--reference", "L-3", "--scope", "B2"]
    head += ["--evidence", "letter.txt", "--yes"]
    code, _, err = spares(*head, *words)
    assert code == Ending.MISUSE
    assert says in err


def test_open_ended(clip, spares):
    head = ["approve", "EX-0003", "--by", "reviewer", "--reference", "L-3", "--scope", "B2:21:bogie"]
    head += ["--evidence", "letter.txt", "--yes"]
    assert spares(*head, "--open-ended")[0] == 0
    event = read_catalogue(Path("catalogue")).folder("EX-0003").approval.events[-1]
    assert (event.open_ended, event.valid_until) == (True, None)


def test_evidence_never_takes_the_place_of_another_document(clip, spares):
    (clip / "documents" / "letter.txt").write_bytes(b"an older letter")
    code, _, err = spares(*approve(evidence="letter.txt"))
    assert (code, err.splitlines()[0]) == (
        1,
        "spares: documents/letter.txt is there already and is another file",
    )
    assert (clip / "documents" / "letter.txt").read_bytes() == b"an older letter"
    code, _, err = spares(*approve(evidence="gone.txt"))
    assert (code, err) == (
        1,
        "spares: there is no evidence file gone.txt\n  mend: put the letter there, or mend its path\n",
    )


def test_a_disk_that_fails_keeps_the_record_and_takes_the_copy_back(clip, spares, depot, monkeypatch):
    before = bytes_of(depot / "catalogue")
    replace = Path.replace

    def full(path, target):
        if Path(target).name == "approval.yml":
            raise OSError(28, "told by the test")
        return replace(path, target)

    monkeypatch.setattr(Path, "replace", full)
    code, _, err = spares(*approve(evidence="letter.txt"))
    assert code == 1
    assert "failed: the disk is full" in err
    assert bytes_of(depot / "catalogue") == before


def test_a_record_that_changes_meanwhile_is_not_overwritten(clip, spares, monkeypatch):
    refuse = recording._refuse_impossible

    def meanwhile(*arguments):
        would_be = refuse(*arguments)
        with (clip / "approval.yml").open("a") as stream:
            stream.write("# a colleague was faster\n")
        return would_be

    monkeypatch.setattr(recording, "_refuse_impossible", meanwhile)
    code, _, err = spares(*approve())
    assert (code, err.splitlines()[0]) == (1, "spares: approval.yml was changed meanwhile")
    assert (clip / "approval.yml").read_text().endswith("# a colleague was faster\n")


def test_a_record_keeps_its_rights(clip, spares):
    (clip / "approval.yml").chmod(0o640)
    spares(*approve())
    assert stat.S_IMODE((clip / "approval.yml").stat().st_mode) == 0o640


def test_events_are_recorded_one_after_the_other(depot, spares):
    (KNOB / "approval.yml").unlink()
    who = {
        "design started": "specialist",
        "prototype printed": "specialist",
        "customer acceptance given": "keeper",
    }
    for event, role in who.items():
        assert spares("record", "EX-0001", event, "--by", role, "--on", "2026-11-24")[0] == 0
    told = read_catalogue(Path("catalogue")).folder("EX-0001").approval
    assert [event.what for event in told.events] == [
        "design started",
        "prototype printed",
        "customer acceptance given",
    ]
    assert spares("check")[0] == 0


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["withdrawn"], 2, "'withdrawn' needs --reason"),
        (["documents complete", "--until", "2027-01-01"], 2, "'documents complete' takes no --until"),
        (["approved"], 2, "invalid choice"),
        (
            ["renewed", "--until", "2026-01-01", "--evidence", "documents/acceptance.txt"],
            1,
            "is renewed until 2026-01-01, which is over by then",
        ),
        (
            ["condition lifted", "--condition", "never set", "--evidence", "documents/acceptance.txt"],
            1,
            "lifts a condition that was not set",
        ),
        (["superseded", "--superseded-by", "EX-0009"], 1, "names the part 'EX-0009', which does not exist"),
        (["question answered"], 1, "answers a question that nobody asked"),
    ],
    ids=lambda each: " ".join(each) if isinstance(each, list) else "",
)
def test_events_that_cannot_be_so(depot, spares, words, code, says):
    before = bytes_of(depot / "catalogue")
    found, _, err = spares("record", "EX-0001", *words, "--by", "keeper")
    assert (found, says in err) == (code, True)
    assert bytes_of(depot / "catalogue") == before


def test_a_withdrawal_shows_at_once(depot, spares):
    assert spares("record", "EX-0001", "withdrawn", "--by", "keeper", "--reason", "two broke")[0] == 0
    assert "Do not fit. Withdrawn on 25 Nov 2026: two broke" in spares("explain", "EX-0001")[1]


@pytest.mark.parametrize(
    ("scope", "says"),
    [
        ("B2::", "names no vehicles where it should"),
        ("B2:22:", "names no places where it should"),
        ("B2: :bogie", "names no vehicles where it should"),
        ("B2:22,:bogie", "names no vehicles where it should"),
        (":22:bogie", "is no scope"),
        ("B2:22,21,22:bogie", "names '22' a second time"),
        ("B2:22:bogie,roof", "names the place 'roof', which does not exist"),
    ],
)
def test_no_empty_word_stands_for_everything_and_no_place_is_passed_over(clip, spares, depot, scope, says):
    before = bytes_of(depot / "catalogue")
    code, _, err = spares(*approve(scope=scope))
    assert code in (1, 2)
    assert says in err
    assert bytes_of(depot / "catalogue") == before


def test_an_event_that_would_change_the_one_before_it_is_not_added(clip, spares, depot, monkeypatch):
    """However the text was added to: the events before it must read as they did."""
    real = recording.with_event

    def careless(raw, event):
        return real(raw.replace(b"2026-11-02", b"2026-11-01"), event)

    monkeypatch.setattr(recording, "with_event", careless)
    before = bytes_of(depot / "catalogue")
    code, _, err = spares("record", "EX-0003", "question asked", "--by", "keeper", "--question", "Why?")
    assert (code, "written in a way that cannot be added to by machine" in err) == (1, True)
    assert bytes_of(depot / "catalogue") == before


def test_what_else_stands_for_the_same_vehicles_is_told(clip, spares):
    """The fixture's trial of 1 October goes on being heard, until the letter says that this one takes its place."""
    code, _, err = spares(*approve(evidence="letter.txt"), "--dry-run")
    assert code == 0
    assert "Beside it stands the trial of 1 Oct 2026" in err
    assert "--replaces 2026-10-01" in err
    code, out, err = spares(*approve(evidence="letter.txt"), "--dry-run", "--replaces", "2026-10-01")
    assert (code, err) == (0, "Ends with it: the trial of 1 Oct 2026 for revision A, T-3.\n")
    assert "replaces: [2026-10-01]" in out


def test_a_letter_that_holds_hardly_a_letter_is_told_and_stops_nothing(clip, spares, depot):
    assert "fewer letters" not in spares(*approve(evidence="letter.txt"), "--dry-run")[2]
    (depot / "letter.txt").write_bytes(b"x")
    code, _, err = spares(*approve(evidence="letter.txt"), "--dry-run")
    assert (code, "documents/letter.txt: a program reads fewer letters there than a letter has" in err) == (0, True)
