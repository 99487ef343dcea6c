"""Tasks as they are drawn from the records of the tiny depot, spoilt in the ways that a depot's records are."""

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from generator.planning.fire_plan import ChosenTests, FirePlan
from generator.planning.overview import Lapse, Lapsing, Missing, overview
from generator.planning.today.drawn import REMINDER_HELPS, todays
from generator.planning.today.guesses import GUESSES, OwnWork
from generator.planning.today.tasks import Task, TaskKind
from generator.planning.unfit import Lack
from generator.reading.catalogue import read_catalogue
from generator.records.problems import Severity
from generator.rules.facts.case import Copy
from generator.rules.sheet import sheet
from generator.rules.verdicts import TABLE, Outcome, Taken
from tests.fixtures.prints import batch_of, printed_catalogue, with_production
from tests.fixtures.tiny import DAY, sheets
from tests.planning.test_overview import UNTIL_DOCUMENTS, with_events

CLIP = "EX-0003"


def tasks(depot: Path, day: date = DAY, plan: FirePlan | None = None) -> tuple[Task, ...]:
    return todays(sheets(depot, day)[0], read_catalogue(depot), day, plan)


def of(found, number: str) -> dict[str, Task]:
    return {task.what: task for task in found if task.number == number}


def edit(depot: Path, file: str, old: str, new: str) -> None:
    path = depot / file
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def test_a_step_of_the_way_is_what_the_overview_misses(depot):
    """`spares next` tells the same."""
    found = of(tasks(depot), CLIP)
    row = next(row for row in overview(sheets(depot)[0], DAY) if row.sheet.number == CLIP)
    assert [each.kind for each in found.values()] == [TaskKind.WAY] * len(found)
    assert set(found) >= {what.name.lower() for what in row.missing}


def test_papers_that_lack_are_pieces_of_one_chain(depot):
    with_events(depot, *UNTIL_DOCUMENTS)
    (depot / "parts/EX-0003-hose-clip/fitting.md").unlink()
    found = of(tasks(depot), CLIP)
    assert {"drawing", "fitting_notes", "screening"} <= set(found)
    assert len({task.whole_minutes for task in found.values()}) == 1, "they are of use together"
    assert len({task.value_a_week for task in found.values()}) == 1
    own = sum(task.minutes.minutes for task in found.values())
    assert found["drawing"].whole_minutes == own + GUESSES[OwnWork.DOSSIER] + GUESSES[OwnWork.SEND], "the documents are still to be completed and sent"


def test_of_a_part_without_demand_nobody_knows_and_one_counts(depot):
    worth = next(iter(of(tasks(depot), CLIP).values())).worths[CLIP]
    assert (worth.demand, worth.saving) == (None, None)
    assert worth.a_week > 0


def test_what_nobody_needs_comes_last_whatever_of_it_ends(depot):
    """A trial of it may end before its approval comes."""
    edit(depot, "parts/EX-0003-hose-clip/approval.yml", "valid_until: 2026-12-31", "valid_until: 2027-05-31")
    assert any(task.is_pressing for task in of(tasks(depot), CLIP).values())
    edit(depot, "parts/EX-0003-hose-clip/part.yml", "makers:", "yearly_demand: 0\nmakers:")
    assert tasks(depot)[-1].number == CLIP
    assert tasks(depot)[-1].value_a_week == 0


def reviewed_since(depot: Path, sent: str) -> None:
    with_events(depot, *UNTIL_DOCUMENTS, "2026-03-01|documents complete", f"{sent}|sent to technical review")


def test_somebody_is_reminded_only_once_it_takes_longer_than_usual(depot, monkeypatch):
    monkeypatch.setattr("generator.planning.overview.missing_documents", lambda _: ())
    monkeypatch.setattr("generator.planning.overview._move", lambda sheet: (wait,) if sheet.stage.value == "technical review" else ())
    wait = Missing.CUSTOMER_ANSWER
    reviewed_since(depot, (DAY - timedelta(days=60)).isoformat())
    assert not of(tasks(depot), CLIP), "common practice: three months are usual"
    reviewed_since(depot, (DAY - timedelta(days=230)).isoformat())
    found = of(tasks(depot), CLIP)["customer_answer"]
    assert (found.kind, found.minutes.minutes, found.share) == (TaskKind.REMIND, GUESSES[OwnWork.REMIND], REMINDER_HELPS)


