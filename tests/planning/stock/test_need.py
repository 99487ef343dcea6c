"""When to order, how many and why, from the store keeper's side: by hand on one part, and all that nobody has said."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from generator.planning.stock.demand import FEWEST, Source, demand_of
from generator.planning.stock.known import known
from generator.planning.stock.need import MOST_PIECES, Because, Rule, State, need_of, needs, rule_of
from generator.planning.stock.orders import orders
from generator.records.makers import Maker
from generator.records.parts import Stock
from generator.records.production import Production
from generator.records.stocking import Stocking
from generator.rules.verdicts import Verdict
from tests.fixtures.tiny import CLIP, KNOB, LEVER
from tests.planning.test_month import CATALOGUE, SHEETS, batch, row

DAY = date(2028, 6, 1)
RULE = Rule(service_percent=95.0, holding_percent=20.0, service_is_usual=True, holding_is_usual=True)


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


def need(sheet, catalogue=None, rule=RULE):
    return need_of(sheet, catalogue or books(), DAY, rule)


def test_two_in_the_lead_time_at_95_percent_order_at_five():
    assert [need(part(shelf=shelf)).state for shelf in (0, 5, 6)] == [State.ORDER, State.ORDER, State.ENOUGH]
    found = need(part(shelf=5)).reorder
    assert (round(found.mean, 2), found.point) == (2.0, 5)
    assert [need(part(shelf=5), rule=replace(RULE, service_percent=p)).reorder.point for p in (90.0, 99.0)] == [4, 6]


def test_how_many_and_why():
    # Nobody has said what a run on the bench costs: a quarter's need, 73 / 4 = 18.25.
    assert (need(part(shelf=5)).reorder.quantity, need(part(shelf=5)).reorder.because) == (19, Because.QUARTER)
    # 9 a run, 1.00 a piece: sqrt(2 x 73 x 9 / 0.2) = 81, which is more than a year's need.
    most = need(part(shelf=5), books(set_up=9.0)).reorder
    assert (most.count, most.because, most.price) == (73, Because.MOST, Decimal("73.00"))
    # 0.90 a run: sqrt(2 x 73 x 0.9 / 0.2) = 25.6.
    even = need(part(shelf=5), books(set_up=0.9)).reorder
    assert (even.count, even.because) == (26, Because.EVEN)
    # A run that costs nothing is made for each piece; so many are missing up to the reorder point.
    free = need(part(shelf=0), books(set_up=0.0)).reorder
    assert (free.quantity, free.count, free.because) == (1, 6, Because.POINT)


def test_what_falls_due_soon_is_ordered_along_where_one_looks_ahead():
    # 10 there, 5 is the point: 5 pieces are 25 days, of which 10 and 40 days are fewer and more.
    found = need(part(shelf=10))
    assert (found.state, found.due_days, found.lasts_days) == (State.ENOUGH, 25, 50)
    ahead = [need(part(shelf=10), rule=replace(RULE, ahead_days=days)) for days in (10, 40)]
    assert [each.state for each in ahead] == [State.ENOUGH, State.ORDER]
    assert (ahead[1].reorder.count, ahead[1].reorder.because) == (19, Because.QUARTER)


def test_no_lead_time_orders_when_nothing_is_left():
    at_once = books(lead_time_days=0)
    assert [need(part(shelf=shelf), at_once).state for shelf in (0, 1)] == [State.ORDER, State.ENOUGH]
    assert need(part(shelf=0), at_once).reorder.point == 0


@pytest.mark.parametrize(("demand", "state"), [(None, State.UNSAID), (0.0, State.NONE_NEEDED)])
def test_without_a_demand_nothing_is_ordered(demand, state):
    found = need(part(demand=demand, shelf=0))
    assert (found.state, found.reorder, found.lasts_days) == (state, None, None)


def test_nothing_counted_is_no_empty_shelf():
    found = need(part(shelf=None))
    assert (found.state, found.known.counted, found.known.position, found.reorder.count, found.reorder.price) == (State.COUNT, None, None, 0, None)
    # A count of a day to come has not been; one without its day is told as such and counts.
    assert need(part(shelf=9, counted="2028-06-02")).state is State.COUNT
    assert need(part(shelf=9, counted="2028-06-01")).state is State.ENOUGH
    undated = need(part(shelf=3, counted=None))
    assert (undated.state, undated.known.counted, undated.known.first_day) == (State.ORDER, 3, None)


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
    assert (found.state, found.known.is_less_than_nothing, found.known.left, found.reorder.count) == (State.COUNT, True, 9, 0)
    short = need(part(shelf=1), books({"B-1": batch()}, [row("2028-05-25", "B-1", count=3)]))
    assert (short.state, short.known.left) == (State.COUNT, 0)


def test_what_was_fitted_since_the_records_own_count_is_taken_off_where_it_lay_there():
    late = batch(started="2028-05-22 08:00", ended="2028-05-22 10:30")
    rows = [row("2028-05-25", "B-1", count=2), row("2028-05-20", "B-1"), row("2028-06-02", "B-1"), row("2028-05-26", "B-2", count=4)]
    told = known(part(shelf=9), books({"B-1": batch(), "B-2": late}, rows), DAY)
    assert (told.counted, told.went, told.left) == (9, 2, 7)


def test_what_waits_for_its_release_is_on_its_way():
    told = known(part(shelf=2), books({"B-1": batch(count=7)}), DAY)
    assert (told.waiting, told.position) == (7, 9)
    assert known(part(shelf=2), books({"B-1": batch(count=7, ended="2028-06-02 09:00")}), DAY).waiting == 0
    rejected = batch({"what": "rejected", "on": "2028-02-06", "by": "keeper", "why": "cracks"}, count=7)
    assert known(part(shelf=2), books({"B-1": rejected}), DAY).waiting == 0


def test_what_may_be_fitted_nowhere_is_not_ordered():
    sheet = part(shelf=0)
    no = tuple(replace(each, verdict=Verdict.DO_NOT_FIT) for each in sheet.judgements)
    assert need(replace(sheet, judgements=no)).state is State.HELD
    ask = tuple(replace(each, verdict=Verdict.ASK_FIRST) for each in sheet.judgements)
    assert need(replace(sheet, judgements=ask)).state is State.ORDER


def test_who_makes_it_with_room_is_asked():
    assert need(part(shelf=0, makers=())).state is State.NO_MAKER
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


@pytest.mark.parametrize("demand", [1e-300, 0.001, 5e5, 1e300])
@pytest.mark.parametrize("maker", [{"price": {"per_gram": 1e300}, "set_up": 5.0}, {"price": {"per_gram": 0.0}, "set_up": 1e300}, {"price": {"per_gram": 0.1}, "lead_time_days": 366}])
def test_absurd_figures_give_an_order_of_bounded_size(demand, maker):
    found = need(part(shelf=0, demand=demand, mass=1e6), books(**maker))
    assert found.state is State.ORDER
    assert 1 <= found.reorder.count <= MOST_PIECES


def test_what_was_counted_and_may_not_be_taken_is_none_that_is_known():
    rejected = {"what": "rejected", "on": "2028-05-21", "by": "keeper", "why": "cracks"}
    found = need(part(shelf=50), books({"B-1": counted("2028-05-20", 30, rejected)}))
    assert (found.known.counted, found.known.first_day, found.state) == (0, date(2028, 5, 20), State.ORDER)
