"""What a record said before, and does it still say so? Events are only added; whatever was said stays said."""

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final, NamedTuple

from generator.records.approvals import Approval, Event, RecordCorrected
from generator.records.problems import Problem, wrong
from generator.rules.chain import canonical_json, chain, own_fingerprint

# What somebody has judged stays judged. How it is worded may change until it carries a permit.
_JUDGED: Final = ("screening/judged_significant", "screening/identical_function/answer", "screening/change_case/case")
_PERMITS: Final = ("approved", "trial opened", "taken over")
# What took or gave a permission is never corrected away: a new event answers it. What took it may stand later, as after a merge.
_TAKES: Final = frozenset(
    {"approval refused", "customer acceptance refused", "trial closed", "condition added", "question asked", "withdrawn", "superseded"}
)
GIVES: Final = frozenset(
    {
        "approved", "trial opened", "taken over", "take-over confirmed", "renewed", "condition lifted", "change accepted",
        "older stock settled", "record corrected",
    }
)  # fmt: skip
# Longer records are compared event by event, without looking which one was moved: no depot has such a one.
_MOST_COMPARED: Final = 250_000


class PastEvent(NamedTuple):
    """One event as a memory holds it."""

    what: str
    on: str
    own: str
    """SHA-256 of what it says."""
    chained: str
    """The same over all events before it."""
    corrects: str = ""
    """What a correction explains: the number of an event, counted from 1, or another key of the record."""


@dataclass(frozen=True, slots=True)
class Past:
    """What a record says, short enough to be remembered."""

    keys: Mapping[str, str]
    """Route, waiver and each answer of the screening, by its place; long texts by their SHA-256."""
    events: tuple[PastEvent, ...]
    slips: frozenset[str] = frozenset()
    """Of a record of production: keys, events and lines that count for nothing as it stands (rules/slips.py); never remembered."""

    @property
    def is_permitted(self) -> bool:
        return any(event.what in _PERMITS for event in self.events)


def past_of(approval: Approval) -> Past:
    """What is remembered of a record as it stands now."""
    return Past(_keys_of(approval), tuple(_remembered(approval.events)))


def _remembered(events: Sequence[Event]) -> Iterable[PastEvent]:
    """The events of a record as a memory holds them."""
    for event, link in zip(events, chain(events), strict=True):
        corrects = str(event.corrects) if isinstance(event, RecordCorrected) else ""
        yield PastEvent(event.what, event.on.isoformat(), own_fingerprint(event), link, corrects)


def _keys_of(approval: Approval) -> dict[str, str]:
    plain = approval.model_dump(mode="json", exclude_defaults=True, exclude={"events", "format"})
    return dict(_flat("", plain))


def _flat(place: str, value: Any) -> Iterable[tuple[str, str]]:
    if isinstance(value, dict) and not place.startswith("waiver"):
        for key, inner in value.items():
            yield from _flat(f"{place}/{key}".lstrip("/"), inner)
        return
    text = value if isinstance(value, str) else canonical_json(value)
    yield place, text if len(text) <= 40 else hashlib.sha256(text.encode("utf-8")).hexdigest()


def unsaid(before: Past, now: Past) -> tuple[Problem, ...]:
    """What `before` says and `now` does not, each with the path to its place in the record as it is now.

    A correction that has come since explains what it names, and only that; that a permission was given or taken stays.
    """
    if not _differs(before, now):
        return ()
    added = Counter(event.own for event in now.events if event.corrects)
    added.subtract(event.own for event in before.events if event.corrects)
    explained = {event.corrects for event in now.events if event.corrects and added[event.own] > 0}
    return (*_keys_unsaid(before, now, explained), *_events_unsaid(before.events, now.events, explained))


def _differs(before: Past, now: Past) -> bool:
    ends = before.events[-1].chained if before.events else ""
    same = not ends or (len(now.events) >= len(before.events) and now.events[len(before.events) - 1].chained == ends)
    return not same or any(now.keys.get(key) != value for key, value in before.keys.items()) or bool(now.keys.keys() - before.keys)