@pytest.mark.parametrize(("ago", "told"), [(0, False), (13, False), (14, True), (229, True), (231, True)])
def test_who_was_reminded_rests_for_two_weeks_and_comes_back(depot, monkeypatch, ago, told):
    """A reminder of before it lay there counts for nothing; nothing else changes."""
    monkeypatch.setattr("generator.planning.overview.missing_documents", lambda _: ())
    monkeypatch.setattr("generator.planning.overview._move", lambda sheet: (Missing.CUSTOMER_ANSWER,) if sheet.stage.value == "technical review" else ())
    sent = (DAY - timedelta(days=230)).isoformat()
    before = sheets(reviewed(depot, sent), only=CLIP)[0][0]
    reminder = f"{(DAY - timedelta(days=ago)).isoformat()}|reminder sent"
    steps = [f"{sent}|sent to technical review", reminder]
    with_events(depot, *UNTIL_DOCUMENTS, "2026-03-01|documents complete", *sorted(steps))
    after = sheets(depot, only=CLIP)[0][0]
    assert (after.history.stage, after.history.since, after.history.holder, after.best) == (before.history.stage, before.history.since, before.history.holder, before.best)
    assert ("customer_answer" in of(tasks(depot), CLIP)) == told


@pytest.mark.parametrize(("by", "told"), [("keeper", True), ("reviewer", True), ("authority", False), ("fitter", False)])
def test_who_has_it_puts_off_no_reminder_of_oneself(depot, monkeypatch, by, told):
    monkeypatch.setattr("generator.planning.overview.missing_documents", lambda _: ())
    monkeypatch.setattr("generator.planning.overview._move", lambda sheet: (Missing.CUSTOMER_ANSWER,) if sheet.stage.value == "technical review" else ())
    sent = (DAY - timedelta(days=230)).isoformat()
    with_events(depot, *UNTIL_DOCUMENTS, "2026-03-01|documents complete", f"{sent}|sent to technical review", f"{DAY}|reminder sent")
    edit(depot, "parts/EX-0003-hose-clip/approval.yml", "what: reminder sent, by: specialist", f"what: reminder sent, by: {by}")
    assert ("customer_answer" in of(tasks(depot), CLIP)) == told


def reviewed(depot: Path, sent: str) -> Path:
    reviewed_since(depot, sent)
    return depot


def test_nobody_is_reminded_of_a_review_whose_papers_we_owe(depot):
    reviewed_since(depot, (DAY - timedelta(days=230)).isoformat())
    found = of(tasks(depot), CLIP)
    assert "drawing" in found
    assert "customer_answer" not in found


@pytest.mark.parametrize(
    ("days_left", "told", "pressing"),
    [(400, False, False), (80, True, True), (30, True, False), (0, True, False)],
)
def test_a_renewal_is_a_task_when_a_review_might_not_come_back_in_time(depot, days_left, told, pressing):
    """EX-0001 is approved until 30 June 2027; a review takes some three months (common practice)."""
    day = date(2027, 6, 30) - timedelta(days=days_left)
    found = of(tasks(depot, day), "EX-0001").get("approval")
    assert (found is not None) is told
    if found and found.deadline:
        assert (found.kind, found.is_pressing) == (TaskKind.KEEP, pressing)
        assert found.share == Decimal(str(found.deadline.delayed))
        before = [each.is_pressing for each in tasks(depot, day)]
        assert before == sorted(before, reverse=True), "what presses comes first"


def test_a_renewal_that_comes_too_late_all_the_same_stands_behind_dearer_work(depot):
    """On its last day: a week without it costs what it costs on the day after, when nobody speaks of a day to keep."""
    found = [of(tasks(depot, date(2027, 6, 30) + timedelta(days=days)), "EX-0001") for days in (0, 1)]
    before, after = found[0]["approval"], found[1]["lasts"]
    assert before.deadline.is_lost
    assert before.value_a_week == after.value_a_week > 0
    assert before.job(date(2027, 6, 30)).latest is None
    edit(depot, "parts/EX-0003-hose-clip/part.yml", "makers:", "yearly_demand: 5000\nmakers:")
    order = [each.number for each in tasks(depot, date(2027, 6, 30))]
    assert order.index(CLIP) < order.index("EX-0001")


