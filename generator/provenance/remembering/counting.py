"""Did what a commit said ever count? What was in error for as long as git had it so may be mended; all else is held against the record.

Nobody judges old commits as a whole for that. An event or line was in error for good where it was so by itself, was dated after
all days on which git had it, or names what no version of the lists or records knew by then. Of a list that could
not be read in that time nobody knows what it would have named: then it counted. So a list that is broken for one commit,
or a vehicle that is taken out and put back, makes no line mendable.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from pathlib import Path

from pydantic import BaseModel

from generator.provenance.remembering.git import Log, Repository
from generator.provenance.remembering.kept import as_plain, past_in
from generator.provenance.remembering.states import State, keep, kept_in
from generator.reading.fitted import fitted_file
from generator.reading.production_days import days_of_production
from generator.reading.validating import record
from generator.reading.yaml_places import read_yaml
from generator.records.batches import BATCH_NAME, Batch, Released
from generator.records.depot import ActsAs, Depot
from generator.records.fitted import FittedRow
from generator.records.fleets import Fleets
from generator.records.lots import Lot, Unblocked
from generator.records.machines import Machine
from generator.records.problems import Problem
from generator.records.production import Production
from generator.records.recalls import Lifted, Recall
from generator.rules.past import Past
from generator.rules.past_produced import EVERYTHING, digits_of, held
from generator.rules.production.faults import event_faults, head_faults
from generator.rules.production.record_faults import lot_record_faults, machine_faults, recall_faults
from generator.rules.production.saying_good import SAYS_GOOD
from generator.rules.slips import slips_of_record

KINDS: dict[str, type[BaseModel]] = {"materials/lots": Lot, "machines": Machine, "batches": Batch, "recalls": Recall}
_LISTS = ("fleets.yml", "depot.yml")


@dataclass(frozen=True, slots=True)
class _Known:
    """What the lists named by some day, all versions of them together; None where one that counted then cannot be read."""

    vehicles: Mapping[str, frozenset[str]] | None
    """By fleet."""
    places: Mapping[str, frozenset[str]]
    roles: Mapping[str, frozenset[ActsAs]] | None
    """For whom each may act, or might once."""
    files: frozenset[str]
    """Records of which there was a version."""

    def may_say_good(self, role: str) -> bool:
        return self.roles is None or bool(self.roles.get(role, frozenset()) & set(SAYS_GOOD))

    def is_role(self, role: str) -> bool:
        return self.roles is None or role in self.roles


@dataclass
class Counting:
    """Asks git again, and only where something is no longer said that a commit said."""

    repository: Repository
    states: tuple[State, ...]
    file: Path
    """Keeps the answers until HEAD moves."""
    code: str
    _at_head: dict[str, str | None] = field(default_factory=dict)

    def past(self, state: State) -> Past | None:
        """What of the state is held against the record; None where it is nothing at all. Raises GitError."""
        key = [self.code, self.repository.head, self.repository.prefix, len(self.states)]
        kept = kept_in(self.file)
        answers = kept.get("answers", {}) if kept.get("key") == key else {}
        name = f"{state.folder} {state.commit}"
        if name not in answers:
            found = self._judged(state)
            answers[name] = as_plain(found) if found else None
            keep(self.file, {"key": key, "answers": answers})
        return past_in(answers[name]) if answers[name] else None

    def _judged(self, state: State) -> Past | None:
        file = state.folder.partition("#")[0]
        blob = self.repository.blob(state.commit, file)
        if blob is None:
            return state.past
        began, until = self._life(file, blob)
        [(_, raw)] = self.repository.contents([blob])
        known = self._known(began, until)
        if file.startswith("fitted/"):
            rows = fitted_file(file, raw).rows
            slips = frozenset(digits_of(row) for row in rows if row.day > self._newest(until) or self._names_nothing(row, known))
        else:
            slips = self._of_record(file, raw, self._newest(until), known).get(state.folder, frozenset())
        return None if EVERYTHING in slips else held(replace(state.past, slips=slips))

    def _names_nothing(self, row: FittedRow, known: _Known) -> bool:
        """Whether it names a vehicle, place, role or batch that there never was, or takes off what was never put on there."""
        if known.vehicles is not None and (
            row.vehicle not in known.vehicles.get(row.fleet, ()) or row.place not in known.places.get(row.fleet, ())
        ):
            return True
        if not known.is_role(row.by) or any(each and f"batches/{each}.yml" not in known.files for each in (row.batch, row.removed_batch)):
            return True
        return bool(row.removed_batch) and (row.fleet, row.vehicle, row.place, row.removed_batch) not in self._put_on

    def _of_record(self, file: str, raw: bytes, until: date, known: _Known) -> Mapping[str, frozenset[str]]:
        folder, _, name = file.removesuffix(".yml").rpartition("/")
        found = record(KINDS[folder], read_yaml(file, raw))
        return slips_of_record(file, found, _faults(name, found, until), _astray(name, found, known)) if found else {}

    @cached_property
    def _log(self) -> Log:
        return self.repository.log(None, beside=_LISTS)

    @cached_property
    def _put_on(self) -> frozenset[tuple[str, str, str, str]]:
        """Which batches were ever put on where; what git remembers of lines holds all that it ever had."""
        blobs = {(each.folder, each.blob) for each in self._log.versions if each.folder.startswith("fitted/")}
        said = {(each.folder, each.commit) for each in self.states if each.folder.startswith("fitted/")}
        wanted = {blob: file for file, commit in said if (blob := self.repository.blob(commit, file)) and (file, blob) in blobs}
        rows = (row for blob, raw in self.repository.contents(wanted) for row in fitted_file(wanted[blob], raw).rows)
        return frozenset((row.fleet, row.vehicle, row.place, row.batch) for row in rows if row.batch)

    def _life(self, file: str, blob: str) -> tuple[date, date | None]:
        """From which day on git had it so and until when, both as far apart as can be; None where it has it still."""
        days = [each.day for each in self._log.versions if (each.folder, each.blob) == (file, blob)]
        if file not in self._at_head:
            self._at_head[file] = self.repository.blob(self.repository.head, file)
        if self._at_head[file] == blob:
            return min(days), None
        return min(days), max([*days, self._log.left.get((file, blob), date.max)])

    def _newest(self, until: date | None) -> date:
        return until or self.repository.newest()

    def _known(self, began: date, until: date | None) -> _Known:
        vehicles: dict[str, set[str]] = {}
        places: dict[str, set[str]] = {}
        roles: dict[str, set[ActsAs]] = {}
        unread = {name for name in _LISTS if not any(each.folder == name for each in self._log.versions)}
        for name, read, first, last in self._listed:
            if until is not None and first > until:
                continue
            if isinstance(read, Fleets):
                for fleet in read.fleets:
                    vehicles.setdefault(fleet.id, set()).update(fleet.numbers)
                    places.setdefault(fleet.id, set()).update(place.id for place in fleet.places)
            elif isinstance(read, Depot):
                for role in read.roles:
                    roles.setdefault(role.id, set()).update(role.acts_as)
            elif last is None or last >= began:
                unread.add(name)
        return _Known(
            vehicles=None if "fleets.yml" in unread else {name: frozenset(each) for name, each in vehicles.items()},
            places={name: frozenset(each) for name, each in places.items()},
            roles=None if "depot.yml" in unread else {name: frozenset(each) for name, each in roles.items()},
            files=frozenset(each.folder for each in self._log.versions if until is None or each.day <= until),
        )

    @cached_property
    def _listed(self) -> list[tuple[str, BaseModel | None, date, date | None]]:
        """Every version of the lists, with the days of its life; None where it cannot be read."""
        names = {each.blob: each.folder for each in self._log.versions if each.folder in _LISTS}
        raws = self.repository.contents(names) if names else ()
        read: dict[str, BaseModel | None] = {blob: record(Fleets if names[blob] == "fleets.yml" else Depot, read_yaml(names[blob], raw)) for blob, raw in raws}
        return [(name, read[blob], *self._life(name, blob)) for blob, name in names.items()]


def _faults(name: str, found: BaseModel, until: date) -> Iterator[Problem]:
    """What speaks against a record by itself and by its days."""
    production = Production()
    if isinstance(found, Batch):
        yield from (*head_faults(found, production), *event_faults(found))
        production = Production(batches={name: found})
    elif isinstance(found, Lot):
        yield from lot_record_faults(found)
        production = Production(lots={name: found})
    elif isinstance(found, Recall):
        yield from recall_faults(found)
        production = Production(recalls={name: found})
    elif isinstance(found, Machine):
        yield from machine_faults(found, {}, {})
        production = Production(machines={name: found})
    for _, late in days_of_production(production, until):
        yield from late


def _astray(name: str, found: BaseModel, known: _Known) -> Iterator[tuple[str | int, ...]]:
    """The paths where it names what there never was, or says by a role what that role may not say."""
    for at, each in enumerate(getattr(found, "events", ())):
        says_good = isinstance(each, Unblocked | Lifted | Released)
        if not known.is_role(each.by) or (says_good and not known.may_say_good(each.by)):
            yield ("events", at)
    if isinstance(found, Batch):
        if not re.fullmatch(BATCH_NAME, name):
            yield ()
        if f"machines/{found.machine}.yml" not in known.files:
            yield ("machine",)
        yield from (("lots", at) for at, lot in enumerate(found.lots) if f"materials/lots/{lot}.yml" not in known.files)
        yield from (("events", at) for at, each in enumerate(found.events) if isinstance(each, Released) and each.by == found.printed_by)
