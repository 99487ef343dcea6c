"""Which run of a printer that is recorded can teach nothing, and why? What cannot be, and what is not known of it.

A run judges nothing, so each is a doubt: it may have been so once, under records that have changed since. It is told and left out.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

from generator.records.approvals import Approval
from generator.records.catalogue import Catalogue
from generator.records.makers import Maker
from generator.records.parts import Part
from generator.records.prints import PrintRun
from generator.records.problems import Problem, doubt
from generator.rules.production.faults import LONGEST_DAYS


class Printed(NamedTuple):
    """What of a part its runs are held against."""

    part: Part
    approval: Approval | None
    has_model: bool

    @property
    def revisions(self) -> frozenset[str]:
        """That it has, and those that its record tells of."""
        events = self.approval.events if self.approval else ()
        of_events = {getattr(each, "revision", None) for each in events}
        of_stock = {each.revision for event in events for each in getattr(event, "older_stock", ())}
        own_stock = {self.part.stock.revision} if self.part.stock else set[str | None]()
        return frozenset(filter(None, {self.part.revision} | of_events | of_stock | own_stock))


def run_doubts(catalogue: Catalogue, parts: Mapping[str, Printed]) -> Iterator[Problem]:
    """One doubt a run at most, by its place in prints.yml; of a part or maker that is not known nothing is said here."""
    earlier: dict[object, list[int]] = {}
    batches = _by_day(catalogue)
    for at, run in enumerate(catalogue.prints):
        printed, maker = parts.get(run.part), catalogue.makers.get(run.maker)
        key = (run.on, run.part, run.maker, run.count, run.minutes)
        like = next((each for each in earlier.get(key, ()) if _may_be_one(catalogue.prints[each], run)), None)
        earlier.setdefault(key, []).append(at)
        batch = _taken(batches, run)
        if batch:
            yield doubt("PRINT03", "batch", path=("prints", at), batch=batch)
        elif like is not None:
            yield doubt("PRINT03", "twice", path=("prints", at), earlier=like + 1)
        elif printed and (found := _of_part(run, printed) or _of_maker(printed.part, maker, catalogue)):
            yield replace(found, path=("prints", at, *found.path))


def batch_runs(catalogue: Catalogue) -> dict[str, PrintRun]:
    """What the batches tell of runs, by their numbers: each teaches as one of prints.yml does. Times that cannot be tell none."""
    found = {}
    for name, batch in catalogue.production.batches.items():
        machine = catalogue.production.machines.get(batch.machine)
        minutes = (batch.ended - batch.started).total_seconds() / 60
        if machine and 0 < minutes <= LONGEST_DAYS * 24 * 60:
            found[name] = PrintRun(
                on=batch.ended.date(), part=batch.part, revision=batch.revision, maker=machine.maker, count=batch.count,
                minutes=minutes, grams=batch.grams, up=batch.up, note=name,
            )  # fmt: skip
    return found


def _by_day(catalogue: Catalogue) -> dict[object, list[str]]:
    """The batches by what a line of prints.yml would tell of them, on the day of their start or of their end."""
    found: dict[object, list[str]] = {}
    for name, run in batch_runs(catalogue).items():
        days = {catalogue.production.batches[name].started.date(), run.on}
        for day in sorted(days):
            found.setdefault((day, run.part, run.maker, run.count), []).append(name)
    return found


def _taken(batches: dict[object, list[str]], run: PrintRun) -> str | None:
    """The batch that tells the same run, which is then spoken for."""
    same = batches.get((run.on, run.part, run.maker, run.count))
    if not same:
        return None
    taken = same[0]
    for each in batches.values():
        if taken in each:
            each.remove(taken)
    return taken


def left_out(doubts: Iterable[Problem]) -> frozenset[int]:
    """The places of the runs that teach nothing."""
    return frozenset(int(each.path[1]) for each in doubts)


def unwalled_percent(part: Part) -> float | None:
    """The infill of settings that do not say how thick the walls about it are; None where all is known."""
    settings = part.settings
    infill = settings.infill_percent if settings and settings.wall_mm is None else None
    return infill if infill is not None and infill < 100 else None


def _may_be_one(one: PrintRun, other: PrintRun) -> bool:
    """Of one day, length and plate: another run only where it says so, by its weight, pose or note."""
    pairs = ((one.grams, other.grams), (one.up, other.up), (one.note, other.note))
    return all(a == b or a is None or b is None for a, b in pairs)


def _of_part(run: PrintRun, printed: Printed) -> Problem | None:
    part = printed.part
    if not printed.has_model:
        return doubt("PRINT03", "no model", path=("part",), number=part.number)
    if run.revision not in printed.revisions:
        known = sorted(printed.revisions - {part.revision})
        return doubt("PRINT03", "revision", path=("revision",), revision=run.revision, number=part.number, has=part.revision, known=known or None)
    infill = unwalled_percent(part)
    if run.revision == part.revision and infill is not None:
        return doubt("PRINT03", "no wall", path=("part",), number=part.number, infill=infill)
    return None


def _of_maker(part: Part, maker: Maker | None, catalogue: Catalogue) -> Problem | None:
    if maker is None:
        return None
    if part.material not in maker.materials:
        return doubt("PRINT03", "material", path=("maker",), maker=maker.id, material=part.material, number=part.number)
    if maker.process not in (processes := _processes(part, catalogue)):
        return doubt("PRINT03", "process", path=("maker",), maker=maker.id, process=maker.process, number=part.number, wanted=processes)
    return None


def _processes(part: Part, catalogue: Catalogue) -> list[str]:
    """By which its material and its makers allow it to be printed; where neither says, by all."""
    material = catalogue.materials.get(part.material)
    of_makers = {catalogue.makers[name].process for name in part.makers if name in catalogue.makers}
    of_material = set(material.processes) if material else of_makers
    return sorted((of_material & of_makers) or of_material)
