"""What the records of prints say of days that have not come yet."""

from collections.abc import Iterator
from datetime import date

from generator.records.problems import Path, Problem, wrong
from generator.records.production import Production


def days_of_production(production: Production, day: date) -> Iterator[tuple[str, list[Problem]]]:
    """Each file with what of it is dated after `day`; how long something may be used is no such day."""
    for file, dated in _dated(production):
        late = [wrong("DAY01", "to come", path=path, on=on) for path, on in dated if on > day]
        if late:
            yield file, late


def _dated(production: Production) -> Iterator[tuple[str, list[tuple[Path, date]]]]:
    for name, lot in production.lots.items():
        issued = [(("inspection_documents", i, "issued_on"), each.issued_on) for i, each in enumerate(lot.inspection_documents)]
        yield f"materials/lots/{name}.yml", [*issued, *_events(lot.events)]
    for name, machine in production.machines.items():
        yield f"machines/{name}.yml", [
            (("qualifications", i, "coupons", k, "on"), coupons.on)
            for i, each in enumerate(machine.qualifications)
            for k, coupons in enumerate(each.coupons)
        ]
    for name, batch in production.batches.items():
        yield f"batches/{name}.yml", [(("ended",), batch.ended.date()), *_events(batch.events)]
    for name, recall in production.recalls.items():
        yield f"recalls/{name}.yml", _events(recall.events)


def _events(events: object) -> list[tuple[Path, date]]:
    return [(("events", i, "on"), each.on) for i, each in enumerate(events)]  # type: ignore[arg-type,var-annotated]
