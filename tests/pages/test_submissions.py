"""What a submission says, from a reviewer's side: each gap is told, each file is named once, each question has its number."""

import hashlib
import json
import re
from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.pages.approvals.page import approvals_page
from generator.pages.gathered import around_of
from generator.pages.submissions.attached import attachments, zip_name
from generator.pages.submissions.family import family_lines, shared_blocks
from generator.pages.submissions.index import index_of
from generator.pages.submissions.judged import plain, questions
from generator.pages.submissions.whole import given_on, submission_of
from generator.pages.wording import wording
from generator.planning.families import Family, Shared
from generator.planning.overview import Missing, missing_documents
from generator.planning.submitting import Asks
from generator.records.approvals import QuestionAnswered, QuestionAsked, Route, TakenOver, TakeOverConfirmed
from generator.records.catalogue import Fault, FileKind, KeptFile
from generator.records.environment import Environment
from generator.records.fitting import FittingNotes
from generator.records.makers import Process
from generator.records.parts import WithoutModel
from generator.records.problems import Where, doubt, wrong
from generator.rules.binding import submitted_text
from generator.rules.changes import Change, Means
from generator.rules.facts.case import Copy
from generator.rules.history import Stage
from generator.rules.sheet import sheet
from tests.pages.sample import DAY, WORKED, judged_sample

CATALOGUE, SHEETS, _ = judged_sample()
COPY = Copy(DAY, 30)


def told(catalogue=CATALOGUE, number="P-0001", *, edit=None, worked=WORKED, **asked):
    """The submission of a part whose folder `edit` has changed."""
    folder = catalogue.folder(number)
    folder = edit(folder) if edit else folder
    judged = [sheet(each, worked if each.mesh else None, catalogue, COPY) for each in catalogue.parts if each.number != number]
    own = sheet(folder, worked, catalogue, COPY)
    return submission_of([own], around_of(catalogue, [own, *judged], DAY), DAY, **asked)


def asked(text, *, on=date(2026, 1, 1)):
    return QuestionAsked(what="question asked", on=on, by="reviewer", question=text)


def with_event(folder, event):
    events = (*folder.approval.events, event)
    return replace(folder, approval=folder.approval.model_copy(update={"events": events}), event_places=(*folder.event_places, Where("approval.yml")))


def gaps(value, section):
    return [each.says for each in value.dossiers[0].gaps if each.section == section]


def with_part(**changed):
    return lambda folder: replace(folder, part=folder.part.model_copy(update=changed))


def without_screening(folder):
    return replace(folder, approval=folder.approval.model_copy(update={"screening": None}))


def with_material(**changed):
    known = CATALOGUE.materials["plain"].model_copy(update=changed)
    return replace(CATALOGUE, materials=CATALOGUE.materials | {"plain": known})


def with_place(**environment):
    """The fleet F1 with a place that asks this of the material."""
    fleet = CATALOGUE.fleets["F1"]
    places = tuple(each.model_copy(update={"environment": Environment(**environment)}) for each in fleet.places)
    return replace(CATALOGUE, fleets=CATALOGUE.fleets | {"F1": fleet.model_copy(update={"places": places})})


# What is taken away or asked besides, and in which section a reviewer is told of it.
TAKEN = {
    "certificates": (with_material(certificates=()), None, "material"),
    "fire reports": (with_material(fire_tests=()), None, "fire"),
    "the fire set": (CATALOGUE, with_part(fire=None), "fire"),
    "checks": (CATALOGUE, with_part(checks=()), "dimensions"),
    "notes": (CATALOGUE, lambda folder: replace(folder, fitting=None), "cautions"),
    "a caution": (CATALOGUE, lambda folder: replace(folder, fitting=FittingNotes("a", "b", "", "d")), "cautions"),
    "documents": (CATALOGUE, lambda folder: replace(folder, documents=()), "documents"),
    "screening": (CATALOGUE, without_screening, "screening"),
    "the record": (CATALOGUE, lambda folder: replace(folder, approval=None, event_places=()), "history"),
    "the model": (CATALOGUE, lambda folder: replace(folder, mesh=None), "identity"),
    "the material": (replace(CATALOGUE, materials={}), None, "identity"),
    "why and what": (CATALOGUE, with_part(replaces=(), assembly=None, symptoms=(), what_changed=None), "replaced"),
    "settings": (CATALOGUE, with_part(settings=None), "order"),
    "proof of what a place asks": (with_place(hottest_c=70.0, water=True), None, "environment"),
    "soundness of the record": (CATALOGUE, lambda folder: replace(folder, problems=(*folder.problems, wrong("PART02", "other folder", number="P-9", folder="x"))), "identity"),
    "sureness of the record": (CATALOGUE, lambda folder: replace(folder, problems=(*folder.problems, doubt("PART02", "other folder", number="P-9", folder="x"))), "identity"),
    "the answer to a question": (CATALOGUE, lambda folder: with_event(folder, asked("Why?", on=DAY)), "history"),
}


