"""`spares trace`: from a lot, batch, part or machine to the vehicles that carry it, and from a vehicle back."""

import argparse
import csv
import io
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date

from generator.assemble import read_produced
from generator.edge.commands import options as asking
from generator.edge.commands.terminal import Terminal, tell_json
from generator.edge.refusals import Ending, refused
from generator.pages.on_vehicles.incomplete import gap_words, suspect_rows
from generator.pages.wording import Wording, wording
from generator.records.catalogue import Catalogue
from generator.records.fitted import Gap
from generator.records.vehicles import read_alike
from generator.rules.production.by_then import known_on
from generator.rules.production.incomplete import gaps_of
from generator.rules.production.releasing import standing
from generator.rules.production.states import stops_of
from generator.rules.production.suspects import NONE, Suspects, suspects_of
from generator.rules.production.tracing import (
    CameOff,
    Carried,
    Traced,
    of_batch,
    of_lot,
    of_machine,
    of_part,
    of_vehicle,
    revisions_of,
)

DESCRIPTION = """\
Tells which vehicles carry what was printed from a lot, in a batch, of a part or on a machine, how many lie on the shelf or are
out, and what came off and why; of a vehicle, what sits on it and from which batches and lots. Read from fitted/ and
batches/ alone. What is called back is marked. Pieces whose batch nobody can tell, and that may be among those asked for,
stand under a heading of their own.

Where lines or records cannot be read, say less or something else than they did, or are of days to come, the list says that it
is incomplete, and of what; the exit code is then 1, else 0.
"""
EXAMPLE = """\
  spares trace --lot L-0009
  spares trace --part TV-0101 --revision B
  spares trace --vehicle 405 --format csv
  spares trace --machine bench-B --since 2026-09-14 --until 2026-09-20
"""
_CARRIED = ("fleet", "vehicle", "place", "position", "part", "revision", "batch", "count", "since")
_OFF = ("on", "fleet", "vehicle", "place", "position", "part", "batch", "count", "why", "by")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--lot", metavar="LOT", help="all that was printed from this lot of material")
    what.add_argument("--batch", metavar="BATCH", help="one batch, by the number on the label")
    what.add_argument("--part", metavar="NUMBER", help="all batches of a part")
    what.add_argument("--vehicle", metavar="VEHICLE", help="what one vehicle carries, and carried")
    what.add_argument("--machine", metavar="MACHINE", help="all that was printed on this machine")
    parser.add_argument("--revision", metavar="R", help="with --part: only this revision")
    parser.add_argument("--fleet", metavar="FLEET", help="with --vehicle: where two fleets share its number")
    parser.add_argument(
        "--format", choices=("text", "json", "csv"), default="text", help="json and csv are for machines (default: text)"
    )
    parser.add_argument("--since", type=asking.day, metavar="DATE", help="with --machine or --lot: only batches that were still printing on this day or later")
    parser.add_argument("--until", type=asking.day, metavar="DATE", help="with --machine or --lot: only batches that were begun on this day or before; both days count")
    asking.add_day(parser, "what is called back by this day (default: SOURCE_DATE_EPOCH, else today)")
    asking.add_catalogue(parser)


def run(options: argparse.Namespace) -> int:
    terminal = Terminal()
    if options.revision and not options.part:
        raise refused("trace_revision", Ending.MISUSE)
    if options.fleet and not options.vehicle:
        raise refused("trace_fleet", Ending.MISUSE)
    _period(options)
    root = asking.catalogue_of(options.catalogue)
    today = asking.today()
    catalogue = read_produced(root, asking.store_in(options.store), max(options.on or today, today))
    found = traced(options, catalogue)
    gaps = _gaps(options, found, catalogue)
    suspects = NONE if options.vehicle else suspects_of(catalogue, {*found.batches, *(each.batch for each in found.carried)})
    if options.format == "json":
        tell_json(_plain(found, catalogue, options, gaps, suspects))
    elif options.format == "csv":
        terminal.say(_csv(found.carried), None)
    else:
        warn(gaps, wording(catalogue.language), terminal.say)
        _print(found, catalogue, options, terminal)
        tell_suspects(suspects, catalogue, terminal)
    if options.format != "text":
        warn(gaps, wording(catalogue.language), terminal.note)
    return Ending.PROBLEMS if gaps else Ending.CLEAN


def warn(gaps: Sequence[Gap], w: Wording, say: Callable[[str, str], None]) -> None:
    """That the list is short of something, and of what, before anything of it is read."""
    for sentence in gap_words(gaps, w):
        say(sentence, "bold red")


