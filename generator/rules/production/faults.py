"""What of a batch's own record cannot be right: its head, its lots, its events?

Each is a problem by its path in the record. What can be right and is unusual is a doubt. Of machines, lots, roles and
parts that do not exist nothing is said here (reading/production_checks.py).
"""

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from generator.records.batches import Batch, Counted, Issued, Measured, Returned, Scrapped
from generator.records.lots import Lot, Opened, Received, UsedUp
from generator.records.problems import Problem, doubt, wrong
from generator.records.production import Production
from generator.rules.blank import blank_texts
from generator.rules.canonical import fingerprint, from_record, is_well_formed, lines_of, text_in
from generator.rules.lasting import is_unusually_long
from generator.rules.production.checked import count_of, limits_of
from generator.rules.production.printed import is_printed_text, maker_in
from generator.rules.production.states import block_of

LONGEST_DAYS = 14
"""No plate stands on a machine longer (common practice, no source)."""
FEWEST_FIGURES = 4
"""Measured values of which all are alike by more than chance."""


def head_faults(batch: Batch, production: Production) -> Iterator[Problem]:
    """Of the text of what was printed, its fingerprint, and the time."""
    text = text_of(batch)
    if fingerprint(text) != batch.fingerprint:
        yield wrong("BATCH01", "fingerprint", path=("fingerprint",))
    yield from _text_faults(batch, text, production)
    if batch.ended < batch.started:
        yield wrong("BATCH01", "ended first", path=("ended",))
    elif batch.ended - batch.started > timedelta(days=LONGEST_DAYS):
        yield wrong("BATCH01", "too long", path=("ended",), days=(batch.ended - batch.started).days, most=LONGEST_DAYS)


def text_of(batch: Batch) -> str:
    """What was printed; YAML may have taken the last line feed off."""
    return from_record(batch.printed_as)


def _text_faults(batch: Batch, text: str, production: Production) -> Iterator[Problem]:
    if not is_printed_text(text) or not is_well_formed(text):
        yield wrong("BATCH01", "no text", path=("printed_as",))
        return
    lines = lines_of(text)
    for key, own in (("number", batch.part), ("revision", batch.revision)):
        told = text_in(lines.get(key))
        if told != own:
            yield wrong("BATCH01", "tells other", path=("printed_as",), told=told or "–", own=own)
    machine, maker = production.machines.get(batch.machine), maker_in(text)
    if maker is None:
        yield wrong("BATCH01", "no maker", path=("printed_as",), machine=batch.machine, number=batch.part)
    elif machine and maker != machine.maker:
        yield wrong("BATCH01", "tells other", path=("printed_as",), told=maker, own=machine.maker)


def lot_faults(batch: Batch, production: Production) -> Iterator[Problem]:
    """What of its lots could not have been printed on that day."""
    materials = _materials(batch.printed_as)
    printed = batch.started.date()
    for at, name in enumerate(batch.lots):
        lot = production.lots.get(name)
        if name in batch.lots[:at]:
            yield wrong("BATCH02", "twice", path=("lots", at), lot=name)
        if lot is None:
            continue
        if materials and lot.material not in materials:
            yield wrong("BATCH02", "other material", path=("lots", at), lot=name, material=lot.material, printed=materials)
        yield from _of_day(lot, name, printed, at)


def _materials(printed_as: str) -> tuple[str, ...]:
    """Of which it was printed: its material, and what else is in the part."""
    told = lines_of(from_record(printed_as)).items()
    named = (text_in(value) for key, value in told if key == "material" or (key.startswith('with "') and key.endswith('" material')))
    return tuple(each for each in named if each)


def _of_day(lot: Lot, name: str, printed: date, at: int) -> Iterator[Problem]:
    days = {kind: [each.on for each in lot.events if isinstance(each, kind)] for kind in (Received, Opened, UsedUp)}
    if days[Received] and min(days[Received]) > printed:
        yield wrong("BATCH02", "not received", path=("lots", at), lot=name, on=min(days[Received]))
    if days[Opened] and min(days[Opened]) > printed:
        yield wrong("BATCH02", "not opened", path=("lots", at), lot=name, on=min(days[Opened]))
    if days[UsedUp] and min(days[UsedUp]) < printed:
        yield wrong("BATCH02", "used up", path=("lots", at), lot=name, on=min(days[UsedUp]))
    block = block_of(lot, printed, before=printed)
    if block:
        yield wrong("BATCH02", "blocked", path=("lots", at), lot=name, on=block.on)
    if lot.use_by and lot.use_by < printed:
        yield doubt("BATCH02", "use by", path=("lots", at), lot=name, on=lot.use_by)


