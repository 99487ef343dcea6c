"""A batch that says it is released, though it may not be, is not fitted; told from the side of one who edits the record by hand."""

import random
from dataclasses import replace
from datetime import date

import pytest

from generator.records.batches import Measured, Rejected, Released, Scrapped
from generator.records.lots import Blocked, Lot, Unblocked
from generator.records.problems import Where, doubt, wrong
from generator.records.recalls import CalledBack, Lifted, Recall
from generator.rules.production.releasing import judged_releases, standing
from generator.rules.verdicts import Verdict
from tests.fixtures.prints import (
    BATCH,
    LOT,
    MACHINE,
    batch_of,
    of_any_piece,
    of_piece,
    printed_catalogue,
    with_production,
)
from tests.fixtures.tiny import DAY

GOOD = (6.02, 6.04, 6.03, 6.05)
"""The Bore is 6 mm, +0.1 and -0: at 6.1 it is in, at 6.11 and at 5.99 out."""


def measured(*values, on="2026-02-12", until="2026-09-30", check="Bore", **gauged):
    one = {"check": check, **({"values_mm": values} if values else {}), "gauge": "pin gauges P-2", "calibrated_until": until, **gauged}
    return {"on": on, "what": "measured", "by": "specialist", "checks": [one]}


def scrapped(count, on="2026-02-12"):
    return {"on": on, "what": "scrapped", "by": "specialist", "count": count, "why": "out"}


def released(by="keeper", on="2026-02-13", **more):
    return {"on": on, "what": "released", "by": by, **more}


REJECTED = {"on": "2026-02-12", "what": "rejected", "by": "fitter", "why": "warped"}


def judged(*events, **changed):
    """The verdict on a piece, and the keys of what speaks against each release."""
    batch = batch_of(events=events, **changed)
    catalogue = with_production(printed_catalogue(), batches={BATCH: batch})
    against = judged_releases(BATCH, batch, catalogue)
    return of_piece(catalogue).verdict, [{each.key for each in found} for found in against.values()]


def test_as_it_should_be():
    assert judged(measured(*GOOD), released()) == (Verdict.FIT_IT, [set()])


@pytest.mark.parametrize(
    ("events", "key"),
    [
        ([measured(*GOOD), released("specialist")], "the printer"),
        ([measured(*GOOD), released("fitter")], "by whom"),
        ([measured(*GOOD), released("authority")], "by whom"),
        ([measured(*GOOD), released("nobody")], "by whom"),
        ([measured(*GOOD), released(accepts="looks fine")], "accepts"),
        ([measured(*GOOD), released(on="2026-02-10")], "before the end"),
        ([measured(*GOOD, on="2026-02-14"), released()], "backwards"),
        ([released()], "not measured"),
        ([released(), measured(*GOOD, on="2026-02-13")], "not measured"),
        ([measured(*GOOD, check="bore"), released()], "not measured"),
        ([measured(passed=0, failed=0), released()], "nothing found"),
        ([measured(*GOOD, until="2026-02-11"), released()], "gauge"),
        ([measured(6.02, 6.11, 6.03, 6.05), released()], "out of limits"),
        ([measured(6.02, 5.99, 6.03, 6.05), released()], "out of limits"),
        ([measured(passed=3, failed=1), released()], "out of limits"),
        # Of three that were measured one is out: how the fourth is, nobody knows.
        ([measured(6.02, 6.11, 6.03), scrapped(1), released()], "out of limits"),
        # What is scrapped before the measurement is no answer to it.
        ([scrapped(1), measured(6.02, 6.11, 6.03), released()], "out of limits"),
        # Two out, one scrapped; measured again with one too few; with a gauge that does not count.
        ([measured(6.12, 6.11, 6.03, 6.05), scrapped(1), released()], "out of limits"),
        ([measured(6.02, 6.11, 6.03), measured(6.02, 6.03, 6.03), released()], "out of limits"),
        ([measured(6.02, 6.11, 6.03, 6.05), measured(*GOOD, until="2026-02-11"), released()], "out of limits"),
        # A good gauge before, and one past its day that finds a piece out.
        ([measured(*GOOD), measured(6.2, until="2026-02-11"), released()], "out of limits"),
        ([measured(*GOOD), REJECTED, released()], "rejected"),
        ([measured(*GOOD), scrapped(5), released()], "scrapped"),
    ],
)
def test_a_release_that_may_not_be_is_none(events, key):
    verdict, (found,) = judged(*events)
    assert key in found
    assert verdict is Verdict.DO_NOT_FIT