@pytest.mark.parametrize("taken", TAKEN)
def test_what_is_taken_away_is_told_as_a_gap(taken):
    catalogue, edit, section = TAKEN[taken]
    before, after = gaps(told(), section), gaps(told(catalogue, edit=edit), section)
    assert set(after) - set(before)


def test_a_part_of_which_nothing_is_recorded_has_a_gap_for_each_section_that_is_empty():
    bare = {"other_names": (), "replaces": (), "assembly": None, "symptoms": (), "checks": (), "fire": None, "makers": (), "settings": None, "what_changed": None}

    def emptied(folder):
        part = folder.part.model_copy(update=bare)
        return replace(folder, part=part, approval=None, event_places=(), fitting=None, documents=(), photos=(), mesh=None)

    value = told(edit=emptied, worked=None)
    dossier = value.dossiers[0]
    for section in dossier.sections:
        if section.nothing and not section.shown:
            assert section.nothing in gaps(value, section.key)
    empty = {section.key for section in dossier.sections if section.nothing and not section.shown}
    assert empty >= {"replaced", "pictures", "cautions", "screening", "history"}
    assert {"identity", "fire", "making", "dimensions", "order"} <= {each.section for each in dossier.gaps}
    assert dossier.fingerprint == ""


# Where each paper of the overview is told, which may be in closer words than its own.
PAPERS = {
    Missing.ACCEPTANCE_EVIDENCE: "history", Missing.DRAWING: "documents", Missing.CERTIFICATE: "material", Missing.FIRE_SET: "fire",
    Missing.FIRE_REPORT: "fire", Missing.CHECKS: "dimensions", Missing.FITTING_NOTES: "cautions", Missing.SCREENING: "screening",
    Missing.ASSESSMENT: "screening", Missing.AUTHORISATION: "screening", Missing.AUTHORITY_ROUTE: "history",
}  # fmt: skip


@pytest.mark.parametrize("each", [each for each in SHEETS if each.part], ids=lambda each: each.number)
def test_whatever_a_reviewer_reads_and_does_not_find_is_among_the_gaps(each):
    dossier = submission_of([each], around_of(CATALOGUE, SHEETS, DAY), DAY).dossiers[0]
    told_in = {gap.section for gap in dossier.gaps}
    assert {PAPERS[what] for what in missing_documents(each) if what is not Missing.MEND_RECORD} <= told_in


def test_nobody_asks_of_a_bought_part_how_it_is_printed():
    """Other than of a part of which only the drawing is known."""
    lamp = CATALOGUE.folder("P-0005").part
    said = {}
    for because in WithoutModel:
        edit = with_part(no_model=lamp.no_model.model_copy(update={"because": because}), makers=(), settings=None)
        said[because] = {gap.section for gap in told(number="P-0005", edit=edit, worked=None).dossiers[0].gaps}
    assert "making" not in said[WithoutModel.BOUGHT]
    assert "making" in said[WithoutModel.DRAWING_ONLY]


def test_the_title_of_many_names_the_first_and_counts_the_others():
    """The table of the first page names each."""
    every = [each for each in SHEETS if each.part]
    around = around_of(CATALOGUE, SHEETS, DAY)
    title = submission_of([every[0]] * 6, around, DAY).title
    assert title == f"Submission of 6 parts: {', '.join([every[0].number] * 4)} and 2 more"
    assert submission_of(every[:2], around, DAY).title == f"Submission of 2 parts: {every[0].number}, {every[1].number}"


