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
    LISTED,
    LOT,
    PART,
    RECALL,
    Change,
    Fact,
    Lately,
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


@dataclass(frozen=True, slots=True)
class ToldDay:
    heading: str
    lines: tuple[ToldLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class LatelyTold:
    """All of it, newest first, and what of it is about each part, by number."""

    days: tuple[ToldDay, ...]
    of_parts: Mapping[str, tuple[ToldDay, ...]]
    is_cut: bool


def lately_told(found: Lately, parts: Iterable[PartFolder], day: date, w: Wording) -> LatelyTold:
    """By the day of the commit, as long as that is none after `day`; what nobody can name any more is left out."""
    changes, of_parts = _named(found.changes, parts), defaultdict[str, list[Change]](list)
    for change in changes:
        by_number: defaultdict[str, list[Fact]] = defaultdict(list)
        for fact in change.facts:
            if fact.part:
                by_number[fact.part].append(fact)
        for number, facts in by_number.items():
            of_parts[number].append(replace(change, facts=tuple(facts)))
    return LatelyTold(
        days=tuple(_days(changes, day, w)),
        of_parts={number: tuple(_days(each, day, w)) for number, each in of_parts.items()},
        is_cut=found.is_cut,
    )


def _named(changes: Iterable[Change], parts: Iterable[PartFolder]) -> tuple[Change, ...]:
    """Each fact of a part with its number: as its record says it, else as its folder belongs to one now."""
    owner = lru_cache(maxsize=None)(owners(parts))
    return tuple(
        replace(change, facts=tuple(replace(fact, part=fact.part or owner(fact.name) or "") if fact.about == PART else fact for fact in change.facts))
        for change in changes
    )


def _days(changes: Iterable[Change], day: date, w: Wording) -> Iterator[ToldDay]:
    for on, some in groupby(changes, key=lambda each: None if each.day > day else each.day):
        if lines := tuple(_lines(some, w)):
            yield ToldDay(w.day(on) if on else w("lately.later"), lines)


def _lines(changes: Iterable[Change], w: Wording) -> Iterator[ToldLine]:
    alike: dict[tuple[str, str], dict[Subject, None]] = {}
    events: dict[tuple[str, str], bool] = {}
    for fact in in_order(fact for change in changes for fact in change.facts):
        subject = _subject(fact, w)
        if subject is None and fact.about not in (LISTED, CATALOGUE):
            continue
        key = (fact.about, _says(fact, w))
        events[key] = fact.about == PART and fact.what == EVENT
        alike.setdefault(key, {}).update({subject: None} if subject else {})
    yield from (ToldLine(key[1], tuple(subjects), events[key]) for key, subjects in alike.items())


def _subject(fact: Fact, w: Wording) -> Subject | None:
    if fact.about in (LISTED, CATALOGUE):
        return None
    if fact.about == PART:
        return Subject(PART, fact.part, fact.part) if fact.part else None
    if fact.about == BATCH and fact.part:
        says = w("lately.pieces", name=fact.name, count=str(fact.count), part=fact.part) if fact.count else w("lately.of", name=fact.name, of=fact.part)
        return Subject(BATCH, fact.name, says)
    return Subject(fact.about, fact.name, w("lately.of", name=fact.name, of=fact.now) if fact.about == RECALL and fact.now else fact.name)


def _says(fact: Fact, w: Wording) -> str:
    if fact.what == EVENT:
        if fact.about == RECALL:
            word = w(f"lately.what.recall.{fact.event}")
        elif fact.about in (BATCH, LOT):
            word = w(f"lately.what.{fact.about}_event", event=w.term(f"{fact.about}_event", fact.event))
        else:
            word = w.term("event", fact.event)
        return w("lately.event", event=word, on=w.iso_day(fact.on))
    if fact.about == LISTED:
        name = "lines" if fact.what == "lines" else fact.name.partition(" ")[0]
        return w(f"lately.what.list.{name}", n=w.number(fact.count))
    if fact.about == CATALOGUE:
        return w.count("lately.what.catalogue.begun", fact.count)
    return w(f"lately.what.{fact.about}.{fact.what}", before=fact.before, now=fact.now)