def test_an_approval_that_has_lapsed_is_renewed_by_its_worth_and_no_day_is_left_to_keep(depot):
    found = of(tasks(depot, date(2027, 7, 20)), "EX-0001")
    assert set(found) == {"lasts"}, "not twice"
    assert found["lasts"].kind is TaskKind.UNFIT
    assert found["lasts"].deadline is None


def test_a_request_is_looked_at_by_what_everybody_asks_for(depot):
    request = next(each for each in tasks(depot) if each.kind is TaskKind.REQUEST)
    assert (request.what, request.minutes.minutes, request.work) == ("look", GUESSES[OwnWork.LOOK], OwnWork.LOOK)
    assert request.whole_minutes > GUESSES[OwnWork.DESIGN], "a quick look alone is of no use to anybody"


def asked_for(depot: Path, stops: str) -> Task:
    """The request's task, once it says that this stops without it."""
    (request,) = (depot / "requests").glob("*.yml")
    lines = request.read_text("utf-8").splitlines()
    request.write_text("\n".join(f"stops_without: '{stops}'" if line.startswith("stops_without") else line for line in lines) + "\n", "utf-8")
    return next(each for each in tasks(depot) if each.kind is TaskKind.REQUEST)


@pytest.mark.parametrize(("says", "kept"), [("-", ()), ("Nothing stops, but two desks were wet.", ("Nothing stops, but two desks were wet.",))])
def test_what_nothing_stops_without_counts_as_no_stop(depot, says, kept):
    """What else it says is kept, to be quoted."""
    before, after = asked_for(depot, "The car stays in."), asked_for(depot, says)
    assert after.value_a_week < before.value_a_week
    (worth,) = after.worths.values()
    assert (worth.stops, worth.nothing_stops) == ((), kept)


def test_what_a_stop_is_worth_is_the_depots_to_say(depot):
    before = asked_for(depot, "The car stays in.").value_a_week
    (depot / "depot.yml").write_text((depot / "depot.yml").read_text("utf-8") + "stop_worth: 5000\n", "utf-8")
    assert next(each for each in tasks(depot) if each.kind is TaskKind.REQUEST).value_a_week > 10 * before


def test_where_there_is_nothing_the_depot_s_own_record_is_all_there_is_to_do(tmp_path, depot):
    assert [(task.kind, task.number) for task in todays((), read_catalogue(depot / "no such folder"), DAY)] == [(TaskKind.RECORD, "depot.yml")]


def test_a_broken_record_is_mended_first_of_all_its_part_needs(depot):
    edit(depot, "parts/EX-0003-hose-clip/part.yml", "material:", "materiel:")
    assert [(each.what, each.kind) for each in tasks(depot) if each.number == CLIP] == [("mend_record", TaskKind.WAY)]


def plan_of(*orders: int, frees: tuple[str, ...] = (CLIP,)) -> FirePlan:
    return FirePlan(orders=(), best=(ChosenTests(orders=orders, frees=frees, with_papers=(), at_most=1),), papers=(), kept=(), open_parts=1)


def test_tests_that_free_a_part_are_ordered_in_place_of_looking_for_a_report(depot, monkeypatch):
    monkeypatch.setattr("generator.planning.overview.missing_documents", lambda _: (Missing.FIRE_REPORT, Missing.SCREENING))
    with_events(depot, *UNTIL_DOCUMENTS)
    assert set(of(tasks(depot), CLIP)) == {"fire_report", "screening"}
    found = tasks(depot, plan=plan_of(2, 0))
    test = next(each for each in found if each.kind is TaskKind.TEST)
    assert set(of(found, CLIP)) == {"screening"}
    assert (test.number, test.minutes.minutes) == ("3, 1", 2 * GUESSES[OwnWork.ORDER_TEST])
    assert test.whole_minutes == of(found, CLIP)["screening"].whole_minutes, "they are of use together"
    assert test.whole_minutes == 2 * GUESSES[OwnWork.ORDER_TEST] + sum(GUESSES[each] for each in (OwnWork.SCREENING, OwnWork.DOSSIER, OwnWork.SEND))


