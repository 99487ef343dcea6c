"""How often does the finder put the right part first? The evaluation set, its two halves, and the measures."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from generator.finder.engine import Finder

ABSENT = "absent"
FOLDER = Path(__file__).with_name("queries")
ANY = ("*",)
"""No part at all may be sure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Query:
    """A query with what answers it; see queries/README.md for the fields of a case."""

    kind: str
    text: str
    expected: tuple[str, ...] = ()
    """Right in the first place."""
    expect: str | None = None
    """this, likely or none; None for a short query, which only says what is right."""
    among_5: tuple[str, ...] = ()
    never_sure: tuple[str, ...] = ()
    request: str | None = None
    vehicle: str | None = None

    @property
    def is_held_back(self) -> bool:
        """Half of all queries, by a hash of the text: whoever adds a query cannot choose its half."""
        return hashlib.sha256(self.text.encode("utf-8")).digest()[0] % 2 == 1


@dataclass(frozen=True, slots=True)
class Answer:
    """Numbers found, best first; whether the first part is called sure; and all that the cases ask besides."""

    numbers: tuple[str, ...]
    is_sure: bool
    sure: tuple[str, ...] = ()
    """Every part that is called sure."""
    said: str = "likely"
    """Which of the three answers."""
    first: str | None = None
    """What stands first, be it a part or a request."""
    requests: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Score:
    """Share of queries with a right part first, among the first five, and the mean of 1/rank (0 beyond ten)."""

    n: int
    at_1: float
    at_5: float
    mrr: float
    sure: float
    """Share whose right first part is also called sure; for absent parts, share that is wrongly called sure."""
    wrongly_sure: int = 0
    """How many call a part sure that must not be."""
    wrong: tuple[str, ...] = ()
    """What is wrong, told by its query."""


@cache
def queries(folder: Path = FOLDER) -> tuple[Query, ...]:
    """Of every file in the folder; a text that stands twice is asked once for each vehicle."""
    return tuple(query for file in sorted(folder.glob("*.yml")) for query in _read(file))


def _read(file: Path) -> Iterable[Query]:
    read = yaml.load(file.read_text(encoding="utf-8"), Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader))
    if isinstance(read, dict):
        return (Query(kind=kind, text=text, expected=tuple(parts)) for kind, pairs in read.items() for text, parts in pairs)
    return (_case(each) for each in read)


def _case(told: dict[str, Any]) -> Query:
    return Query(
        kind=f"case: {told['kind']}",
        text=told["query"],
        expect=told["expect"],
        expected=_several(told.get("first")),
        among_5=_several(told.get("among_5")),
        never_sure=_never_sure(told),
        request=told.get("request"),
        vehicle=told.get("vehicle"),
    )


def _never_sure(told: dict[str, Any]) -> tuple[str, ...]:
    """Those named; any part where none is expected to be sure."""
    named = told.get("never_sure", told["expect"] != "this")
    return ANY if named is True else _several(named or None)


def _several(given: str | list[str] | None) -> tuple[str, ...]:
    return () if given is None else (given,) if isinstance(given, str) else tuple(given)


@cache
def answered(finder: Finder, query: Query) -> Answer:
    """What the finder says to a query: several tests look at the same answer."""
    told = finder.answer(query.text, 40, query.vehicle or "")
    parts = [each for each in told.found if each.kind == "part"]
    return Answer(
        numbers=tuple(each.number for each in parts),
        is_sure=bool(parts) and parts[0].is_sure,
        sure=tuple(each.number for each in parts if each.is_sure),
        said=told.said,
        first=told.found[0].number if told.found else None,
        requests=tuple(each.number for each in told.found if each.kind == "request"),
    )


def rank_of(query: Query, answer: Answer) -> int | None:
    """Place of the first right part, from 1; None where it is not among the first ten."""
    places = (at for at, number in enumerate(answer.numbers[:10], 1) if number in query.expected)
    return next(places, None)


def is_at_1(query: Query, answer: Answer) -> bool:
    """Whether what stands first may stand there."""
    if query.request:
        return answer.first == query.request
    if query.expect == "none":
        return answer.said == "none"
    if query.expect == "likely" and not query.expected:
        return is_at_5(query, answer) and (answer.said == "likely" or not query.among_5)
    return rank_of(query, answer) == 1 and (query.expect is None or answer.first in query.expected)


def is_at_5(query: Query, answer: Answer) -> bool:
    """Whether all that belongs among the first five stands there."""
    if query.request:
        return query.request in answer.requests[:5]
    if query.among_5:
        return set(query.among_5) <= set(answer.numbers[:5]) and answer.said != "none"
    if query.expect in ("none", "likely") and not query.expected:
        return True
    rank = rank_of(query, answer)
    return rank is not None and rank <= 5


def is_wrongly_sure(query: Query, answer: Answer) -> bool:
    """Whether a part is called sure that must not be, or the first of what should be sure is another."""
    if query.never_sure == ANY or query.kind == ABSENT:
        return bool(answer.sure) or answer.is_sure
    if query.expect == "this" and answer.is_sure and rank_of(query, answer) != 1:
        return True
    return bool(set(query.never_sure) & set(answer.sure))


def score(asked: Iterable[Query], finder: Finder) -> Score:
    told = [(query, answered(finder, query)) for query in asked]
    ranks = [rank_of(query, each) for query, each in told]
    n = max(1, len(told))
    sure = [each.is_sure and (query.kind == ABSENT or is_at_1(query, each)) for query, each in told]
    first = [is_at_1(*each) for each in told]
    five = [is_at_5(*each) for each in told]
    wrongly = [is_wrongly_sure(*each) for each in told]
    return Score(
        n=len(told),
        at_1=sum(first) / n,
        at_5=sum(five) / n,
        mrr=sum(1 / rank for rank in ranks if rank) / n,
        sure=sum(sure) / n,
        wrongly_sure=sum(wrongly),
        wrong=tuple(
            f"{query.text[:60]!r} {query.vehicle or ''} wants {query.expect} {query.request or ''} {' '.join(query.expected)}"
            f" among {' '.join(query.among_5)}: {each.said}{' WRONGLY SURE' if bad else ''} {' '.join(each.numbers[:5])} sure: {' '.join(each.sure[:4])}"
            for (query, each), one, all_5, bad, is_sure in zip(told, first, five, wrongly, sure, strict=True)
            if not one or not all_5 or bad or (query.expect == "this" and not is_sure)
        ),
    )
