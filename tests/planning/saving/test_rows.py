"""Savings in decimals: every sum of rows is exact however they are put together, and inputs stand beside."""

import random
from collections import Counter
from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import SimpleNamespace

import pytest

from generator.planning.money import cents, exact
from generator.planning.month import month_report, months
from generator.planning.offers import Offer
from generator.planning.saving.expected import expected, together
from generator.planning.saving.payback import payback
from generator.planning.saving.rows import Instead, Unknown, savings
from generator.records.fitted import Why
from generator.records.machines import Machine
from generator.records.makers import Maker
from generator.records.parts import Assembly, OldNumber
from generator.records.production import Production
from tests.fixtures.tiny import CLIP, KNOB
from tests.planning.test_month import CATALOGUE, TODAY, batch, priced, row

BENCH = Machine.model_validate_json('{"name": "Bench one", "maker": "bench"}')


def catalogue(batches, rows, **maker):
    makers = CATALOGUE.makers | {"bench": Maker.model_validate(CATALOGUE.makers["bench"].model_dump() | maker)}
    return replace(CATALOGUE, makers=makers, production=Production(batches=batches, fitted=tuple(rows), machines={"M-1": BENCH}))


@pytest.mark.parametrize(
    ("amount", "told"), [("0.005", "0.01"), ("-0.005", "-0.01"), ("2.675", "2.68"), ("2.665", "2.67"), ("0.0049", "0.00"), ("12", "12.00")]
)
def test_half_a_cent_goes_up(amount, told):
    assert cents(Decimal(amount)) == Decimal(told)
    # As a float, 2.675 is a little less, and half to even is what Python does of itself: both would give 2.67 here.
    assert cents(exact(float(amount))) == Decimal(told)


def test_a_price_of_any_length_stops_nothing():
    assert cents(exact(1e300)) == Decimal(10) ** 300
    assert cents(exact(5e-324)) == 0


def test_sums_are_exact_whichever_way_rows_are_put_together():
    chance = random.Random(7)
    # Thirds of a cent all over: 7 pieces share an order of 10 that no cent divides.
    batches = {f"B-{at}": batch(count=chance.choice([3, 7, 11, 13])) for at in range(12)}
    rows = [
        replace(row(f"2028-{chance.randint(1, 5):02}-{chance.randint(1, 28):02}", f"B-{chance.randrange(12)}", count=chance.randint(1, 3)), fleet=chance.choice(["A1", "A2"]))
        for _ in range(200)
    ]
    rows += [row("2028-05-20", off="B-3", why=Why.WRONG)]
    books = catalogue(batches, rows, price={"per_order": 10.0, "per_gram": 0.1}, set_up=0.01)
    listed = priced(price=90.005)
    found = savings(rows, listed, books)
    for key in (lambda r: r.number, lambda r: r.fleet, lambda r: r.month, lambda r: r.batch, lambda r: (r.fleet, r.month)):
        put = found.by(key)
        assert sum((each.saved for each in put.values()), Decimal(0)) == found.total
        assert sum(each.pieces for each in put.values()) == sum(each.count for each in rows) - 1
    # What stands in a row can be reckoned again from what stands beside it, to the cent.
    for each in found.rows:
        assert each.saved == each.bought * each.before - each.own_together
        assert each.before == cents(each.before)
        assert each.own == cents(each.own)
        assert each.before == Decimal("90.01")
    # The reports of the months are the same rows.
    reports = [month_report(month, listed, books, TODAY) for month in months(books, TODAY)]
    assert sum((each.savings.total for each in reports), Decimal(0)) == found.total
    assert Counter(r for each in reports for r in each.savings.rows) == Counter(found.rows)


def test_what_could_be_bought_alone_is_told_by_that_price_and_not_by_the_assembly():
    def alone(each, *prices):
        old = tuple(OldNumber(number=f"S/{at}", price=price) for at, price in enumerate(prices))
        return replace(each, folder=replace(each.folder, part=each.part.model_copy(update={"replaces": old})))

    knob = next(each for each in priced() if each.number == KNOB)
    books, lines = catalogue({"B-1": batch()}, ()), [row("2028-02-10", "B-1", count=2)]
    told = [savings(lines, [each], books).rows[0] for each in (alone(knob, 12.345, None, 14.0), alone(knob, None), alone(knob, 0.0))]
    assert [(each.before, each.instead, each.saved) for each in told] == [
        (Decimal("12.35"), Instead.PART, Decimal("22.70")), (Decimal("90.00"), Instead.ASSEMBLY, Decimal("88.00")), (Decimal("0.00"), Instead.PART, Decimal("-2.00")),
    ]  # fmt: skip


