"""What changed lately, in words without HTML: by day, and what changed alike in one line."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache
from itertools import groupby

from generator.pages.wording import Wording
from generator.records.catalogue import PartFolder
from generator.rules.folder_names import owners
from generator.rules.lately import (
    BATCH,
    CATALOGUE,
    EVENT,
    FITTED,
    LISTED,
    LOT,
    MACHINE,
    PART,
    RECALL,
    REMOVED,
    Fact,
    Lately,
    LatelyChange,
    in_order,
)


@dataclass(frozen=True, slots=True)
class Subject:
    """What something changed of: a part by its number, a record by its name."""

    about: str
    name: str
    says: str


@dataclass(frozen=True, slots=True)
class ToldLine:
    says: str
    subjects: tuple[Subject, ...]
    is_news: bool
    """Whether it is an event of a part's approval."""
    is_daily: bool = False
    """Whether it is of what goes on every day: pieces that were fitted and removed."""


@dataclass(frozen=True, slots=True)
class ToldDay:
    heading: str
    lines: tuple[ToldLine, ...]
    on: date | None = None
    """None of what is dated after the day of the pages."""

    @property
    def is_later(self) -> bool:
        return self.on is None


@dataclass(frozen=True, slots=True, kw_only=True)
class LatelyTold:
    """All of it, newest first, and what of it is about each part, by number."""

    days: tuple[ToldDay, ...]
    of_parts: Mapping[str, tuple[ToldDay, ...]]
    is_cut: bool
    by_days: bool = False
    """Whether the records' own days tell it, and no commits."""
    until: date | None = None
    """Until which day they do, where commits tell what came after."""


_SUMMED = {"lines", FITTED, REMOVED}


def lately_told(found: Lately, parts: Iterable[PartFolder], day: date, w: Wording) -> LatelyTold:
    """By the day of the commit, or by the records' own; what is dated after `day` stands apart. What nobody can name any more is left out."""
    later = "lately.later_days" if found.by_days or found.until else "lately.later"
    changes, of_parts = _named(_with_days(found, day), parts), defaultdict[str, list[LatelyChange]](list)
    for change in changes:
        by_number: defaultdict[str, list[Fact]] = defaultdict(list)
        for fact in change.facts:
            if fact.part:
                by_number[fact.part].append(fact)
        for number, facts in by_number.items():
            of_parts[number].append(replace(change, facts=tuple(facts)))
    return LatelyTold(
        days=tuple(_days(changes, day, later, w)),
        of_parts={number: tuple(_days(each, day, later, w)) for number, each in of_parts.items()},
        is_cut=found.is_cut,
        by_days=found.by_days,
        until=found.until,
    )


def _with_days(found: Lately, day: date) -> tuple[LatelyChange, ...]:
    """Under the heading of its own day nothing bears it again; what is dated later has none."""
    return tuple(
        replace(each, facts=tuple(replace(fact, on=each.day.isoformat()) for fact in each.facts)) if not each.commit and each.day > day else each
        for each in found.changes
    )


def _named(changes: Iterable[LatelyChange], parts: Iterable[PartFolder]) -> tuple[LatelyChange, ...]:
    """Each fact of a part with its number: as its record says it, else as its folder belongs to one now."""
    owner = lru_cache(maxsize=None)(owners(parts))
    return tuple(
        replace(change, facts=tuple(replace(fact, part=fact.part or owner(fact.name) or "") if fact.about == PART else fact for fact in change.facts))
        for change in changes
    )


def _days(changes: Iterable[LatelyChange], day: date, later: str, w: Wording) -> Iterator[ToldDay]:
    for on, some in groupby(changes, key=lambda each: None if each.day > day else each.day):
        if lines := tuple(_lines(some, w)):
            yield ToldDay(w.day(on) if on else w(later), lines, on)


def _lines(changes: Iterable[LatelyChange], w: Wording) -> Iterator[ToldLine]:
    alike: dict[tuple[str, str], dict[Subject, None]] = {}
    kinds: dict[tuple[str, str], tuple[bool, bool]] = {}
    for fact in in_order(_summed(fact for change in changes for fact in change.facts)):
        subject = _subject(fact, w)
        if subject is None and fact.about not in (LISTED, CATALOGUE):
            continue
        key = (fact.about, _says(fact, w))
        kinds[key] = fact.about == PART and fact.what == EVENT, fact.what in (FITTED, REMOVED)
        alike.setdefault(key, {}).update({subject: None} if subject else {})
    yield from (ToldLine(key[1], tuple(subjects), *kinds[key]) for key, subjects in alike.items())


def _summed(facts: Iterable[Fact]) -> Iterator[Fact]:
    """Lines of one list that several commits of a day added are so many lines of that day; so are pieces of several parts."""
    of_lists: dict[tuple[str, str], Fact] = {}
    for fact in facts:
        if fact.about == LISTED and fact.what in _SUMMED:
            key = fact.name, fact.what
            before = of_lists.get(key)
            of_lists[key] = replace(fact, count=fact.count + before.count) if before else fact
        else:
            yield fact
    yield from of_lists.values()


def _subject(fact: Fact, w: Wording) -> Subject | None:
    if fact.about in (LISTED, CATALOGUE):
        return None
    if fact.about == PART:
        return Subject(PART, fact.part, fact.part) if fact.part else None
    if fact.about == BATCH and fact.part:
        says = w("lately.pieces", name=fact.name, count=str(fact.count), part=fact.part) if fact.count else w("lately.of", name=fact.name, of=fact.part)
        return Subject(BATCH, fact.name, says)
    return Subject(fact.about, fact.name, w("lately.of", name=fact.name, of=fact.now) if fact.about in (RECALL, MACHINE) and fact.now else fact.name)


def _says(fact: Fact, w: Wording) -> str:
    word = _event(fact, w) if fact.what == EVENT else _what(fact, w)
    return w("lately.event", event=word, on=w.iso_day(fact.on)) if fact.on else word


def _event(fact: Fact, w: Wording) -> str:
    if fact.about == RECALL:
        return w(f"lately.what.recall.{fact.event}")
    if fact.about in (BATCH, LOT):
        return w(f"lately.what.{fact.about}_event", event=w.term(f"{fact.about}_event", fact.event))
    return w.term("event", fact.event)


def _what(fact: Fact, w: Wording) -> str:
    if fact.about == LISTED and fact.what in (FITTED, REMOVED):
        return w.count(f"lately.what.pieces.{fact.what}", fact.count)
    if fact.about == LISTED:
        name, _, year = fact.name.partition(" ")
        return w(f"lately.what.list.{'lines' if fact.what == 'lines' else name}", n=w.number(fact.count), year=year)
    if fact.about == CATALOGUE:
        return w.count("lately.what.catalogue.begun", fact.count)
    return w(f"lately.what.{fact.about}.{fact.what}", before=fact.before, now=fact.now)
