"""What a record of production said before, and does it still say so? Lots, machines, batches, recalls, and fitted lines.

Their events, coupons and lines are only added, and what says which lot, batch or recall it is stays. Nothing here is corrected
away: a later event or line answers. What has never counted is no part of it (`held`): of an event only its place is kept, so that
one of its kind may take it. Each record is remembered by its file, a machine's coupons by file, material and number of the qualification.
"""

import hashlib
import json
from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Sequence
from typing import Any, Final

from pydantic import BaseModel

from generator.records.batches import Batch
from generator.records.fitted import FittedRow
from generator.records.lots import Lot
from generator.records.machines import Machine
from generator.records.problems import Problem, wrong
from generator.records.production import Production
from generator.records.recalls import Recall
from generator.rules.chain import START
from generator.rules.past import Past, PastEvent

# What was weighed and noted of a batch may be filled in or put right; what a release leans on may not.
_HEADS: Final[dict[type[BaseModel], tuple[str, ...]]] = {
    Batch: (
        "part", "revision", "printed_as", "fingerprint", "count", "machine", "printed_by", "settings_file", "lots", "up", "started", "ended",
    ),
    Lot: ("material", "supplier_lot", "use_by"),
    Recall: ("lot", "batch", "part", "revision"),
}  # fmt: skip
_DIGITS: Final = 12
"""So many hexadecimal digits stand for a line: one of 2.8e14, where a year has some thousands."""
LINES, BYTES, WHOLE = "lines", "bytes", "sha256"
"""Keys of what is remembered of fitted/<year>.csv: its lines in their order, its size, and the SHA-256 of all of it."""


EVERYTHING: Final = "*"
"""As a slip: all of the record."""
_CAREFUL: Final = frozenset({"called back", "blocked", "rejected", "scrapped"})
"""Kinds of event that make things more careful: one that was mistaken may be put right, and never goes."""


def is_produced(name: str) -> bool:
    """Whether a record that is remembered is one of production: by the file that it is named after; parts have numbers."""
    return "/" in name


def file_of(name: str) -> str:
    """The file of a record that is remembered."""
    return name.partition("#")[0]


def names_of(machine: Machine) -> tuple[str, ...]:
    """How its qualifications are named: by the material, and each further one for it by its number, for their days may be renewed."""
    seen: Counter[str] = Counter()
    names = []
    for each in machine.qualifications:
        seen[each.material] += 1
        names.append(each.material if seen[each.material] == 1 else f"{each.material} {seen[each.material]}")
    return tuple(names)


def pasts_of(production: Production) -> dict[str, Past]:
    """What is remembered of lots, machines, batches and recalls as they stand, by name."""
    found: dict[str, Past] = {}
    for folder, records in (
        ("materials/lots", production.lots), ("machines", production.machines),
        ("batches", production.batches), ("recalls", production.recalls),
    ):  # fmt: skip
        for name, each in records.items():
            found |= pasts_of_record(f"{folder}/{name}.yml", each)
    return found


def pasts_of_record(file: str, record: BaseModel) -> dict[str, Past]:
    """The same of one record."""
    if isinstance(record, Machine):
        named = zip(names_of(record), record.qualifications, strict=True)
        return {f"{file}#{name}": Past({}, _told("coupons", each.coupons)) for name, each in named if each.coupons}
    plain = record.model_dump(mode="json", exclude_none=True, include=set(_HEADS[type(record)]))
    keys = {name: _short(value) for name, value in plain.items()}
    for paper in getattr(record, "inspection_documents", ()):
        keys[key_of_paper(paper.reference)] = _short(_said(paper))
    return {file: Past(keys, _told("", getattr(record, "events", ())))}


def key_of_paper(reference: str) -> str:
    """What an inspection document of a lot is remembered by."""
    return f"inspection document {reference}"


def nth_event(at: int) -> str:
    """An event or coupon as a slip, by its place from 0: two may say the same, and one of them too much."""
    return f"event {at}"


def _told(what: str, events: Sequence[Any]) -> tuple[PastEvent, ...]:
    told: list[PastEvent] = []
    for event in events:
        own = _digest(_json(_said(event)))
        before = told[-1].chained if told else START
        told.append(PastEvent(what or event.what, event.on.isoformat(), own, _digest(f"{before} {own}")))
    return tuple(told)


def _said(record: BaseModel) -> dict[str, Any]:
    """Every field that says more than nothing: one that a later edition adds changes no old event."""
    return record.model_dump(mode="json", exclude_defaults=True)


def _short(value: object) -> str:
    text = value if isinstance(value, str) else _json(value)
    return text if len(text) <= 40 else _digest(text)


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def past_of_lines(rows: Iterable[FittedRow], size: int, sha256: str) -> Past:
    """What is remembered of one file fitted/<year>.csv: its lines, each once, as they are read (reading/fitted.py)."""
    once: dict[object, FittedRow] = {}
    for row in rows:
        once.setdefault(row.row or row.alike, row)
    lines = "".join(map(digits_of, once.values()))
    return Past({LINES: lines, BYTES: str(size), WHOLE: sha256}, ())


def digits_of(row: FittedRow) -> str:
    """What stands for a line."""
    text = "\x1f".join(map(str, row.said))
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:_DIGITS]


