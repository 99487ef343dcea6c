"""What the approver relied on is exchanged afterwards, and every record is told of the new file: not fitted."""

import shutil

import pytest

from tests.attacks import approval_depot as depot
from tests.attacks.approval_depot import CAP, KNOB, folder, history, kept, makers, material, refuses


def for_the_knob(record, key, kind="fire_tests", **changes):
    """Changes one paper of the material, or all of them."""
    for paper in (
        record[kind] if key is None else [one for one in record[kind] if one.get("requirement_set") == key]
    ):
        paper.update(changes)


# Papers of the material


def another_file(catalogue, kind, key=None):
    with material(catalogue) as record:
        paper = kept(catalogue / "materials", "documents/other-paper.txt", f"Some other {kind}.\n")
        for_the_knob(record, key, kind, **paper)


def same_name_other_bytes(catalogue):
    with material(catalogue) as record:
        paper = next(one for one in record["fire_tests"] if one["requirement_set"] == "R22")
        paper.update(kept(catalogue / "materials", paper["file"], "The laboratory's report, typed anew.\n"))


def of_another_material(catalogue, kind):
    with material(catalogue, "pc-fr-black") as other:
        theirs = other[kind]
    with material(catalogue) as record:
        if kind == "certificates":
            record[kind] = theirs
        else:
            for paper in record[kind]:
                paper.update({name: theirs[0][name] for name in ("file", "sha256")})


def fire_report_as_certificate(catalogue, renamed=False):
    papers = catalogue / "materials"
    with material(catalogue) as record:
        report = next(one for one in record["fire_tests"] if one["requirement_set"] == "R22")
        file = report["file"]
        if renamed:
            file = "documents/inspection-certificate-3-1.pdf"
            shutil.copy(papers / report["file"], papers / file)
        for paper in record["certificates"]:
            paper.update(file=file, sha256=report["sha256"])


def fields(kind, key=None, **changes):
    def mutate(catalogue):
        with material(catalogue) as record:
            for_the_knob(record, key, kind, **changes)

    return mutate


def only_new_papers(catalogue, kind):
    """A newer paper was filed beside the old one, then the one that the approver saw was tidied away."""
    with material(catalogue) as record:
        new = [
            dict(one) | kept(catalogue / "materials", f"documents/{i}.txt", f"New {i}\n")
            for i, one in enumerate(record[kind])
        ]
        for paper in new:
            paper["issued_on" if kind == "certificates" else "tested_on"] = "2026-06-01"
        record[kind] = new


PAPER_CASES = {
    "the fire report is another file": (lambda c: another_file(c, "fire_tests", "R22"), "fire"),
    "all fire reports are another file": (lambda c: another_file(c, "fire_tests"), "fire"),
    "the fire report has its name and other bytes": (same_name_other_bytes, "fire"),
    "another laboratory": (fields("fire_tests", "R22", laboratory="Backyard oven"), "fire|laborator"),
    "another number of the report": (fields("fire_tests", "R22", report="VPL 1-99"), "fire|report"),
    "a thinner plate was tested, it says now": (fields("fire_tests", "R22", thickness_mm=0.4), "fire|thick"),
    "a higher hazard level, it says now": (fields("fire_tests", "R22", hazard_level="HL3"), "fire|hazard"),
    "an older edition of the standard": (
        fields("fire_tests", "R22", standard="EN 45545-2:2013"),
        "fire|standard",
    ),
    "the report lasts longer now": (fields("fire_tests", "R22", valid_until="2049-12-31"), "fire|last"),
    "the report has no end now": (
        fields("fire_tests", "R22", valid_until=None, open_ended=True),
        "fire|last|end",
    ),
    "the report of another material": (lambda c: of_another_material(c, "fire_tests"), "fire"),
    "only newer reports are left": (lambda c: only_new_papers(c, "fire_tests"), "fire"),
    "the certificate is another file": (lambda c: another_file(c, "certificates"), "certificate"),
    "a declaration 2.1 in its place": (fields("certificates", type="2.1"), "2\\.1|certificate"),
    "a test report 2.2 in its place": (fields("certificates", type="2.2"), "2\\.2|certificate"),
    "a stronger type, it says now": (fields("certificates", type="3.2"), "3\\.2|certificate"),
    "another lot": (fields("certificates", reference="LS 99-001, powder Z"), "certificate|LS 99"),
    "an older certificate, it says now": (fields("certificates", issued_on="2001-01-01"), "certificate"),
    "another material's certificates": (lambda c: of_another_material(c, "certificates"), "certificate"),
    "the fire report filed as certificate": (fire_report_as_certificate, "certificate"),
    "the fire report under a certificate's name": (
        lambda c: fire_report_as_certificate(c, renamed=True),
        "certificate",
    ),
    "only newer certificates are left": (lambda c: only_new_papers(c, "certificates"), "certificate"),
}


@pytest.mark.parametrize("case", PAPER_CASES)
def test_a_paper_of_the_material_that_was_exchanged_is_not_fitted(demo, case):
    catalogue = demo()
    mutate, says = PAPER_CASES[case]
    mutate(catalogue)
    refuses(catalogue, says)


def test_two_materials_that_exchange_their_certificates(demo):
    catalogue = demo(KNOB, CAP)
    with material(catalogue) as first, material(catalogue, "pc-fr-black") as second:
        first["certificates"], second["certificates"] = second["certificates"], first["certificates"]
    refuses(catalogue, "certificate", KNOB)
    refuses(catalogue, "certificate", CAP)