def tell_suspects(found: Suspects, catalogue: Catalogue, terminal: Terminal) -> None:
    """Where to look besides."""
    w = wording(catalogue.language)
    if found.is_empty:
        return
    terminal.say("")
    terminal.say(w("suspects.title"), "bold yellow")
    terminal.say(w("suspects.says"))
    heads = [w(f"trace.head.{head}") for head in ("vehicle", "place", "position", "batch", "count", "why")]
    terminal.table(heads, suspect_rows(found, catalogue, w))


def _period(options: argparse.Namespace) -> None:
    """Raises Refusal where a period is of what has none, or ends before it begins."""
    if (options.since or options.until) and not (options.machine or options.lot):
        raise refused("trace_period", Ending.MISUSE)
    if options.since and options.until and options.until < options.since:
        raise refused("trace_period_back", Ending.MISUSE, since=options.since.isoformat(), until=options.until.isoformat())


def _gaps(options: argparse.Namespace, found: Traced, catalogue: Catalogue) -> tuple[Gap, ...]:
    """Of a part, or of a batch whose part is known, only what may speak of it."""
    parts = {batch.part for batch in found.batches.values()} if options.part or options.batch else set()
    return gaps_of(catalogue.production, parts=parts or None)


def traced(options: argparse.Namespace, catalogue: Catalogue) -> Traced:
    """What is asked for. Raises Refusal for what the catalogue does not know."""
    production = catalogue.production
    if options.lot:
        named = {lot for batch in production.batches.values() for lot in batch.lots}
        return of_lot(production, _known("lot", options.lot, {*production.lots, *named}), ran=(options.since, options.until))
    if options.batch:
        sits = {each for row in production.fitted for each in (row.batch, row.removed_batch) if each}
        return of_batch(production, _known("batch", options.batch, {*production.batches, *sits}))
    if options.machine:
        named = {batch.machine for batch in production.batches.values()}
        return of_machine(production, _known("machine", options.machine, {*production.machines, *named}), ran=(options.since, options.until))
    if options.part:
        numbers = {each.number for each in catalogue.parts} | {batch.part for batch in production.batches.values()}
        number = _known("part", options.part, numbers)
        revision = _known("revision_unknown", options.revision, revisions_of(number, catalogue)) if options.revision else None
        return of_part(production, number, revision)
    return of_vehicle(production, *_vehicle(options, catalogue))


def _known(kind: str, name: str, names: Iterable[str]) -> str:
    """As the catalogue writes it; capital or small letters are no difference."""
    by_name = {each.casefold(): each for each in names}
    if name.strip().casefold() in by_name:
        return by_name[name.strip().casefold()]
    raise refused(f"trace_{kind}", Ending.MISUSE, name=name, known=sorted(by_name.values())[:12])


def _vehicle(options: argparse.Namespace, catalogue: Catalogue) -> tuple[str, str]:
    """Of the fleets, or of lines that stand: a vehicle that has gone since carried pieces all the same."""
    known = {(fleet.id, number) for fleet in catalogue.fleets.values() for number in fleet.numbers}
    known |= {(row.fleet, row.vehicle) for row in catalogue.production.fitted}
    there = sorted(each for each in known if options.fleet is None or each[0].casefold() == options.fleet.casefold())
    if not there:
        raise refused("trace_no_fleet", Ending.MISUSE, name=options.fleet or "-", known=sorted({fleet for fleet, _ in known}))
    exact = [each for each in there if each[1] == options.vehicle]
    found = exact or [each for each in there if read_alike(each[1]) == read_alike(options.vehicle)]
    if len(found) == 1:
        return found[0]
    if found:
        raise refused("trace_two_fleets", Ending.MISUSE, name=options.vehicle, known=[fleet for fleet, _ in found])
    fleets = [each for each in catalogue.fleets.values() if any(each.id == fleet for fleet, _ in there)]
    raise refused("trace_vehicle", Ending.MISUSE, name=options.vehicle, known=[f"{each.id} {', '.join(each.vehicles)}" for each in fleets])


def carried_rows(carried: Iterable[Carried], catalogue: Catalogue, w: Wording) -> list[list[str]]:
    """Vehicle, place, part, batch, count and since when, one row a spot."""
    return [
        [
            f"{each.spot.fleet} {each.spot.vehicle}",
            catalogue.place_name(each.spot.fleet, each.spot.place, each.spot.position),
            f"{each.part} {each.revision}" if each.part else w("missing"),
            each.batch,
            w.number(each.count),
            w.day(each.since),
        ]
        for each in carried
    ]