@pytest.mark.parametrize(
    "events",
    [
        [measured(6.0, 6.1, 6.0, 6.1)],  # the limits themselves
        [measured(6.02)],  # one of four, as common for a plate
        [measured(passed=4, failed=0)],
        [measured(6.02, 6.11, 6.03, 6.05), scrapped(1)],
        [measured(6.02, 6.11, 6.03), scrapped(1), measured(6.02, 6.03, 6.03)],
        [measured(*GOOD, until="2026-02-11"), measured(6.02)],
        [measured(*GOOD, until="2026-02-12")],  # the last day counts
    ],
)
def test_what_was_answered_is_released(events):
    assert judged(*events, released()) == (Verdict.FIT_IT, [set()])


def test_the_second_release_is_told_and_the_first_one_stands():
    verdict, found = judged(measured(*GOOD), released(), released("reviewer"))
    assert (verdict, found) == (Verdict.FIT_IT, [set(), {"twice"}])


def test_a_release_that_did_not_hold_is_no_first_one():
    verdict, found = judged(measured(*GOOD), released("fitter"), released())
    assert (verdict, found) == (Verdict.FIT_IT, [{"by whom"}, set()])


def test_many_releases_that_do_not_hold_take_no_longer_each():
    found = judged(measured(*GOOD), *[released("fitter")] * 300)[1]
    assert len(found) == 300


@pytest.mark.parametrize(
    ("changed", "key"),
    [
        ({"fingerprint": "0" * 64}, "fingerprint"),
        ({"revision": "B"}, "tells other"),
        ({"ended": "2026-02-11 08:09"}, "ended first"),
        ({"ended": "2026-02-25 08:11"}, "too long"),
        ({"printed_by": "specialst"}, "printer unknown"),
        ({"printed_as": "spares print: 1\n"}, "not approved"),
        ({"started": "2026-02-01 08:00"}, "not received"),
    ],
)
def test_a_batch_that_cannot_be_so_is_not_released(changed, key):
    events = [measured(*GOOD, on="2026-02-26"), released(on="2026-02-27")]
    verdict, (found,) = judged(*events, **changed)
    assert key in found
    assert verdict is not Verdict.FIT_IT


def test_wider_limits_written_by_hand_are_seen():
    old = printed_catalogue().production.batches[BATCH].printed_as
    wider = old.replace("plus mm: 0.1", "plus mm: 0.5")
    assert wider != old
    verdict, (found,) = judged(measured(6.4), released(), printed_as=wider)
    assert {"fingerprint", "not approved"} <= found
    assert verdict is Verdict.DO_NOT_FIT


def stopped(lot_events=(), recall_events=()):
    catalogue = printed_catalogue()
    lot = catalogue.production.lots[LOT]
    lot = Lot.model_construct(**{**dict(lot), "events": (*lot.events, *lot_events)})
    recalls = {"R-1": Recall(batch=BATCH, events=tuple(recall_events))} if recall_events else {}
    catalogue = with_production(catalogue, lots={LOT: lot}, recalls=recalls)
    return {each.key for each in judged_releases(BATCH, catalogue.production.batches[BATCH], catalogue)[1]}, of_piece(catalogue).verdict


def blocked(on):
    return Blocked(what="blocked", on=on, by="specialist", why="wet")


def unblocked(on):
    return Unblocked(what="unblocked", on=on, by="specialist", why="dry")


def called(on):
    return CalledBack(what="called back", on=on, by="keeper", why="brittle")


def lifted(on):
    return Lifted(what="lifted", on=on, by="keeper", why="not so")


def test_what_came_after_the_release_leaves_it_true_and_stops_the_pieces():
    assert stopped([blocked(date(2026, 3, 1))]) == (set(), Verdict.DO_NOT_FIT)
    assert stopped([blocked(date(2026, 3, 1)), unblocked(date(2026, 3, 9))]) == (set(), Verdict.FIT_IT)
    assert stopped((), [called(date(2026, 3, 1))]) == (set(), Verdict.DO_NOT_FIT)


def test_what_stood_on_the_day_of_the_release_makes_it_none_for_good():
    later = date(2026, 3, 9)
    # Of one day nobody knows which came first: it stops the pieces as long as it stands, and no longer.
    assert stopped([blocked(date(2026, 2, 13)), unblocked(later)]) == (set(), Verdict.FIT_IT)
    assert stopped((), [called(date(2026, 2, 13)), lifted(later)]) == (set(), Verdict.FIT_IT)
    assert stopped([blocked(date(2026, 2, 12)), unblocked(later)]) == ({"blocked"}, Verdict.DO_NOT_FIT)
    assert stopped((), [called(date(2026, 2, 12)), lifted(later)]) == ({"recalled"}, Verdict.DO_NOT_FIT)