def test_of_a_renewal_and_a_change_alone_the_last_day_is_told():
    until = CATALOGUE.folder("P-0001").approval.events[-1].valid_until
    said = {asks: told(asks=asks).dossiers[0].until for asks in Asks}
    assert {asks for asks, text in said.items() if text} == ({Asks.RENEWAL, Asks.CHANGE} if until else set())


@pytest.mark.parametrize(("is_bought", "lacks"), [(False, "print the prototype"), (True, "get a piece to be tried")])
def test_that_nothing_is_there_to_be_tried_is_a_gap_of_a_design(is_bought, lacks):
    """Who is asked to try a prototype that nobody has printed would wait for it."""
    def edit(folder, *, begun):
        events = folder.approval.events[:0] if begun else folder.approval.events
        made = {} if not is_bought else {"no_model": CATALOGUE.folder("P-0005").part.no_model.model_copy(update={"because": WithoutModel.BOUGHT}), "makers": (), "settings": None}
        return with_part(**made)(replace(folder, approval=folder.approval.model_copy(update={"events": events})))

    said = [gaps(told(edit=lambda folder, begun=begun: edit(folder, begun=begun), worked=None if is_bought else WORKED), "history") for begun in (True, False)]
    assert [f"Missing: {lacks}" in each for each in said] == [True, False]


def test_what_has_ended_before_the_day_is_not_said_to_end():
    """On its last day it still stands; from the next on it has ended, in the sentence and in the table of a family alike."""
    each = next(each for each in SHEETS if each.number == "P-0001")
    last = each.history.approval.valid_until or DAY
    around = around_of(CATALOGUE, SHEETS, DAY)
    for day, is_over in ((last, False), (last + timedelta(days=1), bool(each.history.approval.valid_until))):
        renewal = submission_of([each], around, day, asks=Asks.RENEWAL).dossiers[0]
        assert (renewal.is_over, "which ended on" in renewal.asked) == (is_over, is_over)
        assert not submission_of([each], around, day, asks=Asks.REVIEW).dossiers[0].is_over
    assert is_over


def test_the_same_mistake_in_two_files_is_two_gaps():
    def twice(folder):
        return replace(folder, problems=tuple(wrong("PART02", "other folder", where=Where(f"{folder.folder}/{name}"), number="P-9", folder="x") for name in "ab"))

    said = [each for each in gaps(told(edit=twice), "identity") if "P-9" in each]
    assert [each.split(":")[0] for each in said] == ["Mistake in the records, a", "Mistake in the records, b"]


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_that_a_fire_test_has_no_result_is_said_once(language):
    catalogue = replace(with_material(fire_tests=()), depot=CATALOGUE.depot.model_copy(update={"language": language}))
    said = [each for each in gaps(told(catalogue), "fire") if wording(language)("fire.nothing_found") in each]
    assert said
    assert all(each.count(wording(language)("fire.nothing_found")) == 1 and "()" not in each for each in said)


def test_a_gap_of_every_place_is_told_once_and_of_one_place_with_its_name():
    value = told(with_material(fire_tests=()))
    assert all(not gap.where for gap in value.dossiers[0].gaps if gap.section == "fire")
    says = [gap.says for gap in value.dossiers[0].gaps]
    assert len(says) == len(set(says))


def test_the_fingerprint_is_that_of_the_text_and_of_what_a_record_binds():
    dossier = told().dossiers[0]
    assert dossier.text == submitted_text(CATALOGUE.folder("P-0001"), CATALOGUE)
    assert '\nat "F1" "cab" ' in dossier.text
    assert dossier.fingerprint == hashlib.sha256(dossier.text.encode()).hexdigest()


