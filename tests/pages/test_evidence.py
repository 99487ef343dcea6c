"""Each question of *Why* shows the files behind it, and every address leads to a file of the site."""

from dataclasses import fields

from generator.pages.addresses import addresses
from generator.pages.evidence import FILES, files_behind, open_files
from generator.pages.part.offered import copies, offered_papers, paper_pages
from generator.pages.wording import wording
from generator.reading.catalogue import read_catalogue
from generator.rules.facts.fields import Facts
from generator.rules.verdicts import TABLE
from tests.fixtures.tiny import KNOB, sheets

W = wording("en")
LETTER = "parts/EX-0001-lid-knob/documents/approval-letter.txt"
RENEWAL = """\
  - {on: 2026-03-01, what: renewed, by: reviewer, valid_until: 2028-06-30, evidence: [{file: documents/acceptance.txt,
     sha256: "2d4d45a60c2d8ce5161de5a7cc63c815f841cfc30689593f89be716b163f644d"}]}
"""


def knob(depot):
    (sheet,) = [each for each in sheets(depot)[0] if each.number == KNOB]
    return sheet, sheet.grounds[0].permits[0]


def test_the_table_names_questions_and_facts_that_there_are():
    assert set(FILES) <= {step.id for step in TABLE}
    of_files = {field.name for field in fields(Facts) if field.name.endswith(("_files", "_letters"))}
    assert {fact for facts in FILES.values() for fact in facts} == of_files, "a fact of files that no question shows"


def test_the_letter_the_certificate_and_the_report_stand_behind_their_questions(depot):
    _, facts = knob(depot)
    assert files_behind("permit", facts) == (LETTER,)
    assert files_behind("certificate", facts) == ("materials/documents/petg-certificate.txt",)
    assert files_behind("fire_report", facts) == ("materials/documents/petg-fire.txt",)
    assert files_behind("withdrawn", facts) == files_behind("record", facts) == ()


def test_a_renewal_adds_its_letter_to_how_long_it_lasts_and_not_to_the_permit(depot):
    with (depot / "parts/EX-0001-lid-knob/approval.yml").open("a", encoding="utf-8") as record:
        record.write(RENEWAL)
    _, facts = knob(depot)
    assert files_behind("lasts", facts) == (LETTER, "parts/EX-0001-lid-knob/documents/acceptance.txt")
    assert files_behind("permit", facts) == (LETTER,)


def test_a_withdrawal_shows_its_own_letter(depot):
    line = RENEWAL.replace("renewed", "withdrawn").replace("valid_until: 2028-06-30", "reason: cracks")
    with (depot / "parts/EX-0001-lid-knob/approval.yml").open("a", encoding="utf-8") as record:
        record.write(line)
    _, facts = knob(depot)
    assert files_behind("withdrawn", facts) == ("parts/EX-0001-lid-knob/documents/acceptance.txt",)
    assert files_behind("superseded", facts) == ()


def test_every_file_that_is_kept_has_an_address_of_the_site(depot):
    catalogue = read_catalogue(depot)
    sheet, facts = knob(depot)
    stem = addresses(catalogue.parts).by_folder[sheet.folder.folder]
    told = open_files([facts], sheet.folder, stem, catalogue, W)
    assert told[LETTER].href == f"{stem}/documents/approval-letter.txt.html"
    assert told["materials/documents/petg-fire.txt"].href == "../materials/documents/petg-fire.txt.html"
    assert "materials/documents/petg-fire.txt.md" in {page.path for page in paper_pages(catalogue, W)}


def test_a_file_that_is_missing_says_so_and_leads_nowhere(depot):
    (depot / LETTER).unlink()
    catalogue = read_catalogue(depot)
    sheet, facts = knob(depot)
    told = open_files([facts], sheet.folder, "EX-0001", catalogue, W)[LETTER]
    assert (told.href, told.title) == (None, "approval-letter.txt (missing)")


def test_only_papers_that_a_material_names_are_published(depot):
    (depot / "materials/documents/price-list.pdf").write_bytes(b"%PDF-1.4\n%%EOF\n")
    (depot / "materials/documents/petg-fire.txt").write_bytes(b"\x00\x01")
    found = offered_papers(read_catalogue(depot))
    assert "materials/documents/price-list.pdf" not in found
    assert [each.path for each in copies(found.values())] == ["materials/documents/petg-fire.txt.zip"]
