"""May a batch be released, and does a release that is written down hold?

One judge for `spares batch release`, for `spares check` and for the verdict: a record that says 'released' by hand, though
it may not be, is no release. It looks at what was so on the day of the release, so that a lot that is blocked later, or a
machine that later fails, leaves the word of that day alone; that such pieces are stopped all the same is said elsewhere
(states.stops_of, doubts.py).

Who releases says that the pieces are what was approved. That is for a role that acts for quality or for the customer,
who keeps the vehicles, and never for the one that printed (four eyes; common practice, no source).
"""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import lru_cache
from typing import Literal, NamedTuple

from generator.records.batches import Batch, Rejected, Released
from generator.records.catalogue import Catalogue
from generator.records.depot import ActsAs, Depot
from generator.records.parts import SafetyRole
from generator.records.problems import Path, Problem, Severity, wrong
from generator.records.production import Production
from generator.rules.canonical import from_record, lines_of, text_in
from generator.rules.changes import Means
from generator.rules.fingerprint import part_section
from generator.rules.production.checked import Limited, MeasuredSoFar, found, limits_of, short_of
from generator.rules.production.faults import event_faults, head_faults, lot_faults, text_of
from generator.rules.production.printed import differences
from generator.rules.production.saying_good import SAYS_GOOD, acts, role_in, who_says_good
from generator.rules.production.states import block_of, called_back, speaks_of


class BatchStanding(NamedTuple):
    """The last word on a batch: a release that holds or does not, or a rejection; of one that nobody has judged, none."""

    event: Released | Rejected | None
    objections: tuple[Problem, ...] = ()
    """What speaks against a release that is written down."""

    @property
    def is_released(self) -> bool:
        return isinstance(self.event, Released) and not self.objections

    @property
    def is_void(self) -> bool:
        return isinstance(self.event, Released) and bool(self.objections)

    @property
    def word(self) -> Literal["printed", "released", "void", "rejected"]:
        if self.event is None:
            return "printed"
        if isinstance(self.event, Rejected):
            return "rejected"
        return "void" if self.is_void else "released"


def standing(name: str, batch: Batch, catalogue: Catalogue, day: date) -> BatchStanding:
    """By everything that is said up to `day`: a rejection stays and counts on any day; of releases the first that holds counts, else the last."""
    rejected = next((each for each in batch.events if isinstance(each, Rejected)), None)
    if rejected:
        return BatchStanding(rejected)
    last = BatchStanding(None)
    for at, found_against in judged_releases(name, batch, catalogue).items():
        event = batch.events[at]
        if isinstance(event, Released) and event.on <= day:
            last = BatchStanding(event, found_against)
            if last.is_released:
                break
    return last


def judged_releases(name: str, batch: Batch, catalogue: Catalogue) -> dict[int, tuple[Problem, ...]]:
    """Everything that speaks against each release that is written down, by its place among the events, from 0.

    A batch is released once, and never after it was rejected; a release that did not hold was none.
    """
    told: dict[int, tuple[Problem, ...]] = {}
    ended: Problem | None = None
    head = (*head_faults(batch, catalogue.production), *lot_faults(batch, catalogue.production))
    errors = tuple(each for each in head if each.severity is Severity.ERROR)
    for at, event in enumerate(batch.events):
        if isinstance(event, Rejected):
            ended = wrong("BATCH04", "rejected", on=event.on)
        elif isinstance(event, Released):
            own = (*errors, *_objections(name, batch, at, event, catalogue))
            told[at] = (*own, replace(ended, path=("events", at))) if ended else own
            ended = ended or (None if own else wrong("BATCH04", "twice", on=event.on))
    return told


def _objections(name: str, batch: Batch, at: int, event: Released, catalogue: Catalogue) -> Iterator[Problem]:
    path: Path = ("events", at)
    yield from (each for each in event_faults(batch, at + 1) if each.severity is Severity.ERROR)
    yield from _of_role(event, batch, catalogue.depot, path)
    yield from _of_measures(batch, at, is_safety=is_of_safety(batch, catalogue))
    yield from _of_stops(name, batch, event.on, catalogue.production, path)
    yield from _of_approval(batch, catalogue, path)


