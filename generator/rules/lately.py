"""What did a commit change, in facts and not in lines: two states of a record, and what the later one says that the earlier did not.

A fact names the record and a word of a closed list, and holds nothing that a person typed but the names that records have:
who wrote a commit, and what they wrote about it, is no fact of the catalogue.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import date
from typing import Any, Final

from generator.records.parts import SUBJECTS, Part
from generator.rules.past import Past

PART, BATCH, LOT, MACHINE, RECALL = "part", "batch", "lot", "machine", "recall"
MATERIAL, REQUEST, LISTED, CATALOGUE = "material", "request", "list", "catalogue"
EVENT = "event"
FITTED, REMOVED = "fitted", "removed"
"""Pieces of a day, where no commits tell what was written down."""
_SAID: Final = frozenset({"revision", "material"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One thing that a commit changed."""

    about: str
    what: str
    """A word of the list for what it is about; `event` for one of its events."""
    name: str = ""
    """Of a part its folder, as it is called since; of others the file's name without its ending; of the whole none."""
    event: str = ""
    on: str = ""
    """The day that the event bears."""
    before: str = ""
    now: str = ""
    count: int = 0
    part: str = ""
    """The number of the part, where the record says it."""

    def as_plain(self) -> dict[str, Any]:
        """As JSON holds it: what says nothing is left out."""
        return {each.name: value for each in fields(self) if (value := getattr(self, each.name))}


