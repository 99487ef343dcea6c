"""What keeps a place free lifts, releases, measures and proves nothing; what stops pieces stops them without a reason, too.

Told from the side of one who writes the records by hand.
"""

from dataclasses import replace

import pytest

from generator.reading.production_checks import faults_in
from generator.records.lots import Blocked, Compared, Lot, Unblocked
from generator.records.problems import Severity
from generator.records.recalls import CalledBack, Lifted, Recall
from generator.rules.production.checked import found
from generator.rules.production.doubts import doubts_of
from generator.rules.verdicts import Verdict
from tests.fixtures.prints import BATCH, LOT, batch_of, of_piece, printed_catalogue, with_production
from tests.rules.production.test_releasing import GOOD, measured, released, scrapped

NOTHING = ["n/a", "ingen", "Folgt.", "see file", "<…>"]


def told(file, catalogue):
    """What is said of a file, by its place there."""
    numbers = {each.number for each in catalogue.parts}
    return {(each.path, each.code, each.key, each.severity) for _, _, found in faults_in([file], catalogue, numbers) for each in found}


def says(path, key):
    return {(path, "BLANK01", key, Severity.WARNING if key == "stands" else Severity.ERROR)}


def of_batch(*events):
    batch = batch_of(events=events)
    catalogue = with_production(printed_catalogue(), batches={BATCH: batch})
    return catalogue, told(f"batches/{BATCH}.yml", catalogue)


def recalled(*whys):
    kinds = (CalledBack, Lifted)
    events = (kinds[at % 2](what=("called back", "lifted")[at % 2], on=f"2026-03-{at + 1:02}", by="keeper", why=why) for at, why in enumerate(whys))
    catalogue = with_production(printed_catalogue(), recalls={"RC-0001": Recall(batch=BATCH, events=tuple(events))})
    return of_piece(catalogue).verdict, told("recalls/RC-0001.yml", catalogue)


def of_lot(*events, **changed):
    lot = printed_catalogue().production.lots[LOT]
    lot = Lot.model_validate(lot.model_copy(update={"events": (*lot.events, *events), **changed}))
    catalogue = with_production(printed_catalogue(), lots={LOT: lot})
    return catalogue, told(f"materials/lots/{LOT}.yml", catalogue)


@pytest.mark.parametrize("why", NOTHING)
def test_a_recall_is_lifted_with_a_reason_alone(why):
    assert recalled("cracks", why) == (Verdict.DO_NOT_FIT, says(("events", 1, "why"), "void"))
    assert recalled("cracks", "tested, holds") == (Verdict.FIT_IT, set())


def test_a_recall_without_a_reason_stops_all_the_same():
    assert recalled("n/a") == (Verdict.DO_NOT_FIT, says(("events", 0, "why"), "stands"))


def test_a_lifting_that_counts_may_follow_one_that_does_not():
    events = (
        CalledBack(what="called back", on="2026-03-01", by="keeper", why="cracks"),
        Lifted(what="lifted", on="2026-03-02", by="keeper", why="-"),
        Lifted(what="lifted", on="2026-03-03", by="keeper", why="tested, holds"),
    )
    catalogue = with_production(printed_catalogue(), recalls={"RC-0001": Recall(batch=BATCH, events=events)})
    assert told("recalls/RC-0001.yml", catalogue) == says(("events", 1, "why"), "void")
    assert of_piece(catalogue).verdict is Verdict.FIT_IT


@pytest.mark.parametrize("why", NOTHING)
def test_a_lot_is_unblocked_with_a_reason_alone(why):
    block = Blocked(what="blocked", on="2026-03-01", by="keeper", why=why)
    at = len(printed_catalogue().production.lots[LOT].events)
    for end, verdict, ends in ((why, Verdict.DO_NOT_FIT, says(("events", at + 1, "why"), "void")), ("tested anew, report 12", Verdict.FIT_IT, set())):
        catalogue, problems = of_lot(block, Unblocked(what="unblocked", on="2026-03-02", by="keeper", why=end))
        assert of_piece(catalogue).verdict is verdict
        assert problems == says(("events", at, "why"), "stands") | ends