def test_blocked_and_unblocked_before_the_print_is_no_matter():
    assert stopped([blocked(date(2026, 2, 10)), unblocked(date(2026, 2, 11))]) == (set(), Verdict.FIT_IT)


def test_a_machine_or_a_file_that_is_not_as_it_should_be_asks():
    catalogue = printed_catalogue()
    assert of_piece(with_production(catalogue, machines={})).verdict is Verdict.ASK_FIRST
    machine = catalogue.production.machines[MACHINE]
    other = machine.model_copy(update={"qualifications": tuple(each.model_copy(update={"valid_until": date(2026, 2, 10)}) for each in machine.qualifications)})
    assert of_piece(with_production(catalogue, machines={MACHINE: other})).verdict is Verdict.ASK_FIRST
    assert of_piece(with_production(catalogue, batches={BATCH: batch_of(settings_file=None)})).verdict is Verdict.ASK_FIRST


@pytest.mark.parametrize("file", ["materials/lots/L-0007.yml", "machines/M-1.yml", "batches/B-0001.yml"])
def test_a_mistake_in_a_record_that_it_rests_on_asks(file):
    found = wrong("LOT02", "no block").at(Where(file))
    assert of_piece(replace(printed_catalogue(), problems=(found,))).verdict is Verdict.ASK_FIRST
    warned = doubt("LOT02", "never received").at(Where(file))
    assert of_piece(replace(printed_catalogue(), problems=(warned,))).verdict is Verdict.FIT_IT


def test_where_a_batch_on_the_shelf_is_in_doubt_a_piece_without_its_batch_asks():
    catalogue = with_production(printed_catalogue(), machines={})
    said = of_any_piece(catalogue)
    assert (said.verdict, said.decided_by.step.id) == (Verdict.ASK_FIRST, "piece")


def random_history(dice):
    """Some ten events that a depot might write, good and bad ones, in the order of days."""
    events = []
    for at in range(dice.randint(1, 7)):
        on = f"2026-02-{12 + at}"
        values = [dice.choice((6.0, 6.05, 6.1, 6.11, 5.99, 6.03, 6.02)) for _ in range(dice.randint(1, 4))]
        events.append(dice.choice([
            measured(*values, on=on, until=dice.choice(("2026-02-13", "2026-09-30"))), measured(*GOOD, on=on), measured(*GOOD[:3], on=on),
            scrapped(dice.randint(1, 2), on=on), released(dice.choice(("keeper", "reviewer", "fitter", "specialist")), on=on),
            {**REJECTED, "on": on} if dice.random() < 0.3 else measured(passed=dice.randint(0, 4), failed=dice.randint(0, 1), on=on),
        ]))  # fmt: skip
    return [*events, released(on="2026-02-20")]


def is_out(each):
    return bool(each.failed) or any(not 6.0 <= value <= 6.1 for value in each.values_mm)


def could_be_good(batch):
    """What has to be so of any released batch, told anew and more simply than the rules do."""
    for at, event in enumerate(batch.events):
        if not isinstance(event, Released) or event.by not in {"keeper", "reviewer"}:
            continue
        before = batch.events[:at]
        if any(isinstance(each, Rejected) for each in batch.events):
            return False
        sure = [each for each in before if isinstance(each, Measured) and each.checks[0].calibrated_until >= each.on]
        bad = [(nth, each) for nth, each in enumerate(before) if isinstance(each, Measured) and is_out(each.checks[0])]
        answered = all(
            any(isinstance(later, Scrapped) for later in before[nth:]) or any(isinstance(later, Measured) and not is_out(later.checks[0]) for later in before[nth:])
            for nth, _ in bad
        )
        if sure and answered and sum(each.count for each in before if isinstance(each, Scrapped)) <= batch.count:
            return True
    return False


def test_no_history_shows_a_piece_as_fit_that_could_not_be_released():
    dice, fitted = random.Random(14), 0
    for _ in range(400):
        batch = batch_of(events=random_history(dice))
        catalogue = with_production(printed_catalogue(), batches={BATCH: batch})
        if not standing(BATCH, batch, catalogue, DAY).is_released:
            continue
        fitted += 1
        assert could_be_good(batch), batch.events
    assert fitted > 30


def test_the_verdict_says_what_the_judge_says():
    dice, seen = random.Random(41), set()
    for _ in range(60):
        batch = batch_of(events=random_history(dice))
        catalogue = with_production(printed_catalogue(), batches={BATCH: batch})
        said = standing(BATCH, batch, catalogue, DAY)
        assert (of_piece(catalogue).verdict is Verdict.FIT_IT) == said.is_released
        seen.add(said.is_released)
    assert seen == {True, False}
