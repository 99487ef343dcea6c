"""A paper that nobody can open is handed in: every command refuses it in one sentence and writes nothing."""

import pytest

from tests.edge.conftest import bytes_of
from tests.fixtures.pdf import pdf
from tests.reading.sealed_pdfs import kept

GOOD = pdf()
PAPERS = {
    "cut": (GOOD[:-60], "it ends before its end"),
    "without pages": (GOOD.replace(b"[3 0 R]/Count 1", b"[     ]/Count 0"), "there is no page in it"),
    "locked": (GOOD.replace(b"/Root 1 0 R", b"/Root 1 0 R/Encrypt 9 0 R"), "it is encrypted"),
}
LOT = ("lot", "receive", "--material", "petg", "--supplier-lot", "PG 9", "--grams", "5000", "--type", "3.1", "--reference", "IC-9", "--issued-on", "2026-01-02", "--by", "fitter")
COMMANDS = {
    "a lot": (*LOT, "--document"),
    "a lot, compared by eye": (*LOT, "--compared", "--document"),
    "an event of an approval": ("record", "EX-0001", "reminder sent", "--by", "keeper", "--evidence"),
    "a letter of before": (
        "take-over", "EX-0001", "--letter-of", "2019-03-17", "--approved-by", "technical office of the keeper", "--approver", "customer", "--reference", "A-17",
        "--scope", "A1:11-14:cab", "--until", "2028-12-31", "--by", "specialist", "--letter",
    ),
}  # fmt: skip


@pytest.mark.parametrize("paper", PAPERS)
def test_it_is_refused_in_one_sentence(depot, spares, paper):
    content, why = PAPERS[paper]
    (depot / "cert.PDF").write_bytes(content)
    before = bytes_of(depot / "catalogue")
    code, out, err = spares(*COMMANDS["a lot"], "cert.PDF")
    assert (code, out, err.count("spares: ")) == (1, "", 1)
    assert f"cert.PDF is not taken: {why}" in err
    assert bytes_of(depot / "catalogue") == before


@pytest.mark.parametrize("command", COMMANDS)
def test_by_every_command_that_takes_papers(depot, spares, command):
    (depot / "cert.pdf").write_bytes(PAPERS["without pages"][0])
    code, _, err = spares(*COMMANDS[command], "cert.pdf")
    assert (code, "cert.pdf is not taken: there is no page in it" in err) == (1, True), err


SEALED = next(content for _, content, opens in kept() if opens)


@pytest.mark.parametrize(
    "content",
    [GOOD, GOOD + bytes(2000), b"\xff\xd8\xff scanned", SEALED],
    ids=["whole", "with something behind its end", "no PDF", "locked against changes alone"],
)
def test_what_can_be_opened_is_not_stopped_here(depot, spares, content):
    (depot / "cert.pdf").write_bytes(content)
    _, _, err = spares(*COMMANDS["a lot, compared by eye"], "cert.pdf")
    assert "is not taken" not in err