def _keys_unsaid(before: Past, now: Past, explained: set[str]) -> Iterable[Problem]:
    changed: dict[str, str] = {}
    for key, value in before.keys.items():
        if now.keys.get(key) != value and (key in _JUDGED or before.is_permitted):
            changed.setdefault(key.split("/")[0], key)
    if before.is_permitted:  # a waiver that comes later is one that nobody relied on
        changed |= {key: key for key in ("waiver",) if key in now.keys and key not in before.keys}
    for name, key in changed.items():
        if name not in explained:
            yield wrong("PAST04", "other", "put back", path=tuple(key.split("/")), field=name, line=key.replace("/", "."))


def _events_unsaid(before: Sequence[PastEvent], now: Sequence[PastEvent], explained: set[str]) -> Iterable[Problem]:
    start = next((i for i, (a, b) in enumerate(zip(before, now, strict=False)) if a.own != b.own), min(len(before), len(now)))
    last = {event.own: at for at, event in enumerate(now)}
    for was, stands in _pairs(before, now, start, explained):
        number = (was if was is not None else stands or 0) + 1
        path = ("events", max(0, min(number, len(now)) - 1))
        is_explained = str(number) in explained
        if was is None:
            if not is_explained:
                yield wrong("PAST03", "typed in", "put back", path=path, event=number)
            continue
        had, moved_to = before[was], last.get(before[was].own)
        is_of_its_kind = moved_to is None and stands is not None and now[stands].what == had.what
        if is_explained and (is_of_its_kind or _may_be_moved(had, was, moved_to)):
            continue
        fix = "put back" if is_of_its_kind or had.what not in _TAKES | GIVES else "answer"
        if moved_to is not None:
            yield wrong("PAST02", "moved", fix, path=path, event=number, what=had.what, on=had.on)
        elif stands is None:
            yield wrong("PAST02", "gone", fix, path=path, event=number, what=had.what, on=had.on)
        else:
            yield wrong("PAST01", "changed", fix, path=path, event=number, what=had.what, on=had.on)


def _may_be_moved(had: PastEvent, was: int, moved_to: int | None) -> bool:
    """Whether a correction explains that it stands elsewhere, or nowhere any more."""
    if had.what in _TAKES:
        return moved_to is not None and moved_to > was
    return had.what not in GIVES


def _pairs(
    before: Sequence[PastEvent], now: Sequence[PastEvent], start: int, explained: set[str]
) -> Iterable[tuple[int | None, int | None]]:
    """Which event stands now for which before, from `start` on, where they differ: None where there is none.

    Of all ways to lay the two beside each other the one that leaves least unexplained. What follows the last event
    of `before` was added, and is no difference.
    """
    rows, columns = len(before) - start, len(now) - start
    if rows * columns > _MOST_COMPARED:
        yield from ((i, i if i < len(now) else None) for i in range(start, len(before)) if i >= len(now) or before[i].own != now[i].own)
        return
    cost = [[0] * (columns + 1) for _ in range(rows + 1)]  # of the rest, from this event before and that one now

    def price(number: int) -> int:
        return 0 if str(number + 1) in explained else 2

    def steps(i: int, j: int) -> Iterable[tuple[int, int, int]]:
        if j < columns:
            same = before[start + i].own == now[start + j].own
            yield (0 if same else price(start + i) + 1, i + 1, j + 1)
            yield (price(start + j) + 2, i, j + 1)
        yield (price(start + i) + 2, i + 1, j)

    for i in range(rows - 1, -1, -1):
        for j in range(columns, -1, -1):
            cost[i][j] = min(step + cost[down][right] for step, down, right in steps(i, j))
    i = j = 0
    while i < rows:
        _, down, right = min(steps(i, j), key=lambda step: step[0] + cost[step[1]][step[2]])
        was, stands = (start + i if down > i else None), (start + j if right > j else None)
        if was is None or stands is None or before[was].own != now[stands].own:
            yield was, stands
        i, j = down, right


def further(before: Past | None, now: Past) -> Past:
    """What is remembered from now on: never less than before."""
    return now if before is None or not unsaid(before, now) else before