def test_two_materials_that_exchange_their_files_on_disk(demo):
    # each record keeps its names; each is told what lies under them now
    catalogue = demo(KNOB, CAP)
    papers = catalogue / "materials"
    with material(catalogue) as first, material(catalogue, "pc-fr-black") as second:
        for ours, theirs in zip(first["fire_tests"], second["fire_tests"], strict=False):
            one, two = (papers / ours["file"]).read_bytes(), (papers / theirs["file"]).read_bytes()
            ours.update(kept(papers, ours["file"], two))
            theirs.update(kept(papers, theirs["file"], one))
    refuses(catalogue, "fire", KNOB)


def test_one_certificate_serves_two_materials_of_different_families(demo):
    catalogue = demo(KNOB, CAP)
    with material(catalogue) as first, material(catalogue, "pc-fr-black") as second:
        second["certificates"] = first["certificates"]
    refuses(catalogue, "certificate", CAP)


@pytest.mark.parametrize(
    ("field", "value"), [("supplier", "Backyard resins"), ("grade", "recycled, unnamed")]
)
def test_a_supplier_or_grade_that_is_changed_under_the_same_id(demo, field, value):
    catalogue = demo()
    with material(catalogue) as record:
        record[field] = "as it was when it was approved"
    with history(catalogue) as record:
        depot.cut(record, "documents complete")
    depot.walk(catalogue, names=["documents complete", "sent to technical review"])
    answer = depot.approve(catalogue)
    assert answer.returncode == 0, answer.stdout + answer.stderr
    depot.fits(catalogue)
    with material(catalogue) as record:
        record[field] = value
    refuses(catalogue, field)


# Makers


def maker(number=None, **changes):
    def mutate(catalogue):
        with makers(catalogue) as record:
            for one in record["makers"]:
                if number in (None, one["id"]):
                    one.update(changes)

    return mutate


def exchanged(first, second, *names):
    def mutate(catalogue):
        with makers(catalogue) as record:
            one, two = (next(m for m in record["makers"] if m["id"] == name) for name in (first, second))
            for name in names:
                one[name], two[name] = two[name], one[name]

    return mutate


MAKER_CASES = {
    "another firm under the same id": maker("bench-A", name="Kitchen-table print shop"),
    "the bench became a bureau": maker("bench-A", kind="bureau"),
    "another process": maker("bench-A", process="material jetting"),
    "two that exchange names": exchanged("bench-A", "bench-B", "name"),
    "two that exchange ids": exchanged("bench-A", "bench-B", "id"),
    "three that exchange all but their ids": exchanged(
        "bench-A", "sinter-bureau-north", "name", "kind", "process"
    ),
    "another machine, noted as such": maker("bench-A", machine_model="Open frame, unheated"),
}


@pytest.mark.parametrize("case", MAKER_CASES)
def test_a_maker_that_became_another_is_not_fitted(demo, case):
    catalogue = demo(CAP)
    if case == "another machine, noted as such":
        maker("bench-A", machine_model="Enclosed, 70 °C chamber")(catalogue)
        with history(catalogue, CAP) as record:
            depot.cut(record, "documents complete")
        depot.walk(catalogue, CAP, names=["documents complete", "sent to technical review"])
        answer = depot.approve(catalogue, "--despite-warnings", number=CAP)
        assert answer.returncode == 0, answer.stdout + answer.stderr
        depot.fits(catalogue, CAP)
    MAKER_CASES[case](catalogue)
    refuses(catalogue, "maker|bench|process|machine", CAP)


# Drawing, minutes, answers and photos


@pytest.mark.parametrize(
    ("file", "says"),
    [
        ("documents/drawing.pdf", "drawing"),
        ("documents/acceptance-minutes.pdf", "minutes|acceptance"),
        ("documents/review-answer.pdf", "answer"),
        ("documents/review-question.pdf", "question"),
    ],
)
def test_a_document_of_the_way_that_is_another_file_is_not_fitted(demo, file, says):
    catalogue = demo()
    depot.again(catalogue, KNOB, file, f"Something else than {file}.\n")
    refuses(catalogue, says)


def test_the_drawing_of_another_part_under_the_same_name(demo):
    catalogue = demo(KNOB, CAP)
    depot.again(
        catalogue,
        KNOB,
        "documents/drawing.pdf",
        (folder(catalogue, CAP) / "documents/drawing.pdf").read_bytes(),
    )
    refuses(catalogue, "drawing")


def test_the_drawing_is_no_longer_named_by_any_event(demo):
    catalogue = demo()
    (folder(catalogue) / "documents/drawing.pdf").unlink()
    with history(catalogue) as record:
        del depot.what(record, "documents complete")["evidence"]
    refuses(catalogue, "drawing|documents complete")


def test_photos_exchanged_between_two_parts(demo):
    catalogue = demo()
    (other,) = depot.DEMO.glob("parts/TV-0292-*/photos/fitted.webp")
    shutil.copy(other, folder(catalogue) / "photos/fitted.webp")
    refuses(catalogue, "photo|fitted.webp")


def test_two_photos_of_one_part_that_exchange_their_names(demo):
    catalogue = demo()
    photos = folder(catalogue) / "photos"
    one, two = (photos / name for name in ("fitted.webp", "broken-original.webp"))
    first, second = one.read_bytes(), two.read_bytes()
    one.write_bytes(second)
    two.write_bytes(first)
    refuses(catalogue, "photo|fitted.webp")


def test_a_photo_taken_away(demo):
    catalogue = demo()
    (folder(catalogue) / "photos/fitted.webp").unlink()
    refuses(catalogue, "photo|fitted.webp")