def test_tests_that_free_nobody_who_lacks_a_report_are_not_ordered(depot):
    assert all(each.kind is not TaskKind.TEST for each in tasks(depot, plan=plan_of(2, 0, frees=("EX-0001",))))


def test_what_a_reviewer_and_the_verdict_both_ask_stands_once(depot, monkeypatch):
    asked = [Taken(step, Outcome.UNKNOWN, None) for step in TABLE if step.id in ("screening", "question", "certificate", "place")]
    monkeypatch.setattr("generator.planning.overview.missing_documents", lambda _: (Missing.SCREENING,))
    monkeypatch.setattr("generator.planning.overview.lacks", lambda _: (Lack(None, None, tuple(asked)),))
    with_events(depot, *UNTIL_DOCUMENTS, "2026-03-01|documents complete", "2026-03-02|sent to technical review", "2026-04-01|question asked|question: how heavy")
    found = [(each.what, each.kind) for each in tasks(depot) if each.number == CLIP and each.kind in (TaskKind.WAY, TaskKind.UNFIT)]
    assert found == [("screening", TaskKind.WAY), ("answer_question", TaskKind.WAY), ("certificate", TaskKind.UNFIT), ("place", TaskKind.UNFIT)]


def test_a_paper_of_several_parts_is_one_task_worth_all_of_them(depot, monkeypatch):
    last = DAY + timedelta(days=70)
    monkeypatch.setattr("generator.planning.today.drawn.ends", lambda _sheet, day: (Lapse(Lapsing.CERTIFICATE, last, (last - day).days),))
    found = [each for each in tasks(depot) if each.kind is TaskKind.KEEP]
    every = {each.number: each.part.material for each in read_catalogue(depot).parts}
    assert {each.number: set(each.worths) for each in found} == {material: {number for number, of in every.items() if of == material} for material in every.values()}
    assert max(len(each.worths) for each in found) > 1
    assert all(each.is_pressing for each in found if each.value_a_week)


def test_an_older_approval_that_is_over_hides_no_newer_one_that_ends(depot, monkeypatch):
    days = (-300, 20)
    monkeypatch.setattr("generator.planning.today.drawn.ends", lambda _sheet, day: tuple(Lapse(Lapsing.APPROVAL, day + timedelta(days=each), each) for each in days))
    assert of(tasks(depot), "EX-0001")["approval"].deadline.last_day == DAY + timedelta(days=20)


def batch_tasks(**batches):
    """Of the depot with a batch on the shelf, B-0001, and these beside it."""
    return {each.number: each for each in with_batches(batches) if each.number.startswith("B-")}


def with_batches(batches):
    catalogue = printed_catalogue()
    told = with_production(catalogue, batches={**catalogue.production.batches, **batches})
    every = tuple(sheet(folder, None, told, Copy(DAY, 30)) for folder in told.parts)
    return todays(every, told, DAY)


MEASURED = {"what": "measured", "by": "fitter", "checks": [{"check": "Collar", "values_mm": [10], "gauge": "C-1", "calibrated_until": "2027-01-01"}]}


def test_a_batch_because_of_which_every_piece_is_asked_about_costs_the_same_whatever_lies_on_the_shelf():
    assert batch_tasks() == {}
    waiting = batch_tasks(**{"B-0002": batch_of(events=[])})["B-0002"]
    only = batch_tasks(**{"B-0001": batch_of(events=[])})["B-0001"]
    assert (waiting.kind, waiting.what, waiting.stops_others) == (TaskKind.BATCH, "measure", True)
    assert waiting.value_a_week == only.value_a_week > 0
    assert not only.stops_others


def test_a_batch_that_asks_nobody_about_others_costs_nothing_while_they_lie_on_the_shelf(monkeypatch):
    """Such as of a part that is fitted nowhere just now."""
    monkeypatch.setattr("generator.planning.overview.lacks", lambda _: ())
    waiting = batch_tasks(**{"B-0002": batch_of(events=[])})["B-0002"]
    assert (waiting.value_a_week, waiting.stops_others) == (0, False)


