"""What pieces saved, in the words that the report of a month and the page of the savings share: how often what was bought, and what is not known."""

from collections.abc import Callable
from decimal import Decimal

from generator.pages.wording import Wording
from generator.planning.saving.ahead import Ahead
from generator.planning.saving.rows import Instead, Saved, Savings, Unknown
from generator.planning.stock.demand import ORDERS_A_YEAR, Demand


def visits_words(found: Savings, w: Wording) -> str:
    """How many assemblies count for how many pieces; empty where each piece stands for one."""
    rows = [row for row in found.rows if row.instead is Instead.ASSEMBLY]
    pieces, bought = sum(row.pieces for row in rows), sum(row.bought for row in rows)
    return w("savings.visits", pieces=w.number(pieces), bought=w.number(bought)) if bought != pieces else ""


def unpriced_words(found: Savings, part: Callable[[str], str], w: Wording) -> str:
    """Of which pieces nobody knows what they saved, and why; empty where it is known of all. part: what a number is called."""
    said = []
    for why in Unknown:
        unpriced = [each for each in found.unpriced_for if each.why is why]
        listed = tuple(part(each.number) if each.number else w("reports.unknown_batch") for each in unpriced)
        said += [w.count(f"savings.unpriced.{why}", sum(each.pieces for each in unpriced), parts=listed)] if unpriced else []
    return " ".join(said)


def times_words(each: Saved, currency: str, w: Wording) -> str:
    """What was bought before, and how many times."""
    if each.before is None or each.instead is None:
        return w("missing")
    return w("savings.before.times", n=w.number(each.bought), before=before_words(each.before, each.instead, currency, w))


def before_words(price: Decimal, instead: Instead, currency: str, w: Wording) -> str:
    """The price, and of what it is."""
    return w(f"savings.before.{instead}", price=w.money(price, currency))


def ahead_words(prices: Ahead, currency: str, w: Wording) -> dict[str, str]:
    """What is bought in place of the next piece, its own price, and with how many it is ordered, as today's page, a part's and its submission say it."""
    whole = {"whole": w.money(prices.whole, currency)} if prices.whole is not None else {}
    before = w(f"savings.before.{'share' if whole else prices.before.instead}", price=w.money(prices.before.price, currency), **whole)
    return {"before": before, "own": w.money(prices.own, currency), "order": order_words(prices.demand, w)}


def order_words(demand: Demand | None, w: Wording) -> str:
    """How many the next piece is ordered with, and of which demand that is a quarter."""
    if demand is None:
        return w("savings.order.unsaid")
    return w(f"savings.order.{'one' if demand.told < ORDERS_A_YEAR else demand.source.value}", n=w.number(demand.a_quarter), a_year=w.measure(float(demand.told)))