def unsaid_of(name: str, before: Past, now: Past | None, merged: Collection[str] = ()) -> tuple[Problem, ...]:
    """What `before` says and `now` does not, each with the path to its place as the record is now; None where it is gone.

    merged: events that a merge brought together from two branches, so that they may stand before others.
    """
    lines = before.keys.get(LINES)
    if now is None:
        if lines is not None:
            return (wrong("PAST09", "all gone", "put back", count=len(lines) // _DIGITS),) if lines else ()
        return (wrong("PAST08", "coupons gone" if "#" in name else "record gone", "put back"),)
    if lines is not None:
        return tuple(_lines_unsaid(_in_pieces(lines), _in_pieces(now.keys.get(LINES, ""))))
    heads = (
        wrong("PAST08", "other", "count" if key == "count" else "use by" if key == "use_by" else "head", path=(key,), field=key)
        for key, value in before.keys.items()
        if now.keys.get(key) != value
    )
    return (*heads, *_events_unsaid(before.events, now.events, merged))


def further_of(name: str, before: Past | None, now: Past) -> Past:
    """What is remembered from now on: never less than before, and nothing more of what counts for nothing."""
    if LINES in now.keys:
        return _further_lines(before, now)
    return held(now, before) if before is None or not unsaid_of(name, before, now) else before


def held(now: Past, before: Past | None = None) -> Past:
    """What is held against the record from now on: all but its slips, unless they were good before."""
    if not now.slips:
        return now
    if LINES in now.keys:
        return _further_lines(before, now)
    good = Counter(each.own for each in before.events) if before else Counter[str]()
    keys = {key: value for key, value in now.keys.items() if key not in now.slips or (before and before.keys.get(key) == value)}
    return Past(keys, tuple(_held_events(now, good)))


def _held_events(now: Past, good: Counter[str]) -> Iterator[PastEvent]:
    """Of one that has never counted its kind and its day; of one that says again what the one before it says, nothing."""
    last: PastEvent | None = None
    for at, each in enumerate(now.events):
        if nth_event(at) not in now.slips or good[each.own] > 0:
            good[each.own] -= 1
            last = each
            yield each
        elif last is None or last.what != each.what:
            last = None
            yield PastEvent(each.what, each.on, "", "")


def _further_lines(before: Past | None, now: Past) -> Past:
    """The lines that were remembered, wherever they are now, and those that have come since."""
    kept, stand = _in_pieces(before.keys.get(LINES, "") if before else ""), _in_pieces(now.keys[LINES])
    known, there = set(kept), set(stand)
    if known <= there and not now.slips & (there - known):
        return Past(now.keys, ())
    told = [each for each in stand if each in known or each not in now.slips]
    come = [each for each in told if each not in known]
    if before and not known <= there:
        return Past({LINES: "".join([*kept, *come])}, ()) if come else before
    return Past({LINES: "".join(told)}, ())


def _in_pieces(lines: str) -> list[str]:
    return [lines[at : at + _DIGITS] for at in range(0, len(lines), _DIGITS)]


def _lines_unsaid(before: list[str], now: list[str]) -> Iterable[Problem]:
    """Lines may stand in another order, as after a merge; none may be missing. Each place is that of the line before it."""
    if now[: len(before)] == before:
        return
    there = {line: at for at, line in enumerate(now)}
    behind = -1
    for number, line in enumerate(before, start=2):  # the first line is the head
        if line in there:
            behind = there[line]
        else:
            yield wrong("PAST09", "line gone", "put back", path=(behind,), line=number)


def _events_unsaid(before: Sequence[PastEvent], now: Sequence[PastEvent], merged: Collection[str]) -> Iterable[Problem]:
    if not before or (len(now) >= len(before) and now[len(before) - 1].chained == before[-1].chained):
        return
    left, at, last = Counter(each.own for each in now), 0, -1
    lost: list[int] = []
    followed: set[int] = set()
    places: list[tuple[int, int]] = []
    for number, had in enumerate(before):
        if not had.own:
            places.append((number, last))
            continue
        stands = next((i for i in range(at, len(now)) if now[i].own == had.own), None)
        if stands is not None:
            followed.add(stands)
            at = stands + 1
            last = stands
            left[had.own] -= 1
        else:
            lost.append(number)
    mended = dict(_mended(places, before, now, followed))
    followed |= {at for at in mended.values() if at is not None}
    lost = sorted([*lost, *(number for number, at in mended.items() if at is None and before[number].what in _CAREFUL)])
    taken = _taken_for(lost, before, now, followed)
    for number in lost:
        had = before[number]
        key = "changed" if number in taken else "moved" if left[had.own] > 0 else "gone"
        path = ("events", taken.get(number, min(number, len(now) - 1)))
        yield wrong("PAST08", key, "put back", path=path, event=number + 1, what=had.what, on=had.on)
    known = Counter(each.own for each in before)
    for i in range(last):
        if i not in followed and i not in taken.values() and not known[now[i].own] and now[i].own not in merged:
            yield wrong("PAST08", "typed in", "at the end", path=("events", i), event=i + 1, what=now[i].what, on=now[i].on)


def _mended(
    places: Iterable[tuple[int, int]], before: Sequence[PastEvent], now: Sequence[PastEvent], followed: Collection[int]
) -> Iterator[tuple[int, int | None]]:
    """Which event now stands in the place of each that has never counted: one of its kind, between those that stood around it."""
    used: set[int] = set()
    for number, behind in places:
        end = min((at for at in followed if at > behind), default=len(now))
        found = next((at for at in range(behind + 1, end) if at not in used and now[at].what == before[number].what), None)
        if found is not None:
            used.add(found)
        yield number, found


def _taken_for(lost: Iterable[int], before: Sequence[PastEvent], now: Sequence[PastEvent], followed: set[int]) -> dict[int, int]:
    """Which event now stands where a lost one stood, of the same kind and said by nobody before: it was changed."""
    known = {each.own for each in before}
    return {
        number: number
        for number in lost
        if number < len(now) and number not in followed and now[number].what == before[number].what and now[number].own not in known
    }
