"""Until when a certificate, a fire report or a fire engineer's statement counts, and which of several."""

from datetime import date, timedelta

import pytest

from generator.records.evidence import Evidence
from generator.records.fire import FireExemption
from generator.rules.lasting import FOR_EVER, LONGEST_YEARS, is_too_long, last_day, longest
from tests.rules.cases import tiny

BEGINS = date(2020, 6, 15)
PETG = tiny().materials["petg"]
PAPERS = {
    "certificate": PETG.certificates[0].model_copy(update={"issued_on": BEGINS}),
    "report": PETG.fire_tests[0].model_copy(update={"tested_on": BEGINS}),
    "statement": FireExemption(reference="N-1", by="fire-engineer", on=BEGINS, open_ended=True,
                               evidence=Evidence(file="documents/note.txt", sha256="0" * 64)),
}  # fmt: skip
THIRTY_YEARS = date(2050, 6, 15)


def paper(kind="certificate", until=None, open_ended=False):
    return PAPERS[kind].model_copy(update={"valid_until": until, "open_ended": open_ended})


def test_the_longest_that_a_paper_lasts_is_thirty_years():
    """Common practice, no source."""
    assert LONGEST_YEARS == 30


@pytest.mark.parametrize(
    ("ends", "too_long"),
    [
        (date(2049, 12, 31), False),
        (date(2050, 5, 30), False),
        (THIRTY_YEARS, False),
        (THIRTY_YEARS + timedelta(days=1), True),
        (date(2050, 7, 1), True),
        (date(2051, 1, 1), True),
    ],
    ids=str,
)
def test_thirty_years_are_counted_to_the_day(ends, too_long):
    assert is_too_long(BEGINS, ends) is too_long


@pytest.mark.parametrize("kind", PAPERS)
def test_a_paper_counts_from_its_own_day(kind):
    """A certificate from its issue, a report from its test, a statement from its signing."""
    assert last_day(paper(kind, THIRTY_YEARS)) == THIRTY_YEARS
    assert last_day(paper(kind, THIRTY_YEARS + timedelta(days=1))) is None


@pytest.mark.parametrize("kind", PAPERS)
def test_an_end_is_said_once(kind):
    assert last_day(paper(kind, date(2027, 1, 1))) == date(2027, 1, 1)
    assert last_day(paper(kind, open_ended=True)) == FOR_EVER
    assert last_day(paper(kind)) is None
    assert last_day(paper(kind, date(2027, 1, 1), open_ended=True)) is None


def test_the_paper_that_lasts_longest_counts_whatever_the_order():
    short, long = paper(until=date(2027, 1, 1)), paper(until=date(2028, 1, 1))
    assert longest([short, long]) is longest([long, short]) is long


def test_one_without_end_outlasts_all_and_one_of_unknown_end_none():
    dated, endless, unknown = paper(until=date(2028, 1, 1)), paper(open_ended=True), paper()
    assert longest([dated, endless, unknown]) is endless
    assert longest([unknown, dated]) is dated
    assert longest([unknown]) is unknown
    assert longest([]) is None