def test_what_changed_since_the_approval_is_told_with_what_follows():
    assert told().dossiers[0].is_compared
    changed = told(edit=with_part(revision="B")).dossiers[0]
    assert [each.what for each in changed.changes if each.now == "B"]
    assert changed.changes[0].means == "the approval speaks of it no longer"
    same = told().dossiers[0]
    assert "revision" not in {each.what for each in same.changes}
    new = told(edit=lambda folder: replace(folder, approval=None, event_places=())).dossiers[0]
    assert (new.is_compared, new.changes) == (False, ())


def test_a_step_is_asked_as_the_record_stands_or_as_somebody_says():
    assert told().dossiers[0].asks in set(Asks)
    assert told(asks=Asks.RENEWAL).dossiers[0].asked.startswith("The customer: renew")
    lapsed = told(edit=with_part(revision="B")).dossiers[0]
    assert lapsed.asks is Asks.REVIEW


def kept(path, *, size=9, sha="a" * 64, kind=FileKind.PDF):
    return KeptFile(path=path, size_bytes=size, sha256=sha, kind=kind)


def attached(*files):
    folder = replace(CATALOGUE.folder("P-0001"), documents=files, approval=None)
    return [each for each in attachments([folder], CATALOGUE, around_of(CATALOGUE, SHEETS, DAY).w) if each.path in {file.path for file in files}]


def test_the_same_bytes_twice_lie_in_the_zip_once_under_both_names():
    one, other = attached(kept("parts/P/documents/a.pdf"), kept("parts/P/documents/b.pdf"))
    assert (one.same_as, other.same_as, other.stored_as) == (None, one.number, one.stored_as)
    apart = attached(kept("parts/P/documents/a.pdf"), kept("parts/P/documents/b.pdf", sha="b" * 64))
    assert len({each.stored_as for each in apart}) == 2


def test_what_is_no_pdf_and_what_is_empty_is_doubted():
    odd, empty, fine, unknown = attached(
        kept("d/a.pdf", kind=FileKind.TEXT), kept("d/b.PDF", size=0, sha="b" * 64), kept("d/c.pdf", sha="c" * 64), kept("d/d.step", sha="d" * 64, kind=FileKind.OTHER)
    )
    assert "PDF" in odd.doubt
    assert empty.doubt
    assert (fine.doubt, unknown.doubt) == ("", "")


@pytest.mark.parametrize("is_named", [False, True])
def test_a_document_too_large_to_be_read_has_its_number_and_is_left_out(is_named):
    """One that a record names too: it is not "gone", and its recorded sum stays; the index has it without a name in the zip."""
    own = CATALOGUE.folder("P-0001")
    path = next(each.path for each in told().attachments if each.what == "letter or evidence") if is_named else f"{own.folder}/documents/scan.pdf"
    large = wrong("DISK03", "too large", "below 90 MB", where=Where(path), megabytes=220)

    def grown(folder):
        return replace(folder, documents=tuple(each for each in folder.documents if each.path != path), problems=(*folder.problems, large))

    value = told(edit=grown)
    (found,) = [each for each in value.attachments if each.path == path]
    assert "too large" in found.doubt
    assert found.stored_as == ""
    assert any(each.startswith(f"D{found.number} ") and "too large" in each and "not in the zip" in each for each in gaps(value, "documents"))
    (listed,) = [each for each in json.loads(index_of(value, {}))["documents"] if each["path"] == path]
    assert (listed["name"], listed["doubt"]) == (None, found.doubt)
    assert bool(found.sha256) == is_named
    assert found.sha256 in found.doubt
    assert "could not be taken" in found.doubt  # as when it has gone meanwhile
    recorded = found.sha256 or "b" * 64
    for sha256, is_other in ((recorded, False), ("c" * 64, is_named)):
        value = told(edit=grown, large={path: kept(path, size=220_000_000, sha=sha256)})
        (found,) = [each for each in value.attachments if each.path == path]
        assert (found.size_bytes, found.sha256, found.stored_as, sha256 in found.doubt) == (220_000_000, sha256, "", True)
        assert ("another file" in found.doubt, "too large" in found.doubt) == (is_other, True)
        assert any(each.startswith(f"D{found.number} ") and sha256 in each for each in gaps(value, "documents"))
        (listed,) = [each for each in json.loads(index_of(value, {}))["documents"] if each["path"] == path]
        assert (listed["name"], listed["sha256"], listed["size_bytes"]) == (None, sha256, 220_000_000)