def _of_role(event: Released, batch: Batch, depot: Depot | None, path: Path) -> Iterator[Problem]:
    if event.by == batch.printed_by:
        yield wrong("BATCH04", "the printer", path=(*path, "by"), by=event.by)
    if depot is None:
        yield wrong("BATCH04", "no depot", path=(*path, "by"))
        return
    if role_in(depot, batch.printed_by) is None:
        yield wrong("BATCH04", "printer unknown", path=("printed_by",), by=batch.printed_by)
    role = role_in(depot, event.by)
    if not acts(role, *SAYS_GOOD):
        able = who_says_good(depot)
        yield wrong("BATCH04", "by whom", "by another" if able else "give", path=(*path, "by"), by=event.by, able=able or None)
    elif event.accepts and not acts(role, ActsAs.QUALITY):
        yield wrong("BATCH04", "accepts", path=(*path, "accepts"), by=event.by)


def is_of_safety(batch: Batch, catalogue: Catalogue) -> bool:
    """Whether its part carries a safety function, now or in some approval; of a part that cannot be read, for all anybody knows."""
    folder = catalogue.folder(batch.part)
    if folder is None or folder.part is None:
        return True
    told = (lines_of(part_section(from_record(text))).get("safety role") for text in _texts(batch, catalogue))
    return folder.part.safety_role is not SafetyRole.NONE or any(text_in(role) != SafetyRole.NONE for role in told if role is not None)


def _of_measures(batch: Batch, at: int, *, is_safety: bool) -> Iterator[Problem]:
    """Each critical dimension was measured, with a gauge that counts, on as many pieces as are asked, and holds its limits."""
    told = found(batch, at)
    for name, limited in sorted(limits_of(batch.printed_as).items()):
        lapsed = told.lapsed.get(name)
        if lapsed:
            one = batch.events[lapsed.event].checks[lapsed.check]  # type: ignore[union-attr]
            yield wrong("BATCH04", "gauge", path=("events", at), check=name, gauge=one.gauge, until=one.calibrated_until)
        elif name not in told.measured:
            yield wrong("BATCH04", "not measured", path=("events", at), check=name)
        else:
            yield from _of_sample(limited, told, at, is_safety=is_safety)
    for name in told.out:
        yield wrong("BATCH04", "out of limits", path=("events", at), check=name)


def _of_sample(limited: Limited, told: MeasuredSoFar, at: int, *, is_safety: bool) -> Iterator[Problem]:
    wanted, measured = short_of(limited, told, is_safety=is_safety), told.measured[limited.name]
    if wanted is not None and limited.sample is None:
        yield wrong("BATCH04", "too few of safety", path=("events", at), check=limited.name, measured=measured, wanted=wanted)
    elif wanted is not None:
        yield wrong("BATCH04", "too few measured", path=("events", at), check=limited.name, measured=measured, wanted=wanted)


def _of_stops(name: str, batch: Batch, day: date, production: Production, path: Path) -> Iterator[Problem]:
    """What stood against it since before that day; what came later stops its pieces without making the release untrue."""
    for number, recall in sorted(production.recalls.items()):
        call = called_back(recall, day, before=day) if speaks_of(recall, name, batch) else None
        if call:
            yield wrong("BATCH04", "recalled", path=path, recall=number, on=call.on)
    for each in batch.lots:
        lot = production.lots.get(each)
        block = block_of(lot, day, before=day) if lot else None
        if block:
            yield wrong("BATCH04", "blocked", path=path, lot=each, on=block.on)


def _of_approval(batch: Batch, catalogue: Catalogue, path: Path) -> Iterator[Problem]:
    if not is_approved(batch, catalogue):
        yield wrong("BATCH04", "not approved", path=path, number=batch.part)


def is_approved(batch: Batch, catalogue: Catalogue) -> bool:
    """Whether it was printed as some approval or trial of the part binds it, of whatever day: what holds today is asked by the verdict."""
    return any(_is_same(text_of(batch), text) for text in _texts(batch, catalogue))


def _texts(batch: Batch, catalogue: Catalogue) -> Iterator[str]:
    """What each approval or trial of its part binds."""
    folder = catalogue.folder(batch.part)
    events = folder.approval.events if folder and folder.approval else ()
    return (text for each in events if (text := getattr(each, "approved_as", None)))


@lru_cache(1024)
def _is_same(printed: str, approved_as: str) -> bool:
    return not any(each.means is Means.VOID for each in differences(printed, from_record(approved_as)))
