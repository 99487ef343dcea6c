"""What changed lately, where no commits tell it: what the records themselves date, by those days.

A record says when a thing was done, not when somebody wrote that down: what it says without a day, and what was taken out of it, is
nowhere here.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from datetime import date
from itertools import accumulate
from typing import Final

from generator.records.catalogue import Catalogue, PartFolder
from generator.records.prints import PrintRun
from generator.records.production import Production
from generator.records.recalls import Recall
from generator.records.requests import Request
from generator.rules.lately import (
    BATCH,
    EVENT,
    FITTED,
    LISTED,
    LOT,
    MACHINE,
    PART,
    RECALL,
    REMOVED,
    REQUEST,
    Fact,
    Lately,
    LatelyChange,
    in_order,
)

MOST_FACTS: Final = 10_000
"""So many of the newest are told: as many as stand behind the newest commits (4,000 versions of records, with more than one fact each)."""

Dated = tuple[date, Fact]


def lately_by_days(catalogue: Catalogue, most: int = MOST_FACTS) -> Lately:
    """The newest day first. A day counts whole: that which would go beyond `most` facts is left out with all before it, but for the newest."""
    days: defaultdict[date, list[Fact]] = defaultdict(list)
    for day, fact in _every(catalogue):
        days[day].append(fact)
    newest = sorted(days, reverse=True)
    sums = accumulate(len(days[day]) for day in newest)
    told = [day for at, (day, so_far) in enumerate(zip(newest, sums, strict=True)) if so_far <= most or not at]
    return Lately(changes=tuple(_change(day, days[day]) for day in told), is_cut=len(told) < len(newest), by_days=True)


def told_since(by_commits: Lately, by_days: Lately, until: date) -> Lately:
    """Commits after the day `until`; till then the records' own days, for what was committed then is no past of the depot's.

    What such a commit wrote down of an earlier day is told once, under the commit's.
    """
    commits = tuple(each for each in by_commits.changes if each.day > until)
    told = {key for change in commits for fact in change.facts if (key := _once(fact, fact.on))}
    days = ((each.day, tuple(fact for fact in each.facts if _once(fact, each.day.isoformat()) not in told)) for each in by_days.changes if each.day <= until)
    older = tuple(LatelyChange(commit="", day=day, facts=facts) for day, facts in days if facts)
    is_cut = by_days.is_cut or (by_commits.is_cut and len(commits) == len(by_commits.changes))
    return Lately(changes=(*commits, *older), is_cut=is_cut, until=until)


def _once(fact: Fact, day: str) -> tuple[str, ...] | None:
    """By what the same thing is known in a commit and on its own day; None of what may come again, or is of no record."""
    if fact.about == LISTED or fact.what not in (EVENT, "new"):
        return None
    return fact.about, fact.name, fact.what, fact.event, day if fact.what == EVENT else ""


def _change(day: date, facts: Iterable[Fact]) -> LatelyChange:
    """The same in whichever order the records were read: of facts that rank alike, too."""
    return LatelyChange(commit="", day=day, facts=in_order(sorted(facts, key=lambda each: (each.part, each.now, each.count))))


def _every(catalogue: Catalogue) -> Iterator[Dated]:
    for folder in catalogue.parts:
        yield from _of_part(folder)
    yield from _of_prints(catalogue.prints, {each.number: each for each in reversed(catalogue.parts)})
    yield from _of_production(catalogue.production)
    for name, request in catalogue.requests.items():
        yield from _of_request(name, request)


def _of_part(folder: PartFolder) -> Iterator[Dated]:
    def fact(what: str, *, event: str = "", now: str = "") -> Fact:
        return Fact(about=PART, name=folder.folder, part=folder.number, what=what, event=event, now=now)

    if folder.approval:
        yield from ((each.on, fact(EVENT, event=each.what)) for each in folder.approval.events)
    if folder.screening and folder.screening.judged_on:
        yield folder.screening.judged_on, fact("screening")
    stock = folder.part.stock if folder.part else None
    if stock and stock.counted_on:
        yield stock.counted_on, fact("counted", now=str(stock.on_shelf))


def _of_prints(prints: Iterable[PrintRun], folders: dict[str, PartFolder]) -> Iterator[Dated]:
    for each in prints:
        if folder := folders.get(each.part):
            yield each.on, Fact(about=PART, name=folder.folder, part=each.part, what="run")


def _of_production(production: Production) -> Iterator[Dated]:
    for name, batch in production.batches.items():
        yield batch.ended.date(), Fact(about=BATCH, name=name, what="new", count=batch.count, part=batch.part)
        yield from ((each.on, Fact(about=BATCH, name=name, what=EVENT, event=each.what, part=batch.part)) for each in batch.events)
    for name, lot in production.lots.items():
        yield from ((each.on, Fact(about=LOT, name=name, what=EVENT, event=each.what)) for each in lot.events)
    for name, recall in production.recalls.items():
        yield from _of_recall(name, recall, production)
    for name, machine in production.machines.items():
        for qualified in machine.qualifications:
            yield qualified.qualified_on, Fact(about=MACHINE, name=name, what="qualified", now=qualified.material)
            yield from ((each.on, Fact(about=MACHINE, name=name, what="coupons")) for each in qualified.coupons)
    yield from _of_fitted(production)


def _of_recall(name: str, recall: Recall, production: Production) -> Iterator[Dated]:
    of, batch = recall.lot or recall.batch or f"{recall.part or ''} {recall.revision or ''}".strip(), production.batches.get(recall.batch or "")
    part = recall.part or (batch.part if batch else "")
    yield from ((each.on, Fact(about=RECALL, name=name, what=EVENT, event=each.what, now=of, part=part)) for each in recall.events)


def _of_fitted(production: Production) -> Iterator[Dated]:
    """How many pieces of a part went onto vehicles and came off on a day; of those without a known batch nobody knows of which part."""
    pieces: defaultdict[date, Counter[tuple[str, str]]] = defaultdict(Counter)
    for row in production.fitted:
        for what, name, count in ((FITTED, row.batch, row.count), (REMOVED, row.removed_batch, row.removed)):
            batch = production.batches.get(name)
            pieces[row.day][what, batch.part if batch else ""] += count
    for day, counts in pieces.items():
        yield from ((day, Fact(about=LISTED, what=what, count=count, part=part)) for (what, part), count in counts.items() if count)


def _of_request(name: str, request: Request) -> Iterator[Dated]:
    yield request.on, Fact(about=REQUEST, name=name, what="new")
    yield from ((each.on, Fact(about=REQUEST, name=name, what="voice")) for each in request.also_wanted)