def test_own_price_by_hand():
    # 10 an order, 10 g at 0.1, 7 pieces, 0.50 of set-up: (10 + 7 + 0.5) / 7 = 2.50; 7 pieces of one visit saved 90 - 7 x 2.5.
    books = catalogue({"B-1": batch(count=7)}, (), price={"per_order": 10.0, "per_gram": 0.1}, set_up=0.5)
    found = savings([row("2028-02-10", "B-1", count=7)], priced(), books)
    assert [(each.own, each.saved) for each in found.rows] == [(Decimal("2.50"), Decimal("72.50"))]


def times(*rows, batches=None, sheets=None):
    """How many assemblies, and for how many pieces."""
    found = savings(rows, sheets or priced(), catalogue(batches or {"B-1": batch(), "B-2": batch()}, ()))
    return sum(each.bought for each in found.rows), sum(each.pieces for each in found.rows)


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ([row("2028-02-10", "B-1", 9)], (1, 9)),
        ([row("2028-02-10", "B-1"), row("2028-02-10", "B-2"), row("2028-02-10", "B-1")], (1, 3)),
        ([row("2028-02-10", "B-1"), row("2028-02-11", "B-1")], (2, 2)),
        ([row("2028-02-10", "B-1"), replace(row("2028-02-10", "B-1"), place="saloon")], (2, 2)),
        ([row("2028-02-10", "B-1"), replace(row("2028-02-10", "B-1"), vehicle="12")], (2, 2)),
        ([row("2028-02-10", "B-1"), replace(row("2028-02-10", "B-1"), fleet="A2")], (2, 2)),
        ([row("2028-02-10", "B-1"), replace(row("2028-02-10", "B-1"), position="left")], (1, 2)),
        # What comes off as wrong takes back the assembly of its visit, once; worn pieces take back nothing.
        ([row("2028-02-10", "B-1", 9), row("2028-02-12", off="B-1", why=Why.WRONG), row("2028-02-13", off="B-1", why=Why.WRONG)], (0, 7)),
        ([row("2028-02-10", "B-1"), row("2028-02-11", "B-1"), row("2028-03-12", off="B-1", removed=2, why=Why.WRONG)], (0, 0)),
        ([row("2028-02-10", "B-1", 9), row("2028-02-12", "B-2", off="B-1", why=Why.WRONG)], (1, 9)),
        ([row("2028-02-10", "B-1", 9), row("2028-02-12", off="B-1", why=Why.WORN)], (1, 9)),
        ([row("2028-02-10", "B-1", 9), row("2028-02-10", off="B-1", removed=9, why=Why.WRONG)], (0, 0)),
        ([row("2028-02-12", off="B-1", removed=5, why=Why.WRONG)], (-1, -5)),
    ],
)
def test_a_visit_saves_one_assembly_at_most(rows, told):
    assert times(*rows) == told
    assert times(*reversed(rows)) == told


def test_two_components_of_one_assembly_share_it_and_two_assemblies_do_not():
    def of(each, assembly):
        plain = {"assembly": Assembly(name="Latch", number=assembly, price=90.0), "replaces": ()}
        return replace(each, mass_g=10.0, folder=replace(each.folder, part=each.part.model_copy(update=plain)))

    made, lines = {"B-1": batch(), "B-2": batch(part=CLIP)}, [row("2028-02-10", "B-1"), row("2028-02-10", "B-2")]
    knob, clip = (next(each for each in priced() if each.number == number) for number in (KNOB, CLIP))
    assert times(*lines, batches=made, sheets=[of(knob, "7-1"), of(clip, " 7-1")]) == (1, 2)
    assert times(*lines, batches=made, sheets=[of(knob, "7-1"), of(clip, "7-2")]) == (2, 2)


def test_a_month_knows_of_which_visit_the_piece_was_that_came_off_as_wrong():
    lines = [row("2028-02-10", "B-1", 9), row("2028-03-01", off="B-1", why=Why.WRONG), row("2028-04-01", off="B-1", why=Why.WRONG)]
    books = catalogue({"B-1": batch()}, lines)
    found = [sum(each.bought for each in month_report(month, priced(), books, TODAY).savings.rows) for month in reversed(months(books, TODAY))]
    assert [each for each in found if each] == [1, -1]
    assert sum(month_report(month, priced(), books, TODAY).savings.total for month in months(books, TODAY)) == savings(lines, priced(), books).total


def test_what_is_not_known_is_no_nought():
    books = replace(catalogue({"B-1": batch()}, ()), depot=CATALOGUE.depot.model_copy(update={"costs_per_hour": 60.0}))
    lines = [row("2028-02-10", "B-1")]
    unread = replace(approved(60), folder=replace(approved(60).folder, part=None))
    for sheet, why in ((bare(), Unknown.PRICE), (unread, Unknown.UNREAD)):
        found = savings(lines, [sheet], books)
        paid_back = payback(sheet, found, books)
        assert (paid_back.saved, paid_back.net, paid_back.since, paid_back.unknown) == (None, None, None, why)
        assert found.unknown_parts == {KNOB: (1, why)}
        assert found.unknown_by(lambda each: str(each.month)) == {"2028-02": (1, why)}
    # Of what nobody fitted it is known: nothing.
    nobody = payback(bare(), savings([], [bare()], books), books)
    assert (nobody.saved, nobody.unknown, nobody.net) == (0, None, -60)