@pytest.mark.parametrize("fault", [each for each in Fault if each is not Fault.SEALED])
def test_a_pdf_that_cannot_be_opened_is_a_gap(fault):
    """Of the part's folder, and of its material's papers."""
    said = {Fault.ACTS: "more than show its pages", Fault.CUT: "cut off", Fault.LOCKED: "encrypted", Fault.TRAILED: "behind its end", Fault.PAGELESS: "no page in it"}[fault]
    value = told(edit=lambda folder: replace(folder, documents=tuple(replace(each, fault=fault) for each in folder.documents)))
    assert [each for each in gaps(value, "documents") if said in each]
    certificates = {file.path: replace(file, fault=fault) for file in CATALOGUE.material_files.values()}
    assert [each for each in gaps(told(replace(CATALOGUE, material_files=certificates)), "documents") if said in each]


def test_a_pdf_that_opens_without_a_password_is_no_gap_though_no_program_looks_into_it():
    def sealed(folder):
        documents = tuple(replace(each, fault=Fault.SEALED, kind=FileKind.OTHER) for each in folder.documents)
        return replace(folder, documents=documents, problems=tuple(doubt("DISK09", "sealed", where=Where(each.path)) for each in documents))

    assert told(edit=sealed).dossiers[0].gaps == told().dossiers[0].gaps


def test_what_is_wrong_with_a_file_is_told_once_by_its_number():
    def grown(folder):
        large = wrong("DISK03", "too large", "below 90 MB", where=Where(f"{folder.folder}/documents/scan.pdf"), megabytes=220)
        elsewhere = doubt("DISK09", "locked", where=Where(f"{folder.folder}/other/scan.pdf"))  # which the submission does not have
        return replace(folder, problems=(large, elsewhere))

    value = told(edit=grown)
    assert [each for each in gaps(value, "identity") if "scan.pdf" in each] == [each for each in gaps(value, "identity") if "other/scan.pdf" in each] != []
    assert sum("too large" in each for each in gaps(value, "documents")) == 1


def test_a_file_that_is_recorded_and_gone_or_another_is_told():
    def lost(folder):
        return replace(folder, documents=tuple(each for each in folder.documents if "letter" not in each.path and "approval" not in each.path))

    def swapped(folder):
        return replace(folder, documents=tuple(replace(each, sha256="0" * 64) for each in folder.documents))

    for edit in (lost, swapped):
        value = told(edit=edit)
        doubted = [each for each in value.attachments if each.doubt]
        assert doubted
        assert all(any(f"D{each.number} " in says for says in gaps(value, "documents")) for each in doubted)
    assert all(not each.stored_as for each in told(edit=lost).attachments if each.size_bytes == 0)


NAMES = (
    "CON.pdf", "aux", "a.PDF", "A.pdf", "ä.pdf", "a\u0308.pdf", "..", "../x.pdf", "C:\\x.pdf", "x" * 200 + ".pdf", "名前.pdf", "-rf.pdf", " .pdf", ".pdf",
    "a\nb.pdf", "\u202efdp.exe", "end. ", "a b#c?d%e.txt", "\x00.txt",
)  # fmt: skip


def test_no_two_names_in_the_zip_are_the_same_anywhere_and_each_can_be_unpacked():
    """A file system may take no difference of capitals or of composed letters, and Windows has devices (from memory)."""
    made = [zip_name(number, name) for number, name in enumerate(NAMES, 1)]
    assert all(re.fullmatch(r"D[0-9]{3,}(-[A-Za-z0-9-]+)?(\.[A-Za-z0-9]{1,8})?", each) for each in made)
    assert len({each.casefold() for each in made}) == len(NAMES)
    assert max(map(len, made)) <= 80
    same = {zip_name(number, "drawing.pdf").casefold() for number in range(1, 1200)}
    assert len(same) == 1199


def answered(note, day=1):
    return QuestionAnswered(what="question answered", on=date(2026, 1, day), by="specialist", note=note)


STATED = {"surface_texture": "Ra 12.5 µm <b>", "repair": "none", "acceptable_imperfections": "layer lines"}


