"""Where pieces are that are on no vehicle, in words: on the shelf, handed out, taken off, scrapped since. For pages, papers and the terminal."""

from collections.abc import Iterable

from generator.pages.wording import Wording
from generator.records.catalogue import Catalogue
from generator.rules.production.ledger import Balance
from generator.rules.production.recalling import Elsewhere
from generator.rules.production.taken_off import OffSpot, TakenOff


def elsewhere_words(each: Elsewhere, catalogue: Catalogue, w: Wording) -> str:
    """Where pieces lie that have to be found."""
    if each.off:
        return _came(each.off, catalogue, w)
    if each.kind == "out":
        return w("papers.recall.handed", to=each.to)
    batch = catalogue.production.batches.get(each.batch)
    folder = catalogue.folder(batch.part) if batch else None
    stock = folder.part.stock if folder and folder.part else None
    more, fewer = _more(each.more, w)
    return w("papers.recall.on_shelf", place=stock.place if stock else None, on=w.day(each.on) if each.on else None, more=more, fewer=fewer)


def _more(more: int, w: Wording) -> tuple[str | None, str | None]:
    """More than is written down, or fewer."""
    return w.number(more) if more > 0 else None, w.number(-more) if more < 0 else None


def _came(off: TakenOff, catalogue: Catalogue, w: Wording) -> str:
    gone = sum(count for _, count in off.scrapped)
    return w(
        "papers.recall.came",
        spots=_spots(off.spots, catalogue, w),
        all=w.number(off.came),
        scrapped=w.number(gone) if gone else None,
        days=_days(off, w),
        refitted=w.number(off.refitted) if off.refitted else None,
    )


def gone_words(off: TakenOff, catalogue: Catalogue, w: Wording) -> str:
    """What came off of a batch and was scrapped, all of it."""
    refitted = w.number(off.refitted) if off.refitted else None
    return w("recalls.gone", n=w.number(off.came), batch=off.batch, spots=_spots(off.spots, catalogue, w), days=_days(off, w), refitted=refitted)


def _spots(spots: tuple[OffSpot, ...], catalogue: Catalogue, w: Wording) -> list[str]:
    """How many came off each place stands there where there are several places."""
    return [
        w(
            "papers.recall.came_spot",
            n=w.number(each.count) if len(spots) > 1 else None,
            vehicle=f"{each.site.fleet} {each.site.vehicle}",
            place=catalogue.place_name(each.site.fleet, each.site.place, w("list_separator").join(each.positions)),
            on=w.day(each.on),
        )
        for each in spots
    ]


def _days(off: TakenOff, w: Wording) -> list[str]:
    """How many on each day, where there are several."""
    if len(off.scrapped) == 1:
        return [w.day(off.scrapped[0][0])]
    return [f"{w.number(count)}: {w.day(on)}" for on, count in off.scrapped]


def fate_words(name: str, off: Iterable[TakenOff], w: Wording) -> str:
    """Of one batch: how many came off, how many of these were scrapped, how many are to be found."""
    every = list(off)
    scrapped = sorted(on for each in every for on, _ in each.scrapped)
    gone, again = sum(count for each in every for _, count in each.scrapped), sum(each.refitted for each in every)
    return w(
        "trace.fate",
        batch=name,
        came=w.number(sum(each.came for each in every)),
        scrapped=w.number(gone) if gone else None,
        days=[w.day(on) for on in dict.fromkeys(scrapped)],
        refitted=w.number(again) if again else None,
        left=w.number(sum(each.count for each in every)),
    )


def counted_words(name: str, balance: Balance, w: Wording) -> str | None:
    """That a count of the shelf is not what is written down; None where it is, or nobody counted."""
    if not balance.more or balance.newest is None:
        return None
    more, fewer = _more(balance.more, w)
    key = "trace.more" if more else "trace.fewer"
    return w(key, batch=name, on=w.day(balance.newest.on), more=more, fewer=fewer)


def between_words(name: str, balance: Balance, w: Wording) -> str | None:
    """Of how many the records allow that they lie on the shelf; None where they allow one number."""
    if balance.least == balance.most:
        return None
    return w("trace.between", batch=name, least=w.number(balance.least), most=w.number(balance.most))