@pytest.mark.parametrize(("days", "told"), [(0, False), (7, False), (8, True)])
def test_whoever_releases_is_reminded_after_a_week(days, told):
    events = [MEASURED | {"on": (DAY - timedelta(days=days)).isoformat()}]
    found = batch_tasks(**{"B-0001": batch_of(events=events)})
    assert {each.what for each in found.values()} == ({"release"} if told else set())
    assert all(each.kind is TaskKind.REMIND for each in found.values())


def test_that_a_batch_waits_for_its_release_is_one_task_and_its_part_has_none():
    """Pieces that are stopped are the part's: they have to go."""
    waiting = [each.what for each in with_batches({"B-0002": batch_of(events=[])}) if each.number in {"B-0002", "EX-0001"}]
    assert waiting == ["measure"]
    rejected = [{"what": "rejected", "on": "2026-02-01", "by": "reviewer", "why": "corners lifted"}]
    assert [each.what for each in with_batches({"B-0002": batch_of(events=rejected)}) if each.number in {"B-0002", "EX-0001"}] == ["piece"]


@pytest.mark.parametrize(("ago", "told"), [(0, False), (13, False), (14, True), (30, True), (-1, True)])
def test_whoever_releases_rests_for_two_weeks_once_reminded_and_comes_back(ago, told):
    """One of before it was measured, or of a day to come, counts for nothing."""
    events = [MEASURED | {"on": (DAY - timedelta(days=20)).isoformat()}]
    events += [{"what": "reminder sent", "on": (DAY - timedelta(days=ago)).isoformat(), "by": "fitter"}]
    found = batch_tasks(**{"B-0001": batch_of(events=sorted(events, key=lambda each: each["on"]))})
    assert {each.what for each in found.values()} == ({"release"} if told else set())


@pytest.mark.parametrize(("by", "told"), [("keeper", True), ("reviewer", True), ("fitter", False), ("specialist", False)])
def test_whoever_releases_puts_off_no_reminder_of_oneself(by, told):
    """`fitter` printed it; a role that nobody knows is an error of its own."""
    events = [MEASURED | {"on": (DAY - timedelta(days=20)).isoformat()}, {"what": "reminder sent", "on": DAY.isoformat(), "by": by}]
    assert bool(batch_tasks(**{"B-0001": batch_of(events=events)})) == told


def test_of_a_rejected_batch_nothing_waits():
    rejected = [{"what": "rejected", "on": "2026-02-01", "by": "reviewer", "why": "corners lifted"}]
    assert batch_tasks(**{"B-0001": batch_of(events=rejected)}) == {}


def test_a_release_that_does_not_hold_is_looked_at():
    by_printer = [{"what": "released", "on": "2026-02-01", "by": batch_of().printed_by}]
    assert batch_tasks(**{"B-0001": batch_of(events=by_printer)})["B-0001"].what == "void"


def test_minutes_that_were_logged_take_the_place_of_a_guess(depot):
    with_events(depot, "2026-01-10|prototype printed|minutes: 25")
    (depot / "parts/EX-0003-hose-clip/approval.yml").write_text("route: customer\nevents: []\n", "utf-8")
    edit(depot, "parts/EX-0001-lid-knob/approval.yml", "what: prototype printed", "what: prototype printed\n    minutes: 25")
    found = of(tasks(depot), CLIP)["prototype"]
    assert (found.minutes.minutes, found.minutes.logged, found.minutes.is_guess) == (25, 1, False)


@pytest.mark.parametrize("minutes", ["-5", "0", "1000000", "2.5", "true", "'30'"])
def test_minutes_that_nobody_works_are_a_mistake_of_the_record(depot, minutes):
    def mistakes() -> set[str]:
        return {each.where.file for each in sheets(depot, only=CLIP)[1] if each.severity is Severity.ERROR}

    with_events(depot, "2026-01-10|prototype printed|minutes: 9600")
    assert mistakes() == set()
    with_events(depot, f"2026-01-10|prototype printed|minutes: {minutes}")
    assert mistakes() == {"parts/EX-0003-hose-clip/approval.yml"}


def test_the_same_records_give_the_same_tasks(depot):
    assert [(each.number, each.what, each.value_a_week) for each in tasks(depot)] == [(each.number, each.what, each.value_a_week) for each in tasks(depot)]