def with_stated(**stated):
    return lambda folder: replace(folder, part=folder.part.model_copy(update={"settings": folder.part.settings.model_copy(update=stated)}))


def order_rows(value):
    (section,) = [each for each in value.dossiers[0].sections if each.key == "order"]
    return dict(section.blocks[0].rows)


@pytest.mark.parametrize("left_out", [*STATED, None])
def test_what_is_ordered_is_told_and_what_nobody_states_is_named_alone(left_out):
    """ISO/ASTM 52901: what has a field can be filled, and then its gap is gone; one that is left out is named by itself."""
    value = told(edit=with_stated(**{key: said for key, said in STATED.items() if key != left_out}))
    names = {"surface_texture": "Surface texture", "repair": "Repair", "acceptable_imperfections": "Acceptable imperfections"}
    rows = order_rows(value)
    (gap,) = gaps(value, "order") or [""]
    for key, said in STATED.items():
        assert rows[names[key]] == ("not recorded" if key == left_out else said)
        assert (names[key] in gap) is (key == left_out)
    assert not any(said in rows["Process"] for said in STATED.values()), "told once"


def test_questions_keep_their_numbers_and_answers_come_in_order():
    found = questions([answered("to nothing"), asked("a"), asked("b"), answered("to a"), asked("c"), answered("to b")])
    assert [(each.number, each.asked.question, each.answer and each.answer.note) for each in found] == [(1, "a", "to a"), (2, "b", "to b"), (3, "c", None)]
    assert questions([]) == ()


def test_whoever_answers_knows_where_to_and_from_which_number_on():
    """The depot's contact stands there, and a further question has the next number."""
    none = told()
    assert CATALOGUE.depot.contact in none.answer_to
    assert "from Q1 on" in none.dossiers[0].numbering
    one = told(edit=lambda folder: with_event(folder, asked("Why?", on=DAY)))
    assert "Q1 stands" in one.dossiers[0].numbering
    assert "from Q2 on" in one.dossiers[0].numbering
    two = told(edit=lambda folder: with_event(with_event(folder, asked("Why?", on=DAY)), asked("How?", on=DAY)))
    assert "Q1 to Q2 stand" in two.dossiers[0].numbering
    assert json.loads(index_of(two, {}))["parts"][0]["next_question"] == "Q3"
    assert CATALOGUE.depot.contact in json.loads(index_of(two, {}))["answer_to"]


def test_a_long_change_is_told_whole():
    """Cut off, a reviewer could not compare it."""
    word = "file documents/" + "x" * 400 + " its end"
    own = next(each for each in SHEETS if each.number == "P-0001")
    changed = replace(own, changes=(Change("material", "a", word, Means.VOID, "another part"),))
    value = submission_of([changed], around_of(CATALOGUE, [changed], DAY), DAY)
    assert [each.now for each in value.dossiers[0].changes] == [word]


def test_of_a_letter_that_was_taken_over_its_own_day_is_told():
    taken = TakenOver.model_construct(what="taken over", on=date(2026, 1, 2), letter_of=date(2019, 5, 3))
    assert given_on(taken, ()) == date(2019, 5, 3)
    confirmed = TakeOverConfirmed.model_construct(what="take-over confirmed", on=date(2026, 2, 2), approved_on=date(2026, 1, 2))
    assert given_on(confirmed, (taken, confirmed)) == date(2019, 5, 3)
    assert given_on(confirmed, ()) == date(2026, 1, 2)
    other = CATALOGUE.folder("P-0001").approval.events[-1]
    assert given_on(other, (taken,)) == other.on


PLAIN_LINES = {
    "1. **Your depot's instruction comes first.** This adds.": "1. Your depot's instruction comes first. This adds.",
    "8. A **second fitter** who checks": "8. A second fitter who checks",
    "*slowly*, _by hand_, `M4`, __not__ ***ever***": "slowly, by hand, M4, not ever",
    "4*10*2 mm, a_b_c, 2 * 3 * 4": "4*10*2 mm, a_b_c, 2 * 3 * 4",
    "** open": "** open",
}


