"""What do the records of production mean on a day? Two slips that would hide a piece do not.

A lot whose name differs from a known one only in capitals is that one. A line of a day to come takes nothing off
a vehicle before its day, for nobody has done it; what it says went on may sit there, and is looked for. Both are errors of
the check at their place all the same, and who lists says that the list is short of such lines.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from dataclasses import replace
from datetime import date

from generator.records.fitted import FileGap, FittedRow
from generator.records.production import Production


def settled(production: Production, day: date) -> Production:
    """The same object where there is nothing to settle."""
    return _of_day(_named(production), day)


def _of_day(production: Production, day: date) -> Production:
    early: defaultdict[str, list[int]] = defaultdict(list)
    for row in production.fitted:
        if row.day > day:
            early[row.file].append(row.line)
    if not early:
        return production
    gaps = (FileGap(file=file, lines=tuple(lines), why="to come") for file, lines in early.items())
    rows = (_without_removal(row) if row.day > day else row for row in production.fitted)
    return replace(production, fitted=tuple(row for row in rows if row.batch or row.removed), gaps=(*production.gaps, *gaps))


def _without_removal(row: FittedRow) -> FittedRow:
    return replace(row, removed_batch="", removed=0, why=None)


def _named(production: Production) -> Production:
    """Lots by the names of their records; of one without a record by the name that sorts first. Batches are in capitals alone."""
    lots = _by_name(production.lots, (lot for batch in production.batches.values() for lot in batch.lots))
    batches = {
        name: batch.model_copy(update={"lots": meant})
        for name, batch in production.batches.items()
        if (meant := tuple(dict.fromkeys(_meant(lot, lots) for lot in batch.lots))) != batch.lots
    }
    recalls = {
        name: recall.model_copy(update={"lot": _meant(recall.lot, lots)})
        for name, recall in production.recalls.items()
        if recall.lot and _meant(recall.lot, lots) != recall.lot
    }
    if not (batches or recalls):
        return production
    return replace(production, batches=production.batches | batches, recalls=production.recalls | recalls)


def _by_name(recorded: Collection[str], told: Iterable[str]) -> dict[str, str]:
    """The name that is meant, by itself where it has a record, else by its letters without regard to capitals."""
    known = {name: name for name in recorded}
    for name in (*sorted(recorded), *sorted(told)):
        known.setdefault(name.casefold(), name)
    return known


def _meant(name: str, names: Mapping[str, str]) -> str:
    return names.get(name) or names.get(name.casefold(), name)