def event_faults(batch: Batch, upto: int | None = None) -> Iterator[Problem]:
    """Of the events before the one numbered `upto`, from 0; of all by default."""
    limits, printed = limits_of(batch.printed_as), batch.ended.date()
    scrapped = out = 0
    before: date | None = None
    for at, event in enumerate(batch.events[:upto]):
        if event.on < printed:
            yield wrong("BATCH03", "before the end", path=("events", at, "on"), on=event.on, ended=printed)
        if before and event.on < before:
            yield wrong("BATCH03", "backwards", path=("events", at, "on"), on=event.on, before=before)
        before = event.on if before is None else max(before, event.on)
        yield from blank_texts(event, ("events", at))
        left = max(batch.count - scrapped, 0)
        if isinstance(event, Scrapped):
            if event.count > left:
                yield wrong("BATCH03", "scrapped", path=("events", at, "count"), count=event.count, most=left)
            scrapped += event.count
        elif isinstance(event, Counted) and event.on_shelf > left:
            yield wrong("BATCH03", "counted", path=("events", at, "on_shelf"), count=event.on_shelf, most=left)
        elif isinstance(event, Issued):
            if event.count > left - out:
                yield wrong("BATCH03", "issued", path=("events", at, "count"), count=event.count, most=max(left - out, 0))
            out += event.count
        elif isinstance(event, Returned):
            if event.count > out:
                yield wrong("BATCH03", "returned", path=("events", at, "count"), count=event.count, most=out)
            out = max(out - event.count, 0)
        elif isinstance(event, Measured):
            yield from _measured_faults(event, at, left, limits)


def _measured_faults(event: Measured, at: int, left: int, known: Iterable[str]) -> Iterator[Problem]:
    if (event.sheet is None) != (event.sha256 is None):
        yield wrong("BATCH03", "half a file", path=("events", at))
    for nth, each in enumerate(event.checks):
        path = ("events", at, "checks", nth)
        if each.check not in known:
            yield wrong("BATCH03", "no such check", path=(*path, "check"), check=each.check, known=sorted(known) or None)
        if is_unusually_long(event.on, each.calibrated_until):
            yield doubt("BATCH03", "calibrated long", path=(*path, "calibrated_until"), gauge=each.gauge, until=each.calibrated_until)
        if not count_of(each):
            yield wrong("BATCH03", "nothing found", path=path, check=each.check)
        elif each.values_mm and (each.passed or each.failed):
            yield wrong("BATCH03", "two ways", path=path, check=each.check)
        elif count_of(each) > left:
            yield wrong("BATCH03", "more values", path=path, check=each.check, count=count_of(each), most=left)
        for place, value in enumerate(each.values_mm):
            if value <= 0:
                yield wrong("BATCH03", "no length", path=(*path, "values_mm", place), check=each.check, value=value)


def overlaps(production: Production) -> Iterator[tuple[str, Problem]]:
    """Batches, by their numbers, that stood on a machine while another one did: a machine may bear two, so it is only told."""
    by_machine: dict[str, list[tuple[str, Batch]]] = {}
    for name, each in sorted(production.batches.items(), key=lambda pair: (pair[1].started, pair[0])):
        by_machine.setdefault(each.machine, []).append((name, each))
    for machine, listed in by_machine.items():
        for at, (name, each) in enumerate(listed):
            others = [(other, one) for other, one in listed[max(0, at - 20) : at] if one.ended > each.started and _print_of(one) != _print_of(each)]
            if others:
                yield name, doubt("BATCH01", "overlap", path=("started",), machine=machine, other=others[-1][0], until=str(others[-1][1].ended)[:16])


def copies(production: Production) -> Iterator[tuple[str, Problem]]:
    """Batches, by their numbers, that cannot be two prints, or whose figures can hardly be of two; at each of them, for nobody knows which is true.

    A plate may bear two parts, which are two batches of one time; of one part it bears one batch. That two prints measure
    alike to the last digit is told where there are figures enough (common practice, no source).
    """
    prints: dict[object, list[str]] = {}
    values: dict[object, list[str]] = {}
    for name, each in sorted(production.batches.items()):
        prints.setdefault(_print_of(each), []).append(name)
        figures = tuple((check.check, check.values_mm) for event in each.events if isinstance(event, Measured) for check in event.checks)
        if sum(len(listed) for _, listed in figures) >= FEWEST_FIGURES:
            values.setdefault((each.part, figures), []).append(name)
    one_print = {name: [each for each in names if each != name] for names in prints.values() if len(names) > 1 for name in names}
    for name, others in one_print.items():
        yield name, wrong("BATCH01", "one print", path=("started",), own=_file(name), others=[_file(each) for each in others])
    for names in values.values():
        for name in names:
            others = [each for each in names if each != name and each not in one_print.get(name, ())]
            if others:
                yield name, doubt("BATCH01", "same figures", path=("events",), others=[_file(each) for each in others])


def _print_of(batch: Batch) -> object:
    return batch.machine, batch.started, batch.ended, batch.part, batch.revision


def _file(name: str) -> str:
    return f"batches/{name}.yml"
