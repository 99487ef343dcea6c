"""The stock of a part by its batches, as it was counted: what lies there, since which day, what went since, what not to take."""

from collections.abc import Iterable

from generator.pages.wording import Wording
from generator.rules.production.stock import BatchStock


def to_take(stocks: Iterable[BatchStock], revision: str) -> tuple[tuple[BatchStock, ...], str]:
    """The counted batches that may be taken of one revision, and which: the part's own, else the newest that lies there."""
    good = [each for each in stocks if each.counted and not each.is_stopped]
    labels = [each.revision for each in good if each.most] or [each.revision for each in good]
    label = revision if revision in labels or not labels else labels[-1]
    return tuple(each for each in good if each.revision == label), label


def counted_line(stocks: tuple[BatchStock, ...], w: Wording, *, has_uncounted: bool = False) -> str:
    """How many lie there, on which day; each batch with its own where the days differ. Stocks are of counted batches.

    has_uncounted: pieces that nobody has counted should lie there beside them.
    """
    if not sum(each.most for each in stocks):
        return w("getting.counted.gone_counted" if has_uncounted else "getting.counted.gone")
    days = {each.on for each in stocks}
    if len(days) == 1:
        return w.count("getting.counted.sum", sum(each.counted or 0 for each in stocks), day=_iso(stocks[0]))
    each_one = (w.count("getting.counted.one", each.counted or 0, batch=each.batch, day=_iso(each)) for each in stocks)
    return w("getting.counted.differ", batches=tuple(each_one))


def batch_lines(stocks: Iterable[BatchStock], taken: tuple[BatchStock, ...], w: Wording) -> tuple[str, ...]:
    """What stands below it: the batches that were summed, what went since, those of other labels, and those never counted."""
    listed = tuple(stocks)
    lines = [w("getting.counted.batches", batches=tuple(w("getting.counted.each", batch=each.batch, n=str(each.counted)) for each in taken))] if taken else []
    lines += [_since(each, w) for each in taken if each.counted != each.remains or each.scrapped or each.least != each.most]
    others = [each for each in listed if each.counted and not each.is_stopped and each not in taken]
    lines += [w("getting.counted.other", batch=each.batch, n=str(each.counted), revision=each.revision, day=_iso(each)) for each in others]
    uncounted = tuple(
        w("getting.counted.never_each", batch=each.batch, n=_how_many(each, w)) for each in listed if each.counted is None and not each.is_stopped
    )
    if uncounted:
        lines.append(w("getting.counted.never", batches=uncounted))
    return tuple(lines)


def _since(stock: BatchStock, w: Wording) -> str:
    """What went since the count, and what that leaves: nobody has to reckon."""
    moved = (("issued", stock.issued), ("returned", stock.returned), ("scrapped", stock.scrapped))
    went = tuple(w(f"getting.counted.{what}", n=str(n)) for what, n in moved if n)
    if stock.least != stock.most:
        return w("getting.counted.since_between", batch=stock.batch, went=went, least=str(stock.least), most=str(stock.most))
    return w("getting.counted.since", batch=stock.batch, went=went, n=str(stock.remains))


def _how_many(stock: BatchStock, w: Wording) -> str:
    return str(stock.most) if stock.least == stock.most else w("getting.counted.between", least=str(stock.least), most=str(stock.most))


def stopped_line(stocks: Iterable[BatchStock], w: Wording) -> str:
    """Batches that may lie about and are not to be taken; empty where there is none."""
    stopped = tuple(each.batch for each in stocks if each.is_stopped and each.counted != 0)
    return w("getting.counted.stopped", batches=stopped) if stopped else ""


def _iso(stock: BatchStock) -> str | None:
    return stock.on.isoformat() if stock.on else None