@dataclass(frozen=True, slots=True, kw_only=True)
class LatelyChange:
    """A commit that changed something; without commits a day, whose `commit` is empty."""

    commit: str
    day: date
    """Of a commit that of its committer, in UTC; a clock may have run ahead."""
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Lately:
    """What the newest commits of a catalogue changed, or what its records date last, newest first."""

    changes: tuple[LatelyChange, ...] = ()
    is_cut: bool = False
    """Whether there is more that is older, and not told: too much, or not in this copy of the repository."""
    by_days: bool = False
    """Whether no commits tell it but the days in the records (lately_by_days.py)."""
    until: date | None = None
    """Until which day, that one too, these tell it, and commits since; None: one of them tells all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PartFiles:
    """What one state of a part's folder holds: its record and, by path, a mark of each file's content."""

    record: Part | None = None
    approval: Past | None = None
    files: Mapping[str, str]


def part_facts(folder: str, before: PartFiles, now: PartFiles, *, number: str = "") -> Iterator[Fact]:
    """Of the files that the commit changed, as they were and as they are. Of a part that is new only that is told."""
    was_there, is_there = "part.yml" in before.files, "part.yml" in now.files
    if is_there != was_there:
        yield Fact(about=PART, name=folder, part=number, what="new" if is_there else "gone")
        return
    for each in (*_events(before, now), *_record_facts(before, now), *_file_facts(before.files, now.files)):
        yield Fact(about=PART, name=folder, part=number, **each)


def _events(before: PartFiles, now: PartFiles) -> Iterator[dict[str, Any]]:
    name = "approval.yml"
    if before.files.get(name) == now.files.get(name):
        return
    if now.approval is None or (before.approval is None and name in before.files):
        yield {"what": "rewritten" if name not in now.files else "unread"}
        return
    had = before.approval or Past({}, ())
    added, lost = _added(had, now.approval)
    yield from ({"what": EVENT, "event": each.what, "on": each.on} for each in added)
    if lost:
        yield {"what": "rewritten"}
    tops = {key.split("/")[0] for key in had.keys.keys() | now.approval.keys.keys() if had.keys.get(key) != now.approval.keys.get(key)}
    yield from ({"what": each} for each in ("route", "waiver", "screening") if each in tops and (had.keys or each != "route"))


def _added(before: Past, now: Past) -> tuple[list[Any], int]:
    """The events that were not there before, and how many are there no more."""
    left = Counter(each.own for each in before.events)
    added = []
    for each in now.events:
        if left[each.own]:
            left[each.own] -= 1
        else:
            added.append(each)
    return added, left.total()


def _record_facts(before: PartFiles, now: PartFiles) -> Iterator[dict[str, Any]]:
    if before.files.get("part.yml") == now.files.get("part.yml"):
        return
    if before.record is None or now.record is None:
        yield {"what": "details"}
        return
    changed = {name for name in Part.model_fields if getattr(before.record, name) != getattr(now.record, name)}
    for what, names in SUBJECTS.items():
        if changed & set(names):
            said = {"before": str(getattr(before.record, what)), "now": str(getattr(now.record, what))} if what in _SAID else {}
            yield {"what": what, **(said if said and said["before"] != said["now"] else {})}
    if changed - {name for names in SUBJECTS.values() for name in names}:
        yield {"what": "details"}


def _file_facts(before: Mapping[str, str], now: Mapping[str, str]) -> Iterator[dict[str, Any]]:
    changed = [path for path in before.keys() | now.keys() if before.get(path) != now.get(path)]
    if models := [path for path in changed if path.startswith("model.")]:
        there, here = (any(path in files for path in models) for files in (before, now))
        yield {"what": "model" if there and here else "model_new" if here else "model_gone"}
    if "fitting.md" in changed:
        yield {"what": "notes"}
    for folder in ("documents", "photos"):
        if count := sum(path.startswith(f"{folder}/") for path in changed):
            yield {"what": folder, "count": count}


def produced_facts(file: str, before: Mapping[str, Past] | None, now: Mapping[str, Past] | None) -> Iterator[Fact]:
    """Of a lot, machine, batch or recall: what is said of it, by the names that it is remembered by (rules/past_produced.py).

    None where the file was not, or is not, there.
    """
    folder, _, name = file.removesuffix(".yml").rpartition("/")
    about = {"materials/lots": LOT, "machines": MACHINE, "batches": BATCH, "recalls": RECALL}[folder]
    had, has = (before or {}).get(file), (now or {}).get(file)
    told = has or had
    keys = dict(told.keys) if told else {}
    part = keys.get("part", "")
    if now is None or (before is None and about != RECALL):
        count = int(keys["count"]) if now is not None and keys.get("count", "").isdecimal() else 0
        yield Fact(about=about, name=name, what="gone" if now is None else "new", count=count, part=part)
        return
    if about == MACHINE:
        yield _of_machine(name, before or {}, now)
        return
    if has is None or (had is None and before is not None):
        yield Fact(about=about, name=name, what="changed", part=part)
        return
    said = had or Past({}, ())
    added, lost = _added(said, has)
    target = _target(keys) if about == RECALL else ""
    yield from (Fact(about=about, name=name, what=EVENT, event=each.what, on=each.on, now=target, part=part) for each in added)
    if lost or (not added and said.keys != has.keys) or not (added or lost):
        yield Fact(about=about, name=name, what="changed", part=part)


def _target(keys: Mapping[str, str]) -> str:
    """What is called back, by its own name."""
    return keys.get("lot") or keys.get("batch") or f"{keys.get('part', '')} {keys.get('revision', '')}".strip()


def _of_machine(name: str, before: Mapping[str, Past], now: Mapping[str, Past]) -> Fact:
    empty = Past({}, ())
    coupons = sum(len(_added(before.get(each, empty), past)[0]) for each, past in now.items())
    return Fact(about=MACHINE, name=name, what="coupons" if coupons else "changed", count=coupons)


def in_order(facts: Iterable[Fact]) -> tuple[Fact, ...]:
    """Each once, in an order of their own: what may stop somebody first."""
    ranks = {name: at for at, name in enumerate((RECALL, LOT, PART, BATCH, MACHINE, MATERIAL, REQUEST, LISTED, CATALOGUE))}
    return tuple(sorted(dict.fromkeys(facts), key=lambda each: (ranks[each.about], each.what != EVENT, each.what, each.name, each.on, each.event)))
