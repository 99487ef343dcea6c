"""What the overview says of the tiny depot, and what each stage lacks."""

import hashlib
from datetime import date
from pathlib import Path

import pytest

from generator.pages.approvals.page import forecast_words, stands_line, stands_words
from generator.pages.wording import wording
from generator.planning.overview import Lapsing, Missing, overview
from generator.rules.history import Holder, Stage
from tests.fixtures.tiny import sheets

DAY = date(2026, 11, 25)


def rows(depot: Path, day: date = DAY) -> dict:
    return {row.sheet.number: row for row in overview(sheets(depot, day)[0], day)}


def test_approved_parts_need_nothing_and_have_no_forecast(depot):
    row = rows(depot)["EX-0001"]
    assert (row.stage, row.holder, row.missing, row.forecast) == (Stage.APPROVED, Holder.NOBODY, (), None)


@pytest.mark.parametrize(
    ("day", "window", "left"),
    [
        (date(2026, 12, 31), None, None),
        (date(2027, 1, 1), 180, 180),
        (date(2027, 4, 1), 90, 90),
        (date(2027, 4, 2), 90, 89),
        (date(2027, 5, 31), 30, 30),
        (date(2027, 6, 30), 30, 0),
        (date(2027, 7, 1), 30, -1),
    ],
)
def test_an_approval_lapses_within_its_window(depot, day, window, left):
    """The approval of EX-0001 is good until 30 June 2027."""
    lapses = [lapse for lapse in rows(depot, day)["EX-0001"].lapses if lapse.what is Lapsing.APPROVAL]
    assert [(lapse.window_days, lapse.days_left) for lapse in lapses] == ([(window, left)] if window else [])


def test_a_lapsed_approval_is_the_specialists_to_renew(depot):
    row = rows(depot, date(2027, 7, 1))["EX-0001"]
    assert (row.stage, row.holder, row.missing) == (Stage.LAPSED, Holder.SPECIALIST, (Missing.RENEWAL,))
    assert row.waited_days == 0, "it lapsed today, whenever it was approved"


def test_nobody_knows_since_when_a_part_is_changed(depot):
    part = depot / "parts/EX-0001-lid-knob/part.yml"
    part.write_text(part.read_text("utf-8").replace("layer_mm: 0.2", "layer_mm: 0.3"), "utf-8")
    row = rows(depot)["EX-0001"]
    assert (row.stage, row.waited_days) == (Stage.CHANGED, None)


def test_a_trial_lapses_and_the_part_is_still_on_its_way(depot):
    row = rows(depot)["EX-0003"]
    assert row.stage is Stage.PROTOTYPE
    assert row.holder is Holder.SPECIALIST
    assert Lapsing.TRIAL in {lapse.what for lapse in row.lapses}
    assert row.forecast is not None


def test_a_record_with_mistakes_is_given_no_day(depot):
    """What its route is nobody can read, and a guessed one gave a day all the same; of the parts beside it the day is told as before."""
    before = rows(depot)["EX-0003"]
    record = depot / "parts/EX-0003-hose-clip/approval.yml"
    record.write_text(f"{record.read_text('utf-8')}\nroute: [\n", "utf-8")
    row = rows(depot)["EX-0003"]
    assert before.forecast is not None
    assert (row.forecast, row.missing) == (None, (Missing.MEND_RECORD,))
    w = wording("en")
    assert "mistakes" in forecast_words(row, w)
    assert stands_words(row, w) == stands_line(row, w) == w("approvals.stands_unread")
    assert stands_line(before, w).startswith(stands_words(before, w))
    assert w.term("route", row.sheet.history.route) in stands_words(before, w)


def with_events(depot: Path, *events: str, route: str = "customer") -> None:
    record = depot / "parts/EX-0003-hose-clip/approval.yml"
    judges = {"customer acceptance given": "keeper"}
    lines = "".join(
        f"  - {{on: {on}, what: {what}, by: {judges.get(what, 'specialist')}{more}}}\n"
        for on, what, more in map(split, events)
    )
    record.write_text(f"route: {route}\nevents:\n{lines}", encoding="utf-8")


def split(event: str) -> tuple[str, str, str]:
    on, what, *more = event.split("|")
    return on, what, "".join(f", {each}" for each in more)


UNTIL_DOCUMENTS = ("2026-01-10|prototype printed", "2026-02-01|customer acceptance given")


def test_a_part_at_its_documents_is_told_each_missing_one(depot):
    with_events(depot, *UNTIL_DOCUMENTS)
    (depot / "parts/EX-0003-hose-clip/fitting.md").unlink()
    row = rows(depot)["EX-0003"]
    assert row.stage is Stage.DOCUMENTS
    assert {Missing.DRAWING, Missing.FITTING_NOTES, Missing.SCREENING} <= set(row.missing)
    assert Missing.SEND_TO_REVIEW not in row.missing


def test_documents_are_completed_before_they_are_sent_and_the_technical_review_comes_first(depot, monkeypatch):
    monkeypatch.setattr("generator.planning.overview.missing_documents", lambda _: ())
    with_events(depot, *UNTIL_DOCUMENTS)
    assert rows(depot)["EX-0003"].missing == (Missing.COMPLETE_DOCUMENTS,)
    with_events(depot, *UNTIL_DOCUMENTS, "2026-03-01|documents complete")
    assert rows(depot)["EX-0003"].missing == (Missing.SEND_TO_REVIEW,)


