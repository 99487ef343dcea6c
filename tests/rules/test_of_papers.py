"""Which certificate, report or fire engineer's statement counts: kept, as recorded, and of a day that has come."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from generator.records.catalogue import KeptFile
from generator.records.evidence import Evidence
from generator.records.fire import FireExemption
from generator.records.parts import Fit
from generator.rules.basis import basis_now
from generator.rules.facts.case import Case, Copy
from generator.rules.facts.fields import OPEN
from generator.rules.facts.of_fire import fire_found
from generator.rules.facts.of_papers import paper_facts
from generator.rules.history import history
from tests.fixtures.tiny import DAY, KNOB
from tests.rules.cases import tiny

FOLDER = tiny().folder(KNOB)
PETG = tiny().materials["petg"]
NOTE = KeptFile(path=f"{FOLDER.folder}/documents/note.txt", size_bytes=9, sha256="1" * 64)
STATEMENT = FireExemption(
    reference="N-1", by="fire-engineer", on=date(2026, 1, 1), valid_until=date(2028, 1, 1),
    evidence=Evidence(file="documents/note.txt", sha256=NOTE.sha256),
)  # fmt: skip
CERTIFICATE, REPORT = "documents/petg-certificate.txt", "documents/petg-fire.txt"


def facts(*, fleet="A1", statement=None, note=NOTE, files=None, **material):
    """Of the knob on a fleet, with a fire engineer's statement beside its papers, and the note that it rests on."""
    part = FOLDER.part.model_copy(update={"fire": FOLDER.part.fire.model_copy(update={"exemption": statement})})
    folder = replace(FOLDER, part=part, documents=(*FOLDER.documents, note) if note else FOLDER.documents)
    petg = PETG.model_copy(update=material)
    catalogue = replace(tiny(), materials={"petg": petg}, material_files=tiny().material_files if files is None else files)
    case = Case(folder=folder, part=part, catalogue=catalogue, history=history(None, DAY), copy=Copy(DAY, 30), bound={}, problems=())
    fit = Fit(fleet=fleet, place="cab", per_vehicle=2)
    return papers(case, fit)


def papers(case, fit):
    basis = basis_now(case.part, case.catalogue, fit)
    return paper_facts(case, basis, fire_found(case, fit, basis))


def stated(**change):
    return facts(statement=STATEMENT.model_copy(update=change))


def test_the_papers_are_told_by_name_with_their_ends():
    found = facts()
    assert (found.certificate, found.certificate_until) == ("C-petg (EN 10204 3.1)", date(2027, 12, 31))
    assert (found.fire_set, found.fire_need, found.fire_kind) == ("known", "R22, HL2, 1.5–6 mm", "report")
    assert (found.fire_report, found.fire_until) == ("F-petg (EN 45545-2:2020+A1:2023)", date(2027, 9, 30))


def test_a_fire_engineers_statement_stands_in_for_the_report():
    found = stated()
    assert (found.fire_kind, found.fire_report, found.fire_until) == ("statement", "N-1", date(2028, 1, 1))
    assert stated(valid_until=None, open_ended=True).fire_until is OPEN
    assert stated(valid_until=None).fire_until is None


@pytest.mark.parametrize(
    "note",
    [None, replace(NOTE, size_bytes=0), replace(NOTE, sha256="2" * 64), replace(NOTE, path="documents/other.txt")],
    ids=["missing", "empty", "changed", "another file"],
)
def test_a_statement_that_is_not_kept_as_recorded_does_not_count(note):
    assert facts(statement=STATEMENT, note=note).fire_kind == "report"


@pytest.mark.parametrize(("shift", "kind"), [(-1, "statement"), (0, "statement"), (1, "report")])
def test_a_statement_counts_from_its_day(shift, kind):
    assert stated(on=DAY + timedelta(days=shift)).fire_kind == kind


@pytest.mark.parametrize("shift", [-1, 0, 1])
def test_certificate_and_report_count_from_their_day(shift):
    day = DAY + timedelta(days=shift)
    found = facts(
        certificates=(PETG.certificates[0].model_copy(update={"issued_on": day}),),
        fire_tests=(PETG.fire_tests[0].model_copy(update={"tested_on": day}),),
    )
    assert ((found.certificate is not None), found.fire_kind) == ((True, "report") if shift <= 0 else (False, None))


@pytest.mark.parametrize(
    "spoilt",
    [None, {"size_bytes": 0}, {"sha256": "2" * 64}],
    ids=["missing", "empty", "changed"],
)
def test_papers_of_the_material_that_are_not_kept_as_recorded_do_not_count(spoilt):
    for name, of_fire in ((CERTIFICATE, False), (REPORT, True)):
        files = dict(tiny().material_files)
        if spoilt is None:
            del files[name]
        else:
            files[name] = replace(files[name], **spoilt)
        found = facts(files=files)
        told = (found.fire_report, found.fire_until, found.fire_kind) if of_fire else (found.certificate, found.certificate_until)
        assert set(told) == {None}


def test_one_byte_is_enough_of_a_file():
    files = {name: replace(file, size_bytes=1) for name, file in tiny().material_files.items()}
    assert (facts(files=files).certificate, facts(files=files).fire_kind) == ("C-petg (EN 10204 3.1)", "report")


def test_on_a_fleet_that_nobody_knows_no_paper_answers():
    """What the fire standard asks depends on the vehicle, so even a statement leaves the question unknown."""
    for statement in (None, STATEMENT):
        found = facts(fleet="Z9", statement=statement)
        assert (found.fire_set, found.fire_need, found.fire_until) == (None, None, None)


def test_a_material_without_papers_has_none():
    found = facts(certificates=(), fire_tests=())
    assert (found.certificate, found.certificate_until, found.fire_kind, found.fire_until) == (None,) * 4


def test_of_an_unknown_material_no_paper_counts():
    part = FOLDER.part.model_copy(update={"material": "gone"})
    case = Case(folder=FOLDER, part=part, catalogue=tiny(), history=history(None, DAY), copy=Copy(DAY, 30), bound={}, problems=())
    found = papers(case, Fit(fleet="A1", place="cab", per_vehicle=2))
    assert (found.certificate, found.fire_kind, found.fire_set) == (None, None, "known")
