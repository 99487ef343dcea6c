"""When to order, how many and why, from the store keeper's side: by hand on one part, and all that nobody has said."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import SimpleNamespace

import pytest

from generator.planning.stock.demand import FEWEST, Source, demand_of
from generator.planning.stock.known import known
from generator.planning.stock.need import (
    MOST_PIECES,
    OrderingRule,
    QuantityReason,
    StockState,
    need_of,
    needs,
    rule_of,
)
from generator.planning.stock.orders import orders
from generator.records.makers import Maker
from generator.records.parts import Stock
from generator.records.production import Production
from generator.records.stocking import Stocking
from generator.rules.facts.fields import PieceFacts
from generator.rules.production import stock
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import CLIP, KNOB, LEVER
from tests.planning.test_month import CATALOGUE, SHEETS, batch, row

DAY = date(2028, 6, 1)
RULE = OrderingRule(service_percent=95.0, holding_percent=20.0, service_is_usual=True, holding_is_usual=True)


def part(number=KNOB, *, demand=73.0, shelf=None, counted="2028-05-20", mass=10.0, **fields):
    """A sheet of the tiny depot, with what its record says of demand and stock."""
    found = next(each for each in SHEETS if each.number == number)
    on = date.fromisoformat(counted) if counted else None
    stock = None if shelf is None else Stock(place="drawer 1", on_shelf=shelf, counted_on=on)
    told = found.part.model_copy(update={"yearly_demand": demand, "stock": stock} | fields)
    return replace(found, mass_g=mass, folder=replace(found.folder, part=told))


def books(batches=None, rows=(), **maker):
    """The bench takes 10 days here, so that 73 a year are a mean of 2 meanwhile."""
    changed = {"bench": {"lead_time_days": 10} | maker, "bureau": {"lead_time_days": 10}}
    makers = {name: Maker.model_validate(each.model_dump() | changed[name]) for name, each in CATALOGUE.makers.items()}
    return replace(CATALOGUE, makers=makers, production=Production(batches=batches or {}, fitted=tuple(rows)))


def need(sheet, catalogue=None, rule=RULE, unlike=()):
    there = catalogue or books()
    return need_of(judged_with(sheet, there, unlike), there, DAY, rule)


def known_of(sheet, catalogue, unlike=()):
    return known(judged_with(sheet, catalogue, unlike), catalogue, DAY)


def judged_with(sheet, catalogue, unlike=()):
    """The sheet, as it would know the batches of these books; unlike: those whose pieces are other than what is approved."""
    pieces = {
        name: PieceFacts(piece="known", piece_revision="own" if each.revision == sheet.part.revision else "other", piece_same="no" if name in unlike else "yes")
        for name, each in catalogue.production.of_part(sheet.number).items()
    }
    return replace(sheet, grounds=tuple(replace(each, pieces=tuple(pieces for _ in each.permits)) for each in sheet.grounds))


def test_two_in_the_lead_time_at_95_percent_order_at_five():
    assert [need(part(shelf=shelf)).state for shelf in (0, 5, 6)] == [StockState.ORDER, StockState.ORDER, StockState.ENOUGH]
    found = need(part(shelf=5)).reorder
    assert (round(found.mean, 2), found.point) == (2.0, 5)
    assert [need(part(shelf=5), rule=replace(RULE, service_percent=p)).reorder.point for p in (90.0, 99.0)] == [4, 6]


def test_how_many_and_why():
    # Nobody has said what a run on the bench costs: a quarter's need, 73 / 4 = 18.25.
    assert (need(part(shelf=5)).reorder.quantity, need(part(shelf=5)).reorder.because) == (19, QuantityReason.QUARTER)
    # 9 a run, 1.00 a piece: sqrt(2 x 73 x 9 / 0.2) = 81, which is more than a year's need.
    most = need(part(shelf=5), books(set_up=9.0)).reorder
    assert (most.count, most.because, most.price) == (73, QuantityReason.MOST, Decimal("73.00"))
    # 0.90 a run: sqrt(2 x 73 x 0.9 / 0.2) = 25.6.
    even = need(part(shelf=5), books(set_up=0.9)).reorder
    assert (even.count, even.because) == (26, QuantityReason.EVEN)
    # A run that costs nothing is made for each piece; so many are missing up to the reorder point.
    free = need(part(shelf=0), books(set_up=0.0)).reorder
    assert (free.quantity, free.count, free.because) == (1, 6, QuantityReason.POINT)


def test_what_falls_due_soon_is_ordered_along_where_one_looks_ahead():
    # 10 there, 5 is the point: 5 pieces are 25 days, of which 10 and 40 days are fewer and more.
    found = need(part(shelf=10))
    assert (found.state, found.due_days, found.lasts_days) == (StockState.ENOUGH, 25, 50)
    ahead = [need(part(shelf=10), rule=replace(RULE, ahead_days=days)) for days in (10, 40)]
    assert [each.state for each in ahead] == [StockState.ENOUGH, StockState.ORDER]
    assert (ahead[1].reorder.count, ahead[1].reorder.because) == (19, QuantityReason.QUARTER)


def test_no_lead_time_orders_when_nothing_is_left():
    at_once = books(lead_time_days=0)
    assert [need(part(shelf=shelf), at_once).state for shelf in (0, 1)] == [StockState.ORDER, StockState.ENOUGH]
    assert need(part(shelf=0), at_once).reorder.point == 0


@pytest.mark.parametrize(("demand", "state"), [(None, StockState.UNSAID), (0.0, StockState.NONE_NEEDED)])
def test_without_a_demand_nothing_is_ordered(demand, state):
    found = need(part(demand=demand, shelf=0))
    assert (found.state, found.reorder, found.lasts_days) == (state, None, None)


def test_nothing_counted_is_no_empty_shelf():
    found = need(part(shelf=None))
    assert (found.state, found.known.counted, found.known.position, found.reorder.count, found.reorder.price) == (StockState.COUNT, None, None, 0, None)
    # A count of a day to come has not been; one without its day is told as such and counts.
    assert need(part(shelf=9, counted="2028-06-02")).state is StockState.COUNT
    assert need(part(shelf=9, counted="2028-06-01")).state is StockState.ENOUGH
    undated = need(part(shelf=3, counted=None))
    assert (undated.state, undated.known.counted, undated.known.first_day) == (StockState.ORDER, 3, None)


def counted(on, shelf, *more):
    return batch({"what": "counted", "on": on, "by": "fitter", "on_shelf": shelf}, *more, count=40)


def test_counted_batches_come_before_the_record_and_what_went_since_is_taken_off():
    there = {"B-1": counted("2028-05-02", 9), "B-2": counted("2028-05-20", 4)}
    found = need(part(shelf=99), books(there, [row("2028-05-10", "B-1", count=3), row("2028-05-02", "B-1", count=5)]))
    told = found.known
    assert (told.counted, told.went, told.left, told.position) == (13, 3, 10, 10)
    assert (told.first_day, told.last_day) == (date(2028, 5, 2), date(2028, 5, 20))
    assert found.lasts_days == 50  # 10 x 365.25 / 73


def test_more_went_than_was_counted_and_no_other_batch_makes_up_for_it():
    there = {"B-1": counted("2028-05-02", 2), "B-2": counted("2028-05-20", 9)}
    found = need(part(), books(there, [row("2028-05-10", "B-1", count=5)]))
    assert (found.state, found.known.is_less_than_nothing, found.known.left, found.reorder.count) == (StockState.COUNT, True, 9, 0)
    short = need(part(shelf=1), books({"B-1": batch()}, [row("2028-05-25", "B-1", count=3)]))
    assert (short.state, short.known.left) == (StockState.COUNT, 0)


def test_what_was_fitted_since_the_records_own_count_is_taken_off_where_it_lay_there():
    late = batch(started="2028-05-22 08:00", ended="2028-05-22 10:30")
    rows = [row("2028-05-25", "B-1", count=2), row("2028-05-20", "B-1"), row("2028-06-02", "B-1"), row("2028-05-26", "B-2", count=4)]
    told = known_of(part(shelf=9), books({"B-1": batch(), "B-2": late}, rows))
    assert (told.counted, told.went, told.left) == (9, 2, 7)


def test_what_waits_for_its_release_is_on_its_way():
    told = known_of(part(shelf=2), books({"B-1": batch(count=7)}))
    assert (told.waiting, told.position) == (7, 9)
    assert known_of(part(shelf=2), books({"B-1": batch(count=7, ended="2028-06-02 09:00")})).waiting == 0
    rejected = batch({"what": "rejected", "on": "2028-02-06", "by": "keeper", "why": "cracks"}, count=7)
    assert known_of(part(shelf=2), books({"B-1": rejected})).waiting == 0


def test_what_may_be_fitted_nowhere_is_not_ordered():
    sheet = part(shelf=0)
    no = tuple(replace(each, verdict=Verdict.DO_NOT_FIT) for each in sheet.judgements)
    assert need(replace(sheet, judgements=no)).state is StockState.HELD
    ask = tuple(replace(each, verdict=Verdict.ASK_FIRST) for each in sheet.judgements)
    assert need(replace(sheet, judgements=ask)).state is StockState.ORDER


def test_who_makes_it_with_room_is_asked():
    assert need(part(shelf=0, makers=())).state is StockState.NO_MAKER
    assert need(part(shelf=0, mass=None)).reorder.price is None


def fitted(count, *, first="2027-01-10", at_once=1):
    """Since a first piece of long ago, so many in the last year."""
    days = [row(first, "B-1"), *(row(f"2028-0{1 + at % 5}-{1 + at % 27:02}", "B-1", count=at_once) for at in range(count))]
    return books({"B-1": batch(count=900, started=f"{first} 01:00", ended=f"{first} 02:00")}, days)


def test_enough_that_was_fitted_counts_more_than_what_the_record_says():
    few, enough = fitted(FEWEST - 1), fitted(FEWEST)
    asked = part(demand=3.0).part
    less, more = demand_of(asked, few.production, DAY), demand_of(asked, enough.production, DAY)
    assert (less.source, less.a_year, less.fitted, less.days) == (Source.RECORD, 3.0, FEWEST - 1, 0)
    assert (more.source, more.a_year, more.fitted, more.days) == (Source.FITTED, pytest.approx(FEWEST, rel=1e-3), FEWEST, 365)
    assert demand_of(part(demand=None).part, few.production, DAY) is None
    # Younger than half a year: the record says it still.
    young = books({"B-1": batch(count=900)}, [row("2028-02-10", "B-1", count=60)])
    assert demand_of(asked, young.production, DAY).source is Source.RECORD


def test_pieces_that_one_vehicle_takes_at_once_are_told():
    assert demand_of(part(demand=3.0).part, fitted(9, at_once=4).production, DAY).at_once == 4
    several = part(demand=3.0)
    fits = tuple(fit.model_copy(update={"per_vehicle": 6}) for fit in several.part.fits)
    assert demand_of(several.part.model_copy(update={"fits": fits}), Production(), DAY).at_once == 6


def test_orders_are_one_a_maker_and_totals_are_the_sum_of_their_lines():
    sheets = [part(LEVER, shelf=0, mass=12.345, demand=9.0), part(CLIP, shelf=0, mass=3.0), part(KNOB, shelf=0)]
    named = {each.number: each.part.makers for each in sheets}
    bureau = {number for number, makers in named.items() if makers == ("bureau",)}
    found = needs(sheets, books(), DAY, RULE)
    (order,) = orders(found)
    assert {line.sheet.number for line in order.lines} == bureau
    assert order.total == order.per_order + sum(line.amount for line in order.lines)
    assert order.per_order == Decimal("30.00")
    assert all(line.amount == line.amount.quantize(Decimal("0.01")) for line in order.lines)
    unweighed = orders(needs([part(LEVER, shelf=0, mass=None, demand=9.0)], books(), DAY, RULE))
    assert [each.total for each in unweighed] == [None]


def test_those_to_order_stand_first_the_shortest_foremost():
    found = needs([part(KNOB, shelf=90), part(LEVER, shelf=1), part(CLIP, shelf=0)], books(), DAY, RULE)
    assert [(each.number, each.state.value) for each in found] == [(CLIP, "order"), (LEVER, "order"), (KNOB, "enough")]


def test_the_rule_is_the_depots_and_what_is_only_usual_says_so():
    assert rule_of(CATALOGUE) == RULE
    assert (rule_of(CATALOGUE, 99.0).service_percent, rule_of(CATALOGUE, 99.0).service_is_usual) == (99.0, False)
    said = replace(CATALOGUE, depot=CATALOGUE.depot.model_copy(update={"stocking": Stocking(service_percent=95.0)}))
    assert (rule_of(said).service_is_usual, rule_of(said).holding_is_usual) == (False, True)


def test_an_order_that_holds_less_than_is_asked_for_says_so():
    huge = need(part(shelf=0, demand=1e9)).reorder
    assert (huge.count, huge.because) == (MOST_PIECES, QuantityReason.CAP)
    assert need(part(shelf=0, demand=5e4)).reorder.because is QuantityReason.CAP  # a quarter's need is all that one order holds
    assert need(part(shelf=0, demand=2e4)).reorder.because is QuantityReason.QUARTER
    assert need(part(shelf=0, demand=1e9), books(set_up=9.0)).reorder.because is QuantityReason.CAP


@pytest.mark.parametrize("demand", [1e-300, 0.001, 5e5, 1e300])
@pytest.mark.parametrize("maker", [{"price": {"per_gram": 1e300}, "set_up": 5.0}, {"price": {"per_gram": 0.0}, "set_up": 1e300}, {"price": {"per_gram": 0.1}, "lead_time_days": 366}])
def test_absurd_figures_give_an_order_of_bounded_size(demand, maker):
    found = need(part(shelf=0, demand=demand, mass=1e6), books(**maker))
    assert found.state is StockState.ORDER
    assert 1 <= found.reorder.count <= MOST_PIECES


def test_what_was_counted_and_may_not_be_taken_is_none_that_is_known():
    rejected = {"what": "rejected", "on": "2028-05-21", "by": "keeper", "why": "cracks"}
    found = need(part(shelf=30), books({"B-1": counted("2028-05-20", 30, rejected)}))
    assert (found.known.counted, found.known.first_day, found.state) == (0, date(2028, 5, 20), StockState.ORDER)


def judged_as(sheet, verdict, *, lapsed=None, **facts):
    """Its judgements with other facts, judged anew; lapsed: on that day the approval ended."""
    grounds = tuple(replace(each, permits=tuple(replace(one, **({"permit_until": lapsed} if lapsed else {}), **facts) for one in each.permits)) for each in sheet.grounds)
    found = replace(sheet, grounds=grounds, judgements=tuple(each.on(DAY) for each in grounds))
    assert {each.verdict for each in found.judgements} == {verdict}
    return found


def lapsed(**fields):
    return judged_as(part(**fields), Verdict.DO_NOT_FIT, lapsed=date(2028, 5, 31))


REJECTED = {"what": "rejected", "on": "2028-05-21", "by": "keeper", "why": "cracks"}
# What lies there and may be fitted nowhere: (counted, went, left, of it back with a renewal).
NOT_TODAY = {
    "a lapsed approval comes back": (lapsed(shelf=18), {}, (), (18, 0, 18, 18)),
    "and so do batches of it": (lapsed(), {"B-1": counted("2028-05-20", 30)}, (), (30, 0, 30, 30)),
    "less what went since": (lapsed(shelf=18), {"B-1": batch(count=2)}, [row("2028-05-25", "B-1", count=2)], (18, 2, 16, 16)),
    "what went over is none": (lapsed(shelf=1), {"B-1": batch(count=3)}, [row("2028-05-25", "B-1", count=3)], (1, 1, 0, 0)),
    "a rejected batch does not": (lapsed(), {"B-1": counted("2028-05-20", 30, REJECTED), "B-2": counted("2028-05-22", 4)}, (), (34, 0, 34, 4)),
    "nor one of a revision before": (lapsed(), {"B-1": counted("2028-05-20", 30).model_copy(update={"revision": "0"})}, (), (30, 0, 30, 0)),
    "nor what was changed since as well": (judged_as(part(shelf=18), Verdict.DO_NOT_FIT, lapsed=date(2028, 5, 31), same_as_approved="no"), {}, (), (18, 0, 18, 0)),
    "nor what nobody has approved": (judged_as(part(shelf=18), Verdict.DO_NOT_FIT, permit=None), {}, (), (18, 0, 18, 0)),
    "nor a trial that has ended": (judged_as(part(shelf=18), Verdict.DO_NOT_FIT, permit="trial", lapsed=date(2028, 5, 31)), {}, (), (18, 0, 18, 0)),
    "nor what was withdrawn": (judged_as(part(shelf=18), Verdict.DO_NOT_FIT, lapsed=date(2028, 5, 31), withdrawn_on=date(2028, 5, 31)), {}, (), (18, 0, 18, 0)),
    "nor what a paper never said": (judged_as(part(shelf=18), Verdict.DO_NOT_FIT, certificate_until=None), {}, (), (18, 0, 18, 0)),
    "a paper that has ended does": (judged_as(part(shelf=18), Verdict.DO_NOT_FIT, certificate_until=date(2028, 5, 31)), {}, (), (18, 0, 18, 18)),
}


@pytest.mark.parametrize("case", NOT_TODAY)
def test_what_may_be_fitted_nowhere_today_is_told_as_it_was_counted(case):
    sheet, there, rows, wanted = NOT_TODAY[case]
    found = need(sheet, books(there, rows))
    unfit = found.known.unfit
    assert (unfit.counted, unfit.went, unfit.left, unfit.returning) == wanted
    assert unfit.never == unfit.left - unfit.returning
    assert (found.state, found.known.position, found.known.is_less_than_nothing) == (StockState.HELD, 0, False)
    assert found.point_again == (5 if unfit.returning else None)


def test_a_shelf_of_stopped_pieces_stands_in_for_nothing_and_is_told_beside_what_may_be_taken():
    found = need(part(), books({"B-1": counted("2028-05-20", 30, REJECTED), "B-2": counted("2028-05-22", 4)}))
    assert (found.state, found.known.position, found.known.unfit.left, found.known.unfit.returning) == (StockState.ORDER, 4, 30, 0)
    assert need(part(shelf=4)).known.unfit is None
    assert need(lapsed(shelf=0)).known.unfit is None


def test_what_waits_for_its_release_comes_back_with_a_renewal_too():
    found = need(lapsed(shelf=2), books({"B-1": batch(count=7)})).known
    assert (found.waiting, found.unfit.counted, found.unfit.returning) == (0, 2, 9)


def out(on, count):
    return {"what": "issued", "on": on, "by": "fitter", "count": count}


LATER = batch({"what": "counted", "on": "2028-05-28", "by": "fitter", "on_shelf": 6}, count=10, started="2028-05-27 08:00", ended="2028-05-27 10:00")
COUNTED = counted("2028-05-20", 30)
# What part.yml counted and when, beside batches of which 30 were counted on 20 May; 5 is the reorder point.
BESIDE = {
    "a later count is of the whole": (2, "2028-05-28", {"B-1": COUNTED}, (2, StockState.ORDER)),
    "and what went since is taken off": (28, "2028-05-25", {"B-1": counted("2028-05-20", 30, out("2028-05-22", 2), out("2028-05-27", 24))}, (4, StockState.ORDER)),
    "what went before it is in it": (28, "2028-05-25", {"B-1": counted("2028-05-20", 30, out("2028-05-22", 2))}, (28, StockState.ENOUGH)),
    "more than can lie there asks": (35, "2028-05-28", {"B-1": COUNTED}, (35, StockState.COUNT)),
    "more than can lie there since asks": (30, "2028-05-28", {"B-1": counted("2028-05-20", 30, out("2028-05-22", 24))}, (30, StockState.COUNT)),
    "an older one is passed over": (2, "2028-05-02", {"B-1": COUNTED}, (30, StockState.ENOUGH)),
    "one of a day to come is none yet": (2, "2028-06-02", {"B-1": COUNTED}, (30, StockState.ENOUGH)),
    "two of one day that differ ask": (2, "2028-05-20", {"B-1": COUNTED}, (30, StockState.COUNT)),
    "two of one day that agree do not": (30, "2028-05-20", {"B-1": COUNTED}, (30, StockState.ENOUGH)),
    "one batch counted again does not settle the other": (5, "2028-05-25", {"B-1": COUNTED, "B-2": counted("2028-05-30", 4)}, (34, StockState.COUNT)),
    "both counted again do": (5, "2028-05-25", {"B-1": counted("2028-05-30", 30), "B-2": counted("2028-05-30", 4)}, (34, StockState.ENOUGH)),
    "what was printed since comes on top": (2, "2028-05-25", {"B-1": COUNTED, "B-9": LATER}, (8, StockState.ENOUGH)),
    "none is none": (0, "2028-05-28", {"B-1": COUNTED}, (0, StockState.ORDER)),
    "without a day it is passed over": (2, None, {"B-1": COUNTED}, (30, StockState.ENOUGH)),
}


@pytest.mark.parametrize("case", BESIDE)
def test_the_later_of_two_counts_stands_or_somebody_counts_again(case):
    shelf, on, there, wanted = BESIDE[case]
    found = need(part(shelf=shelf, counted=on), books(there))
    assert (found.known.left, found.state) == wanted
    assert found.known.contradicts is (found.state is StockState.COUNT)


ISSUED = {"what": "issued", "on": "2028-05-25", "by": "fitter", "count": 34}


def test_what_was_issued_since_the_count_does_not_lie_there_though_more_was_fitted_before():
    there = {"B-1": counted("2028-05-20", 28, ISSUED | {"count": 24})}
    found = need(part(), books(there, [row("2028-05-01", "B-1", count=12)]))
    assert (found.state, found.known.left, found.known.went) == (StockState.ORDER, 4, 24)


def test_one_plans_with_the_least_that_must_lie_there_and_says_what_can():
    """Four issued and four fitted since: they may be the same four, or not."""
    there = {"B-1": counted("2028-05-20", 10, ISSUED | {"count": 4})}
    found = need(part(), books(there, [row("2028-05-26", "B-1", count=4)]))
    assert (found.state, found.known.left, found.known.unsure) == (StockState.ORDER, 2, 4)


@pytest.fixture
def beside_one_that_nobody_counted(monkeypatch):
    """B-1 as it was counted, and a good release of another, of which so many should lie there."""
    monkeypatch.setattr(stock, "standing", lambda *_: SimpleNamespace(word="released", is_released=True))
    return lambda shelf, uncounted: need(part(), books({"B-1": counted("2028-05-20", shelf), "B-2": batch({"what": "released", "on": "2028-02-06", "by": "keeper"}, count=uncounted)}))


@pytest.mark.parametrize(("shelf", "state"), [(0, StockState.COUNT), (5, StockState.COUNT), (6, StockState.ENOUGH)])
def test_pieces_that_nobody_counted_do_not_stand_in_for_the_shelf(shelf, state, beside_one_that_nobody_counted):
    found = beside_one_that_nobody_counted(shelf, 7)
    assert (found.known.uncounted, found.known.left, found.known.position) == (7, shelf, shelf)
    assert (found.state, found.reorder.count) == (state, 0)


def test_what_nobody_counted_is_no_reason_to_wait_where_it_is_too_few_as_well(beside_one_that_nobody_counted):
    found = beside_one_that_nobody_counted(2, 3)
    assert (found.state, found.known.uncounted, found.reorder.count) == (StockState.ORDER, 3, 19)


def test_what_is_dated_of_a_day_to_come_has_not_been():
    late = [ISSUED | {"on": "2028-06-02", "count": 3}, {"what": "scrapped", "on": "2028-06-03", "by": "fitter", "count": 1, "why": "fell"}]
    there = {"B-1": counted("2028-05-20", 9, *late), "B-2": counted("2028-06-02", 30)}
    told = known_of(part(), books(there, [row("2028-12-24", "B-1", count=3)]))
    assert (told.counted, told.went, told.left, told.unsure) == (9, 0, 9, 0)
    undone = known_of(part(shelf=9), books({"B-1": batch()}, [row("2028-12-24", "B-1", count=3)]))
    assert (undone.counted, undone.went) == (9, 0)


def test_what_was_issued_since_the_records_own_count_is_taken_off_too():
    told = known_of(part(shelf=9), books({"B-1": batch(ISSUED | {"count": 3})}))
    assert (told.counted, told.went, told.left) == (9, 3, 6)
    both = known_of(part(shelf=9), books({"B-1": batch(ISSUED | {"count": 3})}, [row("2028-05-24", "B-1", count=2)]))
    assert both.left == 4


OTHER = {"B-1": counted("2028-05-20", 30), "B-2": counted("2028-05-22", 4)}
# Of two counted batches the first is printed otherwise than what is approved: (what must lie there to be fitted, what lies beside it, state).
PRINTED_OTHERWISE = {
    "it counts for nothing": (part(), OTHER, (4, 30, StockState.ORDER)),
    "nor does it come back with a renewal": (lapsed(), {"B-1": counted("2028-05-20", 30)}, (0, 30, StockState.HELD)),
    "nor is it on its way": (part(shelf=2), {"B-1": batch(count=30)}, (0, 2, StockState.ORDER)),
    "nor in the record's own count, where it may have lain there": (part(shelf=30), {"B-1": batch(count=28)}, (2, 28, StockState.ORDER)),
    "nor in a later one of the whole": (part(shelf=33, counted="2028-05-25"), OTHER, (3, 30, StockState.ORDER)),
    "what went of it since is no piece of the others": (part(shelf=30), {"B-1": batch(out("2028-05-25", 20), count=28)}, (2, 8, StockState.ORDER)),
    "what was printed after the record's count was not in it": (part(shelf=9), {"B-1": batch(count=28, started="2028-05-21 08:00", ended="2028-05-21 09:00")}, (9, 0, StockState.ENOUGH)),
}


@pytest.mark.parametrize("case", PRINTED_OTHERWISE)
def test_what_was_printed_otherwise_than_approved_is_no_stock(case):
    sheet, there, wanted = PRINTED_OTHERWISE[case]
    found = need(sheet, books(there), unlike={"B-1"})
    told = found.known
    assert (told.position, told.unfit.left if told.unfit else 0, found.state) == wanted
    assert (told.unfit.returning if told.unfit else 0, told.uncounted) == (0, 0)


def test_one_place_whose_approval_binds_it_as_it_was_printed_is_enough():
    sheet, there = part(), books({"B-1": counted("2028-05-20", 30)})
    known_there = judged_with(sheet, there)
    [first, *others] = judged_with(sheet, there, {"B-1"}).grounds
    both = replace(known_there, grounds=(first, *known_there.grounds, *others), judgements=(sheet.judgements[0], *known_there.judgements, *sheet.judgements[1:]))
    assert known(both, there, DAY).position == 30
    # Where only that place may be fitted at all, it is not.
    no = replace(sheet.judgements[0], verdict=Verdict.DO_NOT_FIT)
    held = replace(both, judgements=(sheet.judgements[0], *(no for _ in both.judgements[1:])))
    assert known(held, there, DAY).position == 0