@pytest.mark.parametrize(
    ("events", "stage", "holder", "missing"),
    [
        ((), Stage.DESIGN, Holder.SPECIALIST, Missing.PROTOTYPE),
        (("2026-01-10|prototype printed",), Stage.PROTOTYPE, Holder.SPECIALIST, Missing.SEND_FOR_ACCEPTANCE),
        (
            ("2026-01-10|prototype printed", "2026-01-11|sent for customer acceptance"),
            Stage.ACCEPTANCE, Holder.CUSTOMER, Missing.CUSTOMER_ANSWER,
        ),
        (
            (*UNTIL_DOCUMENTS, "2026-03-01|documents complete", "2026-03-02|sent to technical review"),
            Stage.TECHNICAL_REVIEW, Holder.CUSTOMER, Missing.CUSTOMER_ANSWER,
        ),
        (
            (*UNTIL_DOCUMENTS, "2026-03-01|documents complete", "2026-03-02|sent to technical review",
             "2026-04-01|question asked|question: how heavy"),
            Stage.TECHNICAL_REVIEW, Holder.SPECIALIST, Missing.ANSWER_QUESTION,
        ),
    ],
)  # fmt: skip
def test_each_stage_has_its_holder_and_its_next_move(depot, events, stage, holder, missing):
    with_events(depot, *events) if events else (depot / "parts/EX-0003-hose-clip/approval.yml").write_text(
        "route: customer\n"
    )
    row = rows(depot)["EX-0003"]
    assert (row.stage, row.holder, row.missing[-1]) == (stage, holder, missing)


SUBMITTED = (*UNTIL_DOCUMENTS, "2026-03-01|documents complete", "2026-03-02|sent to technical review")


@pytest.mark.parametrize("more", [(), ("2026-04-01|question asked|question: how heavy",)])
def test_what_a_reviewer_does_not_find_is_missing_until_it_is_there(depot, more):
    with_events(depot, *SUBMITTED, *more)
    assert {Missing.DRAWING, Missing.SCREENING, Missing.ACCEPTANCE_EVIDENCE} < set(rows(depot)["EX-0003"].missing)
    documents = depot / "parts/EX-0003-hose-clip/documents"
    documents.mkdir(exist_ok=True)
    (documents / "Zeichnung-1002.txt").write_text("20 × 20", "utf-8")
    assert Missing.DRAWING not in rows(depot)["EX-0003"].missing


MINUTES = "|evidence: [{file: documents/minutes.txt, sha256: %s}]" % ("a" * 64)


@pytest.mark.parametrize(("events", "is_missing"), [
    (("2026-01-10|prototype printed",), False),
    (UNTIL_DOCUMENTS, True),
    (("2026-01-10|prototype printed", f"2026-02-01|customer acceptance given{MINUTES}"), False),
    ((*SUBMITTED, f"2026-03-03|customer acceptance given{MINUTES}"), False),
    ((UNTIL_DOCUMENTS[0], f"2026-02-01|customer acceptance given{MINUTES}", "2026-02-02|prototype printed", "2026-02-03|customer acceptance given"), True),
])  # fmt: skip
def test_an_acceptance_without_its_paper_is_asked_for_since_the_last_prototype(depot, events, is_missing):
    with_events(depot, *events)
    folder = depot / "parts/EX-0003-hose-clip"
    (folder / "documents").mkdir(exist_ok=True)
    (folder / "documents/minutes.txt").write_bytes(b"tried and liked")
    record = folder / "approval.yml"
    record.write_text(record.read_text().replace("a" * 64, hashlib.sha256(b"tried and liked").hexdigest()))
    row = rows(depot)["EX-0003"]
    assert (Missing.ACCEPTANCE_EVIDENCE in row.missing) is is_missing
    assert Missing.MEND_RECORD not in row.missing


def test_a_paper_of_the_acceptance_that_comes_later_takes_nothing_back_from_review(depot):
    with_events(depot, *SUBMITTED, f"2026-03-03|customer acceptance given{MINUTES}")
    assert (rows(depot)["EX-0003"].stage, rows(depot)["EX-0003"].waited_days) == (Stage.TECHNICAL_REVIEW, 268)
    with_events(depot, *SUBMITTED, "2026-03-03|customer acceptance given")
    assert rows(depot)["EX-0003"].stage is Stage.DOCUMENTS


def test_an_open_question_is_shown(depot):
    with_events(
        depot, *UNTIL_DOCUMENTS, "2026-03-01|documents complete", "2026-03-02|sent to technical review",
        "2026-04-01|question asked|question: how heavy",
    )  # fmt: skip
    assert rows(depot)["EX-0003"].question == "how heavy"


def test_a_broken_record_comes_first(depot):
    with_events(depot, "2026-01-10|approved by magic")
    assert rows(depot)["EX-0003"].missing == (Missing.MEND_RECORD,)


def test_the_longest_wait_comes_first_within_a_stage(depot):
    listed = [row for row in rows(depot).values() if row.stage is Stage.APPROVED]
    waits = [row.waited_days for row in listed]
    assert waits == sorted(waits, reverse=True)