def _print(found: Traced, catalogue: Catalogue, options: argparse.Namespace, terminal: Terminal) -> None:
    w, day = wording(catalogue.language), options.on or asking.today()
    if options.since or options.until:
        since, until = (w.day(each) if each else None for each in (options.since, options.until))
        terminal.say(w("trace.period", since=since, until=until, n=w.number(len(found.batches))))
    if found.batches:
        then = replace(catalogue, production=known_on(catalogue.production, day, asking.today()))
        heads = ("batch", "part", "state", "lots", "machine", "printed", "shelf", "out", "on_vehicles", "removed", "scrapped")
        terminal.table([w(f"trace.head.{head}") for head in heads], [_batch_row(name, found, then, day, w) for name in found.batches])
        terminal.say()
    if found.carried:
        terminal.table(
            [w(f"trace.head.{head}") for head in ("vehicle", "place", "part", "batch", "count", "since")],
            carried_rows(found.carried, catalogue, w),
        )
        terminal.say(w("trace.sum", pieces=w.number(found.on_vehicles), vehicles=w.number(len(found.vehicles))), "bold")
    else:
        terminal.say(w("trace.on_none"), "bold")
    if found.came_off:
        terminal.say()
        terminal.say(w("trace.came_off"))
        terminal.table(
            [w(f"trace.head.{head}") for head in ("off_on", "vehicle", "place", "part", "batch", "count", "why")],
            [_off_row(each, catalogue, w) for each in found.came_off],
        )


def _batch_row(name: str, found: Traced, then: Catalogue, day: date, w: Wording) -> list[str]:
    """then: the catalogue as it was known on `day`."""
    batch, balance = found.batches[name], found.balances[name]
    counts = (balance.printed, balance.shelf, balance.out, balance.on_vehicles, balance.removed, balance.scrapped)
    state = state_words(name, then, day, w)
    return [name, f"{batch.part} {batch.revision}", state, ", ".join(batch.lots), batch.machine, *map(w.number, counts)]


def state_words(name: str, catalogue: Catalogue, day: date, w: Wording) -> str:
    """Released or not, and whether it must not be fitted for all that."""
    batch = catalogue.production.batches[name]
    stops = stops_of(name, batch, catalogue.production, day)
    if stops:
        first = stops[0]
        return w("trace.recalled", recall=first.recall) if first.recall else w("trace.blocked", lot=first.lot)
    return w(f"trace.state.{standing(name, batch, catalogue, day).word}")


def _off_row(each: CameOff, catalogue: Catalogue, w: Wording) -> list[str]:
    return [
        w.day(each.on),
        f"{each.spot.fleet} {each.spot.vehicle}",
        catalogue.place_name(each.spot.fleet, each.spot.place, each.spot.position),
        each.part or w("missing"),
        each.batch or w("trace.no_batch"),
        w.number(each.count),
        w.term("off_why", each.why) if each.why else w("missing"),
    ]


def _plain(
    found: Traced, catalogue: Catalogue, options: argparse.Namespace, gaps: Sequence[Gap], suspects: Suspects
) -> dict[str, object]:
    day = options.on or asking.today()
    then = replace(catalogue, production=known_on(catalogue.production, day, asking.today()))
    stops = {name: stops_of(name, then.production.batches[name], then.production, day) for name in found.batches}
    return {
        "batches": [
            {
                "batch": name,
                "part": batch.part,
                "revision": batch.revision,
                "machine": batch.machine,
                "lots": list(batch.lots),
                "state": standing(name, then.production.batches[name], then, day).word,
                "recalls": [each.recall for each in stops[name] if each.recall],
                "blocked_lots": [each.lot for each in stops[name] if not each.recall],
                "printed": balance.printed,
                "shelf": balance.shelf,
                "out": balance.out,
                "on_vehicles": balance.on_vehicles,
                "removed": balance.removed,
                "scrapped": balance.scrapped,
            }
            for name, batch in found.batches.items()
            for balance in [found.balances[name]]
        ],
        "fitted": [dict(zip(_CARRIED, _carried_cells(each), strict=True)) for each in found.carried],
        "removed": [dict(zip(_OFF, _off_cells(each), strict=True)) for each in found.came_off],
        "batch_unknown": {
            "fitted": [dict(zip(_CARRIED, _carried_cells(each), strict=True)) for each in suspects.sitting],
            "removed": [dict(zip(_OFF, _off_cells(each), strict=True)) for each in suspects.came_off],
        },
        "is_complete": not gaps,
        "unread": [{"file": each.file, "lines": list(each.lines), "from_line": each.from_line, "why": each.why} for each in gaps],
    }


def _carried_cells(each: Carried) -> Sequence[object]:
    return (*each.spot, each.part, each.revision, each.batch, each.count, each.since.isoformat())


def _off_cells(each: CameOff) -> Sequence[object]:
    return (each.on.isoformat(), *each.spot, each.part, each.batch, each.count, each.why.value if each.why else None, each.by)


def _csv(carried: Iterable[Carried]) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_CARRIED)
    writer.writerows(["" if cell is None else cell for cell in _carried_cells(each)] for each in carried)
    return out.getvalue().rstrip("\n")