def bare():
    """The knob with an hour of work, and without any price."""
    each = approved(60)
    return replace(each, folder=replace(each.folder, part=each.part.model_copy(update={"assembly": None, "replaces": ()})))


def test_a_price_break_is_of_all_pieces_of_the_order():
    maker = Maker.model_validate(CATALOGUE.makers["bench"].model_dump() | {"price": {"per_gram": 0.1, "price_breaks": ({"from_count": 5, "less_percent": 10.0},)}})
    offer = Offer(maker, None, None, 10.0)
    assert [offer.price(count) for count in (1, 4, 5, 6)] == [Decimal("1.00"), Decimal("4.00"), Decimal("4.50"), Decimal("5.40")]


def test_what_was_not_fitted_is_expected_by_its_demand_and_never_added():
    def needs(each, demand):
        return replace(each, folder=replace(each.folder, part=each.part.model_copy(update={"yearly_demand": demand})))

    knob = next(each for each in priced() if each.number == KNOB)
    (line,) = expected([needs(knob, 7.5)], CATALOGUE, (), TODAY)
    assert (line.before, line.own, line.saved) == (Decimal("90.00"), Decimal("1.00"), Decimal("667.50"))
    assert together([line, line]) == Decimal("1335.00")
    assert expected([needs(knob, 7.5)], CATALOGUE, {KNOB}, TODAY) == ()
    assert expected([needs(knob, None)], CATALOGUE, (), TODAY) == expected([needs(knob, 0.0)], CATALOGUE, (), TODAY) == ()


def approved(*minutes):
    """The knob with an event for each of the minutes; events of today carry none, so what is read of them stands in their place."""
    knob = next(each for each in priced() if each.number == KNOB)
    events = tuple(SimpleNamespace(minutes=each) for each in minutes) or (SimpleNamespace(what="approved"),)
    return replace(knob, folder=replace(knob.folder, approval=SimpleNamespace(events=events)))


def paid(costs, *minutes, rows=(("2028-02-10", 1), ("2028-03-10", 1), ("2028-04-10", 1))):
    depot = CATALOGUE.depot.model_copy(update={"costs_per_hour": costs})
    books = replace(catalogue({"B-1": batch()}, ()), depot=depot)
    lines = [row(day, "B-1", count=count) for day, count in rows]
    return payback(approved(*minutes), savings(lines, priced(), books), books)


def test_minutes_are_paid_back_in_the_month_in_which_as_much_was_saved():
    # 89 a month: 90 minutes at 70 an hour are 105, which is passed in March; 178 exactly is reached in March too, a cent more in April.
    assert (paid(70.0, 60, 30).cost, str(paid(70.0, 60, 30).since)) == (Decimal("105.00"), "2028-03")
    assert (paid(178.0, 60).cost, str(paid(178.0, 60).since)) == (Decimal("178.00"), "2028-03")
    assert str(paid(178.01, 60).since) == "2028-04"
    late = paid(1000.0, 60)
    assert (late.since, late.net) == (None, Decimal(267 - 1000))


def test_without_minutes_or_without_what_an_hour_costs_nothing_is_guessed():
    assert (paid(70.0).minutes, paid(70.0).cost, paid(70.0).since) == (None, None, None)
    unsaid = paid(None, 45)
    assert (unsaid.minutes, unsaid.events, unsaid.cost, unsaid.net) == (45, 1, None, None)


def test_what_comes_off_as_wrong_undoes_that_it_was_paid_back():
    depot = CATALOGUE.depot.model_copy(update={"costs_per_hour": 80.0})
    books = replace(catalogue({"B-1": batch()}, ()), depot=depot)
    lines = [row("2028-02-10", "B-1"), row("2028-03-10", off="B-1", why=Why.WRONG), row("2028-05-02", "B-1")]
    found = payback(approved(60), savings(lines, priced(), books), books)
    assert str(found.since) == "2028-05"


def test_a_line_of_a_day_to_come_is_no_saving_of_the_reports():
    books = catalogue({"B-1": batch()}, [row("2028-02-10", "B-1"), row("2029-01-01", "B-1")])
    reports = [month_report(month, priced(), books, date(2028, 6, 1)) for month in months(books, date(2028, 6, 1))]
    assert sum(each.savings.total for each in reports) == Decimal("89.00")