@pytest.mark.parametrize("gauge", [*NOTHING, "0", "by eye"])
def test_what_was_measured_with_no_gauge_releases_nothing(gauge):
    catalogue, problems = of_batch(measured(*GOOD, gauge=gauge), released())
    assert problems >= says(("events", 0, "checks", 0, "gauge"), "void")
    assert of_piece(catalogue).verdict is not Verdict.FIT_IT
    assert found(catalogue.production.batches[BATCH]).measured == {}


def test_a_gauge_of_digits_is_one():
    assert of_piece(of_batch(measured(*GOOD, gauge="07"), released())[0]).verdict is Verdict.FIT_IT


def test_a_gauge_that_nobody_names_clears_no_piece_and_speaks_against_it_all_the_same():
    out = measured(6.02, 6.5, 6.03, 6.05, gauge="n/a")
    batch = batch_of(events=[measured(6.02, 6.5, 6.03), measured(*GOOD, gauge="n/a")])
    assert found(batch).out == ("Bore",)
    assert found(batch_of(events=[out])).out == ("Bore",)


@pytest.mark.parametrize("value", [-38.5, 0.0, -0.001])
def test_no_piece_measures_nothing_or_less(value):
    _, problems = of_batch(measured(6.02, value, 6.03, 6.05))
    assert (("events", 0, "checks", 0, "values_mm", 1), "BATCH03", "no length", Severity.ERROR) in problems


@pytest.mark.parametrize(("until", "is_long"), [("2031-01-01", False), ("2036-01-01", True), ("2206-01-01", True)])
def test_a_gauge_calibrated_for_more_than_five_years_is_told_and_counts(until, is_long):
    """The day is common practice, no source: of a mistyped year the measurement is none the worse."""
    event = measured(*GOOD)
    event["checks"][0]["calibrated_until"] = until
    catalogue, problems = of_batch(event, released())
    told = (("events", 0, "checks", 0, "calibrated_until"), "BATCH03", "calibrated long", Severity.WARNING)
    assert (told in problems) == is_long
    assert of_piece(catalogue).verdict is Verdict.FIT_IT


@pytest.mark.parametrize("why", NOTHING)
def test_a_release_that_accepts_a_doubt_says_why(why):
    catalogue, problems = of_batch(measured(*GOOD), released(accepts=why))
    assert problems >= says(("events", 1, "accepts"), "void")
    assert of_piece(catalogue).verdict is not Verdict.FIT_IT


def test_what_is_scrapped_without_a_reason_is_counted_and_told():
    catalogue, problems = of_batch(measured(*GOOD), released(), scrapped(1, on="2026-02-14") | {"why": "n/a"})
    assert problems == says(("events", 2, "why"), "unsaid")
    assert found(catalogue.production.batches[BATCH]).left == catalogue.production.batches[BATCH].count - 1


def test_a_rejection_without_a_reason_stands():
    catalogue, problems = of_batch(measured(*GOOD), released(), {"on": "2026-02-20", "what": "rejected", "by": "keeper", "why": "?"})
    assert problems >= says(("events", 2, "why"), "stands")
    assert of_piece(catalogue).verdict is Verdict.DO_NOT_FIT


@pytest.mark.parametrize("key", ["reference", "lot"])
def test_a_document_without_a_number_proves_no_lot(key):
    [paper] = printed_catalogue().production.lots[LOT].inspection_documents
    named = {"supplier_lot": "n/a"} if key == "lot" else {}
    catalogue, problems = of_lot(inspection_documents=(paper.model_copy(update={key: "n/a"}),), **named)
    assert problems >= says(("inspection_documents", 0, key), "void")
    assert "lot document" in doubts_of(BATCH, catalogue.production.batches[BATCH], catalogue)


def test_a_comparison_with_no_document_is_none():
    lot = printed_catalogue().production.lots[LOT]
    [paper] = lot.inspection_documents
    for reference, doubts in (("n/a", {"lot document not compared"}), ("IC-1", set())):
        catalogue, _ = of_lot(Compared(what="compared", on="2026-02-01", by="keeper", reference=reference, sha256=paper.sha256))
        catalogue = replace(catalogue, production=replace(catalogue.production, named={}))
        lot = catalogue.production.lots[LOT]
        plain = lot.model_copy(update={"events": tuple(each for each in lot.events if not isinstance(each, Compared) or each.reference == reference)})
        catalogue = with_production(catalogue, lots={LOT: plain})
        assert set(doubts_of(BATCH, catalogue.production.batches[BATCH], catalogue)) == doubts
