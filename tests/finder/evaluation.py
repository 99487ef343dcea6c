"""How often does the finder put the right part first? The evaluation set, its two halves, and the measures."""

import hashlib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

import yaml

ABSENT = "absent"
FILE = Path(__file__).with_name("queries.yml")


@dataclass(frozen=True, slots=True)
class Query:
    kind: str
    text: str
    expected: tuple[str, ...]

    @property
    def is_held_back(self) -> bool:
        """Half of all queries, by a hash of the text: whoever adds a query cannot choose its half."""
        return hashlib.sha256(self.text.encode("utf-8")).digest()[0] % 2 == 1


@dataclass(frozen=True, slots=True)
class Answer:
    """Numbers of the parts given, best first, and whether the first is called sure."""

    numbers: tuple[str, ...]
    is_sure: bool


@dataclass(frozen=True, slots=True)
class Score:
    """Share of queries with a right part first, among the first five, and the mean of 1/rank (0 beyond ten)."""

    n: int
    at_1: float
    at_5: float
    mrr: float
    sure: float
    """Share whose right first part is also called sure; for absent parts, share that is wrongly called sure."""


def queries(file: Path = FILE) -> tuple[Query, ...]:
    read = yaml.safe_load(file.read_text(encoding="utf-8"))
    return tuple(Query(kind, text, tuple(parts)) for kind, pairs in read.items() for text, parts in pairs)


def rank_of(query: Query, answer: Answer) -> int | None:
    """Place of the first right part, from 1; None where it is not among the first ten."""
    places = (at for at, number in enumerate(answer.numbers[:10], 1) if number in query.expected)
    return next(places, None)


def score(asked: Iterable[Query], answer: Callable[[str], Answer]) -> Score:
    told = [(query, answer(query.text)) for query in asked]
    ranks = [rank_of(query, each) for query, each in told]
    n = max(1, len(told))
    sure = [each.is_sure and (query.kind == ABSENT or rank == 1) for (query, each), rank in zip(told, ranks, strict=True)]
    return Score(
        n=len(told),
        at_1=sum(rank == 1 for rank in ranks) / n,
        at_5=sum(rank is not None and rank <= 5 for rank in ranks) / n,
        mrr=sum(1 / rank for rank in ranks if rank) / n,
        sure=sum(sure) / n,
    )