@pytest.mark.parametrize("line", PLAIN_LINES)
def test_signs_of_bold_are_not_read_out_on_paper(line):
    assert plain(line) == PLAIN_LINES[line]


def test_of_one_fleet_no_other_place_is_told_but_the_fingerprint_is_of_all():
    fits = CATALOGUE.folder("P-0001").part.fits
    other = fits[0].model_copy(update={"fleet": "F2", "place": "roof"})
    edit = with_part(fits=(*fits, other))
    whole, one = told(edit=edit), told(edit=edit, fleet="F1")
    rows = next(each for each in one.dossiers[0].sections if each.key == "places").blocks[0].rows
    assert [row[0].split()[0] for row in rows] == ["F1"]
    assert one.only
    assert one.dossiers[0].fingerprint == whole.dossiers[0].fingerprint
    assert not any("F2" in where for gap in one.dossiers[0].gaps for where in gap.where)


def test_families_stand_on_the_page_of_approvals_with_what_is_a_guess(monkeypatch):
    pair = [each for each in SHEETS if each.part][:2]
    family = Family(shared=Shared(Route.CUSTOMER, ("plain",), (Process.MATERIAL_EXTRUSION,)), desk=Stage.TECHNICAL_REVIEW, members=tuple(pair), papers=2, step_days=50)
    around = around_of(CATALOGUE, SHEETS, DAY)
    monkeypatch.setattr("generator.pages.approvals.page.families", lambda *_: (family,))
    text = approvals_page(around, SHEETS, DAY).text
    assert f"spares submission {pair[0].number} {pair[1].number}" in text
    lines = family_lines(family, CATALOGUE, around.w)
    assert [each for each in lines.saves if "50 days" in each and "guess" in each]
    assert [each for each in lines.saves if "3 h" in each and "guess" in each and "no source" in each]
    monkeypatch.setattr("generator.pages.approvals.page.families", lambda *_: ())
    assert "spares submission" not in approvals_page(around, SHEETS, DAY).text


def test_parts_that_are_no_family_share_nothing_on_paper():
    around = around_of(CATALOGUE, SHEETS, DAY)
    parts = [each for each in SHEETS if each.part]
    material = parts[1].part.model_copy(update={"material": "other"})
    apart = replace(parts[1], folder=replace(parts[1].folder, part=material))
    assert "no family" in shared_blocks([parts[0], apart], around)[0].says[0]
    assert "material" in shared_blocks([parts[0], apart], around)[0].says[0]
    assert "no family" not in " ".join(shared_blocks([parts[0], parts[0]], around)[0].says)


def test_photos_stand_there_with_their_captions_and_what_is_missing_of_them_is_a_gap():
    def with_photos(folder):
        names = ("broken-original.jpg", "fitted.jpg", "torn.jpg")
        photos = tuple(KeptFile(path=f"{folder.folder}/photos/{name}", size_bytes=9, sha256="0" * 64, kind=FileKind.JPEG) for name in names)
        return replace(folder, photos=photos)

    at = f"{CATALOGUE.folder('P-0001').folder}/photos/"
    drawn = {at + "broken-original.jpg": b"one", at + "fitted.jpg": b"two", at + "torn.jpg": None, "parts/P-0999/photos/x.jpg": None}
    value = told(edit=with_photos, photos=drawn)
    (section,) = (each for each in value.dossiers[0].sections if each.key == "pictures")
    figures = [figure for block in section.blocks for figure in block.figures if figure.kind == "jpg"]
    assert [(each.content, re.sub(r"D\d+", "D", each.says)) for each in figures] == [(b"one", "Photo: broken original (D)"), (b"two", "Photo: fitted (D)")]
    assert gaps(value, "pictures") == ["The photo torn.jpg cannot be drawn."]
    none = "No photo of the original or of the print is kept."
    assert none in gaps(told(edit=lambda folder: replace(folder, photos=())), "pictures")
    strange = told(edit=lambda folder: replace(folder, photos=(KeptFile(path=f"{folder.folder}/photos/x.heic", size_bytes=9, sha256="0" * 64),)))
    assert none in gaps(strange, "pictures")
