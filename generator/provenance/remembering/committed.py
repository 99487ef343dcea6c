"""What git remembers of each record: the states of it that no later one contains, from a file where HEAD has not moved."""

import hashlib
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import Any, Final

import generator.provenance.remembering.committed_produced as _committed_produced
import generator.provenance.remembering.counting as _counting_code
import generator.reading.fitted as _fitted
import generator.records.approvals as _approvals
import generator.records.batches as _batches
import generator.records.lots as _lots
import generator.records.machines as _machines
import generator.records.recalls as _recalls
import generator.records.screening as _screening
import generator.rules.chain as _chain
import generator.rules.past as _past
import generator.rules.past_produced as _past_produced
import generator.rules.production.faults as _faults
import generator.rules.production.record_faults as _record_faults
import generator.rules.slips as _slips
from generator.provenance.remembering.committed_produced import by_kind, committed_produced
from generator.provenance.remembering.counting import Counting
from generator.provenance.remembering.git import GitError, Log, Repository
from generator.provenance.remembering.kept import as_plain, past_in
from generator.provenance.remembering.states import State, keep, kept_in, plain_of, state_in
from generator.reading.validating import record
from generator.reading.yaml_places import YamlFile, read_yaml
from generator.records.approvals import Approval
from generator.rules.past import Past, unsaid

_CODE: Final = (
    _approvals, _screening, _chain, _past, _past_produced, _lots, _machines, _batches, _recalls, _fitted, _committed_produced,
    _counting_code, _faults, _record_faults, _slips,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Committed:
    """All that git tells of the records of a catalogue."""

    states: tuple[State, ...]
    """Newest first."""
    forks: tuple[tuple[State, State], ...]
    """Pairs that a merge brought together."""
    produced: tuple[State, ...] = ()
    """Of the records of production, newest first, by the names that they are remembered by."""
    merged: Mapping[str, frozenset[str]] = field(default_factory=dict)
    """By that name: the events that a merge brought together from two branches."""
    counting: Counting | None = None

    def counted(self, state: State) -> Past | None:
        """What of a state of `produced` ever counted; None where it is nothing. All of it where git does not answer."""
        try:
            return self.counting.past(state) if self.counting else state.past
        except GitError:
            return state.past


def committed(repository: Repository, since: date | None, file: Path) -> Committed:
    """What HEAD knows of the records, of commits after the day `since`; `file` keeps it until HEAD moves. Raises GitError."""
    key = [_code(), repository.head, repository.prefix, str(since), repository.is_shallow]
    kept = kept_in(file)
    if kept.get("key") == key:
        try:
            states = tuple(map(state_in, kept["states"]))
            forked = tuple((states[one], states[other]) for one, other in kept["forks"])
            merged = {name: frozenset(events) for name, events in kept["merged"].items()}
            produced_then = tuple(map(state_in, kept["produced"]))
            return Committed(states, forked, produced_then, merged, _counting(repository, produced_then, file))
        except (KeyError, TypeError, ValueError, IndexError):
            pass  # a file that is not ours is made anew
    log, produced = by_kind(repository.log(since))
    pasts = _pasts(repository, [version.blob for version in log.versions], file.with_suffix(".blobs.json"))
    found = _lasting(log, pasts)
    states, merged = committed_produced(repository, produced, file.with_suffix(".produced.json"), _code())
    places = {id(state): at for at, state in enumerate(found.states)}
    forks = [[places[id(one)], places[id(other)]] for one, other in found.forks]
    plain = {"states": [plain_of(state) for state in found.states], "forks": forks, "produced": [plain_of(state) for state in states]}
    keep(file, {"key": key, **plain, "merged": {name: sorted(events) for name, events in merged.items()}})
    return replace(found, produced=states, merged=merged, counting=_counting(repository, states, file))


def _counting(repository: Repository, states: tuple[State, ...], file: Path) -> Counting:
    return Counting(repository, states, file.with_suffix(".counted.json"), _code())


def _lasting(log: Log, pasts: Mapping[str, Past]) -> Committed:
    """Without the states that a later one of the same folder contains: most records only grow."""
    states: list[State] = []
    by_folder: defaultdict[str, list[Past]] = defaultdict(list)
    by_blob: dict[tuple[str, str], State] = {}
    forked = {(folder, blob) for folder, forks in log.forks.items() for blobs in forks for blob in blobs}
    for version in log.versions:
        past = pasts.get(version.blob)
        if past is None:
            continue
        state = State(version.folder, version.commit, version.day.isoformat(), past)
        if (version.folder, version.blob) in forked:
            by_blob[version.folder, version.blob] = state
        elif any(contains(later, past) for later in by_folder[version.folder]):
            continue
        states.append(state)
        by_folder[version.folder].append(past)
    pairs = [
        (by_blob[folder, one], by_blob[folder, other])
        for folder, forks in log.forks.items()
        for one, *others in forks
        for other in others
        if (folder, one) in by_blob and (folder, other) in by_blob
    ]
    return Committed(tuple(states), tuple(pairs))


def contains(later: Past, earlier: Past) -> bool:
    """Whether the later one says all that the earlier one does, word for word; then nothing is lost without it."""
    count = len(earlier.events)
    return (
        later.events[:count] == earlier.events
        and earlier.keys.items() <= later.keys.items()
        and not unsaid(earlier, later)
    )


def _pasts(repository: Repository, blobs: Iterable[str], file: Path) -> dict[str, Past]:
    """What each blob says; those seen before are not read again."""
    wanted, kept = set(blobs), kept_in(file)
    known = kept.get("blobs", {}) if kept.get("code") == _code() else {}
    plain: dict[str, Any] = {blob: known[blob] for blob in wanted if blob in known}
    if missing := sorted(wanted - plain.keys()):
        for blob, raw in repository.contents(missing):
            past = past_of_text(raw)
            plain[blob] = as_plain(past) if past else None
        keep(file, {"code": _code(), "blobs": plain})
    return {blob: past_in(each) for blob, each in plain.items() if each}


def past_of_text(raw: bytes) -> Past | None:
    """What an approval.yml says; of one with mistakes, its events up to the first that cannot be read."""
    source = read_yaml("approval.yml", raw)
    approval = record(Approval, source)
    if approval is None and isinstance(source.content, dict):
        approval = _readable(source.content)
    return _past.past_of(approval) if approval else None


def _readable(content: dict[str, Any]) -> Approval | None:
    events = content.get("events")
    found = record(Approval, YamlFile("", {"route": content.get("route")}))
    for event in events if found and isinstance(events, list) else ():
        one = record(Approval, YamlFile("", {"route": content["route"], "events": [event]}))
        if one is None or found is None:
            break
        found = found.model_copy(update={"events": found.events + one.events})
    return found


def _code() -> str:
    """What the states are worked out with: other code may tell them otherwise."""
    sources = (Path(str(module.__file__)).read_bytes() for module in _CODE)
    return hashlib.sha256(b"".join(sources)).hexdigest()
