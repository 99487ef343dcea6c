"""What a submission says, from a reviewer's side: each gap is told, each file is named once, each question has its number."""

import hashlib
import re
from dataclasses import replace
from datetime import date

import pytest

from generator.pages.approvals.page import approvals_page
from generator.pages.gathered import around_of
from generator.pages.submissions.attached import attachments, zip_name
from generator.pages.submissions.family import family_lines, shared_blocks
from generator.pages.submissions.told import questions
from generator.pages.submissions.whole import submission_of
from generator.planning.families import Family, Shared
from generator.planning.overview import Missing, missing_documents
from generator.planning.submitting import Asks
from generator.records.approvals import QuestionAnswered, QuestionAsked, Route
from generator.records.catalogue import FileKind, KeptFile
from generator.records.environment import Environment
from generator.records.fitting import FittingNotes
from generator.records.makers import Process
from generator.records.parts import WithoutModel
from generator.records.problems import Where, doubt, wrong
from generator.rules.binding import submitted_text
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


def test_the_same_mistake_in_two_files_is_two_gaps():
    def twice(folder):
        return replace(folder, problems=tuple(wrong("PART02", "other folder", where=Where(f"{folder.folder}/{name}"), number="P-9", folder="x") for name in "ab"))

    said = [each for each in gaps(told(edit=twice), "identity") if "P-9" in each]
    assert [each.split(":")[0] for each in said] == ["Mistake in the records, a", "Mistake in the records, b"]


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
    assert changed.changes[0].means == "Void"
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


def test_questions_keep_their_numbers_and_answers_come_in_order():
    found = questions([answered("to nothing"), asked("a"), asked("b"), answered("to a"), asked("c"), answered("to b")])
    assert [(each.number, each.asked.question, each.answer and each.answer.note) for each in found] == [(1, "a", "to a"), (2, "b", "to b"), (3, "c", None)]
    assert questions([]) == ()


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
    assert "no family" in shared_blocks([parts[0], apart], around)[0].says[1]
    assert "material" in shared_blocks([parts[0], apart], around)[0].says[1]
    assert "no family" not in " ".join(shared_blocks([parts[0], parts[0]], around)[0].says)
