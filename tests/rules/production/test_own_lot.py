"""The answer for a piece cites the papers of its own lots, and what stands now; never those of another lot."""

from dataclasses import replace
from datetime import date

import pytest

from generator.pages.evidence import files_behind
from generator.pages.part.pieces import plain_piece
from generator.pages.wording import wording
from generator.rules.facts.case import Copy
from generator.rules.facts.fields import PieceFacts
from generator.rules.production.piece import UNKNOWN
from generator.rules.sheet import sheet
from generator.rules.verdicts import judged
from tests.fixtures.production import depot
from tests.fixtures.tiny import DAY

MATERIAL = {"certificate": "TR 24-3318, lot P-0907", "certificate_files": ("materials/documents/p-0907.pdf",)}
OWN = PieceFacts(piece="known", piece_batch="B-1", piece_papers=("3.1 IC 88 (K 131)",), piece_files=("materials/lots/documents/L-1.pdf",))
BARE = PieceFacts(piece=None, piece_batch="B-1", piece_unpapered="none")


@pytest.fixture(scope="module")
def sound():
    catalogue = depot(batches={})
    return sheet(catalogue.parts[0], None, catalogue, Copy(DAY, 30)).grounds[0].permits[0]


def facts_of(case_facts, piece):
    return replace(case_facts, **MATERIAL).of_piece(piece)


@pytest.mark.parametrize("language", ["en", "de", "da"])
@pytest.mark.parametrize(
    ("piece", "cites"),
    [(OWN, "IC 88 (K 131)"), (BARE, ""), (PieceFacts(piece="any"), "P-0907"), (PieceFacts(), "P-0907"), (UNKNOWN, "P-0907")],
)
def test_the_certificates_question_cites_the_own_lot_alone(piece, cites, language, sound):
    w, facts = wording(language), facts_of(sound, piece)
    taken = next(each for each in judged(facts, DAY).steps if each.step.id == "certificate")
    assert taken.outcome == ("unknown" if piece is BARE else "passed")
    told = w(f"steps.certificate.{taken.outcome}", **facts.text)
    assert told.strip()
    assert cites in told
    assert ("P-0907" in told) == (cites == "P-0907")
    files = files_behind("certificate", facts)
    assert ("materials/documents/p-0907.pdf" in files) == (cites == "P-0907")
    assert ("materials/lots/documents/L-1.pdf" in files) == (piece is OWN)


@pytest.mark.parametrize("piece", [OWN, BARE, PieceFacts(piece="any"), UNKNOWN])
def test_the_tablet_is_told_the_same(piece, sound):
    """The page lays what is known of a piece over the facts of any piece, as the command does."""
    base = {key: list(value) if isinstance(value, tuple) else value for key, value in replace(sound, **MATERIAL).text.items()}
    laid = base | plain_piece(UNKNOWN) | plain_piece(piece)
    told = {key: list(value) if isinstance(value, tuple) else value for key, value in facts_of(sound, piece).text.items()}
    assert laid == told


@pytest.mark.parametrize(
    ("piece", "says"),
    [
        (PieceFacts(piece="known", piece_recalled_on=date(2026, 10, 12), piece_recalled_for="x", piece_recall="RC-1", piece_lot="L-1"), "Called back on 12 Oct 2026: x (recall RC-1), material lot L-1"),
        (PieceFacts(piece="known", piece_recalled_on=date(2026, 10, 12), piece_recalled_for="x", piece_blocked="L-1"), "Material lot L-1 blocked on 12 Oct 2026: x"),
    ],
)
def test_what_stops_a_piece_is_called_what_it_is(piece, says, sound):
    assert wording("en")("steps.piece_recalled.failed", **sound.of_piece(piece).text) == says
